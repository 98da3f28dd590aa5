//! What runs off from a mash and what the grain keeps: the mass balance of ideal mixing.
//!
//! The solution in a mash is all its extract and all its water, malt moisture included. Every drain stops when the
//! grain holds the same amount of solution as after the first one, so it leaves retained/mixed of the extract
//! behind. Apparent absorption (water in less wort out) is *not* what is retained: the extract swells the solution,
//! and [`retained_wort`] goes from one to the other.
//!
//! [`lauter`] works over masses, the textbook's cross-current washing; with volumes in place of masses the same
//! shares follow, since a mixed solution is one thing throughout ([`left_behind`]).
//!
//! Source: derived from the mass balance; equal portions give the (1 + S/R)^-n law of cross-current washing
//! (GATE Chemical Engineering 2013, question 38). First wort: balance as in a university formula sheet of brewing.
//! Range: ideal mixing, no dead space. Real drains lie a little below; say so with a [`Mixing`] below 1.

use super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{
    Absorption, Extract, LaboratoryExtract, LiquorRatio, Mass, MassDensity, Mixing, Moisture,
    Share, Volume, in_kilograms, in_litres, json, kilograms, litres,
};
use serde::Serialize;
use uom::si::mass_density::kilogram_per_cubic_meter;

/// More than any mash tun holds, kg.
const MOST_KG: f64 = 1e7;

/// Wetter than this, spent grain is a soup and the share of water fixes no mass.
const WETTEST_SPENT_GRAIN: f64 = 0.95;

/// The dissolved part of a mash before anything has run off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MashSolution {
    /// Extract in solution.
    #[serde(rename = "extract_kg", with = "json::kilogram")]
    pub extract: Mass,
    /// Water in the mash: mash water and the moisture of the malt.
    #[serde(rename = "water_kg", with = "json::kilogram")]
    pub water: Mass,
}

/// One run-off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[non_exhaustive]
pub struct RunOff {
    /// Extract that ran off.
    #[serde(rename = "extract_kg", with = "json::kilogram")]
    pub extract: Mass,
    /// Water that ran off.
    #[serde(rename = "water_kg", with = "json::kilogram")]
    pub water: Mass,
    /// Strength of this run-off.
    #[serde(rename = "extract_plato")]
    pub strength: Extract,
}

/// The result of a lauter.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Lautered {
    /// First wort, then one run-off for each sparge.
    pub run_offs: Vec<RunOff>,
    /// Share of the dissolved extract that ran off.
    pub efficiency: Share,
    /// Extract that stays in the grain.
    #[serde(rename = "extract_left_kg", with = "json::kilogram")]
    pub extract_left: Mass,
    /// Water that stays in the grain.
    #[serde(rename = "water_left_kg", with = "json::kilogram")]
    pub water_left: Mass,
}

/// How the sparge water passes through the grain.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Sparge<'a> {
    /// One portion after another, each stirred in and drained. No portion at all is a lauter without sparge.
    Batches(&'a [Mass]),
    /// Continuous, with the grain bed always well mixed: the lower bound of a continuous sparge.
    MixedBed(Mass),
    /// Continuous, with the water pushing the wort before it: the upper bound of a continuous sparge.
    PlugFlow(Mass),
}

/// What the wet spent grain of a mash is made of.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
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

/// Strength of the first wort: `100 Y / (Y + W + moisture)`.
///
/// `dissolved` is the extract in solution per mass of grist as is (conversion × laboratory extract), `liquor` the
/// mash water at the temperature of which `water_density` is given.
///
/// # Errors
///
/// `OutOfRange` unless the density is 900 to 1100 kg/m³.
///
/// # Source
///
/// University formula sheet of brewing, W = Y (100 - P)/P, with the malt moisture added to the water.
///
/// ```
/// use wortwright::quantity::{LiquorRatio, MassDensity, Moisture, Share};
/// use wortwright::quantity::uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::science::lautering::first_wort;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let wort = first_wort(
///     Share::from_percent(76.0)?,
///     LiquorRatio::from_litres_per_kilogram(3.0)?,
///     MassDensity::new::<kilogram_per_cubic_meter>(1000.0),
///     Moisture::from_percent(4.0)?,
/// )?;
/// assert!((wort.plato() - 20.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn first_wort(
    dissolved: Share,
    liquor: LiquorRatio,
    water_density: MassDensity,
    moisture: Moisture,
) -> Result<Extract, Error> {
    let density_kg_per_m3 = within(
        "a density of water",
        water_density.get::<kilogram_per_cubic_meter>(),
        900.0..=1100.0,
        "kg/m³",
    )?;
    let water_kg_per_kg = liquor.litres_per_kilogram() * density_kg_per_m3 / 1000.0;
    let fraction = first_wort_fraction(dissolved.fraction(), water_kg_per_kg, moisture.fraction());
    Ok(Extract::clamped(100.0 * fraction))
}

