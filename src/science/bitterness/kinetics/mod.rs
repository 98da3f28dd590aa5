//! Isomerisation of alpha acids and loss of iso-alpha-acids over a temperature history.
//!
//! Alpha acids turn into iso-alpha-acids (k1), and these into products that do not bitter (k2), both of first order.
//! Both steps are linear in the amounts, so what a piece of history does to any hops is three shares: an
//! [`Isomerisation`]. Pieces join with [`Isomerisation::then`].
//!
//! Source: Malowicki & Shellhammer, J. Agric. Food Chem. 2005, 53, 4434-4439. That k is per minute follows from the
//! half-life of 55.5 min at 100 °C, and from the loss of more than 20 % of the iso-alpha-acids in a boil of 90 min
//! (Kappler et al., J. Inst. Brew. 2010, 116(4), 332-338), which k2 gives as 24.3 %.
//! Range: 90 to 130 °C in a buffer of pH 5.2, no effect of pH 4.8 to 6.0 on the rate. **Below 90 °C this is
//! extrapolation**; first-order behaviour down to 80 °C has been reported. Solubility (about 90 mg/L of alpha acids
//! at pH 5.2) is not modelled, nor are losses to trub and yeast.
//! Units: minutes, °C.

use crate::diagnostic::Error;
use crate::quantity::{Share, Temperature, Time, in_minutes};
use crate::science::within::within;
use serde::{Serialize, Serializer, ser::SerializeStruct};

/// Frequency factor, 1/min, and activation temperature, K, of isomerisation (Malowicki & Shellhammer 2005, abstract).
const ISOMERISATION: (f64, f64) = (7.9e11, 11858.0);

/// Frequency factor, 1/min, and activation temperature, K, of the loss of iso-alpha-acids (as above).
const LOSS: (f64, f64) = (4.1e12, 12994.0);

/// Longest change of temperature in one step of the integrator, K, and largest product of a step's time and its
/// fastest rate. Within both the error against an independent integration stays below 10⁻⁶ of the alpha acids.
const STEP_K: f64 = 2.0;
const STEP_RATE: f64 = 0.5;

/// Most steps. Where they are too few, hardly an iso-alpha-acid is left.
const MOST_STEPS: f64 = 10_000.0;

/// Nearer than this to the end of an exponential, K, the rest of the time is a hold.
const ARRIVED_K: f64 = 0.01;

/// Longest history, min: a year.
const LONGEST_MIN: f64 = 527_040.0;

/// What a piece of temperature history does to the acids, as shares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Isomerisation {
    /// Alpha acids left, per alpha acids at the start.
    pub(crate) alpha_kept: f64,
    /// Iso-alpha-acids present at the end, per alpha acids at the start.
    pub(crate) formed: f64,
    /// Iso-alpha-acids left, per iso-alpha-acids at the start.
    pub(crate) iso_kept: f64,
}

/// A coil in hot wort, which nears the coolant's temperature exponentially (Newton's law of cooling).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoilCooling {
    /// The wort's temperature before.
    pub from: Temperature,
    /// The temperature that the wort nears.
    pub coolant: Temperature,
    /// Time in which the difference between wort and coolant falls to 1/e, 37 %, of itself.
    pub time_constant: Time,
}

/// How the temperature runs over a piece of history; its figures are checked where one is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum TemperaturePath {
    Hold {
        at_c: f64,
        time_min: f64,
    },
    Linear {
        from_c: f64,
        to_c: f64,
        time_min: f64,
    },
    Exponential {
        from_c: f64,
        towards_c: f64,
        time_constant_min: f64,
        time_min: f64,
    },
    /// Each parcel of the wort stays hot until it leaves; they leave one after another over the time.
    Parcels {
        at_c: f64,
        time_min: f64,
    },
}

impl Isomerisation {
    /// No time at all: everything stays as it is.
    pub const NONE: Self = Self {
        alpha_kept: 1.0,
        formed: 0.0,
        iso_kept: 1.0,
    };

