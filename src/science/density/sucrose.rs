//! Density of sucrose solutions, 0 to 100 °C and mass fractions 0 to 0.85, in kg/m³.
//!
//! ICUMSA polynomial, as given in Bubnik, Kadlec, Urban and Bruhns, Sugar Technologists Manual, Bartens 1995, p. 164,
//! and in Llano 2005: `ρ(w, t) = ρ_w(t) + Σ a_ij wⁱ θʲ` with θ = (t − 20)/100. The two agree but for
//! `a_40` (−3.9643 and −3.9646, which is 7e-5 kg/m³ at w = 0.7); the first is used. Published tables lie within
//! 0.1 kg/m³ up to 40 %. Solubility ends near 67 % at 20 °C; beyond it the solution is supersaturated.
//!
//! The polynomial brings its own water term, Kell's form with coefficients for ITS-90. It is kept here, so that a
//! solution without sucrose has exactly that density: 998.2031 kg/m³ at 20 °C, 0.0010 below Kell 1975.
//!
//! Below zero: a beer may be lighter than water. The polynomial is continued to small negative mass fractions, by
//! convention of this crate; it is smooth there and rises with w, and its slope at zero is what a hydrometer's scale
//! is drawn with. Typed calls stop at −8 °P, the crate's own arithmetic nowhere.

use uom::si::mass_density::kilogram_per_cubic_meter;

use super::water::{kell, outside};
use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::value_and_slope;
use crate::quantity::{Extract, MassDensity, Temperature};

/// Water term, powers 0 to 5 of the Celsius temperature (Bubnik et al. 1995; the refit to ITS-90 is attributed from
/// memory to Bettin and Spieweck, PTB-Mitteilungen 100 (1990) 195).
const WATER_NUMERATOR: [f64; 6] = [
    999.83952,
    16.952577,
    -7.9905127e-3,
    -46.241757e-6,
    105.84601e-9,
    -281.03006e-12,
];

/// Water term, denominator (same source).
const WATER_DENOMINATOR: f64 = 16.887236e-3;

/// `a_1j`, powers 0 to 4 of θ (ICUMSA polynomial, Bubnik et al. 1995 p. 164).
const FIRST: [f64; 5] = [385.1761, -46.2720, 59.7712, -47.2207, 18.3184];
/// `a_2j` (same source).
const SECOND: [f64; 5] = [135.3705, -7.1720, 7.2491, -21.6977, 12.3081];
/// `a_3j` (same source).
const THIRD: [f64; 4] = [40.9299, 1.1597, 12.3630, 27.6301];
/// `a_4j` (same source; Llano 2005 has −3.9646 first).
const FOURTH: [f64; 3] = [-3.9643, 5.1126, -35.4791];
/// `a_5j` (same source).
const FIFTH: [f64; 2] = [13.4853, 17.5254];
/// `a_60` (same source).
const SIXTH: f64 = -17.2890;

/// Density of water in the ICUMSA polynomial at 20 °C, kg/m³.
pub(crate) const WATER_20: f64 = kell(WATER_NUMERATOR, WATER_DENOMINATOR, 20.0);

/// Kilograms in a litre of water at 20 °C.
pub(crate) const WATER_KG_PER_L: f64 = WATER_20 / 1000.0;

/// Least and greatest extract of the typed calls, °P.
const LEAST_PLATO: f64 = -8.0;
const GREATEST_PLATO: f64 = 85.0;

/// The polynomial at one temperature: coefficients of w, w² … w⁶ and the water term, kg/m³.
#[derive(Debug, Clone, Copy)]
struct Isotherm {
    water: f64,
    powers: [f64; 6],
}

/// The polynomial at 20 °C, where θ is zero.
const AT_20: Isotherm = isotherm(20.0);

/// Density of a sucrose solution of the given extract, −8 to 85 °P, at 0 to 100 °C.
///
/// # Errors
///
/// `OutOfModel` outside these ranges.
///
/// # Source
///
/// ICUMSA polynomial, see the head of this module's file: 12 °P at 20 °C has 1046.444 kg/m³.
///
/// ```
/// use uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::{quantity::{Extract, Temperature, uom}, science::density::sucrose_solution};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let wort = sucrose_solution(Extract::from_plato(12.0)?, Temperature::from_celsius(20.0)?)?;
/// assert!((wort.get::<kilogram_per_cubic_meter>() - 1046.444).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn sucrose_solution(extract: Extract, temperature: Temperature) -> Result<MassDensity, Error> {
    let celsius = in_range(temperature)?;
    let plato = extract.plato();
    if (LEAST_PLATO..=GREATEST_PLATO).contains(&plato) {
        let density = isotherm(celsius).density(plato / 100.0);
        Ok(MassDensity::new::<kilogram_per_cubic_meter>(density))
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!(
                "the density of a sugar solution is known from {LEAST_PLATO} to {GREATEST_PLATO} °P, found {extract}"
            ),
        ))
    }
}

