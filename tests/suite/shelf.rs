//! Every function of `science` is run by the rest of the crate, or stands on the shelf of formulas that its documentation lists.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use crate::rooms::files;

/// A file without its tests, its comments and its imports.
fn code(text: &str) -> String {
    let before_tests = text.split("#[cfg(test)]\nmod tests {").next().unwrap();
    let lines = before_tests
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    let mut kept = String::new();
    let mut importing = false;
    for line in lines {
        let start = line.trim_start();
        importing |=
            start.starts_with("use ") || (start.starts_with("pub") && start.contains(" use "));
        if !importing {
            kept.push_str(line);
            kept.push('\n');
        }
        importing &= !line.trim_end().ends_with(';');
    }
    kept
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric() && c != '_')
        .filter(|word| !word.is_empty())
}

#[test]
fn what_nothing_runs_stands_on_the_shelf() {
    let mut found = Vec::new();
    files(Path::new("../src"), &mut found);
    let (mut public, mut run) = (BTreeSet::new(), BTreeSet::new());
    for file in found {
        if file.ends_with("/tests.rs") || file.ends_with("conservation.rs") {
            continue;
        }
        let text = code(&fs::read_to_string(&file).unwrap());
        let mut before = "";
        for word in words(&text) {
            if before != "fn" {
                run.insert(word.to_owned());
            }
            before = word;
        }
        if file.contains("/science/") {
            for rest in text
                .split("pub fn ")
                .skip(1)
                .chain(text.split("pub const fn ").skip(1))
            {
                public.insert(words(rest).next().unwrap().to_owned());
            }
        }
    }
    assert!(public.len() > 100, "{}", public.len());
    let idle: BTreeSet<_> = public.difference(&run).cloned().collect();
    let docs = fs::read_to_string("../src/science/mod.rs").unwrap();
    let shelf: BTreeSet<_> = docs
        .lines()
        .filter_map(|line| line.strip_prefix("//! | `"))
        .flat_map(|row| words(row.split(" | ").next().unwrap()))
        .map(str::to_owned)
        .collect();
    assert_eq!(idle, shelf, "run by nothing, and on the shelf");
}