    /// Wort held at one temperature; exact.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a time below zero or above a year. Below 90 °C and above 130 °C the result is extrapolated.
    ///
    /// # Source
    ///
    /// Malowicki & Shellhammer 2005.
    ///
    /// ```
    /// use wortwright::quantity::{Temperature, Time};
    /// use wortwright::quantity::uom::si::time::minute;
    /// use wortwright::science::bitterness::Isomerisation;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let boil = Isomerisation::hold(Temperature::from_celsius(100.0)?, Time::new::<minute>(60.0))?;
    /// assert!((boil.formed().fraction() - 0.476).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    pub fn hold(at: Temperature, time: Time) -> Result<Self, Error> {
        Ok(Self::over(TemperaturePath::Hold {
            at_c: at.celsius(),
            time_min: checked_min(time)?,
        }))
    }

    /// Wort whose temperature runs evenly from one to another; within 10⁻⁶.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a time below zero or above a year. Below 90 °C and above 130 °C the result is extrapolated.
    ///
    /// # Source
    ///
    /// Malowicki & Shellhammer 2005; integrated by a Magnus step of fourth order.
    ///
    /// ```
    /// use wortwright::quantity::{Temperature, Time};
    /// use wortwright::quantity::uom::si::time::minute;
    /// use wortwright::science::bitterness::Isomerisation;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let stand = Isomerisation::linear(
    ///     Temperature::from_celsius(98.0)?,
    ///     Temperature::from_celsius(80.0)?,
    ///     Time::new::<minute>(30.0),
    /// )?;
    /// assert!((stand.formed().fraction() - 0.1434).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    pub fn linear(from: Temperature, to: Temperature, time: Time) -> Result<Self, Error> {
        Ok(Self::over(TemperaturePath::Linear {
            from_c: from.celsius(),
            to_c: to.celsius(),
            time_min: checked_min(time)?,
        }))
    }

    /// Wort that a coil cools for a time; within 10⁻⁶.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a time below zero or above a year, or a time constant outside 0.001 min to a year. Below
    /// 90 °C and above 130 °C the result is extrapolated.
    ///
    /// # Source
    ///
    /// Malowicki & Shellhammer 2005; integrated by a Magnus step of fourth order.
    ///
    /// ```
    /// use wortwright::quantity::{Temperature, Time};
    /// use wortwright::quantity::uom::si::time::minute;
    /// use wortwright::science::bitterness::{CoilCooling, Isomerisation};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let coil = CoilCooling {
    ///     from: Temperature::from_celsius(98.0)?,
    ///     coolant: Temperature::from_celsius(20.0)?,
    ///     time_constant: Time::new::<minute>(60.0),
    /// };
    /// let cooling = Isomerisation::by_coil(coil, Time::new::<minute>(60.0))?;
    /// assert!((cooling.formed().fraction() - 0.0975).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    pub fn by_coil(coil: CoilCooling, time: Time) -> Result<Self, Error> {
        let time_constant_min = within(
            "a time constant",
            in_minutes(coil.time_constant),
            1e-3..=LONGEST_MIN,
            "min",
        )?;
        Ok(Self::over(TemperaturePath::Exponential {
            from_c: coil.from.celsius(),
            towards_c: coil.coolant.celsius(),
            time_constant_min,
            time_min: checked_min(time)?,
        }))
    }

    /// This piece of history and then another one.
    #[must_use]
    pub fn then(self, next: Self) -> Self {
        Self {
            alpha_kept: self.alpha_kept * next.alpha_kept,
            formed: self.formed * next.iso_kept + self.alpha_kept * next.formed,
            iso_kept: self.iso_kept * next.iso_kept,
        }
    }

    /// Alpha acids left, of those at the start.
    pub const fn alpha_kept(self) -> Share {
        Share::clamped(self.alpha_kept)
    }

    /// Iso-alpha-acids at the end, of the alpha acids at the start.
    pub const fn formed(self) -> Share {
        Share::clamped(self.formed)
    }

    /// Iso-alpha-acids left, of those at the start.
    pub const fn iso_kept(self) -> Share {
        Share::clamped(self.iso_kept)
    }

    /// The shares over a path.
    pub(crate) fn over(path: TemperaturePath) -> Self {
        match path {
            TemperaturePath::Hold { at_c, time_min } => held(at_c, time_min),
            TemperaturePath::Linear {
                from_c,
                to_c,
                time_min,
            } => {
                let steps = ((to_c - from_c).abs() / STEP_K)
                    .max(fastest_per_min(from_c.max(to_c)) * time_min / STEP_RATE)
                    .ceil()
                    .clamp(1.0, MOST_STEPS);
                let step_min = time_min / steps;
                let slope = (to_c - from_c) / steps;
                let mut whole = Self::NONE;
                for step in 0..steps as u32 {
                    let start_c = from_c + slope * f64::from(step);
                    whole = whole.then(magnus_step(step_min, |part| start_c + slope * part));
                }
                whole
            }
            TemperaturePath::Exponential {
                from_c,
                towards_c,
                time_constant_min,
                time_min,
            } => exponential(from_c, towards_c, time_constant_min, time_min),
            TemperaturePath::Parcels { at_c, time_min } => parcels(at_c, time_min),
        }
    }
}

impl Serialize for Isomerisation {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut fields = serializer.serialize_struct("Isomerisation", 3)?;
        fields.serialize_field("alpha_kept", &self.alpha_kept())?;
        fields.serialize_field("formed", &self.formed())?;
        fields.serialize_field("iso_kept", &self.iso_kept())?;
        fields.end()
    }
}

#[cfg(feature = "schema")]
crate::quantity::schema::schema_as!(Isomerisation, {
    "type": "object",
    "properties": { "alpha_kept": { "type": "number" }, "formed": { "type": "number" }, "iso_kept": { "type": "number" } },
    "required": ["alpha_kept", "formed", "iso_kept"]
});

