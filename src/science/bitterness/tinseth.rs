//! Utilisation by boiling time and gravity.
//!
//! Source: Tinseth 1997, research note (the formula read in full).
//! Range: the published table spans 0 to 120 min and specific gravities 1.030 to 1.130. Beyond it the formula is
//! extrapolated, and a share above 1 is cut to 1. It gives nothing at 0 min: it has no term for a hot stand.
//! Units: minutes at boil; average gravity of the boil.

use crate::diagnostic::Error;
use crate::quantity::{Share, SpecificGravity, Time, in_minutes};
use crate::science::within::within;

/// Height and base of the gravity factor (Tinseth 1997).
const GRAVITY_HEIGHT: f64 = 1.65;
const GRAVITY_BASE: f64 = 0.000125;

/// Rate in the time factor, 1/min (Tinseth 1997).
const RATE_PER_MIN: f64 = 0.04;

/// Divisor of the time factor; the author names it as the one to tune to a plant (Tinseth 1997).
const LARGEST: f64 = 4.15;

/// Share of the alpha acids that arrives in the beer as iso-alpha-acids:
/// `1.65 · 0.000125^(SG-1) · (1 - exp(-0.04 t)) / 4.15`.
///
/// `time` is at the boil, `gravity` the average of the boil.
///
/// # Errors
///
/// `OutOfRange` for a time below zero or above a day.
///
/// # Source
///
/// Tinseth 1997. Rager's table (1990) gives 30 % more at 60 min and 30 % less at 15 min.
///
/// ```
/// use wortwright::quantity::{SpecificGravity, Time};
/// use wortwright::quantity::uom::si::time::minute;
/// use wortwright::science::bitterness::utilisation;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let share = utilisation(Time::new::<minute>(60.0), SpecificGravity::from_ratio(1.050)?)?;
/// assert!((share.fraction() - 0.231).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn utilisation(time: Time, gravity: SpecificGravity) -> Result<Share, Error> {
    let time_min = within("a boiling time", in_minutes(time), 0.0..=1440.0, "min")?;
    Ok(Share::clamped(utilisation_share(time_min, gravity.ratio())))
}

/// The same from plain figures.
pub(crate) fn utilisation_share(time_min: f64, specific_gravity: f64) -> f64 {
    let gravity_factor = GRAVITY_HEIGHT * GRAVITY_BASE.powf(specific_gravity - 1.0);
    gravity_factor * -(-RATE_PER_MIN * time_min).exp_m1() / LARGEST
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::minutes;

    #[test]
    fn no_time_gives_nothing_and_no_time_is_long_enough_for_more_than_the_limit() {
        assert_eq!(utilisation_share(0.0, 1.050), 0.0);
        // Limit 1/4.15 times the gravity factor: 0.3036 at 1.030.
        assert!((utilisation_share(1440.0, 1.030) - 0.3036).abs() < 5e-5);
    }

    #[test]
    fn absurd_times_are_refused_and_shares_stay_shares() {
        let wort = SpecificGravity::from_ratio(1.05).unwrap();
        assert!(utilisation(minutes(-1.0), wort).is_err());
        assert!(utilisation(minutes(f64::NAN), wort).is_err());
        let spirit = SpecificGravity::from_ratio(0.75).unwrap();
        assert_eq!(utilisation(minutes(999.0), spirit).unwrap().fraction(), 1.0);
    }
}
