//! Fermentation temperatures held against the usual range of the yeast.

use super::formula::Formula;
use super::warning::Warning;
use crate::diagnostic::Place;
use crate::quantity::Temperature;
use crate::recipe::{Addition, At, Recipe};
use crate::speech::Noted;

/// Temperatures at which the yeast is not usually fermented. A beer may be cooled as far as one likes once it has fermented,
/// so that only pitching and the first temperature held can be too cold.
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
    let pitch = recipe.fermentation.pitch.as_ref().and_then(pitched_at);
    let pitch = pitch.map(|at| (at, Place::pitch().field("timing.at.at_c"), true));
    let holds = recipe.fermentation.holds.iter().enumerate();
    let holds = holds.map(|(index, hold)| {
        let place = Place::hold(index).field("temperature_c");
        (hold.temperature.value(), place, index == 0)
    });
    let unusual = |(at, _, starts): &(Temperature, Place, bool)| {
        let highest = if *starts { highest } else { highest_later };
        *at > highest || (*starts && *at < lowest)
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
