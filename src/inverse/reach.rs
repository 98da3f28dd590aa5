//! The inverse of the wort side: how much grist reaches a wanted wort, and how far a plant can go.

use super::aim::{Aim, WortBill};
use super::stages::{before_boil, liquor_for, run_off_of};
use crate::numeric::{Bracket, root, root_between};
use crate::process::{
    Grist, KettleSugar, Lautering, Liquor, Plant, boil, boiling_c, lauter, mash_volume_hot_l,
};
use crate::science::density::{WATER_KG_PER_L, solution_volume_at_l};
use crate::science::heat::schedule::THICKEST_L_PER_KG;
use crate::science::liquid::Liquid;
use serde::Serialize;

/// Parts of the grist to which it is found, and to which it is when the question is only whether it can be mashed.
const EXACT: f64 = 1e-13;
const DECIDES: f64 = 1e-9;
/// A mash that yields a smaller part of what dissolves is no mash: the grain keeps the wort (rule of the crate).
const LEAST_YIELD: f64 = 0.05;

/// What stops a mash.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Stop {
    /// It would be too thick to stir.
    TooThick,
    /// The mash vessel is full.
    VesselFull,
    /// The grain keeps back so much wort that more of it brings next to nothing.
    GrainHoldsBack,
    /// The plant does not mash.
    NoMash,
}

/// Grist and water for a wort.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct WortReached {
    /// Units of the design's grist.
    pub(crate) factor: f64,
    pub(crate) liquor: Liquor,
    /// Strength reached, a fraction by mass; that of the aim unless something stops it.
    pub(crate) strength: f64,
    pub(crate) stopped: Option<Stop>,
}

/// Grist and water that reach `aim` in `plant`, or as near as the plant can come at that volume.
pub(crate) fn reach(design: &WortBill, aim: Aim, plant: &Plant) -> WortReached {
    met(design, aim, plant, EXACT).unwrap_or_else(|stop| highest(design, aim, plant, stop))
}

/// Whether `plant` reaches `aim`: the question of most remedies, which how near it comes otherwise does not concern.
pub(crate) fn can_reach(design: &WortBill, aim: Aim, plant: &Plant) -> bool {
    met(design, aim, plant, DECIDES).is_ok()
}

/// Grist and water that reach `aim` in `plant`, the grist to this part of it, or what stops it.
fn met(design: &WortBill, aim: Aim, plant: &Plant, within: f64) -> Result<WortReached, Stop> {
    let wanted = Liquid::wort_of(aim.volume_l, aim.strength);
    let sugars = design.sugars_for(wanted, aim.volume_l);
    let run = before_boil(wanted, &sugars, design.boil_min, plant);
    let reached = |factor, liquor| WortReached {
        factor,
        liquor,
        strength: aim.strength,
        stopped: None,
    };
    if design.unit.laboratory_extract_kg <= 0.0 {
        let water = Liquor {
            mash_l: run.volume_l,
            sparge_l: 0.0,
        };
        return Ok(reached(0.0, water));
    }
    if plant.lautering == Lautering::NoMash {
        return Err(Stop::NoMash);
    }
    let factor = factor_for(design, run.wort.extract_kg, run.volume_l, plant, within)?;
    let grist = design.unit.times(factor);
    let liquor = liquor_for(grist, run.volume_l, plant);
    stopped_by(grist, liquor, design, plant).map_or(Ok(reached(factor, liquor)), Err)
}

/// Litres a kilogram below which this plant's mash is too thick: a plant that mashes in thicker can stir that.
fn thickest_l_per_kg(plant: &Plant) -> f64 {
    match plant.lautering {
        Lautering::Bag { .. } | Lautering::Batch { sparges: 0 } => THICKEST_L_PER_KG,
        _ => THICKEST_L_PER_KG.min(plant.liquor_l_per_kg),
    }
}

