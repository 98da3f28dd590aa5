//! Density of air-free water at one atmosphere, 0 to 150 °C, in kg/m³.
//!
//! Kell, J. Chem. Eng. Data 20 (1975) 97, with the printed coefficients (scale IPTS-68). Against IAPWS-95 it stays
//! within 0.004 kg/m³ up to 60 °C and 0.015 kg/m³ up to 100 °C; the difference is the temperature scale. Above
//! 100 °C the water is under its own vapour pressure or superheated.
//!
//! Trap: a widely copied version has 16.897850e-3 in the denominator. It is 0.27 kg/m³ off at 20 °C.

use uom::si::mass_density::kilogram_per_cubic_meter;

use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{MassDensity, Temperature};

/// Numerator, powers 0 to 5 of the Celsius temperature (Kell 1975, equation for 0 to 150 °C).
const NUMERATOR: [f64; 6] = [
    999.83952,
    16.945176,
    -7.9870401e-3,
    -46.170461e-6,
    105.56302e-9,
    -280.54253e-12,
];

/// Denominator, factor of the Celsius temperature (Kell 1975; 16.897850e-3 is a misprint of copies).
const DENOMINATOR: f64 = 16.879850e-3;

/// Density of water at a temperature from 0 to 150 °C.
///
/// # Errors
///
/// `OutOfModel` outside 0 to 150 °C.
///
/// # Source
///
/// Kell 1975, see the head of this module's file: 998.2041 kg/m³ at 20 °C, 958.3637 kg/m³ at 100 °C.
///
/// ```
/// use uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::{quantity::{Temperature, uom}, science::density::water};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let density = water(Temperature::from_celsius(20.0)?)?.get::<kilogram_per_cubic_meter>();
/// assert!((density - 998.2041).abs() < 5e-5);
/// # Ok(())
/// # }
/// ```
pub fn water(temperature: Temperature) -> Result<MassDensity, Error> {
    let celsius = temperature.celsius();
    if (0.0..=150.0).contains(&celsius) {
        Ok(MassDensity::new::<kilogram_per_cubic_meter>(kell(
            NUMERATOR,
            DENOMINATOR,
            celsius,
        )))
    } else {
        Err(outside("the density of water", "0 to 150 °C", temperature))
    }
}

/// Kell's form: a quintic over a linear function of the Celsius temperature, kg/m³.
pub(super) const fn kell(numerator: [f64; 6], denominator: f64, celsius: f64) -> f64 {
    let [a, b, c, d, e, f] = numerator;
    let quintic = a + celsius * (b + celsius * (c + celsius * (d + celsius * (e + celsius * f))));
    quintic / (1.0 + denominator * celsius)
}

/// The error of a temperature outside a relation's range.
pub(super) fn outside(what: &str, range: &str, temperature: Temperature) -> Error {
    Error::new(
        ErrorKind::OutOfModel,
        format!("{what} is known from {range}, found {temperature}"),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(celsius: f64) -> f64 {
        let celsius = Temperature::from_celsius(celsius).unwrap();
        water(celsius).unwrap().get::<kilogram_per_cubic_meter>()
    }

    #[test]
    fn gives_the_density_by_hand() {
        // (999.83952 + 338.90352 - 3.19481604 - 0.369363688 + 0.0168900832 - 0.000897736) / 1.337597 at 20 °C.
        assert!((at(20.0) - 1335.194853 / 1.337597).abs() < 1e-4);
    }

    #[test]
    fn is_densest_near_4_celsius_and_falls_from_there() {
        assert!(at(3.0) < at(4.0) && at(5.0) < at(4.0));
        let mut last = at(4.0);
        for tenth in 41..=1500 {
            let next = at(f64::from(tenth) / 10.0);
            assert!(next < last);
            last = next;
        }
    }

    #[test]
    fn refuses_ice_and_steam() {
        let ice = water(Temperature::from_celsius(-0.1).unwrap()).unwrap_err();
        assert_eq!(
            ice.to_string(),
            "the density of water is known from 0 to 150 °C, found -0.1 °C"
        );
        assert!(water(Temperature::from_celsius(150.1).unwrap()).is_err());
    }
}
