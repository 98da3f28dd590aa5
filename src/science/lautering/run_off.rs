//! First wort and sparges, one after another.
//!
//! Source: derived from the mass balance; equal portions give the (1 + S/R)^-n law of cross-current washing
//! (GATE Chemical Engineering 2013, question 38).
//! Range: ideal mixing, no dead space. Real drains lie a little below; say so with a [`Mixing`] below 1. Units: kg.

use super::MOST_KG;
use super::grain::left_share;
use crate::diagnostic::Error;
use crate::quantity::{Extract, Mass, Mixing, Share, in_kilograms, json, kilograms};
use crate::science::within::within;
use serde::Serialize;

/// The dissolved part of a mash before anything has run off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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

/// The solution in the grain between two drains.
#[allow(clippy::struct_field_names, reason = "the unit belongs to every name")]
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
        let wanting_kg =
            (self.retained_kg - self.extract_kg - self.water_kg).clamp(0.0, sparge_kg.max(0.0));
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
