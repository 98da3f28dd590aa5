//! A hydrometer in a sample that is not at the temperature of its scale.
//!
//! It follows the floating glass, which displaces its own mass, so at one mark the density of the liquid is that
//! of the scale divided by the expansion of the glass; the extract is that of the sucrose solution which has this
//! density *at the sample's temperature*. So the extra expansion of sugar counts, which a correction by water
//! alone misses. A. J. deLange's fit to the ASBC correction table agrees within 0.1 °P from 10 to 30 °C up to 20 °P and
//! drifts apart with strength and heat: 10 °P at 40 °C is corrected by 1.52 here and by 1.62 there, 25 °P at 40 °C by 1.60
//! and 1.90. The glass is followed because each of its parts has a source and a range of its own and it is exactly nothing
//! at the scale's temperature.
//!
//! Alcohol expands more than sugar: in a beer of 5 % by volume at 30 °C the true correction is about 0.1 °P larger, well
//! within what a hydrometer can be read to.

use uom::si::mass_density::kilogram_per_cubic_meter;

use crate::diagnostic::Error;
use crate::quantity::{Extract, MassDensity, Temperature};
use crate::science::density::{extract_from_density, sucrose_solution};

/// Cubic expansion of the glass of a hydrometer per kelvin (OIML, from memory).
const GLASS_PER_KELVIN: f64 = 25e-6;

/// Extract at 20 °C of a wort, or apparent extract of a beer, in which a hydrometer with a scale for `scale` shows
/// `shown` at the temperature of the `sample`. Most scales are for 20 °C.
///
/// Readings above 60 °C are not worth correcting: cool the sample.
///
/// # Errors
///
/// `OutOfModel` outside 0 to 100 °C, or where the reading or the corrected extract lies outside −8 to 85 °P.
///
/// # Source
///
/// ICUMSA polynomial and the expansion of glass, see the head of this module's file.
///
/// ```
/// use wortwright::{quantity::{Extract, Temperature}, science::instruments::hydrometer};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let wort = hydrometer(Extract::from_plato(10.0)?, celsius(30.0)?, celsius(20.0)?)?;
/// assert!((wort.plato() - 10.66).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn hydrometer(
    shown: Extract,
    sample: Temperature,
    scale: Temperature,
) -> Result<Extract, Error> {
    if sample == scale {
        // Also checks the ranges.
        return sucrose_solution(shown, scale).map(|_| shown);
    }
    let marked = sucrose_solution(shown, scale)?.get::<kilogram_per_cubic_meter>();
    let glass = 1.0 + GLASS_PER_KELVIN * (sample.celsius() - scale.celsius());
    extract_from_density(
        MassDensity::new::<kilogram_per_cubic_meter>(marked / glass),
        sample,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(plato: f64, celsius: f64) -> f64 {
        let sample = Temperature::from_celsius(celsius).unwrap();
        let scale = Temperature::from_celsius(20.0).unwrap();
        hydrometer(Extract::from_plato(plato).unwrap(), sample, scale)
            .unwrap()
            .plato()
    }

    #[test]
    fn water_by_hand() {
        // Water at 30 °C has 995.65 kg/m³ (Kell). A hydrometer that shows 0 °P there floats in 998.203/1.00025 = 997.954:
        // 2.30 kg/m³ above water, at 3.85 kg/m³ for each °P.
        assert!(
            (at(0.0, 30.0) - 2.30 / 3.85).abs() < 0.01,
            "{}",
            at(0.0, 30.0)
        );
    }

    #[test]
    fn nothing_to_correct_at_the_scale_and_more_the_warmer() {
        for plato in [-3.0, 0.0, 12.0, 25.0] {
            assert_eq!(at(plato, 20.0), plato);
            let mut last = at(plato, 10.0);
            for celsius in 11..=60 {
                let next = at(plato, f64::from(celsius));
                // Near 4 °C, where water hardly expands, the glass does more than the liquid; from 10 °C on every degree adds.
                assert!(next > last, "{plato} {celsius}");
                last = next;
            }
        }
    }

    #[test]
    fn refuses_what_lies_outside() {
        let scale = Temperature::from_celsius(20.0).unwrap();
        let steam = Temperature::from_celsius(101.0).unwrap();
        let wort = Extract::from_plato(12.0).unwrap();
        assert!(hydrometer(wort, steam, scale).is_err());
        assert!(hydrometer(Extract::from_plato(-9.0).unwrap(), scale, scale).is_err());
    }
}
