//! Every code that an answer can carry stands in the docs of the exchange.

use std::fs;
use wortwright::diagnostic::Code;

/// The variants of an enum as its source lists them, in the form that serde gives them.
fn variants(path: &str, name: &str) -> Vec<String> {
    let text = fs::read_to_string(path).unwrap();
    let start = text.find(&format!("pub enum {name} {{")).unwrap();
    let body = &text[start..];
    let body = &body[..body.find("\n}").unwrap()];
    let is_variant = |line: &&str| {
        let inner = line.strip_prefix("    ").unwrap_or_default();
        inner.starts_with(|c: char| c.is_ascii_uppercase())
    };
    body.lines()
        .filter(is_variant)
        .map(|line| snake(line.trim().split([' ', ',', '(']).next().unwrap()))
        .collect()
}

fn snake(name: &str) -> String {
    let mut snake = String::new();
    for c in name.chars() {
        if c.is_ascii_uppercase() && !snake.is_empty() {
            snake.push('_');
        }
        snake.push(c.to_ascii_lowercase());
    }
    snake
}

#[test]
fn every_code_stands_in_the_docs() {
    let docs = fs::read_to_string("../src/exchange/codes.md").unwrap();
    let listed = |heading: &str, codes: &[String]| {
        let start = docs.find(&format!("## {heading}\n")).expect(heading);
        let section = &docs[start + 3..];
        let section = &section[..section.find("\n## ").unwrap_or(section.len())];
        let found: Vec<_> = section
            .lines()
            .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
            .collect();
        assert_eq!(found, codes, "{heading}");
    };
    let of_texts: Vec<_> = Code::ALL
        .iter()
        .map(|code| code.as_str().to_owned())
        .collect();
    listed("Diagnostics of a text", &of_texts);
    for (heading, path, name) in [
        (
            "Diagnostics of a refused call",
            "../src/diagnostic/error.rs",
            "ErrorKind",
        ),
        (
            "`assumptions`",
            "../src/process/assumption/mod.rs",
            "Assumption",
        ),
        ("`warnings`", "../src/process/warning.rs", "Warning"),
        ("`changes`", "../src/scale/change.rs", "Change"),
        ("`outcomes`", "../src/scale/outcome.rs", "Outcome"),
        ("`remedies`", "../src/remedy/mod.rs", "Remedy"),
        ("Diagnostics of a log", "../src/correct/fault.rs", "Fault"),
        (
            "`no_substitute`",
            "../src/substitute/proposal.rs",
            "NoSubstitute",
        ),
        ("`practice`", "../src/substitute/practice.rs", "Practice"),
        ("`shortcuts`", "../src/correct/shortcut.rs", "Rule"),
        ("`remarks`", "../src/correct/remark.rs", "Remark"),
        ("`advice`", "../src/correct/way.rs", "Way"),
        ("`drift`", "../src/scale/plan.rs", "Drift"),
    ] {
        let codes = variants(path, name);
        assert!(codes.len() > 1, "{name}");
        listed(heading, &codes);
    }
    listed("`cautions`", &cautions());
}

/// The codes of cautions, as literals behind `code:`, `caution(` and `ALWAYS`, or with an underscore.
fn cautions() -> Vec<String> {
    let mut codes = Vec::new();
    for path in ["../src/caution/rules.rs", "../src/caution/named.rs"] {
        let text = fs::read_to_string(path).unwrap();
        let parts: Vec<_> = text.split('"').collect();
        for pair in parts.windows(2) {
            let (before, word) = (pair[0].trim_end(), pair[1]);
            let is_word =
                !word.is_empty() && word.chars().all(|c| c == '_' || c.is_ascii_lowercase());
            let is_named = ["code:", "caution(", "ALWAYS: &str ="]
                .iter()
                .any(|mark| before.ends_with(mark));
            if is_word && (is_named || word.contains('_')) && !codes.iter().any(|code| code == word)
            {
                codes.push(word.to_owned());
            }
        }
    }
    codes
}