fn checked_min(time: Time) -> Result<f64, Error> {
    within("a time", in_minutes(time), 0.0..=LONGEST_MIN, "min")
}

/// Rates of isomerisation and of loss at a temperature, 1/min.
fn rates_per_min(temperature_c: f64) -> (f64, f64) {
    let inverse_k = 1.0 / (temperature_c + 273.15);
    let rate = |(factor, activation_k): (f64, f64)| factor * (-activation_k * inverse_k).exp();
    (rate(ISOMERISATION), rate(LOSS))
}

/// The faster of both rates at a temperature.
fn fastest_per_min(temperature_c: f64) -> f64 {
    let (k1, k2) = rates_per_min(temperature_c);
    k1.max(k2)
}

/// The closed form at one temperature.
fn held(temperature_c: f64, time_min: f64) -> Isomerisation {
    let (k1, k2) = rates_per_min(temperature_c);
    from_exponents(k1 * time_min, k2 * time_min, k1 * time_min)
}

/// The exponential of the matrix with `-loss_alpha` and `-loss_iso` on its diagonal and `gain` below it.
fn from_exponents(loss_alpha: f64, loss_iso: f64, gain: f64) -> Isomerisation {
    let (alpha, iso) = ((-loss_alpha).exp_m1(), (-loss_iso).exp_m1());
    let difference = loss_iso - loss_alpha;
    let divided = if difference.abs() > f64::MIN_POSITIVE {
        (alpha - iso) / difference
    } else {
        // The limit of equal exponents.
        alpha + 1.0
    };
    Isomerisation {
        alpha_kept: alpha + 1.0,
        formed: gain * divided,
        iso_kept: iso + 1.0,
    }
}

/// One step of fourth order (Magnus series with two Gauss points; Iserles & Nørsett 1999, from memory) through a
/// temperature that is given as a function of the part of the step done.
fn magnus_step(step_min: f64, temperature_c: impl Fn(f64) -> f64) -> Isomerisation {
    let offset = 3.0_f64.sqrt() / 6.0;
    let (k1_a, k2_a) = rates_per_min(temperature_c(0.5 - offset));
    let (k1_b, k2_b) = rates_per_min(temperature_c(0.5 + offset));
    let commutator = 0.5 * offset * step_min * step_min * (k2_a * k1_b - k2_b * k1_a);
    let half = 0.5 * step_min;
    let loss_alpha = half * (k1_a + k1_b);
    let loss_iso = half * (k2_a + k2_b);
    from_exponents(loss_alpha, loss_iso, loss_alpha + commutator)
}

/// Steps that keep to the limits of a step and never more than halve what is left to go.
fn exponential(
    from_c: f64,
    towards_c: f64,
    time_constant_min: f64,
    time_min: f64,
) -> Isomerisation {
    let mut left_k = from_c - towards_c;
    let mut left_min = time_min;
    let mut whole = Isomerisation::NONE;
    // No step so short needs a look at the rates of its own temperature.
    let short_min = STEP_RATE / fastest_per_min(from_c.max(towards_c));
    while left_k.abs() > ARRIVED_K && left_min > 0.0 {
        let share = (1.0 - STEP_K / left_k.abs()).max(0.5);
        let mut step_min = -time_constant_min * share.ln();
        if step_min > short_min {
            let hottest_c = towards_c + left_k.max(0.0);
            step_min = step_min.min(STEP_RATE / fastest_per_min(hottest_c));
        }
        step_min = step_min.max(time_min / MOST_STEPS).min(left_min);
        let (start_k, parts) = (left_k, -step_min / time_constant_min);
        whole = whole.then(magnus_step(step_min, |part| {
            towards_c + start_k * (parts * part).exp()
        }));
        left_k *= parts.exp();
        left_min -= step_min;
    }
    if left_min > 0.0 {
        whole = whole.then(held(towards_c, left_min));
    }
    whole
}

/// The mean of the closed form over all times up to the given one: parcels leave one after another and are cold then.
fn parcels(temperature_c: f64, time_min: f64) -> Isomerisation {
    let (k1, k2) = rates_per_min(temperature_c);
    let (alpha_kept, iso_kept) = (mean_kept(k1 * time_min), mean_kept(k2 * time_min));
    Isomerisation {
        alpha_kept,
        // k1 and k2 meet at 417 °C, far outside the scale of temperatures.
        formed: k1 / (k2 - k1) * (alpha_kept - iso_kept),
        iso_kept,
    }
}

/// Mean of exp(-u) for u from 0 to `exponent`.
fn mean_kept(exponent: f64) -> f64 {
    if exponent > 0.0 {
        -(-exponent).exp_m1() / exponent
    } else {
        1.0
    }
}

#[cfg(test)]
mod tests;
