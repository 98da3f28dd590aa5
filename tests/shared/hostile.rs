//! Texts that no brewer writes, of any size; the tests and the benches read them.

use std::fmt::Write;

/// A name, and the maker of such a text of about so many bytes.
pub type Shape = (&'static str, fn(usize) -> String);

pub const SHAPES: [Shape; 30] = [
    ("random bytes", random_bytes),
    ("random marks", random_marks),
    ("one line of words", |size| of("pale ", size)),
    ("one word", |size| of("a", size)),
    ("one line of digits", |size| of("7", size)),
    ("blank line", |size| of(" ", size)),
    ("indents", indents),
    ("tabs", |size| of("\t", size) + "a"),
    ("commas", |size| of(",", size)),
    ("commas in lines", |size| {
        below("mash", &of(",", 2800), size)
    }),
    ("quotation marks", |size| of("\"", size)),
    ("quotations", |size| {
        below("mash", &of("\"a\" ", 2800), size)
    }),
    ("numbers in the mash", |size| {
        below("mash", &of("17 ", 2800), size)
    }),
    ("numbers in the boil", |size| {
        below("boil 60 min", &of("17 ", 2800), size)
    }),
    ("numbers in a fermentation", |size| {
        below("ferment", &of("17 ", 2800), size)
    }),
    ("numbers in a plant", |size| {
        below("brewhouse A", &of("17 ", 2800), size)
    }),
    ("numbers in a stock", |size| {
        below("stock", &of("17 ", 2800), size)
    }),
    ("numbers in a log", |size| {
        below("log", &of("17 ", 2800), size)
    }),
    ("numbers without indent", |size| {
        of(&(of("17 ", 2800) + "\n"), size)
    }),
    ("grouped digits", |size| {
        below("mash", &of("1 000 ", 2800), size)
    }),
    ("amounts", |size| below("mash", &of("5 kg ", 2800), size)),
    ("timings", |size| {
        below("boil 60 min", &(of("at 5 min ", 2800) + "x"), size)
    }),
    ("unknown names", |size| {
        below("mash", &("5 kg ".to_owned() + &of("qualt ", 60)), size)
    }),
    ("misspelt names", |size| {
        below("mash", "5 kg pale ail malt", size)
    }),
    ("misspelt words", |size| of("mahs\n", size)),
    ("attributes", |size| {
        below(
            "mash",
            &("5 kg pale malt".to_owned() + &of(", 5 ebx extrct", 2700)),
            size,
        )
    }),
    ("parts of a blend", |size| {
        below("ferment\n  add 5 L", "  1 L plum juice", size)
    }),
    ("plants", |size| {
        numbered("brewhouse Barn ", "\n  batch 20 L packaged\n", size)
    }),
    ("own ingredients", |size| {
        numbered(
            "ingredient Malt ",
            "\n  like pale ale malt\n  7 EBC\n",
            size,
        )
    }),
    ("comments", |size| of("    # a\n  # b\n# c\n", size)),
];

fn of(part: &str, size: usize) -> String {
    part.repeat(size / part.len() + 1)
}

/// Many lines of one kind below one statement.
fn below(statement: &str, line: &str, size: usize) -> String {
    format!("{statement}\n{}", of(&format!("  {line}\n"), size))
}

fn numbered(before: &str, after: &str, size: usize) -> String {
    let mut text = String::new();
    for at in 0.. {
        if text.len() >= size {
            break;
        }
        write!(text, "{before}{at}{after}").expect("a string takes every text");
    }
    text
}

/// Each line deeper than the one before, again and again.
fn indents(size: usize) -> String {
    let mut text = String::new();
    let mut depth = 0;
    while text.len() < size {
        text.push_str(&" ".repeat(depth));
        text.push_str("a\n");
        depth = (depth + 1) % 200;
    }
    text
}

/// The same figures each time (xorshift after Marsaglia 2003).
fn random(count: usize) -> impl Iterator<Item = u64> {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    (0..count).map(move |_| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        state
    })
}

fn random_bytes(size: usize) -> String {
    let bytes: Vec<u8> = random(size).map(|figure| (figure >> 32) as u8).collect();
    String::from_utf8_lossy(&bytes).into_owned()
}

/// Letters, digits and the marks that mean something.
fn random_marks(size: usize) -> String {
    let marks: Vec<char> = "aeklmt 0123456789.,-~%#\"\n  °x/ \t".chars().collect();
    random(size)
        .filter_map(|figure| marks.get((figure >> 32) as usize % marks.len()))
        .collect()
}
