//! What the library answers to models, and what an input changes of it.

use crate::leaves::Leaf;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Everything that is computed from models and everything that is said of them.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Answers {
    /// Figures by where they stand in the answers.
    pub(crate) figures: BTreeMap<String, f64>,
    /// Codes of entries and diagnostics by the input that they speak of.
    pub(crate) told: BTreeMap<String, BTreeSet<String>>,
    /// The asks that were refused, with the codes.
    pub(crate) refused: BTreeMap<String, String>,
}

/// Lists of an answer that speak; their figures are told and not computed for the brew.
const SPEAKING: [&str; 8] = [
    "assumptions",
    "warnings",
    "changes",
    "outcomes",
    "drift",
    "diagnostics",
    "remarks",
    "cautions",
];
/// Entries about figures that a line does not state: they speak of none that it does.
const OF_NO_INPUT: [&str; 2] = ["catalogue_figures", "water_report_gaps"];
/// Parts of an answer that repeat what was stated.
const ECHOES: [&str; 3] = ["published", "text", "wanted"];

impl Answers {
    /// Adds an answer to an ask.
    pub(crate) fn add(&mut self, ask: &str, answer: &Value) {
        if answer["ok"] != true {
            let codes: Vec<_> = answer["diagnostics"]
                .as_array()
                .unwrap()
                .iter()
                .filter(|found| found["severity"] == "error")
                .map(|found| found["code"].as_str().unwrap().to_owned())
                .collect();
            self.refused.insert(ask.to_owned(), codes.join(" "));
        }
        self.gather(ask, &answer["result"]);
        self.gather(ask, &json!({"diagnostics": answer["diagnostics"]}));
    }

    /// An entry speaks of a place.
    pub(crate) fn tell(&mut self, place: &str, code: &str) {
        if OF_NO_INPUT.contains(&code) {
            return;
        }
        let codes = self.told.entry(place.to_owned()).or_default();
        codes.insert(code.to_owned());
    }

    fn gather(&mut self, path: &str, value: &Value) {
        match value {
            Value::Object(fields) => {
                if let (Some(place), Some(code)) = (fields.get("place"), fields.get("code")) {
                    self.tell(place.as_str().unwrap(), code.as_str().unwrap());
                }
                for (key, value) in fields {
                    if !ECHOES.contains(&key.as_str()) {
                        self.gather(&format!("{path}.{key}"), value);
                    }
                }
            }
            Value::Array(items) => {
                for (index, item) in items.iter().enumerate() {
                    self.gather(&format!("{path}[{index}]"), item);
                }
            }
            Value::Number(number) => {
                let is_said = path.split(['.', '[']).any(|part| SPEAKING.contains(&part));
                if !is_said {
                    self.figures
                        .insert(path.to_owned(), number.as_f64().unwrap());
                }
            }
            _ => {}
        }
    }
}

/// What an input does, the clearest last.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Effect {
    /// Something was wrong with what was tried, and it is not said that it is this input.
    Refused(String),
    /// Another value gives the same answers.
    Nothing,
    /// An entry of this code speaks of it.
    Told(String),
    /// This computed figure moves.
    Figure(String),
}

/// Relative change above which a figure has moved.
const MOVED: f64 = 1e-9;
/// An echo is the input itself, to the digits that JSON carries.
const ECHO: f64 = 1e-11;

/// What an input does, whose value in its own unit went from one to the other where it is a number.
pub(crate) fn effect(
    before: &Answers,
    after: &Answers,
    leaf: &Leaf,
    values: Option<(f64, f64)>,
) -> Effect {
    let moved = before.figures.iter().find(|(path, before)| {
        let ask = path.split('.').next().unwrap();
        if after.refused.contains_key(ask) || is_own_amount(path, leaf) {
            return false;
        }
        match after.figures.get(*path) {
            None => true,
            Some(after) => {
                let far = (*before - after).abs() > MOVED * before.abs().max(1e-3);
                let same = |one: f64, other: f64| (one - other).abs() <= ECHO * one.abs();
                let echo = values.is_some_and(|(was, is)| same(was, **before) && same(is, *after));
                far && !echo
            }
        }
    });
    if let Some((path, _)) = moved {
        return Effect::Figure(path.clone());
    }
    for told in [&after.told, &before.told] {
        for (place, codes) in told {
            if speaks_of(place, &leaf.place) {
                return Effect::Told(codes.iter().next().unwrap().clone());
            }
        }
    }
    match after
        .refused
        .iter()
        .find(|(ask, _)| !before.refused.contains_key(*ask))
    {
        Some((ask, codes)) => Effect::Refused(format!("{ask}: {codes}")),
        None => Effect::Nothing,
    }
}

/// Whether an entry's place is that input, or the one that it is a part of: `…amount` for `…amount.mass_kg`.
fn speaks_of(place: &str, leaf: &str) -> bool {
    leaf == place
        || leaf
            .strip_prefix(place)
            .is_some_and(|rest| rest.starts_with('.') && !rest[1..].contains(['.', '[']))
}

/// Whether the figure is the line's own amount, which its amount moves whether or not it brings anything.
fn is_own_amount(path: &str, leaf: &Leaf) -> bool {
    leaf.place.starts_with("recipe.")
        && leaf.place.contains(".amount.")
        && (path.contains(".additions[") || path.contains(".shopping["))
}
