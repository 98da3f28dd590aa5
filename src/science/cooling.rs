//! Ways of cooling hot wort, and what each does to the bitter acids on the way.
//!
//! A coil cools the whole kettle at once: its temperature nears that of the coolant exponentially (Newton's law of
//! cooling). A plate cools each parcel as it leaves: what is still in the kettle stays hot, so hops go on bittering
//! for half the run-off on average. Unchilled wort nears the temperature of the room.
//!
//! Source: Newton's law and a balance of parcels (derived); bitter acids after Malowicki & Shellhammer 2005.
//! Range: below 90 °C the rates are extrapolated. Units: minutes, °C.

use super::bitterness::{Isomerisation, TemperaturePath};
use super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{Temperature, Time, in_minutes};
use serde::Serialize;

/// Longest cooling, min: a month.
const LONGEST_MIN: f64 = 44_640.0;

/// A shorter cooling than this is none: nothing changes in a microsecond, and the steps of the integral stay finite.
const SHORTEST_MIN: f64 = 1e-8;

/// How hot wort is cooled.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Cooling {
    /// A coil or jacket: the whole wort cools together and reaches `to` after `time`.
    Coil {
        /// Temperature of the cooling water.
        coolant: Temperature,
        /// Temperature at the end.
        to: Temperature,
        /// Time from the start to `to`.
        time: Time,
    },
    /// A plate or tube cooler: the wort runs off evenly over `time`, and each parcel is cold once it has left.
    Plate {
        /// Temperature behind the cooler.
        to: Temperature,
        /// Time from the first drop to the last.
        time: Time,
    },
    /// No cooler: the wort nears the temperature of the room for `time`.
    Unchilled {
        /// Temperature of the room.
        room: Temperature,
        /// Time in which the difference falls to 1/e; measure it for the vessel.
        time_constant: Time,
        /// Time that is followed.
        time: Time,
    },
}

/// What came of a cooling.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Cooled {
    /// The wort cooled as asked; the bitter acids changed on the way.
    Reached {
        /// What happened to the bitter acids until the wort was cold.
        acids: Isomerisation,
    },
    /// The wort was no warmer than asked from the start: nothing to do.
    AlreadyCold,
    /// The coolant is no colder than the wort is asked to be: colder water is needed, or a warmer target.
    NeverArrives {
        /// Temperature of the coolant.
        #[serde(rename = "coolant_c")]
        coolant: Temperature,
        /// Temperature asked for.
        #[serde(rename = "to_c")]
        to: Temperature,
    },
}

impl Cooling {
    /// Cools wort that starts at `from`, and says what that does to the bitter acids.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a time below zero or above a month, or a time constant outside 0.001 min to a month.
    ///
    /// # Source
    ///
    /// Newton's law of cooling; Malowicki & Shellhammer 2005.
    ///
    /// ```
    /// use wortwright::quantity::{Temperature, Time};
    /// use wortwright::quantity::uom::si::time::minute;
    /// use wortwright::science::cooling::{Cooled, Cooling};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let celsius = Temperature::from_celsius;
    /// let coil = Cooling::Coil {
    ///     coolant: celsius(14.0)?,
    ///     to: celsius(20.0)?,
    ///     time: Time::new::<minute>(25.0),
    /// };
    /// let Cooled::Reached { acids } = coil.cool(celsius(100.0)?)? else {
    ///     unreachable!("14 °C water reaches 20 °C")
    /// };
    /// // As much as 1.4 minutes at the boil: the wort spends no longer near 100 °C.
    /// assert!((acids.formed().fraction() - 0.0174).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    pub fn cool(self, from: Temperature) -> Result<Cooled, Error> {
        Ok(match self {
            Self::Coil { coolant, to, time } => {
                let time_min = checked_min(time)?;
                if from <= to {
                    Cooled::AlreadyCold
                } else if coolant >= to {
                    Cooled::NeverArrives { coolant, to }
                } else {
                    reached(coil_path(
                        from.celsius(),
                        to.celsius(),
                        coolant.celsius(),
                        time_min,
                    ))
                }
            }
            Self::Plate { to, time } => {
                let time_min = checked_min(time)?;
                if from <= to {
                    Cooled::AlreadyCold
                } else {
                    reached(TemperaturePath::Parcels {
                        at_c: from.celsius(),
                        time_min,
                    })
                }
            }
            Self::Unchilled {
                room,
                time_constant,
                time,
            } => {
                let time_constant_min = within(
                    "a time constant",
                    in_minutes(time_constant),
                    1e-3..=LONGEST_MIN,
                    "min",
                )?;
                let time_min = checked_min(time)?;
                if from <= room {
                    Cooled::AlreadyCold
                } else {
                    reached(TemperaturePath::Exponential {
                        from_c: from.celsius(),
                        towards_c: room.celsius(),
                        time_constant_min,
                        time_min,
                    })
                }
            }
        })
    }
}

impl Cooled {
    /// What happened to the bitter acids; `None` where the wort never arrives.
    pub const fn acids(self) -> Option<Isomerisation> {
        match self {
            Self::Reached { acids } => Some(acids),
            Self::AlreadyCold => Some(Isomerisation::NONE),
            Self::NeverArrives { .. } => None,
        }
    }
}

