//! Recipes of very many items: what is smallest of each kind is bent together, so that the time grows with the items and no faster.

use super::bend::Bend;
use super::cause::CauseKind;
use super::input::{Input, Lots};
use crate::process::brew::Worked;
use crate::process::formula::{ItemIndex, Stage};
use crate::process::material::Material;
use crate::recipe::Ingredient;
use std::collections::BTreeMap;
use std::sync::Arc;

/// So many runs times items at most: a recipe of a hundred items has a run for each of its inputs (rule of the crate).
const MOST_WORK: usize = 30_000;

/// The inputs, so many of them that the time of their runs is bounded.
pub(super) fn bounded(inputs: Vec<Input>, worked: &Worked) -> Vec<Input> {
    let items = worked.setup.formula.items.values().len();
    at_most(inputs, worked, MOST_WORK / items.max(1))
}

/// The inputs with the smallest of each kind as one, where there are more than so many.
pub(super) fn at_most(inputs: Vec<Input>, worked: &Worked, most: usize) -> Vec<Input> {
    if inputs.len() <= most {
        return inputs;
    }
    let mut kept = Vec::new();
    let mut groups: BTreeMap<_, Vec<(f64, Input)>> = BTreeMap::new();
    for input in inputs {
        match weight(&input, worked) {
            Some((stage, weight)) => {
                let group = (input.kind, stage, matches!(input.bend, Bend::Alpha(_)));
                groups.entry(group).or_default().push((weight, input));
            }
            None => kept.push(input),
        }
    }
    let each = most / groups.len().max(1);
    for mut group in groups.into_values() {
        group.sort_by(|a, b| b.0.total_cmp(&a.0));
        let small = group.split_off(each.min(group.len()));
        kept.extend(group.into_iter().map(|(_, input)| input));
        kept.extend(as_one(small));
    }
    kept
}

/// Independent causes as one. What each does goes by its weight, so that all at once do the sum of those, and by chance the root of the
/// sum of their squares.
fn as_one(small: Vec<(f64, Input)>) -> Option<Input> {
    let sum: f64 = small.iter().map(|(weight, _)| weight).sum();
    let squares: f64 = small.iter().map(|(weight, _)| weight * weight).sum();
    let kind = small.first().map(|(_, input)| input.kind)?;
    let together = squares.sqrt() / sum.max(f64::MIN_POSITIVE);
    let lots = small.iter().filter_map(|(_, input)| input.of.as_ref());
    let ingredients: Vec<_> = lots.flat_map(|lots| lots.ingredients.clone()).collect();
    let of = (!ingredients.is_empty()).then_some(Lots {
        ingredients,
        together,
    });
    let inputs: Vec<Input> = small.into_iter().map(|(_, input)| input).collect();
    (sum > 0.0).then(|| of_all(kind, &inputs, together, of))
}

/// Several inputs, bent at once.
fn of_all(kind: CauseKind, inputs: &[Input], together: f64, of: Option<Lots>) -> Input {
    let bends = inputs.iter();
    Input {
        kind,
        name: None,
        bend: Bend::Together(
            bends
                .map(|input| (input.bend.clone(), input.sigma))
                .collect(),
        ),
        sigma: together,
        measured: None,
        of,
    }
}

/// The same lots of one kind among the inputs of another brew: what one brew counts together is one cause there too, as far as it is
/// there at all.
pub(super) fn of_lots(all: &[Input], kind: CauseKind, lots: &Lots) -> Option<Input> {
    let mut named: BTreeMap<&str, Vec<&Arc<Ingredient>>> = BTreeMap::new();
    for lot in &lots.ingredients {
        named.entry(&lot.name).or_default().push(lot);
    }
    let is_one_of_them = |lot: &Arc<Ingredient>| {
        let alike = named.get(lot.name.as_str());
        alike.is_some_and(|alike| alike.contains(&lot))
    };
    let is_there = |input: &&Input| {
        let of = input.of.as_ref().filter(|_| input.kind == kind);
        of.is_some_and(|of| of.ingredients.iter().any(is_one_of_them))
    };
    let mut found: Vec<Input> = all.iter().filter(is_there).cloned().collect();
    if lots.ingredients.len() > 1 {
        let is_any = !found.is_empty();
        return is_any.then(|| of_all(kind, &found, lots.together, Some(lots.clone())));
    }
    found.pop()
}

/// The stage of an input's items, and a measure of what one sigma of it does there; none of what is of no item.
fn weight(input: &Input, worked: &Worked) -> Option<(Stage, f64)> {
    let items: &[ItemIndex] = match &input.bend {
        Bend::Extract(items)
        | Bend::DrinkAlcohol(items)
        | Bend::Colour(items)
        | Bend::Alpha(items)
        | Bend::Ferments(items) => items,
        Bend::Weight(index) => std::slice::from_ref(index),
        _ => return None,
    };
    let formula = &worked.setup.formula.items;
    let brings = |index: &ItemIndex| {
        let brings = match (&input.bend, formula.get(*index).map(|item| item.material)) {
            (Bend::Colour(_), Some(Material::Fermentable(part))) => {
                part.colour_ebc.or(part.colour_yield).unwrap_or_default()
            }
            (Bend::Alpha(_), Some(Material::Hop { alpha })) => alpha.unwrap_or_default(),
            (_, Some(Material::Fermentable(part))) => part.extract,
            _ => 1.0,
        };
        brings * worked.amounts.of.at(*index)
    };
    let stage = formula.get(*items.first()?)?.place.stage;
    Some((stage, input.sigma * items.iter().map(brings).sum::<f64>()))
}
