//! Recipes of very many items: what is smallest of each kind is bent together, so that the time grows with the items and no faster.

use super::bend::Bend;
use super::input::Input;
use crate::process::brew::Worked;
use crate::process::formula::{ItemIndex, Stage};
use crate::process::material::Material;
use std::collections::BTreeMap;

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
    let sigma = squares.sqrt() / sum.max(f64::MIN_POSITIVE);
    let bends = small.into_iter();
    (sum > 0.0).then(|| Input {
        kind,
        name: None,
        bend: Bend::Together(bends.map(|(_, input)| (input.bend, input.sigma)).collect()),
        sigma,
        measured: None,
        of: None,
    })
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
