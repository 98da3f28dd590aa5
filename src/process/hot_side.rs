//! What happens to bitter acids between the end of the boil and cold wort: stands, coolings, the way to the fermenter.

use super::assumption::Assumption;
use super::formula::{Formula, HotStepOf, Item};
use super::plant::{Plant, boiling_c};
use super::plant_defaults::Defaulted;
use super::side::Side;
use crate::diagnostic::Place;
use crate::recipe::{Brewhouse, CoolingMethod};
use crate::science::bitterness::{Isomerisation, TemperaturePath};
use crate::science::cooling::coil_path;
use crate::speech::Noted;

/// Time constant of a sealed container of unchilled wort, min (common practice, no source).
const UNCHILLED_TIME_CONSTANT_MIN: f64 = 300.0;
/// Room in which unchilled wort stands, °C (common practice, no source).
const ROOM_C: f64 = 20.0;
/// A coil that never arrives is followed as if it came this near to its coolant, K.
const NEVER_NEARER_K: f64 = 1.0;

/// Time and temperature at which the kinetic model is tied to Tinseth's: its longest usual boil, at sea level.
const TIED_AT: TemperaturePath = TemperaturePath::Hold {
    at_c: 100.0,
    time_min: 60.0,
};

/// The index of a stand that no step of the recipe asks for, since the plant always has it.
const OWN_STAND: usize = usize::MAX;

/// The temperature history after the boil, as what it does to bitter acids.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct CoolingHistory {
    /// Boiling point at the plant's altitude.
    pub(crate) boiling_c: f64,
    /// What isomerisation forms where it is tied to Tinseth's figures.
    pub(crate) tied: f64,
    /// Everything from the end of the boil to cold wort.
    pub(crate) after_boil: Isomerisation,
    pub(crate) stands: Vec<StandStep>,
    /// Stands that are hotter than boiling here: the step of the recipe's hot side, °C as wanted.
    pub(crate) clamped_c: Vec<(usize, f64)>,
    /// Coolant and goal of a cooling that never arrives, °C.
    pub(crate) never_arrives_c: Option<(f64, f64)>,
    /// The way to the plant's own cooling, in order.
    pub(crate) walked: Vec<Walked>,
}

/// A step from the end of the boil towards cold wort, as it is done on the plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Walked {
    /// The wort is held.
    Stand {
        /// Which step of the recipe's hot side; none for the plant's own.
        index: Option<usize>,
        at_c: f64,
        time_min: f64,
    },
    /// The wort is cooled on the way; without a time where none can be told.
    Cool { to_c: f64, time_min: Option<f64> },
}

/// A stand, and what follows it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct StandStep {
    /// Which step of the recipe's hot side.
    pub(crate) index: usize,
    pub(crate) at_c: f64,
    pub(crate) time_min: f64,
    /// From the end of the stand to cold wort.
    pub(crate) rest: Isomerisation,
}

impl StandStep {
    /// The stand, or the plant's line where the plant always has one, as an input.
    pub(crate) fn place(&self, plant: &Plant) -> Place {
        if self.index == OWN_STAND {
            Place::plant(&plant.name, "stand_min")
        } else {
            Place::stand(self.index)
        }
    }
}

impl CoolingHistory {
    /// The history of `formula`'s wort on `plant`: the recipe's stands at the source; on a target those that something
    /// goes into, and the plant's own.
    pub(crate) fn of(formula: &Formula, plant: &Plant) -> Self {
        let boiling_c = boiling_c(plant);
        let (mut stands, mut clamped_c, mut walked) = (Vec::new(), Vec::new(), Vec::new());
        let mut now_c = boiling_c;
        let mut pieces = Vec::new();
        let steps = steps_on(formula, plant);
        let last_stand = steps
            .iter()
            .rposition(|step| matches!(step, HotStepOf::Stand { .. }));
        for (at, step) in steps.into_iter().enumerate() {
            match step {
                // A temperature on the way to cold wort, which the plant's cooling passes anyway.
                HotStepOf::Cool { time_min: None, .. }
                    if last_stand.is_none_or(|stand| stand < at) => {}
                HotStepOf::Stand {
                    index,
                    at_c,
                    time_min,
                    ..
                } => {
                    let wanted_c = at_c.unwrap_or(now_c);
                    if wanted_c > boiling_c {
                        clamped_c.push((index, wanted_c));
                    }
                    now_c = wanted_c.min(boiling_c);
                    let hold = Isomerisation::over(TemperaturePath::Hold {
                        at_c: now_c,
                        time_min,
                    });
                    pieces.push((Some((index, now_c, time_min)), hold));
                    walked.push(Walked::Stand {
                        index: (index != OWN_STAND).then_some(index),
                        at_c: now_c,
                        time_min,
                    });
                }
                HotStepOf::Cool { to_c, time_min } => {
                    let to_c = to_c.min(now_c);
                    let (cooling, time_min) = match time_min {
                        Some(time_min) => {
                            let path = TemperaturePath::Linear {
                                from_c: now_c,
                                to_c,
                                time_min,
                            };
                            (Isomerisation::over(path), Some(time_min))
                        }
                        None => partly_cooled(plant, now_c, to_c),
                    };
                    pieces.push((None, cooling));
                    walked.push(Walked::Cool { to_c, time_min });
                    now_c = to_c;
                }
            }
        }
        let mut rest = cooled(plant, now_c);
        for (stand, piece) in pieces.into_iter().rev() {
            if let Some((index, at_c, time_min)) = stand {
                stands.push(StandStep {
                    index,
                    at_c,
                    time_min,
                    rest,
                });
            }
            rest = piece.then(rest);
        }
        Self {
            boiling_c,
            tied: Isomerisation::over(TIED_AT).formed,
            after_boil: rest,
            stands,
            clamped_c,
            never_arrives_c: never_arrives(plant)
                .filter(|_| now_c > plant.cooling.to_c)
                .map(|coolant_c| (coolant_c, plant.cooling.to_c)),
            walked,
        }
    }