/// Units of grist whose run-off of `volume_l` holds `extract_kg`, or what keeps every mash from it.
fn factor_for(
    design: &WortBill,
    extract_kg: f64,
    volume_l: f64,
    plant: &Plant,
    within: f64,
) -> Result<f64, Stop> {
    if extract_kg <= 0.0 {
        return Ok(0.0);
    }
    let run_off = |factor: f64| {
        let grist = design.unit.times(factor);
        run_off_of(grist, volume_l, plant).1.wort.extract_kg
    };
    if plant.known_yield.is_some() {
        // A known yield is proportional to the grist.
        let ample = Liquor {
            mash_l: 10.0 * design.unit.mass_kg,
            sparge_l: 0.0,
        };
        let per_unit_kg = lauter(design.unit, ample, plant).wort.extract_kg;
        return if per_unit_kg > 0.0 {
            Ok(extract_kg / per_unit_kg)
        } else {
            Err(Stop::GrainHoldsBack)
        };
    }
    let dissolved_kg = plant.conversion * design.unit.laboratory_extract_kg;
    if dissolved_kg <= 0.0 {
        return Err(Stop::GrainHoldsBack);
    }
    let low = extract_kg / dissolved_kg;
    let most = low / LEAST_YIELD;
    let mut high = 1.25 * low;
    let mut most_kg = run_off(high);
    while most_kg < extract_kg {
        let grist = design.unit.times(high);
        if liquor_for(grist, volume_l, plant).mash_l < thickest_l_per_kg(plant) * grist.mass_kg {
            return Err(Stop::TooThick);
        }
        if high >= most {
            return Err(Stop::GrainHoldsBack);
        }
        high = (1.5 * high).min(most);
        most_kg = run_off(high);
    }
    let ends = [
        (low, run_off(low) - extract_kg),
        (high, most_kg - extract_kg),
    ];
    root_between(&mut |x| run_off(x) - extract_kg, ends, within * low)
        .map_err(|_| Stop::GrainHoldsBack)
}

/// What stops this mash, if anything.
fn stopped_by(grist: Grist, liquor: Liquor, design: &WortBill, plant: &Plant) -> Option<Stop> {
    if spare_room_l(grist, liquor, design, plant) < 0.0 {
        return Some(Stop::VesselFull);
    }
    (liquor.mash_l < thickest_l_per_kg(plant) * grist.mass_kg * (1.0 - 1e-9))
        .then_some(Stop::TooThick)
}

fn spare_room_l(grist: Grist, liquor: Liquor, design: &WortBill, plant: &Plant) -> f64 {
    plant.mash_vessel_l().map_or(f64::INFINITY, |room| {
        room - mash_volume_hot_l(grist, liquor.mash_l, design.mash_c)
    })
}

/// The strongest wort that the plant can make of this design at this volume.
fn highest(design: &WortBill, aim: Aim, plant: &Plant, stop: Stop) -> WortReached {
    if stop == Stop::NoMash {
        let water = Liquid::wort_of(aim.volume_l, 0.0);
        let drinks = design.sugars_for(Liquid::default(), aim.volume_l);
        return WortReached {
            factor: 0.0,
            liquor: Liquor {
                mash_l: before_boil(water, &drinks, design.boil_min, plant).volume_l,
                sparge_l: 0.0,
            },
            strength: 0.0,
            stopped: Some(stop),
        };
    }
    let mut strength = aim.strength;
    let mut reach = WortReached {
        factor: 0.0,
        liquor: Liquor::default(),
        strength,
        stopped: Some(stop),
    };
    // The strength decides the volume before the boil, which decides the room for grain, which decides the strength:
    // a weak dependence, so that plain repetition converges.
    for _ in 0..60 {
        let wanted = Liquid::wort_of(aim.volume_l, strength);
        let sugars = design.sugars_for(wanted, aim.volume_l);
        let run = before_boil(wanted, &sugars, design.boil_min, plant);
        let factor = largest_factor(design, run.volume_l, plant);
        let grist = design.unit.times(factor);
        let (liquor, lautered) = run_off_of(grist, run.volume_l, plant);
        let boiled = boil(&lautered, &sugars, design.boil_min, plant);
        let from_sugar: f64 = design.sugars.iter().map(|s| s.share).sum();
        // Sugars keep their share, so that less extract from the mash means less sugar too. Drinks bring theirs in any case.
        let mash_kg = boiled.wort.extract_kg - from_sugar * wanted.extract_kg;
        let extract_kg = mash_kg / (1.0 - from_sugar).max(1e-9);
        let next = strength_of(aim.volume_l, extract_kg);
        reach = WortReached {
            factor,
            liquor,
            strength: next,
            stopped: Some(stop),
        };
        if (next - strength).abs() <= 1e-13 {
            break;
        }
        strength = next;
    }
    reach
}

/// Strength of `volume_l` of wort with `extract_kg`.
fn strength_of(volume_l: f64, extract_kg: f64) -> f64 {
    let extract = Liquid::solution(0.0, extract_kg);
    let water_kg = extract.water_to_fill_kg(volume_l);
    extract.with_water_kg(water_kg).strength()
}