/// Mass fraction of extract in the first wort, per kilogram of grist.
pub(crate) fn first_wort_fraction(
    dissolved_kg_per_kg: f64,
    water_kg_per_kg: f64,
    moisture_kg_per_kg: f64,
) -> f64 {
    dissolved_kg_per_kg / (dissolved_kg_per_kg + water_kg_per_kg + moisture_kg_per_kg)
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

/// Share left by a sparge that mixes only in part. The part that does not mix runs through the grain and takes no
/// extract with it; with `mixing` 1 the whole sparge mixes.
pub(crate) fn left_share_of_sparge(retained: f64, sparge: f64, mixing: f64) -> f64 {
    left_share(retained, retained + mixing * sparge)
}

/// Share left by a continuous sparge through a bed that is always mixed: exp(-S/R).
pub(crate) fn left_share_of_mixed_bed(retained: f64, sparge: f64, mixing: f64) -> f64 {
    let washing = mixing * sparge;
    if washing > 0.0 {
        (-washing / retained).exp()
    } else {
        1.0
    }
}

/// Share left by a continuous sparge that pushes the wort before it.
pub(crate) fn left_share_of_plug_flow(retained: f64, sparge: f64, mixing: f64) -> f64 {
    let washing = mixing * sparge;
    if washing < retained {
        1.0 - washing / retained
    } else if washing > 0.0 {
        0.0
    } else {
        1.0
    }
}

/// Runs off a mash that keeps `retained` kilograms of solution after every drain.
///
/// `mixing` is the share of each sparge that mixes with the wort in the grain; the rest runs through and takes
/// nothing. A mash with no more solution than it retains gives no first wort, and sparge water first fills what is
/// wanting.
///
/// # Errors
///
/// `OutOfRange` for a mass below zero or beyond 10⁷ kg.
///
/// ```
/// use wortwright::quantity::{Mass, Mixing};
/// use wortwright::quantity::uom::si::mass::kilogram;
/// use wortwright::science::lautering::{MashSolution, Sparge, lauter};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let kg = Mass::new::<kilogram>;
/// let mash = MashSolution { extract: kg(4.0), water: kg(15.0) };
/// let perfect = Mixing::from_fraction(1.0)?;
/// let wort = lauter(mash, kg(5.0), Sparge::Batches(&[kg(14.0)]), perfect)?;
/// assert!((wort.efficiency.fraction() - 0.93075).abs() < 5e-6);
/// # Ok(())
/// # }
/// ```
pub fn lauter(
    mash: MashSolution,
    retained: Mass,
    sparge: Sparge<'_>,
    mixing: Mixing,
) -> Result<Lautered, Error> {
    let extract_kg = within("extract", in_kilograms(mash.extract), 0.0..=MOST_KG, "kg")?;
    let water_kg = within("mash water", in_kilograms(mash.water), 0.0..=MOST_KG, "kg")?;
    let retained_kg = within(
        "retained solution",
        in_kilograms(retained),
        0.0..=MOST_KG,
        "kg",
    )?;
    let checked = |mass: Mass| within("a sparge", in_kilograms(mass), 0.0..=MOST_KG, "kg");
    let mut bed = Bed {
        extract_kg,
        water_kg,
        retained_kg,
    };
    let mut run_offs = vec![bed.first_wort()];
    let share = mixing.fraction();
    match sparge {
        Sparge::Batches(portions) => {
            for portion in portions {
                run_offs.push(bed.washed(checked(*portion)?, share, left_share_of_sparge));
            }
        }
        Sparge::MixedBed(water) => {
            run_offs.push(bed.washed(checked(water)?, share, left_share_of_mixed_bed));
        }
        Sparge::PlugFlow(water) => {
            run_offs.push(bed.washed(checked(water)?, share, left_share_of_plug_flow));
        }
    }
    let efficiency = if extract_kg > 0.0 {
        1.0 - bed.extract_kg / extract_kg
    } else {
        0.0
    };
    Ok(Lautered {
        run_offs,
        efficiency: Share::clamped(efficiency),
        extract_left: kilograms(bed.extract_kg),
        water_left: kilograms(bed.water_kg),
    })
}

/// The portion of water for each of `sparges` sparges that makes all run-offs, the first wort among them, equal:
/// (T + E - R)/(n + 1), which is the best division of the water. The mash takes the rest.
///
/// Zero when the grain keeps more than there is.
///
/// # Errors
///
/// `OutOfRange` for a mass below zero or beyond 10⁷ kg.
///
/// # Source
///
/// Equal division of the solvent in cross-current washing (standard result; GATE Chemical Engineering 2013, q. 38).
///
/// ```
/// use wortwright::quantity::Mass;
/// use wortwright::quantity::uom::si::mass::kilogram;
/// use wortwright::science::lautering::equal_portion;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let kg = Mass::new::<kilogram>;
/// let portion = equal_portion(kg(4.0), kg(29.0), kg(5.0), 1)?;
/// assert!((portion.get::<kilogram>() - 14.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn equal_portion(
    extract: Mass,
    total_water: Mass,
    retained: Mass,
    sparges: u16,
) -> Result<Mass, Error> {
    let extract_kg = within("extract", in_kilograms(extract), 0.0..=MOST_KG, "kg")?;
    let water_kg = within("water", in_kilograms(total_water), 0.0..=MOST_KG, "kg")?;
    let retained_kg = within(
        "retained solution",
        in_kilograms(retained),
        0.0..=MOST_KG,
        "kg",
    )?;
    let run_off_kg = (water_kg + extract_kg - retained_kg).max(0.0);
    Ok(kilograms(run_off_kg / (f64::from(sparges) + 1.0)))
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

/// The solution in the grain between two drains.
struct Bed {
    extract_kg: f64,
    water_kg: f64,
    retained_kg: f64,
}

impl Bed {
    fn first_wort(&mut self) -> RunOff {
        let left = left_share(self.retained_kg, self.extract_kg + self.water_kg);
        let (extract_kg, water_kg) = (self.extract_kg * left, self.water_kg * left);
        self.drained_to(extract_kg, water_kg, 0.0)
    }

    /// Adds a sparge that leaves `left(held, sparge, mixing)` of the extract, and drains to the retained mass.
    fn washed(&mut self, sparge_kg: f64, mixing: f64, left: fn(f64, f64, f64) -> f64) -> RunOff {
        let wanting_kg = (self.retained_kg - self.extract_kg - self.water_kg).clamp(0.0, sparge_kg);
        self.water_kg += wanting_kg;
        let washing_kg = sparge_kg - wanting_kg;
        let held_kg = self.extract_kg + self.water_kg;
        let extract_kg = self.extract_kg * left(held_kg, washing_kg, mixing);
        self.drained_to(extract_kg, held_kg - extract_kg, washing_kg)
    }

    fn drained_to(&mut self, extract_kg: f64, water_kg: f64, added_kg: f64) -> RunOff {
        let gone_kg = self.extract_kg - extract_kg;
        let water_gone_kg = self.water_kg + added_kg - water_kg;
        self.extract_kg = extract_kg;
        self.water_kg = water_kg;
        let whole_kg = gone_kg + water_gone_kg;
        let strength = if whole_kg > 0.0 {
            100.0 * gone_kg / whole_kg
        } else {
            0.0
        };
        RunOff {
            extract: kilograms(gone_kg),
            water: kilograms(water_gone_kg),
            strength: Extract::clamped(strength),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(extract: f64, water: f64, retained: f64, sparge: Sparge<'_>, mixing: f64) -> Lautered {
        let mash = MashSolution {
            extract: kilograms(extract),
            water: kilograms(water),
        };
        lauter(
            mash,
            kilograms(retained),
            sparge,
            Mixing::from_fraction(mixing).unwrap(),
        )
        .unwrap()
    }

    #[test]
    fn without_sparge_the_hand_case_holds() {
        // 4 kg extract and 29 kg water are 33 kg of solution, of which 5 kg stay: 1 - 5/33.
        let lautered = run(4.0, 29.0, 5.0, Sparge::Batches(&[]), 1.0);
        assert!((lautered.efficiency.fraction() - (1.0 - 5.0 / 33.0)).abs() < 1e-15);
        assert!((lautered.efficiency.fraction() - 0.84848).abs() < 5e-6);
    }

    #[test]
    fn nothing_is_lost_on_the_way() {
        let sparge = [kilograms(3.0), kilograms(7.0)];
        for sparge in [
            Sparge::Batches(&sparge),
            Sparge::MixedBed(kilograms(10.0)),
            Sparge::PlugFlow(kilograms(10.0)),
        ] {
            for (retained, mixing) in [(5.0, 1.0), (5.0, 0.6), (0.0, 1.0), (30.0, 0.3)] {
                let l = run(4.0, 19.0, retained, sparge, mixing);
                let out: f64 = l.run_offs.iter().map(|r| in_kilograms(r.extract)).sum();
                let water: f64 = l.run_offs.iter().map(|r| in_kilograms(r.water)).sum();
                assert!((out + in_kilograms(l.extract_left) - 4.0).abs() < 1e-12);
                assert!((water + in_kilograms(l.water_left) - 29.0).abs() < 1e-12);
                let kept = in_kilograms(l.extract_left) + in_kilograms(l.water_left);
                assert!((kept - f64::min(retained, 33.0)).abs() < 1e-12, "{kept}");
            }
        }
    }

    #[test]
    fn a_sparge_that_mixes_in_part_washes_like_a_smaller_one() {
        // 60 % of 10 kg wash 5 kg of retained solution, so 5/11 of what it held stays, against 5/15 when all mixes.
        let part = run(4.0, 15.0, 5.0, Sparge::Batches(&[kilograms(10.0)]), 0.6);
        let left = 5.0 / 19.0 * 5.0 / 11.0;
        assert!((part.efficiency.fraction() - (1.0 - left)).abs() < 1e-14);
        let none = run(4.0, 15.0, 5.0, Sparge::Batches(&[kilograms(10.0)]), 0.0);
        assert!((none.efficiency.fraction() - (1.0 - 5.0 / 19.0)).abs() < 1e-14);
        assert_eq!(none.run_offs[1].strength.plato(), 0.0);
    }

    #[test]
    fn a_dry_mash_gives_no_first_wort_and_fills_first() {
        let l = run(1.0, 3.0, 5.0, Sparge::Batches(&[kilograms(6.0)]), 1.0);
        assert_eq!(l.run_offs[0].extract, kilograms(0.0));
        // One of the six kilograms fills, five wash five.
        assert!((l.efficiency.fraction() - 0.5).abs() < 1e-15);
        let empty = run(0.0, 0.0, 0.0, Sparge::MixedBed(kilograms(0.0)), 1.0);
        assert_eq!(empty.efficiency.fraction(), 0.0);
    }

    #[test]
    fn the_bounds_enclose_any_number_of_batches() {
        let split = [kilograms(1.0); 10];
        let batches = run(4.0, 15.0, 5.0, Sparge::Batches(&split), 1.0);
        let mixed = run(4.0, 15.0, 5.0, Sparge::MixedBed(kilograms(10.0)), 1.0);
        let plug = run(4.0, 15.0, 5.0, Sparge::PlugFlow(kilograms(4.0)), 1.0);
        assert!(batches.efficiency < mixed.efficiency);
        // Four of five kilograms displaced.
        assert!((plug.efficiency.fraction() - (1.0 - 5.0 / 19.0 * 0.2)).abs() < 1e-14);
    }

    #[test]
    fn retained_wort_stays_between_nothing_and_everything() {
        assert!((retained_wort_l(17.5, 15.0, 0.8, 5.0) - 6.5).abs() < 1e-12);
        assert_eq!(retained_wort_l(17.5, 3.0, 1.0, 5.0), 17.5);
        assert_eq!(retained_wort_l(14.0, 15.0, 0.0, 5.0), 0.0);
    }

    #[test]
    fn absurd_masses_are_refused() {
        let mash = MashSolution {
            extract: kilograms(-1.0),
            water: kilograms(2.0),
        };
        let mixing = Mixing::from_fraction(1.0).unwrap();
        assert!(lauter(mash, kilograms(1.0), Sparge::Batches(&[]), mixing).is_err());
        assert!(equal_portion(kilograms(f64::NAN), kilograms(1.0), kilograms(1.0), 1).is_err());
    }
}
