//! Every function of `science` is run by the rest of the crate, or stands on the shelf of formulas that its documentation lists.
//!
//! A function is run where it is called, or handed on as a value by a path; a free one from another file only if that file imports
//! it or its module. Of functions that share a name the text cannot tell which is called: of those the shelf holds what the
//! compiler calls unused while `science` is private.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use wortwright_tests::files;
use wortwright_tests::sources::{self, sources};

/// A file without its tests and comments: what it imports, and the rest.
struct Source {
    file: String,
    imports: String,
    code: String,
}

impl Source {
    fn of(source: &sources::Source) -> Self {
        let (mut imports, mut code) = (String::new(), String::new());
        let mut importing = false;
        for line in source.code().lines() {
            let start = line.trim_start();
            let exported = start.starts_with("pub") && start.contains(" use ");
            importing |= start.starts_with("use ") || exported;
            let into = if importing { &mut imports } else { &mut code };
            into.push_str(line);
            into.push('\n');
            importing &= !line.trim_end().ends_with(';');
        }
        Self {
            file: source.path.clone(),
            imports,
            code,
        }
    }

    /// The name of the module.
    fn module(&self) -> &str {
        let path = Path::new(&self.file);
        let stem = path.file_stem().unwrap().to_str().unwrap();
        match path.parent().and_then(Path::file_name) {
            Some(folder) if stem == "mod" => folder.to_str().unwrap(),
            _ => stem,
        }
    }
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c| !is_word(c)).filter(|word| !word.is_empty())
}

/// What stands before each place where a function is called or named as a value.
fn uses<'a>(code: &'a str, name: &'a str) -> impl Iterator<Item = &'a str> {
    code.match_indices(name).filter_map(move |(at, _)| {
        let (before, after) = (&code[..at], &code[at + name.len()..]);
        let called = after.starts_with('(') || after.starts_with("::<");
        let handed = after.starts_with([')', ',']) && before.ends_with("::");
        let whole = !before.ends_with(is_word) && !before.ends_with("fn ");
        (whole && (called || handed)).then_some(before)
    })
}

/// A public function of `science`.
#[derive(Clone, Copy)]
struct Formula<'a> {
    home: &'a Source,
    name: &'a str,
    is_method: bool,
}

fn formulas(source: &Source) -> impl Iterator<Item = Formula<'_>> {
    source.code.lines().filter_map(move |line| {
        let start = line.trim_start();
        let rest = start
            .strip_prefix("pub fn ")
            .or_else(|| start.strip_prefix("pub const fn "))?;
        Some(Formula {
            home: source,
            name: words(rest).next()?,
            is_method: start.len() < line.len(),
        })
    })
}

impl Formula<'_> {
    fn is_run_in(&self, source: &Source) -> bool {
        uses(&source.code, self.name).any(|before| {
            if self.is_method {
                return before.ends_with('.') || before.ends_with("::");
            }
            let module = format!("{}::", self.home.module());
            let here = source.file == self.home.file;
            let imported = words(&source.imports).any(|word| word == self.name);
            before.ends_with(&module) || (!before.ends_with(['.', ':']) && (here || imported))
        })
    }
}

#[test]
fn what_nothing_runs_stands_on_the_shelf() {
    let found = sources("");
    let ours = found.iter().filter(|source| !source.is_of_tests());
    let sources: Vec<_> = ours.map(Source::of).collect();
    let mut named: BTreeMap<&str, usize> = BTreeMap::new();
    for source in &sources {
        for rest in source.code.split("fn ").skip(1) {
            *named
                .entry(words(rest).next().unwrap_or_default())
                .or_default() += 1;
        }
    }
    let science = sources
        .iter()
        .filter(|source| source.file.starts_with("science/"));
    let formulas: Vec<_> = science.flat_map(formulas).collect();
    assert!(formulas.len() > 100, "{}", formulas.len());
    let idle: BTreeSet<_> = formulas
        .iter()
        .filter(|formula| !sources.iter().any(|source| formula.is_run_in(source)))
        .map(|formula| formula.name)
        .collect();
    let docs = files::read("src/science/mod.rs");
    let shelf: BTreeSet<_> = docs
        .split_once("# Formulas that no plan runs")
        .expect("the shelf has a head")
        .1
        .lines()
        .filter_map(|line| line.strip_prefix("//! | [`"))
        .flat_map(|row| row.split(" | ").next().unwrap().split("[`"))
        .filter_map(|link| link.split_once('`')?.0.rsplit("::").next())
        .collect();
    let missing: Vec<_> = idle.difference(&shelf).collect();
    assert!(
        missing.is_empty(),
        "run by nothing, and not on the shelf: {missing:?}"
    );
    let run: Vec<_> = shelf
        .difference(&idle)
        .filter(|name| named.get(*name).is_none_or(|count| *count < 2))
        .collect();
    assert!(run.is_empty(), "on the shelf, but run or gone: {run:?}");
}

/// What is a use of a function, and what only has its name.
#[test]
fn a_call_is_told_from_a_word() {
    for call in [
        "let a = lab(colour);",
        "screen::lab(colour)",
        "a.map(Colour::lab)",
        "pair(Self::lab, b)",
        "lab::<f64>(a)",
    ] {
        assert_eq!(uses(call, "lab").count(), 1, "{call}");
    }
    for word in [
        "pub fn lab(a: f64)",
        "let lab = 3;",
        "label(lab)",
        "Lab { lab }",
        "of_lab(a)",
    ] {
        assert_eq!(uses(word, "lab").count(), 0, "{word}");
    }
}