    /// Share of its alpha acids that a hop boiled for `time_min` leaves as iso-alpha-acids in the cold wort.
    pub(crate) fn boiled(&self, time_min: f64) -> f64 {
        let boil = TemperaturePath::Hold {
            at_c: self.boiling_c,
            time_min,
        };
        Isomerisation::over(boil).then(self.after_boil).formed
    }

    /// The same for a hop that steeps for `contact_min` at the end of a stand; all of it where no time is said.
    pub(crate) fn steeped(&self, index: usize, contact_min: Option<f64>) -> f64 {
        self.stands
            .iter()
            .find(|stand| stand.index == index)
            .map_or(0.0, |stand| {
                let hold = TemperaturePath::Hold {
                    at_c: stand.at_c,
                    time_min: contact_min.unwrap_or(stand.time_min).min(stand.time_min),
                };
                Isomerisation::over(hold).then(stand.rest).formed
            })
    }
}

/// The coolant of a coil that never brings the wort to its pitching temperature.
fn never_arrives(plant: &Plant) -> Option<f64> {
    let cooling = plant.cooling;
    let is_warm = cooling.method == CoolingMethod::Coil && cooling.coolant_c >= cooling.to_c;
    is_warm.then_some(cooling.coolant_c)
}

/// The way from `from_c` to pitching temperature.
fn cooled(plant: &Plant, from_c: f64) -> Isomerisation {
    let cooling = plant.cooling;
    if from_c <= cooling.to_c {
        return Isomerisation::NONE;
    }
    let path = match cooling.method {
        CoolingMethod::Plate => TemperaturePath::Parcels {
            at_c: from_c,
            time_min: cooling.time_min,
        },
        CoolingMethod::NoChill => TemperaturePath::Exponential {
            from_c,
            towards_c: ROOM_C,
            time_constant_min: UNCHILLED_TIME_CONSTANT_MIN,
            time_min: 3.0 * UNCHILLED_TIME_CONSTANT_MIN,
        },
        CoolingMethod::Coil => {
            let to_c =
                never_arrives(plant).map_or(cooling.to_c, |coolant| coolant + NEVER_NEARER_K);
            if from_c <= to_c {
                return Isomerisation::NONE;
            }
            coil_path(from_c, to_c, cooling.coolant_c, cooling.time_min)
        }
    };
    Isomerisation::over(path)
}

/// A part of that way, down to `to_c`, in its part of the time from the boil.
fn partly_cooled(plant: &Plant, from_c: f64, to_c: f64) -> (Isomerisation, Option<f64>) {
    let cooling = plant.cooling;
    if from_c <= to_c {
        return (Isomerisation::NONE, Some(0.0));
    }
    let (towards_c, time_constant_min) = match cooling.method {
        // Each parcel is there once it has left, however cold that is.
        CoolingMethod::Plate => return (cooled(plant, from_c), None),
        CoolingMethod::NoChill => (ROOM_C, UNCHILLED_TIME_CONSTANT_MIN),
        CoolingMethod::Coil => {
            let coolant_c = cooling.coolant_c;
            let end_c = cooling.to_c.max(coolant_c + NEVER_NEARER_K);
            let folds = ((boiling_c(plant) - coolant_c) / (end_c - coolant_c)).ln();
            (coolant_c, cooling.time_min / folds)
        }
    };
    let nearest_c = cooling.to_c.max(towards_c + NEVER_NEARER_K);
    if to_c <= nearest_c || from_c <= nearest_c {
        return (cooled(plant, from_c), None);
    }
    let time_min = time_constant_min * ((from_c - towards_c) / (to_c - towards_c)).ln();
    let path = coil_path(from_c, to_c, towards_c, time_min);
    (Isomerisation::over(path), Some(time_min))
}

