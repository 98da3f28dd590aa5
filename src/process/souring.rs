//! Souring before the boil: what it makes of the wort's extract.

use super::assumption::Assumption;
use crate::diagnostic::Place;
use crate::quantity::{Ph, Share, Temperature, Written};
use crate::recipe::Recipe;
use crate::science::souring::lactic_acid_share;
use crate::speech::Noted;

/// pH of sour wort where the recipe does not say (common practice, no source: 3.2 to 3.5).
const SOUR_PH: f64 = 3.4;
/// pH of wort from a mash whose pH the recipe does not say (common practice, no source: 5.2 to 5.6).
const WORT_PH: f64 = 5.4;

/// What souring makes of a wort.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SouringOf {
    /// Lactic acid that bacteria make of each kilogram of extract that a mash made, kg.
    pub(crate) acid_kg_per_kg: f64,
    /// pH of the wort as mashed.
    pub(crate) wort: Ph,
    /// Where acid brings it before the bacteria, if the recipe says so.
    pub(crate) acidified: Option<Ph>,
    /// Where it ends.
    pub(crate) to: Ph,
    /// Where the recipe states it.
    pub(crate) at: Option<Temperature>,
}

impl SouringOf {
    /// The souring of a recipe, if it sours its wort.
    pub(super) fn of(recipe: &Recipe, assumptions: &mut Vec<Noted<Assumption>>) -> Option<Self> {
        let souring = recipe.souring.as_ref()?;
        let from = recipe.mash.ph.as_ref().map(Written::value);
        let from = from.unwrap_or(Ph::clamped(WORT_PH));
        let stated = souring.to.as_ref().map(Written::value);
        let to = stated.unwrap_or(Ph::clamped(SOUR_PH));
        let wort = from;
        let acidified = souring.from.as_ref().map(Written::value);
        let acidified = acidified.filter(|ph| *ph < wort);
        let from = acidified.unwrap_or(wort);
        let poured = acidified.map_or(0.0, |ph| lactic_acid_share(wort, ph).fraction());
        let made = lactic_acid_share(wort, to).fraction() - poured;
        let acid = Share::clamped(made.max(0.0));
        let field = stated.map_or("souring", |_| "souring.to_ph");
        let soured = Assumption::Soured { from, to, acid };
        assumptions.push(Noted::at(Place::recipe(field), soured));
        Some(Self {
            acid_kg_per_kg: acid.fraction(),
            wort,
            acidified,
            to,
            at: souring.temperature.as_ref().map(Written::value),
        })
    }
}
