//! Wort that is pitched colder than the plant cools it.

use super::formula::Formula;
use super::plant::Plant;
use crate::quantity::Temperature;
use crate::recipe::{At, Brewhouse, CoolingMethod};

/// A coil or plate brings wort no nearer to its coolant (common practice, no source), K.
const NEVER_NEARER_K: f64 = 1.0;
/// A difference that nobody waits for, K.
const NEAR_K: f64 = 1.0;

/// From where to where wort is to be cooled in the fermenter before the yeast goes in; none where the plant cools it as far.
pub(crate) fn cooled_on(
    formula: &Formula,
    plant: &Plant,
    brewhouse: &Brewhouse,
) -> Option<(Temperature, Temperature)> {
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
    (reached_c - pitched.celsius() >= NEAR_K).then(|| (Temperature::clamped(reached_c), pitched))
}