/// How long wort takes from one temperature to another on the way to the pitching temperature, min; none where it is not told.
pub(crate) fn cooling_min(plant: &Plant, from_c: f64, to_c: f64) -> Option<f64> {
    match plant.cooling.method {
        CoolingMethod::Plate => Some(plant.cooling.time_min),
        _ => partly_cooled(plant, from_c, to_c).1,
    }
}

/// How fast an open kettle off the heat cools near the boil, K/min (common practice, no source: a pot of 20 L falls by 10 K in
/// some 10 min).
const STANDING_K_PER_MIN: f64 = 1.0;

/// How long the wort takes to cool to a stand where the recipe does not say, min: in its coil; without one, or where that cannot
/// be told, standing.
pub(crate) fn to_stand_min(plant: &Plant, from_c: f64, to_c: f64) -> f64 {
    let by_coil = || partly_cooled(plant, from_c, to_c).1;
    let told = (plant.cooling.method == CoolingMethod::Coil).then(by_coil);
    told.flatten()
        .unwrap_or((from_c - to_c) / STANDING_K_PER_MIN)
}

/// A plant's own stand that the stands of a recipe leave out.
fn unused_stand(formula: &Formula, plant: &Plant) -> Option<Noted<Assumption>> {
    plant.stand_min?;
    let own = |step: &HotStepOf| matches!(step, HotStepOf::Stand { bare: true, .. });
    if steps_on(formula, plant).iter().any(own) && plant.side == Side::Target
        || !formula
            .hot_steps
            .iter()
            .any(|step| matches!(step, HotStepOf::Stand { .. }))
    {
        return None;
    }
    let unused = Assumption::StandNotUsed { side: plant.side };
    Some(Noted::at(Place::plant(&plant.name, "stand_min"), unused))
}

/// Notes the defaults that the way from the boil to cold wort rests on, those that matter to this brew only.
pub(crate) fn note_defaults(
    brewhouse: &Brewhouse,
    formula: &Formula,
    plant: &Plant,
    assumptions: &mut Vec<Noted<Assumption>>,
) {
    assumptions.extend(unused_stand(formula, plant));
    let mut take = |what: Defaulted, value| {
        let default = Assumption::PlantDefault {
            side: plant.side,
            what,
            value,
        };
        let place = Place::plant(&plant.name, what.field());
        assumptions.push(Noted::at(place, default));
    };
    let hops = formula.items.values().any(Item::is_hot_hop);
    if brewhouse.altitude.is_none() && (formula.boil_min > 0.0 || hops) {
        take(Defaulted::Altitude, plant.altitude_m);
    }
    if !hops {
        return;
    }
    match plant.cooling.method {
        CoolingMethod::Coil => {
            let stated = brewhouse.cooling.as_ref().and_then(|c| c.to.as_ref());
            if stated.is_none() {
                take(Defaulted::PitchingTemperature, plant.cooling.to_c);
            }
        }
        CoolingMethod::NoChill => {
            take(Defaulted::UnchilledTime, UNCHILLED_TIME_CONSTANT_MIN);
            take(Defaulted::Room, ROOM_C);
        }
        // Each parcel is cold once it has left, however cold that is.
        CoolingMethod::Plate => {}
    }
}

/// The steps that are done on `plant`.
fn steps_on(formula: &Formula, plant: &Plant) -> Vec<HotStepOf> {
    let own = plant.stand_min.map(|time_min| HotStepOf::Stand {
        index: OWN_STAND,
        at_c: None,
        time_min,
        bare: true,
    });
    let has_stand = formula
        .hot_steps
        .iter()
        .any(|step| matches!(step, HotStepOf::Stand { .. }));
    if !has_stand {
        return own
            .into_iter()
            .chain(formula.hot_steps.iter().copied())
            .collect();
    }
    if plant.side == Side::Source {
        return formula.hot_steps.clone();
    }
    // A stand without additions belongs to the source; a plant that always has one takes its own time for the first.
    let mut own_min = plant.stand_min;
    formula
        .hot_steps
        .iter()
        .filter_map(|step| match *step {
            HotStepOf::Stand {
                index,
                at_c,
                bare: true,
                ..
            } => own_min.take().map(|time_min| HotStepOf::Stand {
                index,
                at_c,
                time_min,
                bare: true,
            }),
            kept => Some(kept),
        })
        .collect()
}
