//! Boiling point of water at an altitude or a pressure.
//!
//! Pressure: standard atmosphere (ISO 2533, ICAO; constants from memory, identical to those of a public library),
//! troposphere, with the altitude read as geopotential height; at 4000 m geometric height differs by 0.008 °C.
//! Range −500 to 9000 m. Weather moves the boiling point by up to 1 °C about it.
//!
//! Boiling point: IAPWS-IF97, region 4, the backward equation for the saturation temperature, 10 to 1000 kPa here;
//! coefficients from memory, checked to the printed 0.001 °C against two tables made with other programs of IAPWS-IF97
//! and IAPWS-95 (0.0003 °C apart). Wort boils higher by 0.2 °C at 12 °P (its extract
//! counted as maltose, 0.512 K kg/mol, from memory); that is left out.

use uom::si::{length::meter, pressure::kilopascal};

use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{Length, Pressure, Temperature};

/// Pressure at sea level, kPa (ISO 2533).
const SEA_LEVEL_KPA: f64 = 101.325;
/// Temperature at sea level, K (ISO 2533).
const SEA_LEVEL_K: f64 = 288.15;
/// Fall of the temperature with height, K/m (ISO 2533).
const LAPSE: f64 = 0.0065;
/// Standard gravity, m/s² (ISO 2533).
const GRAVITY: f64 = 9.80665;
/// Gas constant of air, J/(kg K) (ISO 2533).
const AIR_CONSTANT: f64 = 287.05287;

/// n₁ to n₁₀ of the saturation equation (IAPWS-IF97, region 4, from memory; see the head of the file for the check).
const N: [f64; 10] = [
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
];

/// Air pressure at an altitude above the sea, −500 to 9000 m, in the standard atmosphere.
///
/// # Errors
///
/// `OutOfModel` outside −500 to 9000 m.
///
/// # Source
///
/// ISO 2533: 89.8746 kPa at 1000 m.
///
/// ```
/// use uom::si::{length::meter, pressure::kilopascal};
/// use wortwright::{quantity::{Length, uom}, science::boiling};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let pressure = boiling::pressure_at(Length::new::<meter>(1000.0))?;
/// assert!((pressure.get::<kilopascal>() - 89.8746).abs() < 5e-5);
/// # Ok(())
/// # }
/// ```
pub fn pressure_at(altitude: Length) -> Result<Pressure, Error> {
    let metres = altitude.get::<meter>();
    if (-500.0..=9000.0).contains(&metres) {
        Ok(Pressure::new::<kilopascal>(pressure_kpa(metres)))
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!("expected an altitude from -500 to 9000 m, found {metres} m"),
        ))
    }
}

/// Boiling point of water under a pressure from 10 to 1000 kPa.
///
/// # Errors
///
/// `OutOfModel` outside 10 to 1000 kPa.
///
/// # Source
///
/// IAPWS-IF97 region 4: 99.606 °C at 100 kPa.
///
/// ```
/// use uom::si::pressure::kilopascal;
/// use wortwright::{quantity::{Pressure, uom}, science::boiling};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let point = boiling::point_under(Pressure::new::<kilopascal>(100.0))?;
/// assert!((point.celsius() - 99.606).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn point_under(pressure: Pressure) -> Result<Temperature, Error> {
    let kpa = pressure.get::<kilopascal>();
    if (10.0..=1000.0).contains(&kpa) {
        Ok(Temperature::clamped(saturation_celsius(kpa)))
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!("expected a pressure from 10 to 1000 kPa, found {kpa} kPa"),
        ))
    }
}

/// Boiling point of water at an altitude from −500 to 9000 m.
///
/// # Errors
///
/// `OutOfModel` outside −500 to 9000 m.
///
/// # Source
///
/// [`pressure_at`] and [`point_under`]: 99.974 °C at the sea, 96.649 °C at 1000 m.
///
/// ```
/// use uom::si::length::meter;
/// use wortwright::{quantity::{Length, uom}, science::boiling};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let point = boiling::point_at(Length::new::<meter>(2000.0))?;
/// assert!((point.celsius() - 93.315).abs() < 1e-3);
/// # Ok(())
/// # }
/// ```
pub fn point_at(altitude: Length) -> Result<Temperature, Error> {
    point_under(pressure_at(altitude)?)
}

fn pressure_kpa(metres: f64) -> f64 {
    let exponent = GRAVITY / (AIR_CONSTANT * LAPSE);
    SEA_LEVEL_KPA * (1.0 - LAPSE * metres / SEA_LEVEL_K).powf(exponent)
}

fn saturation_celsius(kpa: f64) -> f64 {
    let [n1, n2, n3, n4, n5, n6, n7, n8, n9, n10] = N;
    let beta = (kpa / 1000.0).powf(0.25);
    let e = beta * beta + n3 * beta + n6;
    let f = n1 * beta * beta + n4 * beta + n7;
    let g = n2 * beta * beta + n5 * beta + n8;
    let d = 2.0 * g / (-f - (f * f - 4.0 * e * g).sqrt());
    let sum = n10 + d;
    0.5 * (sum - (sum * sum - 4.0 * (n9 + n10 * d)).sqrt()) - 273.15
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_the_check_values_of_the_release() {
        // IAPWS-IF97, table 36 (from memory): 372.755919 K at 0.1 MPa, 453.035632 K at 1 MPa, 584.149488 K at 10 MPa.
        for (kpa, kelvin) in [
            (100.0, 372.755919),
            (1000.0, 453.035632),
            (10000.0, 584.149488),
        ] {
            assert!((saturation_celsius(kpa) + 273.15 - kelvin).abs() < 1e-6);
        }
    }

    #[test]
    fn falls_with_altitude() {
        let at = |m| point_at(Length::new::<meter>(m)).unwrap().celsius();
        assert!(at(-500.0) > 101.0 && at(9000.0) < 70.0);
        let mut last = at(-500.0);
        for step in 1..=95 {
            let next = at(-500.0 + 100.0 * f64::from(step));
            assert!(next < last);
            last = next;
        }
    }

    #[test]
    fn refuses_other_planets() {
        let high = point_at(Length::new::<meter>(9001.0)).unwrap_err();
        assert_eq!(
            high.to_string(),
            "expected an altitude from -500 to 9000 m, found 9001 m"
        );
        assert!(pressure_at(Length::new::<meter>(f64::NAN)).is_err());
        let thin = point_under(Pressure::new::<kilopascal>(9.0)).unwrap_err();
        assert_eq!(
            thin.to_string(),
            "expected a pressure from 10 to 1000 kPa, found 9 kPa"
        );
    }
}
