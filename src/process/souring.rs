//! Souring before the boil: what it makes of the wort's extract, and what stands in its way.

use super::assumption::Assumption;
use super::formula::{Formula, Item, Stage};
use super::material::Material;
use super::warning::Warning;
use crate::diagnostic::Place;
use crate::quantity::{Ph, Share, Temperature, Written};
use crate::recipe::{At, Recipe};
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

/// Hops in the wort while bacteria sour it, and a temperature that they do not like.
pub(super) fn souring_limits(formula: &Formula) -> Vec<Noted<Warning>> {
    let Some(souring) = formula.souring else {
        return Vec::new();
    };
    let is_before = |item: &Item| match item.place.stage {
        Stage::Mash => true,
        Stage::Boil => item.timing.at == Some(At::FirstWort),
        _ => false,
    };
    let hops = formula.items.values();
    let hops = hops.filter(|item| matches!(item.material, Material::Hop { .. }) && is_before(item));
    let hinder = hops.map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(item.place.line(), Warning::HopsBeforeSouring { name })
    });
    let mut cultures = formula.items.values();
    let culture = cultures.find(|item| item.place.stage == Stage::Sour);
    let unusual = culture.and_then(|item| {
        let Material::Yeast(bacteria) = item.material else {
            return None;
        };
        let (lowest, highest) = bacteria.temperature_range?;
        let at = souring.at.filter(|at| *at < lowest || *at > highest)?;
        let name = item.ingredient.name.clone();
        let place = Place::recipe("souring.temperature_c");
        Some(Noted::at(
            place,
            Warning::YeastTemperature {
                name,
                at,
                lowest,
                highest,
            },
        ))
    });
    hinder.chain(unusual).collect()
}
