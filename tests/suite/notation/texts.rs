//! Texts read without a finding, and a look at what was read.

use wortwright::diagnostic::{TextRef, render};
use wortwright::notation::{Reading, read};
use wortwright::recipe::{Addition, Amount, Recipe};

/// Reads a text that must be free of findings.
pub(super) fn clean(text: &str) -> Reading<'_> {
    let sources = [TextRef::new("text", text)];
    let reading = read(&sources);
    let said: Vec<String> = reading
        .diagnostics
        .iter()
        .map(|d| render(d, &sources))
        .collect();
    assert!(said.is_empty(), "{}", said.join("\n"));
    reading
}

pub(super) fn recipe(text: &str) -> Recipe {
    clean(text).recipe.expect("a recipe")
}

pub(super) fn named<'r>(additions: &'r [Addition], name: &str) -> &'r Addition {
    additions
        .iter()
        .find(|addition| addition.ingredient().is_some_and(|i| i.name == name))
        .unwrap_or_else(|| panic!("no {name}"))
}

pub(super) fn share_percent(addition: &Addition) -> f64 {
    match addition.amount.as_ref().unwrap() {
        Amount::Share(share) => share.value().percent(),
        other => panic!("{other:?}"),
    }
}
