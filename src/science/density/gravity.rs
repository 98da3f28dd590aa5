//! Specific gravity at 20/20 °C and degrees Plato.
//!
//! A specific gravity is a ratio of weights. Weighed in air, the buoyancy of 1.2 kg/m³ is lost by both liquids:
//! `(ρ − 1.2)/(ρ_w − 1.2)`, which lies above the ratio of the densities by 0.00006 at 12 °P and 0.00013 at 25 °P, that
//! is 0.014 and 0.028 °P. The tables that breweries print from (NBS Circular 440 and the tables of the USDA and ASBC
//! after it) are in air, so this crate's default is air. A density meter shows the ratio in vacuum: convert
//! its figure with [`Weighing::InVacuum`], or its density with [`extract_from_density`](super::extract_from_density).
//!
//! Air of 1.2 kg/m³ is the conventional value of weighing (OIML, from memory); the buoyancy on the weights is the
//! same for both liquids and drops out. Density by the ICUMSA polynomial; range −20 to 100 °P, below zero by
//! convention. The published tables rest on older data (Plato 1900) and differ by up to 0.02 °P at equal gravity.

use super::sucrose::{WATER_20, extract_fraction_from_density_20, sucrose_density_20};
use crate::diagnostic::Error;
use crate::quantity::{
    Dimension, Extract, Quantity, SpecificGravity, Unit, by_factor, out_of_range,
};

/// Density of air in weighing, kg/m³ (conventional value, OIML D 28, from memory).
const AIR: f64 = 1.2;

/// Specific gravities in air between the ends of the scale, −20 and 100 °P.
const GRAVITIES: (f64, f64) = (0.928, 1.555);

/// How the two liquids of a specific gravity are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Weighing {
    /// By weight in air, as the brewing tables are made.
    #[default]
    InAir,
    /// By mass, as a density meter does it.
    InVacuum,
}

/// Specific gravity, in air, of a wort of the given extract.
///
/// # Source
///
/// ICUMSA polynomial and an air density of 1.2 kg/m³: 12 °P is 1.048386; Plato's data of 1900 give 1.04837.
///
/// ```
/// use wortwright::{quantity::Extract, science::density::gravity_of};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// assert!((gravity_of(Extract::from_plato(12.0)?).ratio() - 1.04839).abs() < 5e-6);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn gravity_of(extract: Extract) -> SpecificGravity {
    gravity_weighed(extract, Weighing::InAir)
}

/// Extract of a wort, or apparent extract of a beer, whose specific gravity in air is given.
///
/// Gravities below 0.928 and above 1.555 give the ends of the scale, −20 and 100 °P.
///
/// # Source
///
/// As [`gravity_of`], whose inverse it is: 1.050 is 12.38 °P.
///
/// ```
/// use wortwright::{quantity::SpecificGravity, science::density::extract_of};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let wort = extract_of(SpecificGravity::from_ratio(1.050)?);
/// assert!((wort.plato() - 12.38).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn extract_of(gravity: SpecificGravity) -> Extract {
    extract_weighed(gravity, Weighing::InAir)
}

/// Specific gravity of a wort of the given extract, compared as stated.
///
/// ```
/// use wortwright::{quantity::Extract, science::density::{Weighing, gravity_weighed}};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let meter = gravity_weighed(Extract::from_plato(12.0)?, Weighing::InVacuum);
/// assert!((meter.ratio() - 1.048327).abs() < 5e-7);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn gravity_weighed(extract: Extract, weighing: Weighing) -> SpecificGravity {
    let density = sucrose_density_20(extract.plato() / 100.0);
    SpecificGravity::clamped(gravity_ratio(density, weighing))
}

/// Extract of a wort whose specific gravity was compared as stated.
///
/// ```
/// use wortwright::{quantity::SpecificGravity, science::density::{Weighing, extract_weighed}};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let meter = extract_weighed(SpecificGravity::from_ratio(1.048327)?, Weighing::InVacuum);
/// assert!((meter.plato() - 12.0).abs() < 2e-4);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn extract_weighed(gravity: SpecificGravity, weighing: Weighing) -> Extract {
    Extract::clamped(extract_of_ratio(gravity.ratio(), weighing))
}

/// Specific gravity from a density at 20 °C in kg/m³.
pub(crate) fn gravity_ratio(density: f64, weighing: Weighing) -> f64 {
    let air = weighing.air();
    (density - air) / (WATER_20 - air)
}

/// Extract in °P from a specific gravity.
fn extract_of_ratio(ratio: f64, weighing: Weighing) -> f64 {
    100.0 * extract_fraction_from_density_20(density_of_ratio(ratio, weighing))
}

fn density_of_ratio(ratio: f64, weighing: Weighing) -> f64 {
    let air = weighing.air();
    ratio * (WATER_20 - air) + air
}

/// An extract may be written as a specific gravity in air.
impl Quantity for Extract {
    const DIMENSION: Dimension = Dimension::Gravity;
    const WRITTEN_AS: &'static [Dimension] = &[Dimension::Gravity, Dimension::Ratio];

    fn in_base(self) -> f64 {
        self.plato()
    }

    fn from_base(value: f64) -> Result<Self, Error> {
        Self::from_plato(value)
    }

    fn base_of(number: f64, unit: Unit) -> Result<f64, Error> {
        if unit != Unit::SpecificGravity {
            return by_factor(number, unit, Self::WRITTEN_AS);
        }
        let (low, high) = GRAVITIES;
        if (low..=high).contains(&number) {
            Ok(extract_of(SpecificGravity::from_ratio(number)?).plato())
        } else {
            Err(out_of_range("a specific gravity", number, "", low, high))
        }
    }

    fn in_unit(self, unit: Unit) -> Option<f64> {
        match unit {
            Unit::SpecificGravity => Some(gravity_of(self).ratio()),
            Unit::Plato | Unit::Brix => Some(self.plato()),
            _ => None,
        }
    }
}

impl Weighing {
    const fn air(self) -> f64 {
        match self {
            Self::InAir => AIR,
            Self::InVacuum => 0.0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn water_is_the_zero_of_both_scales() {
        for weighing in [Weighing::InAir, Weighing::InVacuum] {
            assert_eq!(gravity_ratio(WATER_20, weighing), 1.0);
            assert!(extract_of_ratio(1.0, weighing).abs() < 1e-12);
        }
    }

    #[test]
    fn air_makes_a_wort_look_heavier() {
        let wort = Extract::from_plato(12.0).unwrap();
        let air = gravity_of(wort).ratio();
        let vacuum = gravity_weighed(wort, Weighing::InVacuum).ratio();
        assert!((air - vacuum - 5.8e-5).abs() < 1e-6);
    }

    #[test]
    fn a_dry_beer_reads_below_zero() {
        let dry = SpecificGravity::from_ratio(0.970).unwrap();
        let plato = extract_of(dry).plato();
        assert!((-8.1..-7.9).contains(&plato), "{plato}");
        let lightest = SpecificGravity::from_ratio(0.75).unwrap();
        assert_eq!(extract_of(lightest).plato(), -20.0);
        let heaviest = SpecificGravity::from_ratio(1.6).unwrap();
        assert_eq!(extract_of(heaviest).plato(), 100.0);
    }
}
