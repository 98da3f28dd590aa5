//! Wort that is pitched colder than the plant cools it.

use super::formula::Formula;
use super::plant::{Plant, boiling_c};
use crate::quantity::Temperature;
use crate::quantity::agreement::is_above;
use crate::recipe::{At, Brewhouse, CoolingMethod};

/// A coil or plate brings wort no nearer to its coolant (common practice, no source), K.
const NEVER_NEARER_K: f64 = 1.0;
/// A difference that nobody waits for: a thermometer of the trade is no better, and is read to tenths (common practice, no source), K.
const NEAR_K: f64 = 1.05;

/// Nobody lets a coil run on for longer than this (common practice, no source), min.
const LONGEST_MIN: f64 = 30.0;

/// Wort that is cooled on once the plant's cooling is done.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct CooledOn {
    pub(crate) from: Temperature,
    pub(crate) to: Temperature,
    /// How long the plant's coil takes for it, min; none where that cannot, and the wort stands in the cold.
    pub(crate) coil_min: Option<f64>,
}

/// From where to where wort is to be cooled before the yeast goes in; none where the plant cools it as far.
pub(crate) fn cooled_on(
    formula: &Formula,
    plant: &Plant,
    brewhouse: &Brewhouse,
) -> Option<CooledOn> {
    let (yeast, _) = formula.yeasts().next()?;
    let Some(At::Temperature(pitched)) = &yeast.timing.at else {
        return None;
    };
    let pitched = pitched.value();
    let cooling = brewhouse.cooling.as_ref();
    if plant.cooling.method == CoolingMethod::NoChill {
        return None;
    }
    let stated = cooling.and_then(|cooling| cooling.to.as_ref());
    let to_c = stated.map_or(pitched.celsius(), |to| to.value().celsius());
    let reached_c = to_c.max(plant.cooling.coolant_c + NEVER_NEARER_K);
    is_above(reached_c - pitched.celsius(), NEAR_K).then(|| CooledOn {
        from: Temperature::clamped(reached_c),
        to: pitched,
        coil_min: brewhouse
            .coolant
            .as_ref()
            .and_then(|_| by_coil_min(plant, reached_c, pitched.celsius())),
    })
}

/// How long a coil takes from where it usually stops: as it cools, the nearer to its coolant the slower.
fn by_coil_min(plant: &Plant, from_c: f64, to_c: f64) -> Option<f64> {
    let cooling = &plant.cooling;
    if cooling.method != CoolingMethod::Coil || to_c < cooling.coolant_c + NEVER_NEARER_K {
        return None;
    }
    let folds =
        |from_c: f64, to_c: f64| ((from_c - cooling.coolant_c) / (to_c - cooling.coolant_c)).ln();
    let minutes = cooling.time_min * folds(from_c, to_c) / folds(boiling_c(plant), from_c);
    (0.0..=LONGEST_MIN).contains(&minutes).then_some(minutes)
}
