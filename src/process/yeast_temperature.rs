//! Fermentation temperatures held against the usual range of the yeast.

use super::formula::Formula;
use super::gas::WORKS_FROM_C;
use super::warning::Warning;
use crate::diagnostic::Place;
use crate::quantity::Temperature;
use crate::recipe::{Addition, At, Recipe};
use crate::speech::Noted;

/// A range is that of a kind of yeast, whose strains differ by as much, and pages in °F round: what is beyond by no more is not told, K
/// (common practice, no source).
const NEAR_K: f64 = 1.0;
/// Tenths of a degree in which pages in °F are read, K.
const ROUNDING_K: f64 = 0.05;
/// So much colder than it ferments may wort be pitched that is left to warm up, as lagers are, K (common practice, no source).
const PITCHED_COLDER_K: f64 = 2.0;
/// So much warmer may a beer be that has begun, for a diacetyl rest or to finish, K (common practice, no source).
const FINISHED_WARMER_K: f64 = 4.0;

/// Temperatures at which the yeast is not usually fermented. A beer may be cooled as far as one likes once it has fermented,
/// so that only pitching and the first temperature held can be too cold, and that is no cold crash, nor where it was pitched warmer.
pub(crate) fn unusual_temperatures(recipe: &Recipe, formula: &Formula) -> Vec<Noted<Warning>> {
    let mut yeasts = formula.yeasts();
    let yeast = yeasts
        .next()
        .and_then(|(item, yeast)| Some((item, yeast.temperature_range?)));
    let Some((item, (lowest, highest))) = yeast else {
        return Vec::new();
    };
    // A second yeast may want it warmer.
    let later = yeasts.filter_map(|(_, yeast)| Some(yeast.temperature_range?.1));
    let highest_later = later.fold(highest, |a, b| if b > a { b } else { a });
    let name = &item.ingredient.name;
    let pitched = recipe.fermentation.pitch.as_ref().and_then(pitched_at);
    let coldest_c = lowest.celsius() - NEAR_K;
    let warmest_c = highest.celsius() + NEAR_K;
    let pitch = pitched.map(|at| {
        let place = Place::pitch().field("timing.at.at_c");
        (at, place, lowest.celsius() - PITCHED_COLDER_K, warmest_c)
    });
    let is_pitched_cold = pitched.is_some_and(|at| at.celsius() < WORKS_FROM_C);
    let is_pitched_warm = pitched.is_some_and(|at| at >= lowest);
    let holds = recipe.fermentation.holds.iter().enumerate();
    let holds = holds.map(|(index, hold)| {
        let place = Place::hold(index).field("temperature_c");
        let at = hold.temperature.value();
        if index > 0 {
            let finished_c = highest_later.celsius() + FINISHED_WARMER_K;
            return (at, place, f64::NEG_INFINITY, finished_c);
        }
        let is_crash = !is_pitched_cold && at.celsius() < WORKS_FROM_C;
        let least_c = if is_crash || is_pitched_warm {
            f64::NEG_INFINITY
        } else {
            coldest_c
        };
        (at, place, least_c, warmest_c)
    });
    // What rounding of °F adds is no degree.
    let unusual = |(at, _, least_c, most_c): &(Temperature, Place, f64, f64)| {
        at.celsius() < least_c - ROUNDING_K || at.celsius() > most_c + ROUNDING_K
    };
    pitch
        .into_iter()
        .chain(holds)
        .filter(unusual)
        .map(|(at, place, ..)| {
            let name = name.clone();
            Noted::at(
                place,
                Warning::YeastTemperature {
                    name,
                    at,
                    lowest,
                    highest,
                },
            )
        })
        .collect()
}

fn pitched_at(pitch: &Addition) -> Option<Temperature> {
    match &pitch.timing.at {
        Some(At::Temperature(at)) => Some(at.value()),
        _ => None,
    }
}
