//! From the grist to the colour of the wort.
//!
//! Source: Morey 1995, letter to BrewingTechniques: SRM = 1.4922 MCU^0.6859, with MCU in pounds × °Lovibond per US
//! gallon. It was fitted to three straight lines of others, not to measured beers: SRM = MCU up to 10.5,
//! 0.2 MCU + 8.4 (Daniels) up to 37, 0.3 MCU + 4.7 (Mosher) above.
//! Range: below SRM 50 (EBC 98). The relation is not linear, so it contradicts the law of mixing: use it once, on the
//! whole mashed grist at the final volume of wort. The models differ by up to 30 %.
//! Units: EBC, kg, L. Malt colours go to Lovibond by [`MaltColour::lovibond`]; a laboratory that calls SRM Lovibond
//! reads a dark malt a third higher.

use crate::diagnostic::Error;
use crate::quantity::{BeerColour, MaltColour, Mass, Unit, Volume, in_kilograms, in_litres};
use crate::science::within::within;
use serde::Serialize;

/// Factor and exponent (Morey 1995).
const MOREY_FACTOR: f64 = 1.4922;
const MOREY_EXPONENT: f64 = 0.6859;

/// Colour up to which the relation was fitted, SRM (Morey 1995).
const MOREY_HIGHEST_SRM: f64 = 50.0;

/// Slope, intercept and first MCU of the straight lines (coefficients from memory; ranges in Morey 1995, at whose
/// ends the lines meet).
const DANIELS: (f64, f64, f64) = (0.2, 8.4, 10.5);
const MOSHER: (f64, f64, f64) = (0.3, 4.7, 37.0);

/// Uncertainty of the absolute colour: the models differ by 28 % at MCU 10.
const UNCERTAINTY: f64 = 0.30;

/// Pounds per US gallon in a kilogram per litre (exact: 3.785411784/0.45359237).
const POUNDS_PER_GALLON: f64 = 3.785411784 / 0.45359237;

/// Colour that a grist gives, with its uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct GristColour {
    /// By Morey's relation.
    #[serde(rename = "colour_ebc")]
    pub colour: BeerColour,
    /// Lower end: 30 % less.
    #[serde(rename = "low_ebc")]
    pub low: BeerColour,
    /// Upper end: 30 % more.
    #[serde(rename = "high_ebc")]
    pub high: BeerColour,
    /// By the straight lines that the relation was fitted to, for comparison.
    #[serde(rename = "by_lines_ebc")]
    pub by_lines: BeerColour,
    /// Whether the colour lies in the range of the relation, below SRM 50.
    pub within_range: bool,
}

/// A grain that colours a wort.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColouringGrain {
    /// How much is mashed.
    pub mass: Mass,
    /// Of the laboratory wort, EBC.
    pub colour: MaltColour,
}

/// Colour of the wort from what is mashed: each grain's mass and colour, in so much cold wort.
///
/// # Errors
///
/// `OutOfRange` for a mass below zero or beyond 10⁷ kg, a volume outside 1 mL to 10⁷ L, or a colour beyond its scale.
///
/// # Source
///
/// Morey 1995.
///
/// ```
/// use wortwright::quantity::{MaltColour, Mass, Volume};
/// use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
/// use wortwright::science::colour::{ColouringGrain, grist_colour};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// // 4 kg of 5.43 EBC, that is 2.5 °Lovibond, in 20 L: MCU 4.17, SRM 3.97.
/// let malt = ColouringGrain { mass: Mass::new::<kilogram>(4.0), colour: MaltColour::from_ebc(5.425)? };
/// let wort = grist_colour(&[malt], Volume::new::<liter>(20.0))?;
/// assert!((wort.colour.srm() - 3.97).abs() < 0.01);
/// # Ok(())
/// # }
/// ```
pub fn grist_colour(grist: &[ColouringGrain], wort: Volume) -> Result<GristColour, Error> {
    let volume_l = checked_litres(wort)?;
    let mut lovibond_kg = 0.0;
    for grain in grist {
        lovibond_kg += checked_kilograms(grain.mass)? * grain.colour.lovibond();
    }
    let mcu = malt_colour_units(lovibond_kg, volume_l);
    let srm = morey_srm(mcu);
    let colour = from_srm(srm)?;
    Ok(GristColour {
        colour,
        low: BeerColour::clamped(colour.ebc() * (1.0 - UNCERTAINTY)),
        high: BeerColour::clamped(colour.ebc() * (1.0 + UNCERTAINTY)),
        by_lines: from_srm(lines_srm(mcu))?,
        within_range: srm < MOREY_HIGHEST_SRM,
    })
}

