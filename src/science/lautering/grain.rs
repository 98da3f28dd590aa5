//! What the grain keeps: wort between drains, water at the end.
//!
//! Source: balances of volume and of dry matter (derived); usual wetness of spent grain from the Oxford Companion to
//! Beer, entry on spent grain, and Farber et al. 2019. Range: ideal mixing, no dead space. Units: L, kg.

use super::MOST_KG;
use crate::diagnostic::Error;
use crate::quantity::{
    Absorption, LaboratoryExtract, Mass, Moisture, Share, Volume, in_kilograms, in_litres, json,
    kilograms, litres,
};
use crate::science::within::within;
use serde::Serialize;

/// Wetter than this, spent grain is a soup and the share of water fixes no mass.
const WETTEST_SPENT_GRAIN: f64 = 0.95;

/// What the wet spent grain of a mash is made of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct SpentGrain {
    /// Matter that did not dissolve.
    #[serde(rename = "insoluble_kg", with = "json::kilogram")]
    pub insoluble: Mass,
    /// The whole, wet.
    #[serde(rename = "wet_kg", with = "json::kilogram")]
    pub wet: Mass,
    /// Water in it.
    #[serde(rename = "water_kg", with = "json::kilogram")]
    pub water: Mass,
    /// Water in it less what the malt brought; below zero if the grain ends drier than the malt.
    #[serde(rename = "water_taken_kg", with = "json::kilogram")]
    pub water_taken: Mass,
}

/// Wort that the grain keeps after every drain: the whole solution less the first wort, which is the mash water less
/// absorption × grain.
///
/// Between nothing (a wetter first wort than there is solution) and all of it (dry mash: nothing runs).
///
/// # Errors
///
/// `OutOfRange` for a volume or mass below zero or beyond 10⁷ L or kg.
///
/// ```
/// use wortwright::quantity::{Absorption, Mass, Volume};
/// use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
/// use wortwright::science::lautering::retained_wort;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// // 5 kg in 15 L: 2.5 L of solution more than water went in, so 7.5 L stay where 5 L seem to be absorbed.
/// let kept = retained_wort(
///     Volume::new::<liter>(17.5),
///     Volume::new::<liter>(15.0),
///     Absorption::from_litres_per_kilogram(1.0)?,
///     Mass::new::<kilogram>(5.0),
/// )?;
/// assert!((kept.get::<liter>() - 7.5).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn retained_wort(
    solution: Volume,
    mash_water: Volume,
    absorption: Absorption,
    grain: Mass,
) -> Result<Volume, Error> {
    let solution_l = within("a mash solution", in_litres(solution), 0.0..=MOST_KG, "L")?;
    let water_l = within("mash water", in_litres(mash_water), 0.0..=MOST_KG, "L")?;
    let grain_kg = within("a grist", in_kilograms(grain), 0.0..=MOST_KG, "kg")?;
    Ok(litres(retained_wort_l(
        solution_l,
        water_l,
        absorption.litres_per_kilogram(),
        grain_kg,
    )))
}

/// Retained wort in litres, between nothing and the whole solution.
pub(crate) fn retained_wort_l(
    solution_l: f64,
    mash_water_l: f64,
    absorption_l_per_kg: f64,
    grain_kg: f64,
) -> f64 {
    let first_wort_l = mash_water_l - absorption_l_per_kg * grain_kg;
    solution_l - first_wort_l.clamp(0.0, solution_l.max(0.0))
}

