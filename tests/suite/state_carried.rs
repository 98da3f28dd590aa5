//! No engine code gets a figure out of what is written for people: assumptions, changes, warnings, lists.

use std::fs;
use std::path::Path;

const ENGINE: [&str; 7] = [
    "process",
    "inverse",
    "remedy",
    "scale",
    "substitute",
    "correct",
    "caution",
];
/// What is said to people, each taken apart in its own file alone, by `Self`.
const SAID: [&str; 7] = [
    "Assumption",
    "Warning",
    "Change",
    "Outcome",
    "Remedy",
    "Practice",
    "Remark",
];
const LISTS: [&str; 8] = [
    "assumptions",
    "warnings",
    "changes",
    "outcomes",
    "drift",
    "shopping",
    "additions",
    "water",
];

/// The code of a file, its tests and comments left out.
fn code(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    let code = text.split("#[cfg(test)]").next().unwrap_or_default();
    code.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .map(|line| format!("{line}\n"))
        .collect()
}

fn files(folder: &Path, seen: &mut impl FnMut(&Path)) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files(&path, seen);
        } else if path.extension().is_some_and(|e| e == "rs") {
            seen(&path);
        }
    }
}

/// What follows a path such as `Change::Batch` and the fields in its braces or brackets.
fn after_fields(text: &str) -> &str {
    let rest = text.trim_start_matches(|c: char| c.is_alphanumeric() || c == '_' || c == ':');
    let inner = rest.trim_start();
    if !inner.starts_with(['{', '(']) {
        return rest;
    }
    let mut depth = 0;
    for (at, c) in inner.char_indices() {
        match c {
            '{' | '(' => depth += 1,
            '}' | ')' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return &inner[at + 1..];
        }
    }
    ""
}

/// Whether `said::…`, which begins at `at`, is a pattern.
fn is_pattern(code: &str, at: usize) -> bool {
    let before = code[..at].rsplit([';', '{', '}']).next();
    let before = before.unwrap_or_default();
    let mut after = after_fields(&code[at..]);
    while let Some(rest) = after.strip_prefix(", _") {
        after = rest;
    }
    let after = after.trim_start_matches(|c: char| c.is_whitespace() || ")],".contains(c));
    let assigned = after.starts_with('=') && !after.starts_with("==");
    before.contains("matches!(") || assigned || after.starts_with('|') || after.starts_with("if ")
}

/// Every place where something said is taken apart.
fn taken_apart(code: &str) -> Vec<&str> {
    let mut found = Vec::new();
    for said in SAID {
        let path = format!("{said}::");
        for (at, _) in code.match_indices(&path) {
            let is_word = code[..at].ends_with(|c: char| c.is_alphanumeric() || c == '_');
            if !is_word && is_pattern(code, at) {
                found.push(code[at..].lines().next().unwrap_or_default());
            }
        }
    }
    found
}

#[test]
fn what_is_said_is_not_read_back() {
    let mut count = 0;
    for room in ENGINE {
        files(&Path::new("../src").join(room), &mut |path| {
            count += 1;
            let (code, shown) = (code(path), path.display());
            let apart = taken_apart(&code);
            assert!(apart.is_empty(), "{shown} takes apart {apart:?}");
            for list in LISTS {
                let read = format!("plan.{list}");
                assert!(!code.contains(&read), "{shown} reads `{read}`");
            }
        });
    }
    assert!(count > 80, "{count}");
}

/// The patterns that stood in the code once, and what stands there by right.
#[test]
fn a_pattern_is_told_from_a_value() {
    for pattern in [
        "let sets = |change: &Change| matches!(change, Change::MashPhSet { .. });",
        "match assumed { Assumption::MashFermentability { factor, .. } => Some(*factor), _ => None }",
        "if let Change::WaterBrought { ions } = change {",
        "match (a, b) { (Assumption::OwnFigures { name, .. }, _) => name, }",
        "Some(Remedy::SmallerBatch { batch, .. }) => batch,",
    ] {
        assert_eq!(taken_apart(pattern).len(), 1, "{pattern}");
    }
    for value in [
        "warnings.push(Warning::YieldHigh { reached: inferred });",
        "outcomes.extend(stopped.map(|stopped| Outcome::MashStops { stopped }));",
        "(None, _) => notes.push(Assumption::CommercialPlant { size: PlantSize::of(batch_l), }), _ => {}",
        "let note = Assumption::MashPhFromClass { names };",
    ] {
        assert!(taken_apart(value).is_empty(), "{value}");
    }
}
