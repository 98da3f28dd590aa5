//! How a coil cools hot wort.
//!
//! A coil cools the whole kettle at once: its temperature nears that of the coolant exponentially (Newton's law of
//! cooling). Hops go on bittering on the way.
//!
//! Source: Newton's law. Range: any. Units: minutes, °C.

use super::bitterness::TemperaturePath;

/// A shorter cooling than this is none: nothing changes in a microsecond, and the steps of the integral stay finite.
const SHORTEST_MIN: f64 = 1e-8;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::bitterness::Isomerisation;

    #[test]
    fn a_time_that_is_next_to_none_cools_at_once() {
        for time_min in [0.0, 5e-324, 1e-300, 1e-12] {
            let acids = Isomerisation::over(coil_path(100.0, 20.0, 14.0, time_min));
            assert!(acids.formed.abs() < 1e-12, "{time_min}");
        }
    }

    #[test]
    fn a_coil_follows_the_exponential_through_both_ends() {
        // 98 to 20 °C over 60 min of a time constant of 60 min ends at 20 + 78/e = 48.69 °C (tabulated hot stand).
        let to = 20.0 + 78.0 * (-1.0_f64).exp();
        let acids = Isomerisation::over(coil_path(98.0, to, 20.0, 60.0));
        assert!((acids.formed - 0.09747).abs() < 5e-6);
        assert!((acids.alpha_kept - 0.90145).abs() < 5e-6);
    }

    #[test]
    fn a_plate_bitters_like_a_hold_of_half_its_time_and_a_coil_less() {
        let parcels = Isomerisation::over(TemperaturePath::Parcels {
            at_c: 95.0,
            time_min: 50.0,
        });
        let half = Isomerisation::over(TemperaturePath::Hold {
            at_c: 95.0,
            time_min: 25.0,
        });
        assert!((parcels.formed / half.formed - 1.0).abs() < 0.06);
        assert!(parcels.formed < half.formed);
        let coil = Isomerisation::over(coil_path(95.0, 20.0, 14.0, 50.0));
        assert!(coil.formed < 0.5 * parcels.formed);
    }
}
