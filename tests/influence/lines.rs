//! Every row of the grammar in every base document: its example against each of its bent ones.

use crate::effect::{Answers, Effect, effect};
use crate::leaves::Leaf;
use crate::page::Page;
use crate::value_at;
use serde_json::{Value, json};
use std::collections::BTreeSet;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::{Severity, TextRef};
use wortwright::notation::{Row, grammar, read};

/// A text as it is read and what is answered to it.
struct Told {
    models: Value,
    answers: Answers,
}

/// What is answered to the models of a text, with what its lines are told.
fn told(text: &str, ask: &dyn Fn(&Value) -> Answers) -> Told {
    let reading = read(&[TextRef::new("page", text)]);
    let models = json!({
        "recipe": reading.recipe,
        "brewhouses": reading.brewhouses,
        "stock": reading.stock,
        "logs": reading.logs,
        "ingredients": reading.ingredients,
    });
    let diagnostics = reading.placed_diagnostics(&Catalogue::builtin());
    let faults = diagnostics
        .iter()
        .filter(|found| found.severity == Severity::Error);
    let faults: Vec<_> = faults.map(|found| found.code.as_str().to_owned()).collect();
    let mut answers = if faults.is_empty() {
        ask(&models)
    } else {
        Answers {
            refused: [("text".to_owned(), faults.join(" "))].into(),
            ..Answers::default()
        }
    };
    for found in diagnostics {
        if let Some(place) = found.place {
            answers.tell(&place.to_string(), found.code.as_str());
        }
    }
    Told { models, answers }
}

/// The inputs in which two sets of models differ, plants and logs by their names.
fn differing(one: &Value, other: &Value, at: &Leaf, found: &mut Vec<Leaf>) {
    let below = |pointer: &str, place: &str| Leaf {
        pointer: format!("{}/{pointer}", at.pointer),
        place: format!("{}{place}", at.place),
        ..at.clone()
    };
    match (one, other) {
        (Value::Object(one), Value::Object(other)) => {
            let keys: BTreeSet<_> = one.keys().chain(other.keys()).collect();
            for key in keys {
                let place = if at.place.is_empty() {
                    key.clone()
                } else {
                    format!(".{key}")
                };
                let null = Value::Null;
                let (one, other) = (
                    one.get(key).unwrap_or(&null),
                    other.get(key).unwrap_or(&null),
                );
                differing(one, other, &below(key, &place), found);
            }
        }
        (Value::Array(one), Value::Array(other)) if one.len() == other.len() => {
            for (index, (one, other)) in one.iter().zip(other).enumerate() {
                let name = one["name"]
                    .as_str()
                    .filter(|_| matches!(&*at.place, "brewhouses" | "logs"));
                let place = name.map_or_else(|| format!("[{index}]"), |name| format!("[{name}]"));
                differing(one, other, &below(&index.to_string(), &place), found);
            }
        }
        (one, other) if one != other => {
            // A figure with its unit is one input.
            let is_written = matches!(
                at.pointer.rsplit('/').next(),
                Some("number" | "unit" | "value")
            );
            if !is_written {
                found.push(at.clone());
                return;
            }
            let (pointer, place) = (
                at.pointer.rsplit_once('/').unwrap().0,
                at.place.rsplit_once('.').unwrap().0,
            );
            found.push(Leaf {
                pointer: pointer.to_owned(),
                place: place.to_owned(),
                ..at.clone()
            });
        }
        _ => {}
    }
}

/// What it does that one line stands on a page and not the other.
fn effect_of(page: &Page, row: &Row, bent: &str, ask: &dyn Fn(&Value) -> Answers) -> Effect {
    let (before, after) = (page.with(row, row.example), page.with(row, bent));
    let (before, after) = (told(&before, ask), told(&after, ask));
    let mut changed = Vec::new();
    differing(&before.models, &after.models, &Leaf::whole(), &mut changed);
    let mut clearest = Effect::Nothing;
    for leaf in &changed {
        let values = value_at(&before.models, leaf).zip(value_at(&after.models, leaf));
        clearest = clearest.max(effect(&before.answers, &after.answers, leaf, values));
    }
    let refused = |told: &Told| told.answers.refused.values().next().cloned();
    match (clearest, refused(&before).or(refused(&after))) {
        (Effect::Nothing, Some(codes)) => Effect::Refused(codes),
        (clearest, _) => clearest,
    }
}

