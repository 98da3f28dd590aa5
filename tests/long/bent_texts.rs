//! Reads texts that were bent at random, for so many minutes: the corpus, the demo and texts that no brewer writes, cut, mixed and
//! sown with marks and numbers. Reading never panics, spans lie on character bounds, findings are bounded, the laws of printing hold,
//! and no text takes longer than its length allows. What fails is left in `target/bent_text.txt`.
//!
//! ```text
//! cargo run --release -p wortwright-tests --bin bent_texts -- 20        # minutes; a second argument is another start
//! ```
#![allow(
    missing_docs,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout
)]

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};
use wortwright::diagnostic::{Span, TextRef, render};
use wortwright::notation::{Document, Entry, Reading, read};
use wortwright_tests::corpus::cases;
use wortwright_tests::dice::Dice;
use wortwright_tests::fixtures::{DEMO, DEMO_LOG, DEMO_PLANT};
use wortwright_tests::hostile::SHAPES;

/// The listed findings, and the one that counts the rest.
const MOST_FINDINGS: usize = 101;
/// Longer texts are cut: what is to be found stands in a page.
const LONGEST: usize = 6_000;
/// Milliseconds a byte of text, beside a second for all: a hundred times what the slowest page takes on a busy machine.
const MOST_MS_PER_BYTE: f64 = 5.0;
/// What is sown into a text.
const SEEDS: [&str; 40] = [
    " ",
    "\n",
    "  ",
    "\t",
    ",",
    ".",
    ";",
    ":",
    "(",
    ")",
    "-",
    "–",
    "~",
    "/",
    "@",
    "#",
    "\"",
    "x",
    "%",
    "°",
    "½",
    "ß",
    "😀",
    "\u{feff}",
    "\r",
    "0",
    "1",
    "7",
    "60",
    "1e9",
    "1,5",
    "0.0",
    "999999999999",
    "kg",
    "L",
    "C",
    " at ",
    " for ",
    " each",
    "recipe ",
];

fn main() {
    let mut arguments = std::env::args().skip(1);
    let minutes: f64 = arguments.next().map_or(2.0, |word| {
        word.parse()
            .expect("the first argument is how many minutes")
    });
    let start: u64 = arguments.next().map_or(20_261_130, |word| {
        word.parse().expect("the second argument is a number")
    });
    let sound = sound();
    let mut dice = Dice(start | 1);
    let begun = Instant::now();
    let (mut read, mut bytes, mut usable) = (0_u64, 0_usize, 0_u64);
    let mut slowest = (0.0_f64, String::new());
    while begun.elapsed() < Duration::from_secs_f64(minutes * 60.0) {
        let text = bent(&sound, &mut dice);
        let from = spent();
        let tried = catch_unwind(AssertUnwindSafe(|| check(&text)));
        let took = (spent() - from) * 1000.0;
        let is_slow = took > 1000.0 + MOST_MS_PER_BYTE * text.len() as f64;
        let Ok(is_usable) = tried
            .as_ref()
            .copied()
            .map_err(|_| ())
            .and_then(|fine| if is_slow { Err(()) } else { Ok(fine) })
        else {
            std::fs::create_dir_all("target").expect("a place for the text");
            std::fs::write("target/bent_text.txt", &text).expect("the text is kept");
            panic!(
                "text {read} of start {start} failed after {took:.0} ms; it stands in target/bent_text.txt"
            );
        };
        read += 1;
        bytes += text.len();
        usable += u64::from(is_usable);
        if took > slowest.0 {
            slowest = (took, text);
        }
    }
    println!(
        "{read} texts of {bytes} bytes in {:.1} min, {usable} without an error; the slowest took {:.0} ms for {} bytes",
        begun.elapsed().as_secs_f64() / 60.0,
        slowest.0,
        slowest.1.len()
    );
}

/// Seconds of processor time that this thread has had: what a busy machine gives to others does not count. Where the system does not
/// tell, no text is slow.
fn spent() -> f64 {
    std::fs::read_to_string("/proc/thread-self/schedstat")
        .ok()
        .and_then(|text| text.split(' ').next()?.parse::<f64>().ok())
        .map_or(0.0, |nanoseconds| nanoseconds * 1e-9)
}

/// Texts to begin with.
fn sound() -> Vec<String> {
    let corpus = cases("tests/corpus").into_iter().map(|case| case.text);
    let shapes = SHAPES.iter().map(|(_, make)| make(600));
    let demo = [DEMO, DEMO_LOG, DEMO_PLANT].map(str::to_owned);
    corpus.chain(shapes).chain(demo).collect()
}

