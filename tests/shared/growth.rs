//! Texts of any size, for what must not grow faster than they do.

use std::fmt::Write as _;

/// 20 L of 12 °P on a pot, of this grist, with this stock and these blocks.
fn brew(grist: &str, stock: &str, blocks: &str) -> String {
    format!(
        "recipe Many\nbrewed on Works\nbatch 20 hL into fermenter\n\
         target original 12 P\nmash\n{grist}  rest 66 C for 60 min\n\
         boil 60 min\n  20 IBU Perle at 60 min\nferment\n  pitch american ale yeast at 20 C\n\n\
         brewhouse Works\n  extract yield 92 %\n\n\
         brewhouse Pot\n  batch 20 L into fermenter\n  lauter bag\n\n\
         stock\n  any Perle\n{stock}\n{blocks}"
    )
}

/// So many lines of one malt that the stock lacks, all alike.
pub fn missing_lines(count: usize) -> String {
    let grist = "  100 g vienna malt\n".repeat(count);
    brew(
        &format!("  365 kg pilsner malt\n{grist}"),
        "  any pilsner malt\n  any light munich malt\n  any dark munich malt\n  any mild ale malt\n  \
         any pale ale malt\n  any biscuit malt\n  none vienna malt\n",
        "",
    )
}

/// The same, each line of another amount.
pub fn lines_of_other_amounts(count: usize) -> String {
    let mut text = missing_lines(count);
    for gram in 0..count {
        text = text.replacen("  100 g ", &format!("  {} g ", 101 + gram), 1);
    }
    text
}

/// So many malts of the brewer's own, all in stock, for one line that is missing.
pub fn own_ingredients(count: usize) -> String {
    const LIKE: [&str; 8] = [
        "vienna malt",
        "flaked barley",
        "caramel malt 120 EBC",
        "biscuit malt",
        "pale wheat malt",
        "chocolate malt",
        "sucrose",
        "rye malt",
    ];
    let (mut stock, mut blocks) = (String::new(), String::new());
    for (at, like) in LIKE.iter().cycle().take(count).enumerate() {
        // Colours and extracts that do not repeat.
        let (ebc, extract) = (4 + at * 37 % 211, 740 + at * 13 % 89);
        let _ = writeln!(stock, "  any Barn malt {at}");
        let _ = write!(
            blocks,
            "ingredient Barn malt {at}\n  like {like}\n  extract {}.{} % dry, {ebc} EBC, moisture 4.5 %\n\n",
            extract / 10,
            extract % 10
        );
    }
    brew(
        "  80 % pilsner malt\n  20 % light munich malt\n",
        &format!("  any pilsner malt\n  none light munich malt\n{stock}"),
        &blocks,
    )
}

/// So many lines that say nothing.
pub fn faulty_lines(count: usize) -> String {
    let lines = "  70 foo bar baz\n".repeat(count);
    brew(&lines, "", "")
}

/// So many sugars that go into a boil one after another, and as many hops.
pub fn sugars_and_hops(count: usize) -> String {
    let mut kettle = String::new();
    for at in 0..count {
        // Times and amounts that do not repeat.
        let (left, gram) = (at * 37 % 5999, 1 + at * 13 % 89);
        let _ = writeln!(
            kettle,
            "  {gram} g sucrose at {}.{:02} min",
            left / 100,
            left % 100
        );
        let _ = writeln!(
            kettle,
            "  {gram}0 mg Perle, 8 % alpha at {}.{:02} min",
            left / 100,
            left % 100
        );
    }
    format!(
        "recipe Many\nbatch 20 hL into fermenter\nmash\n  365 kg pilsner malt\n  rest 66 C for 60 min\nboil 60 min\n{kettle}\
         ferment\n  pitch american ale yeast at 20 C\n\nbrewhouse Pot\n  batch 20 L into fermenter\n  lauter bag\n"
    )
}