/// The rows of the grammar that move no figure of a page: the row, and the code of the entry that speaks of it, of what refuses the line there, or
/// `nothing`.
pub(crate) fn without_figure(
    name: &str,
    text: &str,
    ask: &dyn Fn(&Value) -> Answers,
) -> BTreeSet<String> {
    let page = Page::new(text);
    let mut found = BTreeSet::new();
    for row in grammar() {
        for bent in row.bent {
            let says = match effect_of(&page, row, bent, ask) {
                Effect::Figure(_) => continue,
                Effect::Told(code) => code,
                Effect::Nothing => "nothing".to_owned(),
                Effect::Refused(codes) => format!("refused {codes}"),
            };
            found.insert(format!("{name}: {:?} `{bent}` {says}", row.block).replace('\n', " "));
        }
    }
    found
}

#[cfg(test)]
mod planted {
    use super::*;
    use crate::{answers, texts};
    use std::collections::BTreeMap;
    use wortwright::notation::Block;

    fn row(block: Block, word: &str) -> &'static Row {
        grammar()
            .find(|row| row.block == block && row.word() == word)
            .unwrap()
    }

    fn bag() -> Page {
        Page::new(&texts()["bag"])
    }

    /// What an effect of every bent example of a row is.
    fn effects(row: &Row, ask: &dyn Fn(&Value) -> Answers) -> Vec<Effect> {
        let page = bag();
        let effects = row.bent.iter().map(|bent| effect_of(&page, row, bent, ask));
        effects.collect()
    }

    /// The bag's answers if a row counted for nothing.
    #[test]
    fn an_effect_that_is_taken_away_from_a_row_is_found() {
        for (block, word, pointer) in [
            (Block::Brewhouse, "evaporation", "/brewhouses/1/evaporation"),
            (Block::Mash, "pH", "/recipe/mash/ph"),
            (Block::Timing, "when", "/recipe/fermentation/additions"),
            (Block::Log, "added", "/logs/0/entries"),
        ] {
            let row = row(block, word);
            let is_figure = |effect: &Effect| matches!(effect, Effect::Figure(_));
            assert!(effects(row, &answers).iter().all(is_figure), "{row:?}");
            let example = told(&bag().with(row, row.example), &answers).models;
            let deaf = |models: &Value| {
                let mut models = models.clone();
                *models.pointer_mut(pointer).unwrap() = example.pointer(pointer).unwrap().clone();
                answers(&models)
            };
            assert!(!effects(row, &deaf).iter().any(is_figure), "{row:?}");
        }
    }

    #[test]
    fn an_echo_of_a_row_is_no_effect() {
        let row = row(Block::Target, "wort alcohol");
        let echoing = |models: &Value| {
            let mut answers = answers(models);
            let printed = models.pointer("/recipe/targets/wort_alcohol_abv_pct/value");
            let number = models.pointer("/recipe/targets/wort_alcohol_abv_pct/number");
            let printed = printed.or(number).and_then(Value::as_f64).unwrap();
            let path = "predict0.result.echo".to_owned();
            answers.figures.insert(path, printed);
            answers
        };
        for effect in effects(row, &echoing) {
            assert!(matches!(effect, Effect::Told(_)), "{effect:?}");
        }
    }

    #[test]
    fn an_entry_without_its_place_is_no_effect_of_a_row() {
        let row = row(Block::Target, "wort alcohol");
        let placeless = |models: &Value| Answers {
            told: BTreeMap::new(),
            ..answers(models)
        };
        for effect in effects(row, &placeless) {
            assert_eq!(effect, Effect::Nothing);
        }
    }
}