/// One of the texts, bent a few times.
fn bent(sound: &[String], dice: &mut Dice) -> String {
    let mut text = dice.of(sound).clone();
    for _ in 0..=dice.below(8) {
        bend(&mut text, sound, dice);
    }
    let end = bound(&text, LONGEST);
    text.truncate(end);
    text
}

fn bend(text: &mut String, sound: &[String], dice: &mut Dice) {
    let at = bound(text, dice.below(text.len() + 1));
    match dice.below(7) {
        0 => text.insert_str(at, dice.of::<&str>(&SEEDS)),
        1 => {
            let end = bound(text, at + dice.below(12));
            text.replace_range(at..end, "");
        }
        2 => {
            let end = bound(text, at + 1 + dice.below(3));
            text.replace_range(at..end, dice.of::<&str>(&SEEDS));
        }
        // A line of another text.
        3 => {
            let other: Vec<&str> = dice.of(sound).lines().collect();
            let line = other.get(dice.below(other.len())).copied().unwrap_or("");
            text.insert_str(at, &format!("\n{line}\n"));
        }
        // Two lines change places.
        4 => {
            let mut lines: Vec<&str> = text.lines().collect();
            let (one, other) = (dice.below(lines.len()), dice.below(lines.len()));
            if !lines.is_empty() {
                lines.swap(one, other);
            }
            *text = lines.join("\n");
        }
        // A line again.
        5 => {
            let line = text.lines().nth(dice.below(30)).unwrap_or("").to_owned();
            text.push('\n');
            text.push_str(&line);
        }
        // Another indent.
        _ => {
            let start = text[..at].rfind('\n').map_or(0, |end| end + 1);
            text.insert_str(start, dice.of::<&str>(&["  ", "    ", "\t", " "]));
        }
    }
}

/// The nearest character bound from a place on.
fn bound(text: &str, at: usize) -> usize {
    (at.min(text.len())..=text.len())
        .find(|at| text.is_char_boundary(*at))
        .unwrap_or(text.len())
}

/// Reads a text and holds it against the laws; gives whether it has no error.
fn check(text: &str) -> bool {
    let sources = [TextRef::new("text", text)];
    let reading = read(&sources);
    check_spans(&reading, text);
    assert!(reading.diagnostics.len() <= MOST_FINDINGS);
    for diagnostic in &reading.diagnostics {
        assert!(!render(diagnostic, &sources).is_empty());
    }
    laws(&reading);
    reading.is_usable()
}

fn check_spans(reading: &Reading<'_>, text: &str) {
    let good = |span: Span| {
        let (start, end) = (span.start as usize, span.end as usize);
        assert!(start <= end && text.is_char_boundary(start) && text.is_char_boundary(end));
    };
    for diagnostic in &reading.diagnostics {
        good(diagnostic.span);
        diagnostic.labels.iter().for_each(|label| good(label.span));
    }
    for note in &reading.notes {
        good(note.span());
    }
    for document in &reading.documents {
        walk(document.entries(), text, &good);
    }
}

/// Every token of the tree stands in the text, byte for byte.
fn walk(entries: &[Entry<'_>], text: &str, good: &impl Fn(Span)) {
    for entry in entries {
        match entry {
            Entry::Comment(comment) => good(comment.span()),
            Entry::Line(line) => {
                for token in line.tokens() {
                    good(token.span());
                    let typed = &text[token.span().start as usize..token.span().end as usize];
                    let is_quoted = typed.starts_with('"');
                    let plain = |text: &str| text.split_whitespace().collect::<String>();
                    assert!(is_quoted || plain(typed) == plain(token.text()), "{typed}");
                }
                walk(line.entries(), text, good);
            }
        }
    }
}

/// `parse(print(d)) == d`, printing is idempotent, and what is printed means the same.
fn laws(first: &Reading<'_>) {
    let printed = first.documents[0].to_string();
    let second = read(&[TextRef::new("text", &printed)]);
    assert_eq!(second.documents[0], first.documents[0], "{printed}");
    assert_eq!(second.documents[0].to_string(), printed);
    assert_eq!(second.recipe, first.recipe, "{printed}");
    assert_eq!(second.brewhouses, first.brewhouses, "{printed}");
    assert_eq!(second.stock, first.stock, "{printed}");
    assert_eq!(second.logs, first.logs, "{printed}");
    assert_eq!(second.ingredients, first.ingredients, "{printed}");
    if let Some(recipe) = first.recipe.as_ref().filter(|_| first.is_usable()) {
        let written = Document::from(recipe).to_string();
        let again = read(&[TextRef::new("text", &written)]);
        let again = again.recipe.expect("a written recipe holds a recipe");
        assert_eq!(again.name, recipe.name, "{written}");
        let (own, others) = (recipe.additions().count(), again.additions().count());
        assert_eq!(own, others, "{written}");
    }
}