/// Extract of the sucrose solution that has the given density at 0 to 100 °C: the inverse of [`sucrose_solution`],
/// to 1e-12 in the mass fraction.
///
/// # Errors
///
/// `OutOfModel` outside 0 to 100 °C or where the extract would lie outside −8 to 85 °P.
///
/// # Source
///
/// ICUMSA polynomial, see the head of this module's file.
///
/// ```
/// use uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::{quantity::{MassDensity, Temperature, uom}, science::density::extract_from_density};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let density = MassDensity::new::<kilogram_per_cubic_meter>(1046.444);
/// let wort = extract_from_density(density, Temperature::from_celsius(20.0)?)?;
/// assert!((wort.plato() - 12.0).abs() < 2e-4);
/// # Ok(())
/// # }
/// ```
pub fn extract_from_density(
    density: MassDensity,
    temperature: Temperature,
) -> Result<Extract, Error> {
    let isotherm = isotherm(in_range(temperature)?);
    let density = density.get::<kilogram_per_cubic_meter>();
    let least = isotherm.density(LEAST_PLATO / 100.0);
    let greatest = isotherm.density(GREATEST_PLATO / 100.0);
    if (least..=greatest).contains(&density) {
        Ok(Extract::clamped(100.0 * isotherm.fraction(density)))
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!(
                "expected a density from {least:.2} to {greatest:.2} kg/m³ at {temperature}, found {density} kg/m³"
            ),
        ))
    }
}

/// Density at 20 °C of a solution with this mass fraction of extract, kg/m³.
pub(crate) const fn sucrose_density_20(extract_fraction: f64) -> f64 {
    AT_20.density(extract_fraction)
}

/// The density at 20 °C as above, and how much it changes for one in the mass fraction.
pub(crate) fn sucrose_density_and_slope_20(extract_fraction: f64) -> (f64, f64) {
    let [a, b, c, d, e, f] = AT_20.powers;
    value_and_slope(&[AT_20.water, a, b, c, d, e, f], extract_fraction)
}

/// Mass fraction of extract in the sucrose solution of this density (kg/m³) at 20 °C, brought into −0.2 to 1.
pub(crate) fn extract_fraction_from_density_20(density: f64) -> f64 {
    AT_20.fraction(density)
}

/// Volume of water and extract together at a temperature, L. Good to 100 °C; a boil below sea level reaches 102 °C,
/// to which the polynomial is continued.
pub(crate) fn solution_volume_at_l(water_kg: f64, extract_kg: f64, celsius: f64) -> f64 {
    isotherm(celsius).volume_l(water_kg, extract_kg)
}

/// Density of a solution with this mass fraction of extract at a temperature, kg/m³.
pub(crate) const fn solution_density(extract_fraction: f64, celsius: f64) -> f64 {
    isotherm(celsius).density(extract_fraction)
}

impl Isotherm {
    const fn density(self, w: f64) -> f64 {
        let [a, b, c, d, e, f] = self.powers;
        self.water + w * (a + w * (b + w * (c + w * (d + w * (e + w * f)))))
    }

    const fn slope(self, w: f64) -> f64 {
        let [a, b, c, d, e, f] = self.powers;
        a + w * (2.0 * b + w * (3.0 * c + w * (4.0 * d + w * (5.0 * e + w * 6.0 * f))))
    }

    /// Newton's method. The polynomial rises and is convex from −0.2 to 1, so the steps cannot run away; five or six
    /// reach the last digit.
    fn fraction(self, density: f64) -> f64 {
        let mut w = ((density - self.water) / 430.0).clamp(-0.2, 1.0);
        for _ in 0..20 {
            let step = (self.density(w) - density) / self.slope(w);
            w = (w - step).clamp(-0.2, 1.0);
            if step.abs() < 1e-15 {
                break;
            }
        }
        w
    }

    fn volume_l(self, water_kg: f64, extract_kg: f64) -> f64 {
        let mass_kg = water_kg + extract_kg;
        if mass_kg > 0.0 {
            1000.0 * mass_kg / self.density(extract_kg / mass_kg)
        } else {
            0.0
        }
    }
}

