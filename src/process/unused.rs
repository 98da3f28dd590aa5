//! What a recipe states and has no figure to change.

use super::assumption::{Assumption, Unused};
use super::formula::{Formula, Item, PITCH, Rule, Stage};
use super::material::Material;
use crate::catalogue::Kind;
use crate::diagnostic::Place;
use crate::recipe::Recipe;
use crate::speech::Noted;

/// What is calculated of the water of a mash.
#[derive(Debug, Clone, Copy)]
pub(crate) struct MashWaterKnown {
    /// Its ions, on the plant that the day is planned for.
    pub(crate) ions: bool,
    /// Its pH, on that plant or on the recipe's own.
    pub(crate) ph: bool,
    /// Its pH on that plant, which can be brought to the wanted one.
    pub(crate) planned_ph: bool,
}

/// What a recipe states and has no figure to change, each at its place.
pub(crate) fn unused(
    recipe: &Recipe,
    formula: &Formula,
    known: MashWaterKnown,
) -> Vec<Noted<Assumption>> {
    let items = formula.items.values();
    let mut found: Vec<_> = items
        .flat_map(|item| [protein(item), yeast_amount(item), agent(item, known)])
        .flatten()
        .collect();
    if recipe.mash.ph.is_some() && !known.planned_ph {
        let (name, what) = (None, Unused::MashPh);
        let place = Place::recipe("mash.ph");
        found.push(Noted::at(place, Assumption::ChangesNoFigure { name, what }));
    }
    found
}

fn not_used(item: &Item, what: Unused, place: Place) -> Noted<Assumption> {
    let name = Some(item.ingredient.name.clone());
    Noted::at(place, Assumption::ChangesNoFigure { name, what })
}

fn protein(item: &Item) -> Option<Noted<Assumption>> {
    item.ingredient.facts.protein.as_ref()?;
    let place = item.place.ingredient().field("facts.protein_pct");
    Some(not_used(item, Unused::Protein, place))
}

/// Nobody knows how many cells a gram or a pack of that yeast holds. Of a volume another entry speaks.
fn yeast_amount(item: &Item) -> Option<Noted<Assumption>> {
    let is_yeast = matches!(item.material, Material::Yeast(_)) && item.place.index == PITCH;
    let is_told = item.rule == Rule::Open || item.is_by_volume();
    let place = item.place.place().field("amount");
    (is_yeast && !is_told).then(|| not_used(item, Unused::YeastAmount, place))
}

/// A salt or an acid acts in a mash whose water is known.
fn agent(item: &Item, known: MashWaterKnown) -> Option<Noted<Assumption>> {
    let acts = match item.ingredient.kind {
        Kind::Salt => known.ph || known.ions,
        Kind::Acid => known.ph,
        _ => return None,
    };
    let what = match item.place.stage {
        Stage::Mash if acts => return None,
        Stage::Mash => Unused::InMash,
        _ => Unused::AfterMash,
    };
    let place = item.place.place().field("amount");
    Some(not_used(item, what, place))
}
