//! The lists of inputs that move no figure, each with its reason.

use std::collections::BTreeSet;
use std::fs;

/// A row of a list: where, what is said of it, and why no figure can move.
#[derive(Debug, Clone)]
pub(crate) struct Listed {
    pattern: String,
    line: String,
}

/// The rows of lists, each a file of this folder.
pub(crate) fn listed(lists: &[&str]) -> Vec<Listed> {
    let mut rows = Vec::new();
    for list in lists {
        let text = fs::read_to_string(format!("influence/{list}")).unwrap();
        let lines = text
            .lines()
            .filter(|line| !line.starts_with('#') && !line.is_empty());
        rows.extend(lines.map(|line| {
            let (pattern, reason) = line
                .split_once(" | ")
                .unwrap_or_else(|| panic!("no reason: {line}"));
            assert!(reason.len() > 10, "{line}");
            Listed {
                pattern: pattern.trim().to_owned(),
                line: line.to_owned(),
            }
        }));
    }
    rows
}

/// All that moves no figure is listed. The lists only shrink: a row that speaks of nothing any more is a fault too.
pub(crate) fn hold_against(found: &BTreeSet<String>, rows: &[Listed]) {
    let silent: Vec<_> = found
        .iter()
        .filter(|found| !rows.iter().any(|row| row.matches(found)))
        .collect();
    let stale: Vec<_> = rows
        .iter()
        .filter(|row| !found.iter().any(|found| row.matches(found)))
        .map(|row| &row.line)
        .collect();
    assert!(
        silent.is_empty() && stale.is_empty(),
        "move no figure: {silent:#?}\nspeak of nothing: {stale:#?}"
    );
}

impl Listed {
    /// Whether it speaks of an input; `*` in it is any run of letters.
    fn matches(&self, found: &str) -> bool {
        let Some((first, wild)) = self.pattern.split_once('*') else {
            return found == self.pattern;
        };
        let (between, last) = wild.rsplit_once('*').unwrap_or(("", wild));
        let Some(mut rest) = found.strip_prefix(first) else {
            return false;
        };
        for part in between.split('*') {
            let Some(at) = rest.find(part) else {
                return false;
            };
            rest = &rest[at + part.len()..];
        }
        rest.ends_with(last)
    }
}
