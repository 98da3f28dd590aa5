//! Whether a name and a kind are those meant.

use crate::files::read;
use std::collections::{BTreeMap, BTreeSet};
use wortwright::catalogue::{AidPurpose, Catalogue, EntryRef, FermentableClass, folded};
use wortwright::recipe::Ingredient;

/// Names of one thing, beside those that the catalogue knows.
#[derive(Debug)]
pub struct Names {
    /// Names in the catalogue, by folded name of the corpus.
    equivalents: BTreeMap<String, BTreeSet<String>>,
}

/// Words in front of a name that say where it was made.
const ORIGINS: &[&str] = &[
    "american",
    "us",
    "uk",
    "english",
    "british",
    "scottish",
    "german",
    "belgian",
    "czech",
    "bohemian",
    "french",
    "canadian",
    "australian",
    "european",
    "continental",
    "domestic",
    "organic",
];

impl Names {
    /// Those of a table `NAME | catalogue name | why`.
    pub fn load() -> Self {
        Self::parse(&read("tests/corpus/equivalents.csv"))
    }

    pub fn parse(table: &str) -> Self {
        let mut equivalents: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for row in table.lines().filter(|row| !row.starts_with('#')) {
            let mut fields = row.split(" | ");
            if let (Some(name), Some(entry)) = (fields.next(), fields.next()) {
                equivalents
                    .entry(folded(name))
                    .or_default()
                    .insert(folded(entry));
            }
        }
        Self { equivalents }
    }

    /// Whether a name of the catalogue is one of those meant.
    pub fn is(&self, meant: &str, entry: &str, catalogue: &Catalogue) -> bool {
        let leads_there = |name: &str| {
            let found = catalogue.find(name);
            same_words(name, entry) || found.is_some_and(|found| found.entry.name() == entry)
        };
        let by_alias = || {
            let found = catalogue.find(entry);
            found.is_some_and(|found| found.entry.aliases().any(|alias| same_words(meant, alias)))
        };
        let by_equivalent = || {
            let known = self.equivalents.get(&folded(meant));
            known.is_some_and(|known| known.iter().any(|name| leads_there(name)))
        };
        leads_there(meant) || by_alias() || by_equivalent()
    }

    /// A name without the words in front that say where it was made: malts, grain and sugars of several countries are one thing to
    /// the catalogue; yeasts and hops are not.
    pub fn without_origin(name: &str) -> String {
        let kept: Vec<&str> = name
            .split(' ')
            .filter(|word| !ORIGINS.contains(word))
            .collect();
        kept.join(" ")
    }

    /// Whether words that no catalogue knows are kept such that they can only be what is meant.
    pub fn is_kept(meant: &str, typed: &str) -> bool {
        let (meant, typed) = (words(meant), words(typed));
        !typed.is_empty() && (typed.is_subset(&meant) || meant.is_subset(&typed))
    }

    /// Whether two names have a word of their own in common.
    pub fn share_a_word(one: &str, other: &str) -> bool {
        let common = [
            "malt", "hop", "yeast", "sugar", "extract", "juice", "of", "and", "the", "a",
        ];
        let (one, other) = (words(one), words(other));
        one.intersection(&other)
            .any(|word| !common.contains(&word.as_str()))
    }
}

/// The words of a name, of which two say one country.
fn words(name: &str) -> BTreeSet<String> {
    let folded = folded(&name.replace(['(', ')', ','], " "));
    folded
        .split(' ')
        .filter(|word| !word.is_empty())
        .map(|word| match word {
            "us" => "american".to_owned(),
            "uk" => "british".to_owned(),
            word => word.to_owned(),
        })
        .collect()
}

fn same_words(one: &str, other: &str) -> bool {
    words(one) == words(other)
}

/// What an ingredient may be called among the kinds of the corpus: the first is the nearest. By word, so that the catalogue may
/// learn new kinds.
pub(super) fn kinds_of(ingredient: &Ingredient, catalogue: &Catalogue) -> Vec<&'static str> {
    let found = ingredient
        .entry
        .as_deref()
        .and_then(|name| catalogue.find(name));
    let entry = found.map(|found| found.entry);
    let class = match entry {
        Some(EntryRef::Fermentable(row)) => row.class,
        _ => None,
    };
    match (ingredient.kind.as_str(), class) {
        ("grain", Some(FermentableClass::LauteringAid)) => vec!["other", "grain"],
        ("sugar", Some(FermentableClass::MaltExtract)) => vec!["extract"],
        ("sugar", Some(FermentableClass::Colouring)) => vec!["other", "sugar"],
        ("malt", _) => vec!["malt"],
        ("grain", _) => vec!["grain"],
        ("sugar", _) => vec!["sugar"],
        ("juice", _) => vec!["juice", "fruit"],
        ("fruit", _) => vec!["fruit"],
        ("beverage", _) => vec!["water", "spirit", "other"],
        ("hop", _) => vec!["hop"],
        ("botanical", _) => vec!["spice", "wood", "fruit", "other"],
        ("yeast", _) => vec!["yeast"],
        ("salt", _) => vec!["salt", "nutrient"],
        ("acid", _) => vec!["acid"],
        ("aid", _) => aid(entry),
        ("other", _) => vec!["other"],
        _ => Vec::from(["other"]),
    }
}

fn aid(entry: Option<EntryRef<'_>>) -> Vec<&'static str> {
    let Some(EntryRef::Aid(row)) = entry else {
        return vec!["finings", "enzyme", "nutrient", "other"];
    };
    match row.purpose {
        Some(AidPurpose::Enzyme) => vec!["enzyme"],
        Some(AidPurpose::Nutrient) => vec!["nutrient"],
        Some(AidPurpose::FoamControl) => vec!["other"],
        _ => vec!["finings"],
    }
}
