//! Fermentation temperatures held against the usual range of the yeast.

use super::formula::Formula;
use super::gas::WORKS_FROM_C;
use super::warning::Warning;
use crate::diagnostic::Place;
use crate::quantity::Temperature;
use crate::recipe::{Addition, At, Recipe};
use crate::speech::Noted;

/// Ranges are in whole degrees, and pages in °F round to others: what is beyond by less is not told.
const ROUNDED_C: f64 = 0.5;

/// Temperatures at which the yeast is not usually fermented. A beer may be cooled as far as one likes once it has fermented,
/// so that only pitching and the first temperature held can be too cold, and that is no cold crash.
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
    let pitch = pitched.map(|at| (at, Place::pitch().field("timing.at.at_c"), true));
    let is_cold = |at: Temperature| at.celsius() < WORKS_FROM_C;
    let is_pitched_cold = pitched.is_some_and(is_cold);
    let holds = recipe.fermentation.holds.iter().enumerate();
    let holds = holds.map(|(index, hold)| {
        let place = Place::hold(index).field("temperature_c");
        let at = hold.temperature.value();
        let starts = index == 0 && (is_pitched_cold || !is_cold(at));
        (at, place, starts)
    });
    let unusual = |(at, _, starts): &(Temperature, Place, bool)| {
        let highest = if *starts { highest } else { highest_later };
        let beyond = at.celsius() - highest.celsius();
        let below = lowest.celsius() - at.celsius();
        beyond > ROUNDED_C || (*starts && below > ROUNDED_C)
    };
    pitch
        .into_iter()
        .chain(holds)
        .filter(unusual)
        .map(|(at, place, _)| {
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