const fn isotherm(celsius: f64) -> Isotherm {
    let th = (celsius - 20.0) / 100.0;
    Isotherm {
        water: kell(WATER_NUMERATOR, WATER_DENOMINATOR, celsius),
        powers: [
            quartic(FIRST, th),
            quartic(SECOND, th),
            cubic(THIRD, th),
            quadratic(FOURTH, th),
            linear(FIFTH, th),
            SIXTH,
        ],
    }
}

const fn linear([a, b]: [f64; 2], x: f64) -> f64 {
    a + x * b
}

const fn quadratic([a, b, c]: [f64; 3], x: f64) -> f64 {
    a + x * (b + x * c)
}

const fn cubic([a, b, c, d]: [f64; 4], x: f64) -> f64 {
    a + x * (b + x * (c + x * d))
}

const fn quartic([a, b, c, d, e]: [f64; 5], x: f64) -> f64 {
    a + x * (b + x * (c + x * (d + x * e)))
}

fn in_range(temperature: Temperature) -> Result<f64, Error> {
    let celsius = temperature.celsius();
    if (0.0..=100.0).contains(&celsius) {
        Ok(celsius)
    } else {
        Err(outside(
            "the density of a sugar solution",
            "0 to 100 °C",
            temperature,
        ))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gives_the_density_by_hand() {
        // 10 % at 20 °C: 998.2031 + 38.51761 + 1.353705 + 0.0409299 - 0.00039643 + 0.000134853 - 0.000017289.
        assert!((sucrose_density_20(0.10) - 1038.11507).abs() < 5e-5);
        // One kilogram of sugar in nine of water.
        assert!((solution_volume_at_l(9.0, 1.0, 20.0) - 10_000.0 / 1038.11507).abs() < 1e-6);
    }

    #[test]
    fn has_the_water_term_where_there_is_no_extract() {
        assert!((WATER_20 - 998.2031).abs() < 5e-5);
        assert_eq!(sucrose_density_20(0.0), WATER_20);
        assert!((solution_density(0.0, 100.0) - 958.3449).abs() < 5e-5);
    }

    #[test]
    fn rises_and_is_convex_over_the_whole_range() {
        for celsius in [0.0, 20.0, 50.0, 100.0, 102.0] {
            let curve = isotherm(celsius);
            let mut slope = curve.slope(-0.2);
            assert!(slope > 300.0);
            for step in 1..=120 {
                let next = curve.slope(-0.2 + f64::from(step) / 100.0);
                assert!(next > slope, "{celsius} {step}");
                slope = next;
            }
        }
    }

    #[test]
    fn inverts_itself() {
        for celsius in [0.0, 4.0, 20.0, 66.0, 100.0] {
            let curve = isotherm(celsius);
            for step in -20..=100 {
                let w = f64::from(step) / 100.0;
                assert!((curve.fraction(curve.density(w)) - w).abs() < 1e-12);
            }
        }
        assert_eq!(extract_fraction_from_density_20(0.0), -0.2);
        assert_eq!(extract_fraction_from_density_20(1e9), 1.0);
    }

    #[test]
    fn an_empty_vessel_has_no_volume() {
        assert_eq!(solution_volume_at_l(0.0, 0.0, 90.0), 0.0);
    }

    #[test]
    fn names_the_range_that_was_left() {
        let celsius = |t| Temperature::from_celsius(t).unwrap();
        let thick = sucrose_solution(Extract::from_plato(90.0).unwrap(), celsius(20.0));
        assert_eq!(
            thick.unwrap_err().message(),
            "the density of a sugar solution is known from -8 to 85 °P, found 90 °P"
        );
        let hot = sucrose_solution(Extract::from_plato(10.0).unwrap(), celsius(101.0));
        assert_eq!(hot.unwrap_err().kind(), ErrorKind::OutOfModel);
        let heavy = MassDensity::new::<kilogram_per_cubic_meter>(1500.0);
        assert_eq!(
            extract_from_density(heavy, celsius(20.0))
                .unwrap_err()
                .to_string(),
            "expected a density from 968.23 to 1445.94 kg/m³ at 20 °C, found 1500 kg/m³"
        );
        let nothing = MassDensity::new::<kilogram_per_cubic_meter>(f64::NAN);
        assert!(extract_from_density(nothing, celsius(20.0)).is_err());
    }
}