/// The most units of grist that neither overfill the mash vessel, nor make the mash too thick, nor keep the wort.
fn largest_factor(design: &WortBill, volume_l: f64, plant: &Plant) -> f64 {
    let per_unit = design.unit.mass_kg;
    let spare = |factor: f64| {
        let grist = design.unit.times(factor);
        let (liquor, lautered) = run_off_of(grist, volume_l, plant);
        let by_thickness = liquor.mash_l - thickest_l_per_kg(plant) * grist.mass_kg;
        let spare_l = spare_room_l(grist, liquor, design, plant).min(by_thickness);
        if plant.known_yield.is_some_and(|known| known.value > 0.0) {
            return spare_l;
        }
        let dissolved_kg = plant.conversion * grist.laboratory_extract_kg;
        spare_l.min(lautered.wort.extract_kg - LEAST_YIELD * dissolved_kg)
    };
    let low = 1e-6 * volume_l / per_unit;
    if spare(low) <= 0.0 {
        return 0.0;
    }
    let mut high = volume_l / per_unit;
    while spare(high) > 0.0 && high.is_finite() {
        high *= 2.0;
    }
    root(spare, Bracket { low, high }, 1e-12 * high).unwrap_or(0.0)
}

/// Hot volume of the wort in the kettle when it is fullest on the way to `aim`: before the boil, or when something has gone in.
pub(crate) fn fullest_hot_l(design: &WortBill, aim: Aim, plant: &Plant) -> f64 {
    let wanted = Liquid::wort_of(aim.volume_l, aim.strength);
    let sugars = design.sugars_for(wanted, aim.volume_l);
    let run = before_boil(wanted, &sugars, design.boil_min, plant);
    let hot_l = |wort: Liquid| {
        let (water_kg, extract_kg) = (wort.water_kg.max(0.0), wort.extract_kg.max(0.0));
        solution_volume_at_l(water_kg, extract_kg, boiling_c(plant))
    };
    // What still boils off when it is in, less what goes in later.
    let with = |joined: &KettleSugar| {
        let left_min = joined.time_left_min;
        let later = sugars.iter().filter(|other| other.time_left_min < left_min);
        let steam_l = plant.boiloff.litres(run.volume_l, left_min);
        let now = wanted.with_water_kg(steam_l * WATER_KG_PER_L);
        hot_l(later.fold(now, |now, other| now.blended(other.liquid.part(-1.0))))
    };
    let in_kettle = sugars.iter().filter(|joined| joined.time_left_min >= 0.0);
    in_kettle.map(with).fold(hot_l(run.wort), f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::process::{Boiloff, Holdback, PrintedWater, Side};
    use crate::recipe::Brewhouse;

    /// By hand: a drained mash of 2 L/kg whose grain keeps 1.5 L/kg gives half a litre of wort a kilogram, so that a
    /// tonne is mashed for 500 L. Of 760 g/kg of extract 98 % dissolve in 2 · 998.2 g of water and 40 g of moisture:
    /// 744.8/(744.8 + 2036.4) = 26.78 %. More grain would give a stronger wort that nobody can stir.
    #[test]
    fn a_mash_as_thick_as_can_be_stirred_is_the_strongest() {
        let plant = Plant {
            lautering: Lautering::Batch { sparges: 0 },
            holdback: Holdback::Apparent(1.5),
            conversion: 0.98,
            boiloff: Boiloff::LitresPerHour(0.0),
            ..Plant::settle(
                &Brewhouse::default(),
                Side::Target,
                None,
                PrintedWater::default(),
                &mut Vec::new(),
            )
        };
        let design = WortBill {
            unit: Grist {
                mass_kg: 1.0,
                laboratory_extract_kg: 0.76,
                moisture_kg: 0.04,
            },
            sugars: Vec::new(),
            drinks_per_l: Vec::new(),
            boil_min: 60.0,
            mash_c: 66.0,
        };
        // Beyond 744.8/(744.8 + 1497.3 + 40) = 32.6 % no amount of this grain would do, were it ever so thick.
        for strength in [0.27, 0.30, 0.34] {
            let aim = Aim {
                volume_l: 500.0,
                strength,
            };
            let reach = reach(&design, aim, &plant);
            assert_eq!(reach.stopped, Some(Stop::TooThick), "{strength}");
            assert!(!can_reach(&design, aim, &plant));
            assert!((reach.factor - 1000.0).abs() < 1e-6, "{}", reach.factor);
            assert!((reach.liquor.mash_l - 2000.0).abs() < 1e-6);
            assert!((reach.strength - 0.2678).abs() < 5e-5, "{}", reach.strength);
        }
        let aim = Aim {
            volume_l: 500.0,
            strength: 0.267,
        };
        assert!(can_reach(&design, aim, &plant));
    }
}