/// Share of the extract, and of the water, of a mixed solution that stays when it is drained down to `retained`.
///
/// All of it when there is no more than that to begin with.
///
/// # Errors
///
/// `OutOfRange` for a volume below zero or beyond 10⁷ L.
///
/// ```
/// use wortwright::quantity::Volume;
/// use wortwright::quantity::uom::si::volume::liter;
/// use wortwright::science::lautering::left_behind;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let kept = left_behind(Volume::new::<liter>(5.0), Volume::new::<liter>(33.0))?;
/// assert!((1.0 - kept.fraction() - 0.84848).abs() < 5e-6);
/// # Ok(())
/// # }
/// ```
pub fn left_behind(retained: Volume, mixed: Volume) -> Result<Share, Error> {
    let retained_l = within("retained wort", in_litres(retained), 0.0..=MOST_KG, "L")?;
    let mixed_l = within("a mixed solution", in_litres(mixed), 0.0..=MOST_KG, "L")?;
    Ok(Share::clamped(left_share(retained_l, mixed_l)))
}

/// Share left by a drain, from amounts in any one unit.
pub(crate) fn left_share(retained: f64, mixed: f64) -> f64 {
    if mixed > retained {
        retained / mixed
    } else {
        1.0
    }
}

/// Spent grain of a mash all of whose extract was recovered.
///
/// `extract_dry` is the extract on dry matter, `wetness` the water in the wet spent grain (0.75 to 0.80 is usual in a
/// lauter tun; a press reaches 0.65).
///
/// # Errors
///
/// `OutOfRange` for a mass below zero or beyond 10⁷ kg, or for spent grain wetter than 95 %.
///
/// # Source
///
/// Balance of dry matter; usual wetness from the Oxford Companion to Beer, entry on spent grain, and Farber et al. 2019.
///
/// ```
/// use wortwright::quantity::{LaboratoryExtract, Mass, Moisture};
/// use wortwright::quantity::uom::si::mass::kilogram;
/// use wortwright::science::lautering::spent_grain;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grain = spent_grain(
///     Mass::new::<kilogram>(100.0),
///     LaboratoryExtract::from_percent(80.0)?,
///     Moisture::from_percent(4.0)?,
///     Moisture::from_percent(75.0)?,
/// )?;
/// assert!((grain.wet.get::<kilogram>() - 76.8).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn spent_grain(
    grist: Mass,
    extract_dry: LaboratoryExtract,
    moisture: Moisture,
    wetness: Moisture,
) -> Result<SpentGrain, Error> {
    let grist_kg = within("a grist", in_kilograms(grist), 0.0..=MOST_KG, "kg")?;
    let water_share = within(
        "water in spent grain",
        wetness.fraction(),
        0.0..=WETTEST_SPENT_GRAIN,
        "kg/kg",
    )?;
    let insoluble_share = (1.0 - extract_dry.fraction()).max(0.0) * (1.0 - moisture.fraction());
    let insoluble_kg = insoluble_share * grist_kg;
    let wet_kg = insoluble_kg / (1.0 - water_share);
    let held_kg = wet_kg * water_share;
    Ok(SpentGrain {
        insoluble: kilograms(insoluble_kg),
        wet: kilograms(wet_kg),
        water: kilograms(held_kg),
        water_taken: kilograms(held_kg - moisture.fraction() * grist_kg),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn retained_wort_stays_between_nothing_and_everything() {
        assert!((retained_wort_l(17.5, 15.0, 0.8, 5.0) - 6.5).abs() < 1e-12);
        assert_eq!(retained_wort_l(17.5, 3.0, 1.0, 5.0), 17.5);
        assert_eq!(retained_wort_l(14.0, 15.0, 0.0, 5.0), 0.0);
    }

    #[test]
    fn grain_drier_than_the_malt_gives_water_back() {
        let percent = |value| Moisture::from_percent(value).unwrap();
        let extract = LaboratoryExtract::from_percent(80.0).unwrap();
        let grain = spent_grain(kilograms(10.0), extract, percent(10.0), percent(20.0)).unwrap();
        // By hand: 1.8 kg insoluble, 2.25 kg wet, 0.45 kg of water where the malt brought 1 kg.
        assert!((in_kilograms(grain.water_taken) + 0.55).abs() < 1e-12);
        assert!(spent_grain(kilograms(10.0), extract, percent(4.0), percent(99.0)).is_err());
        assert!(left_behind(litres(-1.0), litres(5.0)).is_err());
    }
}
