//! Water, spirits and other drinks.

use super::lookup::{Lookup, missing};
use crate::catalogue::EntryRef;
use crate::diagnostic::Error;
use crate::process::assumption::Figure;
use crate::quantity::{Quantity, Unit};
use crate::recipe::Ingredient;
use crate::science::liquid::Liquid;

/// Something poured in as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Beverage {
    /// What is in a kilogram.
    pub(crate) per_kg: Liquid,
    /// Share of its extract that ferments.
    pub(crate) fermentability: f64,
    pub(crate) colour_ebc: Option<f64>,
    pub(crate) density_kg_l: f64,
}

impl Beverage {
    /// Water: that which stands for whatever is measured by volume and brings nothing else.
    pub(crate) fn water() -> Self {
        Self::of(Liquid::drink(0.0, 0.0), 0.0, Some(0.0))
    }

    fn of(per_kg: Liquid, fermentability: f64, colour_ebc: Option<f64>) -> Self {
        Self {
            per_kg,
            fermentability,
            colour_ebc,
            density_kg_l: per_kg.density_20() / 1000.0,
        }
    }
}

/// A drink: where its line states an extract or an alcohol, the other of which neither line nor catalogue knows is none.
pub(super) fn beverage(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Beverage, Error> {
    let known = match entry {
        Some(EntryRef::Beverage(known)) => Some(known),
        _ => None,
    };
    let facts = lookup.facts;
    let known_alcohol = known.and_then(|k| k.alcohol);
    let known_extract = known.and_then(|k| k.extract);
    let is_known = facts.alcohol.is_some() || known_alcohol.is_some();
    if !is_known && (known.is_some() || facts.brix.is_none()) {
        return Err(missing(ingredient, "its alcohol", "such as `40 % alcohol`"));
    }
    // That water has none of either is no news.
    let known_alcohol = known_alcohol.filter(|alcohol| alcohol.in_base() > 0.0);
    let known_extract = known_extract.filter(|extract| extract.in_base() > 0.0);
    let alcohol = lookup.either(facts.alcohol.as_ref(), known_alcohol, Figure::Alcohol);
    let extract = lookup.either(facts.brix.as_ref(), known_extract, Figure::Brix);
    let extract = extract.unwrap_or(0.0) / 100.0;
    // Nobody says a real extract as a specific gravity: that is read off a hydrometer, alcohol and all.
    let shown = facts.brix.as_ref();
    let shown = shown.filter(|stated| stated.unit() == Unit::SpecificGravity);
    let per_kg = match (shown, alcohol) {
        (Some(shown), Some(alcohol)) => Liquid::drink_showing(alcohol, shown.value()),
        (_, alcohol) => Liquid::drink(alcohol.unwrap_or(0.0), extract),
    };
    let stated = facts.fermentability.as_ref().map(|w| w.value().in_base());
    let known_share = known.and_then(|k| k.fermentability).map(Quantity::in_base);
    let fermentability = stated.or(known_share);
    let colour_ebc = match &facts.colour {
        Some(stated) => Some(stated.value().ebc()),
        None => known.and_then(|k| k.colour).map(Quantity::in_base),
    };
    Ok(Beverage::of(
        per_kg,
        // A drink that was fermented once has left what yeast leaves.
        fermentability.unwrap_or(0.0),
        colour_ebc,
    ))
}