/// The exponential that leads from `from_c` to `to_c` in the time; `coolant_c` is below both.
pub(crate) fn coil_path(from_c: f64, to_c: f64, coolant_c: f64, time_min: f64) -> TemperaturePath {
    let folds = ((from_c - coolant_c) / (to_c - coolant_c)).ln();
    if time_min > SHORTEST_MIN && folds > 0.0 {
        TemperaturePath::Exponential {
            from_c,
            towards_c: coolant_c,
            time_constant_min: time_min / folds,
            time_min,
        }
    } else {
        TemperaturePath::Hold {
            at_c: to_c,
            time_min: 0.0,
        }
    }
}

fn reached(path: TemperaturePath) -> Cooled {
    Cooled::Reached {
        acids: Isomerisation::over(path),
    }
}

fn checked_min(time: Time) -> Result<f64, Error> {
    within("a cooling time", in_minutes(time), 0.0..=LONGEST_MIN, "min")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::minutes;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    fn coil(coolant: f64, to: f64, time_min: f64) -> Cooling {
        Cooling::Coil {
            coolant: celsius(coolant),
            to: celsius(to),
            time: minutes(time_min),
        }
    }

    #[test]
    fn a_time_that_is_next_to_none_cools_at_once() {
        for time_min in [0.0, 5e-324, 1e-300, 1e-12] {
            let cooled = coil(14.0, 20.0, time_min);
            let Ok(Cooled::Reached { acids }) = cooled.cool(celsius(100.0)) else {
                panic!("{time_min}");
            };
            assert!(acids.formed().fraction().abs() < 1e-12, "{time_min}");
        }
    }

    #[test]
    fn a_coil_follows_the_exponential_through_both_ends() {
        // 98 to 20 °C over 60 min of a time constant of 60 min ends at 20 + 78/e = 48.69 °C (tabulated hot stand).
        let to = 20.0 + 78.0 * (-1.0_f64).exp();
        let acids = coil(20.0, to, 60.0)
            .cool(celsius(98.0))
            .unwrap()
            .acids()
            .unwrap();
        assert!((acids.formed - 0.09747).abs() < 5e-6);
        assert!((acids.alpha_kept - 0.90145).abs() < 5e-6);
    }

    #[test]
    fn warm_coolant_never_arrives_and_cold_wort_needs_none() {
        let outcome = coil(22.0, 20.0, 25.0).cool(celsius(98.0)).unwrap();
        assert!(matches!(outcome, Cooled::NeverArrives { .. }));
        assert_eq!(outcome.acids(), None);
        let outcome = coil(20.0, 20.0, 25.0).cool(celsius(98.0)).unwrap();
        assert!(matches!(outcome, Cooled::NeverArrives { .. }));
        let outcome = coil(22.0, 75.0, 10.0).cool(celsius(70.0)).unwrap();
        assert_eq!(outcome, Cooled::AlreadyCold);
        assert_eq!(outcome.acids(), Some(Isomerisation::NONE));
    }

    #[test]
    fn a_plate_bitters_like_a_hold_of_half_its_time_and_a_coil_less() {
        let plate = Cooling::Plate {
            to: celsius(20.0),
            time: minutes(50.0),
        };
        let hot = celsius(95.0);
        let parcels = plate.cool(hot).unwrap().acids().unwrap();
        let half = Isomerisation::hold(hot, minutes(25.0)).unwrap();
        assert!((parcels.formed / half.formed - 1.0).abs() < 0.06);
        assert!(parcels.formed < half.formed);
        let coil = coil(14.0, 20.0, 50.0).cool(hot).unwrap().acids().unwrap();
        assert!(coil.formed < 0.5 * parcels.formed);
    }

    #[test]
    fn unchilled_wort_goes_on_bittering_for_hours() {
        let unchilled = |time_min| Cooling::Unchilled {
            room: celsius(20.0),
            time_constant: minutes(300.0),
            time: minutes(time_min),
        };
        // Tabulated hot stand: 98 °C towards 20 °C with 300 min, followed for 60 min.
        let hour = unchilled(60.0).cool(celsius(98.0)).unwrap().acids();
        assert!((hour.unwrap().formed - 0.28563).abs() < 5e-6);
        let day = unchilled(1440.0).cool(celsius(98.0)).unwrap().acids();
        assert!(day.unwrap().formed > hour.unwrap().formed);
    }

    #[test]
    fn no_time_does_nothing_and_absurd_times_are_refused() {
        let at_once = coil(14.0, 20.0, 0.0).cool(celsius(98.0)).unwrap();
        assert_eq!(at_once.acids(), Some(Isomerisation::NONE));
        assert!(coil(14.0, 20.0, -1.0).cool(celsius(98.0)).is_err());
        assert!(coil(14.0, 20.0, f64::NAN).cool(celsius(98.0)).is_err());
    }

    #[test]
    fn an_outcome_names_its_figures_with_their_units() {
        let outcome = coil(22.0, 20.0, 25.0).cool(celsius(98.0)).unwrap();
        assert_eq!(
            serde_json::to_string(&outcome).unwrap(),
            r#"{"kind":"never_arrives","coolant_c":22.0,"to_c":20.0}"#
        );
    }
}