/// Pounds × °Lovibond per US gallon.
pub(crate) fn malt_colour_units(lovibond_kg: f64, volume_l: f64) -> f64 {
    lovibond_kg / volume_l * POUNDS_PER_GALLON
}

/// Morey's relation.
pub(crate) fn morey_srm(mcu: f64) -> f64 {
    MOREY_FACTOR * mcu.powf(MOREY_EXPONENT)
}

/// The same turned round: the pounds × °Lovibond per US gallon of a wort, as °Lovibond times kilograms in `volume_l`.
pub(crate) fn units_of_morey_srm(srm: f64, volume_l: f64) -> f64 {
    let mcu = (srm.max(0.0) / MOREY_FACTOR).powf(1.0 / MOREY_EXPONENT);
    mcu * volume_l / POUNDS_PER_GALLON
}

/// The straight lines that Morey fitted.
fn lines_srm(mcu: f64) -> f64 {
    let line = |(slope, intercept, _): (f64, f64, f64)| slope * mcu + intercept;
    if mcu < DANIELS.2 {
        mcu
    } else if mcu < MOSHER.2 {
        line(DANIELS)
    } else {
        line(MOSHER)
    }
}

fn from_srm(srm: f64) -> Result<BeerColour, Error> {
    BeerColour::from_ebc(Unit::Srm.to_base(srm))
}

fn checked_kilograms(mass: Mass) -> Result<f64, Error> {
    within("a mass", in_kilograms(mass), 0.0..=1e7, "kg")
}

fn checked_litres(volume: Volume) -> Result<f64, Error> {
    within("a volume of wort", in_litres(volume), 1e-3..=1e7, "L")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{kilograms, litres};

    fn grain(kg: f64, ebc: f64) -> ColouringGrain {
        ColouringGrain {
            mass: kilograms(kg),
            colour: MaltColour::from_ebc(ebc).unwrap(),
        }
    }

    #[test]
    fn a_kilogram_per_litre_is_the_tabulated_pounds_per_gallon() {
        assert!((malt_colour_units(1.0, 1.0) - 8.3454).abs() < 5e-5);
    }

    #[test]
    fn the_lines_meet_where_morey_says() {
        // C2 and C3: MCU 10.5 and 37.
        let at = |(slope, intercept, _): (f64, f64, f64), mcu: f64| slope * mcu + intercept;
        assert!((at(DANIELS, 10.5) - 10.5).abs() < 1e-12);
        assert!((at(DANIELS, 37.0) - at(MOSHER, 37.0)).abs() < 1e-12);
    }

    #[test]
    fn every_line_of_the_comparison_table_comes_out() {
        // MCU, Morey, Daniels, Mosher; three decimals printed.
        for line in crate::science::colour::tables::reference_rows(include_str!(
            "../../../tests/reference/colour_mcu.csv"
        )) {
            let mcu = line[0];
            let daniels = DANIELS.0 * mcu + DANIELS.1;
            let mosher = MOSHER.0 * mcu + MOSHER.1;
            for (computed, printed) in [morey_srm(mcu), daniels, mosher].iter().zip(&line[1..]) {
                assert!((computed - printed).abs() <= 0.00051, "{mcu}: {computed}");
            }
        }
    }

    #[test]
    fn lines_are_chosen_by_their_range() {
        assert_eq!(lines_srm(5.0), 5.0);
        assert!((lines_srm(20.0) - 12.4).abs() < 1e-12);
        assert!((lines_srm(60.0) - 22.7).abs() < 1e-12);
    }

    #[test]
    fn beyond_the_fit_the_result_says_so() {
        let black = [grain(1.0, 1400.0)];
        assert!(!grist_colour(&black, litres(10.0)).unwrap().within_range);
        assert!(grist_colour(&black, litres(50.0)).unwrap().within_range);
        assert_eq!(grist_colour(&[], litres(50.0)).unwrap().colour.ebc(), 0.0);
    }

    #[test]
    fn absurd_amounts_are_refused() {
        assert!(grist_colour(&[grain(-1.0, 5.0)], litres(20.0)).is_err());
        assert!(grist_colour(&[grain(1.0, 5.0)], litres(0.0)).is_err());
        assert!(grist_colour(&[grain(f64::NAN, 5.0)], litres(1.0)).is_err());
    }
}
