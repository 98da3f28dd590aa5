//! The closed sets of words of the catalogue, as its sources define them.

use crate::at;
use std::fs;

/// The variant that a set of `src/catalogue/kind.rs` has for a word.
pub(crate) fn variant(set: &str, word: &str) -> String {
    let found = variants(set).into_iter().find(|(_, text)| text == word);
    found
        .unwrap_or_else(|| panic!("`{set}` has no word `{word}`"))
        .0
}

/// The variants of a set, each with its word.
pub(crate) fn variants(set: &str) -> Vec<(String, String)> {
    let source = fs::read_to_string(at("src/catalogue/kind.rs")).unwrap();
    let start = source
        .find(&format!("\n    {set} {{\n"))
        .unwrap_or_else(|| panic!("no set `{set}`"));
    let lines = source[start..].lines().skip(2);
    let lines = lines.take_while(|line| *line != "    }");
    let pairs = lines.filter_map(|line| {
        let (variant, word) = line.trim().split_once(" = \"")?;
        Some((variant.to_owned(), word.trim_end_matches("\",").to_owned()))
    });
    pairs.collect()
}

/// The axes of a profile, a list of texts in `src/catalogue/flavour.rs`.
pub(crate) fn axes(list: &str) -> Vec<String> {
    let source = fs::read_to_string(at("src/catalogue/flavour.rs")).unwrap();
    let start = source
        .find(&format!("const {list}: "))
        .unwrap_or_else(|| panic!("no list `{list}`"));
    let list = source[start..].split("];").next().unwrap_or_default();
    let texts = list.split('"').skip(1).step_by(2);
    texts.map(str::to_owned).collect()
}
