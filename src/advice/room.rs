//! What a measured wort and the vessels allow: no more extract than went in, no more water than there is room for.

use super::day::Day;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{HEADSPACE, Stage, Warning, boiling_c, cap_l, fermentables};
use crate::quantity::litres;
use crate::science::density::solution_volume_at_l;
use crate::science::liquid::Liquid;
use crate::speech::{Noted, shortest};

/// Extract beyond all that went in which a kettle's marks and a hydrometer may show together (common practice, no source).
const MISREAD: f64 = 0.05;

/// Where a wort was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Measured {
    BeforeBoil,
    InFermenter,
}

/// Whether a wort holds no more extract than its grain and sugar can give.
pub(super) fn check_extract(day: Day<'_>, wort: &Liquid, at: Measured) -> Result<(), Error> {
    let formula = day.formula();
    let mut most_kg = 0.0;
    for (item, part, kg) in fermentables(formula, &day.worked.amounts.of) {
        let is_in = match at {
            Measured::BeforeBoil => item.place.stage == Stage::Mash,
            Measured::InFermenter => item.place.stage < Stage::Ferment,
        };
        if is_in {
            most_kg += kg * part.extract;
        }
    }
    if wort.extract_kg <= most_kg * (1.0 + MISREAD) {
        return Ok(());
    }
    let from = match at {
        Measured::BeforeBoil => "the mash",
        Measured::InFermenter => "its grain and sugar",
    };
    Err(Error::new(
        ErrorKind::OutOfModel,
        format!(
            "{} L of wort at {:.1} °P hold {} kg of extract, but {from} can give {} kg at most",
            shortest(wort.volume_l(), 1),
            100.0 * wort.strength(),
            shortest(wort.extract_kg, 2),
            shortest(most_kg, 2)
        ),
    )
    .with_help(
        "the volume or the gravity is wrong: stir the wort, cool the sample, and read both again",
    ))
}

/// Kilograms of water that a vessel takes, up to those that are wanted; what it does not take is told.
pub(super) fn water_kg(
    day: Day<'_>,
    wort: &Liquid,
    wanted_kg: f64,
    at: Measured,
    warnings: &mut Vec<Noted<Warning>>,
) -> f64 {
    let plant = &day.worked.setup.plant;
    let (capacity_l, field) = match at {
        Measured::BeforeBoil => (plant.kettle_l, "kettle_l"),
        Measured::InFermenter => (plant.fermenter_l, "fermenter_l"),
    };
    let Some(capacity_l) = capacity_l else {
        return wanted_kg;
    };
    let needed_l = |kg: f64| {
        let wort = wort.with_water_kg(kg);
        match at {
            Measured::BeforeBoil => {
                solution_volume_at_l(wort.water_kg, wort.extract_kg, boiling_c(plant))
            }
            Measured::InFermenter => {
                let planned = day.planned();
                let later_l = planned.cellar.after_additions_l - planned.pitched.liquid.volume_l();
                let filled_l = wort.volume_l() + later_l.max(0.0) + cap_l(day.worked);
                filled_l * (1.0 + HEADSPACE)
            }
        }
    };
    let wanted_l = needed_l(wanted_kg);
    if wanted_l <= capacity_l {
        return wanted_kg;
    }
    let small = Warning::NoRoomForWater {
        needed: litres(wanted_l),
        capacity: litres(capacity_l),
    };
    let vessel = Place::plant(&plant.name, field);
    let told = |known: &Noted<Warning>| known.place.as_ref() == Some(&vessel);
    if !warnings.iter().any(told) {
        warnings.push(Noted::at(vessel, small));
    }
    // Volumes grow by a litre with a litre of water, hot ones and those with their headspace by as much more.
    let now_l = needed_l(0.0);
    let per_kg = (wanted_l - now_l) / wanted_kg;
    ((capacity_l - now_l) / per_kg).clamp(0.0, wanted_kg)
}
