//! What a measured wort and the vessels allow: no more extract than went in, no more of a dose than there is room for.

use super::day::{Day, Measured};
use super::doubt::VOLUME_READ;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{Brewed, HEADSPACE, Stage, Warning, boiling_c, cap_l, fermentables};
use crate::quantity::litres;
use crate::science::density::solution_volume_at_l;
use crate::science::liquid::Liquid;
use crate::speech::{Noted, shortest};

/// Extract beyond all that went in which a kettle's marks and a hydrometer may show together (common practice, no source).
const MISREAD: f64 = 0.05;

/// Whether a wort holds no more extract than its grain and sugar can give.
pub(super) fn check_extract(day: Day<'_>, wort: &Liquid, at: Measured) -> Result<(), Error> {
    let formula = day.formula();
    let mut most_kg = 0.0;
    for (item, part, kg) in fermentables(formula, &day.worked.amounts.of) {
        let is_in = match at {
            Measured::BeforeBoil => item.place.stage == Stage::Mash,
            Measured::AfterBoil | Measured::InFermenter => item.place.stage < Stage::Ferment,
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
        Measured::AfterBoil | Measured::InFermenter => "its grain and sugar",
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

/// A vessel, and the wort that is to stay in it.
#[derive(Clone, Copy)]
struct Vessel<'a> {
    day: Day<'a>,
    at: Measured,
    capacity_l: f64,
}

impl<'a> Vessel<'a> {
    fn of(day: Day<'a>, at: Measured) -> Option<Self> {
        let plant = &day.worked.setup.plant;
        let capacity_l = match at {
            Measured::BeforeBoil | Measured::AfterBoil => plant.kettle_l,
            Measured::InFermenter => plant.fermenter_l,
        }?;
        Some(Self {
            day,
            at,
            capacity_l,
        })
    }

    /// Litres that a wort needs: hot in the kettle, with later additions and headspace in the fermenter.
    fn needed_l(self, wort: &Liquid) -> f64 {
        match self.at {
            Measured::BeforeBoil | Measured::AfterBoil => {
                let boiling_c = boiling_c(&self.day.worked.setup.plant);
                solution_volume_at_l(wort.water_kg, wort.extract_kg, boiling_c)
            }
            Measured::InFermenter => {
                let planned = self.day.planned();
                let later_l = planned.cellar.after_additions_l - planned.pitched.liquid.volume_l();
                let filled_l = wort.volume_l() + later_l.max(0.0) + cap_l(self.day.worked);
                filled_l * (1.0 + HEADSPACE)
            }
        }
    }

    fn tell(self, needed_l: f64, is_water: bool, warnings: &mut Vec<Noted<Warning>>) {
        let (needed, capacity) = (litres(needed_l), litres(self.capacity_l));
        let (field, small) = match self.at {
            Measured::InFermenter => {
                let small = Warning::FermenterSmall {
                    filled: litres(needed_l / (1.0 + HEADSPACE)),
                    largest_batch: None,
                    needed,
                    capacity,
                };
                ("fermenter_l", small)
            }
            _ if is_water => ("kettle_l", Warning::NoRoomForWater { needed, capacity }),
            _ => ("kettle_l", Warning::KettleSmall { needed, capacity }),
        };
        let vessel = Place::plant(&self.day.worked.setup.plant.name, field);
        let told = |known: &Noted<Warning>| known.place.as_ref() == Some(&vessel);
        if !warnings.iter().any(told) {
            warnings.push(Noted::at(vessel, small));
        }
    }
}

/// Whether a volume can stand in its vessel at all, up to the brim; tells of a wort that needs more room than there is.
pub(super) fn fits(
    day: Day<'_>,
    wort: &Liquid,
    at: Measured,
    warnings: &mut Vec<Noted<Warning>>,
) -> bool {
    let Some(vessel) = Vessel::of(day, at) else {
        return true;
    };
    let needed_l = vessel.needed_l(wort);
    let planned_l = vessel.needed_l(&day.planned_wort(at));
    // Of what the plan itself needs the plan has told.
    if needed_l > vessel.capacity_l * (1.0 + VOLUME_READ) && needed_l > planned_l {
        vessel.tell(needed_l, false, warnings);
    }
    wort.volume_l() <= vessel.capacity_l * (1.0 + VOLUME_READ)
}

/// Whether the fermenter holds what an addition makes of the beer; tells where it does not.
pub(super) fn holds(day: Day<'_>, brewed: &Brewed, warnings: &mut Vec<Noted<Warning>>) -> bool {
    let Some(vessel) = Vessel::of(day, Measured::InFermenter) else {
        return true;
    };
    let added_l = brewed.cellar.after_additions_l - day.planned().cellar.after_additions_l;
    let needed_l = vessel.needed_l(&day.planned().pitched.liquid) + added_l * (1.0 + HEADSPACE);
    let is_held = added_l <= 0.0 || needed_l <= vessel.capacity_l * (1.0 + VOLUME_READ);
    if !is_held {
        vessel.tell(needed_l, false, warnings);
    }
    is_held
}

/// The share of a dose that a vessel takes; what it does not take is told.
pub(super) fn room_for(
    day: Day<'_>,
    wort: &Liquid,
    dose: Liquid,
    at: Measured,
    warnings: &mut Vec<Noted<Warning>>,
) -> f64 {
    let Some(vessel) = Vessel::of(day, at) else {
        return 1.0;
    };
    let (now_l, wanted_l) = (vessel.needed_l(wort), vessel.needed_l(&wort.blended(dose)));
    if wanted_l <= vessel.capacity_l {
        return 1.0;
    }
    vessel.tell(wanted_l, dose.extract_kg <= 0.0, warnings);
    // Volumes grow evenly with the dose, hot ones and those with their headspace by as much more.
    let share = (vessel.capacity_l - now_l) / (wanted_l - now_l);
    share.clamp(0.0, 1.0)
}
