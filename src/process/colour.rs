//! Colour of a wort: Morey's relation once on what ran off of the mashed grain, the rest linear.
//!
//! One law for every brew, whoever asks for it: the colour units that run off are those of the grain times the share of its
//! extract that does. A plant that lauters worse mashes more grain for the same gravity and leaves as much more colour in it.

use super::formula::{Formula, PerItem, fermentables};
use crate::quantity::{MaltColour, Unit};
use crate::science::colour::malt::{malt_colour_units, morey_srm, units_of_morey_srm};

/// Yield of the mashes behind Morey's relation, whose colour units are of all that was mashed (home practice of his day,
/// from memory).
const MOREY_YIELD: f64 = 0.75;

/// Colour units that run off of `kg` of grain, °Lovibond times kilograms.
pub(crate) fn run_off_units(kg: f64, colour_ebc: f64, mash_yield: f64) -> f64 {
    kg * MaltColour::clamped(colour_ebc).lovibond() * mash_yield / MOREY_YIELD
}

/// EBC of a wort in which these units ran off.
pub(crate) fn grain_ebc(units: f64, volume_l: f64) -> f64 {
    Unit::Srm.to_base(morey_srm(malt_colour_units(units, volume_l)))
}

/// The units that give a wort these EBC.
pub(crate) fn units_for(ebc: f64, volume_l: f64) -> f64 {
    units_of_morey_srm(Unit::Srm.from_base(ebc), volume_l)
}

/// Units that ran off of all of the grain; absent when a grain's colour is unknown.
pub(crate) fn grain_units(
    formula: &Formula,
    amounts: &PerItem<f64>,
    mash_yield: Option<f64>,
) -> Option<f64> {
    // Without a yield nothing of the grain is extract, so that nothing is known to stay in it either.
    let mash_yield = mash_yield.unwrap_or(MOREY_YIELD);
    let mashed = fermentables(formula, amounts);
    mashed
        .filter(|(item, _, kg)| item.is_mashed() && *kg > 0.0)
        .map(|(_, part, kg)| Some(run_off_units(kg, part.colour_ebc?, mash_yield)))
        .sum()
}

/// Colour of the cold wort at the end of the boil; absent when that of a fermentable is unknown.
pub(super) fn wort_colour(
    formula: &Formula,
    amounts: &PerItem<f64>,
    volume_l: f64,
    mash_yield: Option<f64>,
) -> Option<f64> {
    if volume_l <= 0.0 {
        return None;
    }
    let units = grain_units(formula, amounts, mash_yield)?;
    let dissolved = fermentables(formula, amounts);
    let dissolved_ebc_kg: f64 = dissolved
        .filter(|(item, _, kg)| item.is_kettle_sugar() && *kg > 0.0)
        .map(|(_, part, kg)| Some(kg * part.colour_yield?))
        .sum::<Option<f64>>()?;
    Some(grain_ebc(units, volume_l) + dissolved_ebc_kg / volume_l)
}

/// Colour of a wort as a plain sum: pounds x EBC per US gallon of all that is mashed, and the rest as it dissolves.
pub(super) fn linear_colour(
    formula: &Formula,
    amounts: &PerItem<f64>,
    volume_l: f64,
) -> Option<f64> {
    let parts = fermentables(formula, amounts);
    let ebc_kg = parts
        .filter(|(item, _, kg)| (item.is_mashed() || item.is_kettle_sugar()) && *kg > 0.0)
        .map(|(item, part, kg)| {
            Some(if item.is_mashed() {
                malt_colour_units(kg * part.colour_ebc?, 1.0)
            } else {
                kg * part.colour_yield?
            })
        })
        .sum::<Option<f64>>()?;
    (volume_l > 0.0).then(|| ebc_kg / volume_l)
}
