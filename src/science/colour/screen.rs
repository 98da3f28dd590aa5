//! How a beer looks: from its mean spectrum to CIE Lab and to a screen.
//!
//! Source: mean spectrum of beers, `deLange`, J. Am. Soc. Brew. Chem. 2008 (coefficients from memory; they add to 1 and
//! meet the test of ASBC Beer-10A for an average beer, A700 ≤ 0.039 A430); CIE 15 (tristimulus values and L\*a\*b\*);
//! IEC 61966-2-1 (sRGB).
//! Range: bright beers of malt. The colour number alone fixes the looks to about 4 Lab units; red juices are wholly
//! wrong, and a haze makes a beer paler. Wavelengths 380 to 780 nm.

use super::tables::{FIRST_NM, OBSERVER_AND_DAYLIGHT, STEP_NM};
use crate::diagnostic::Error;
use crate::quantity::{BeerColour, Length, in_metres};
use crate::science::within::within;
use serde::Serialize;

/// Weights and lengths, nm, of the two exponentials of the mean spectrum (`deLange` 2008).
const FAST: (f64, f64) = (0.02465, 17.591);
const SLOW: (f64, f64) = (0.97535, 82.122);

/// Wavelength of the colour number, nm.
const COLOUR_NM: f64 = 430.0;

/// EBC units in an absorbance of 1 over 1 cm (EBC method 9.6).
const EBC_PER_ABSORBANCE: f64 = 25.0;

/// From XYZ (D65, white at Y = 1) to linear sRGB (IEC 61966-2-1).
const XYZ_TO_SRGB: [[f64; 3]; 3] = [
    [3.2406, -1.5372, -0.4986],
    [-0.9689, 1.8758, 0.0415],
    [0.0557, -0.2040, 1.0570],
];

/// A colour in CIE L\*a\*b\* (1976), against the white of daylight (D65), for the 2° observer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Lab {
    /// Lightness, 0 black to 100 white.
    pub lightness: f64,
    /// Green (below zero) to red.
    pub red_green: f64,
    /// Blue (below zero) to yellow.
    pub yellow_blue: f64,
}

/// A beer on a screen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct ScreenColour {
    /// The colour in daylight.
    pub lab: Lab,
    /// Red, green and blue of sRGB, 0 to 255.
    pub srgb: [u8; 3],
    /// Whether the screen cannot show the colour, so that `srgb` is only the nearest edge: usual for dark beer in a
    /// wide glass.
    pub clipped: bool,
}

impl ScreenColour {
    /// The colour as `#rrggbb`, in lower case.
    pub fn hex(&self) -> String {
        let [red, green, blue] = self.srgb;
        format!("#{red:02x}{green:02x}{blue:02x}")
    }
}

/// Colour of a beer of average spectrum on a screen, seen in daylight (D65) through a glass of the given width.
///
/// # Errors
///
/// `OutOfRange` for a width below zero or above 1 m.
///
/// # Source
///
/// `deLange` 2008; CIE 15; IEC 61966-2-1.
///
/// ```
/// use wortwright::quantity::{BeerColour, Length};
/// use wortwright::quantity::uom::si::length::centimeter;
/// use wortwright::science::colour::screen_colour;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let pale = BeerColour::from_ebc(2.0 * 25.0 / 12.7)?; // SRM 2
/// let shown = screen_colour(pale, Length::new::<centimeter>(5.0))?;
/// assert_eq!(shown.hex(), "#f4d180");
/// assert!(!shown.clipped);
/// # Ok(())
/// # }
/// ```
pub fn screen_colour(colour: BeerColour, glass: Length) -> Result<ScreenColour, Error> {
    let path_cm = within("a glass", in_metres(glass), 0.0..=1.0, "m")? * 100.0;
    let xyz = tristimulus(absorbance(colour, path_cm));
    let linear = XYZ_TO_SRGB.map(|row| product(row, xyz));
    Ok(ScreenColour {
        lab: lab_of(xyz, tristimulus(0.0)),
        srgb: linear.map(srgb_byte),
        clipped: linear.iter().any(|part| !(0.0..=1.0).contains(part)),
    })
}

/// Absorbance at 430 nm over the path.
fn absorbance(colour: BeerColour, path_cm: f64) -> f64 {
    colour.ebc() / EBC_PER_ABSORBANCE * path_cm
}

/// Absorbance of an average beer at a wavelength, relative to that at 430 nm.
fn relative_absorbance(wavelength_nm: f64) -> f64 {
    let beyond_nm = wavelength_nm - COLOUR_NM;
    let part = |(weight, length_nm): (f64, f64)| weight * (-beyond_nm / length_nm).exp();
    part(FAST) + part(SLOW)
}

/// Share of the light that passes.
fn passed(absorbance: f64, wavelength_nm: f64) -> f64 {
    10.0_f64.powf(-absorbance * relative_absorbance(wavelength_nm))
}

/// X, Y, Z of the daylight that passes; Y of the bare light is 1.
fn tristimulus(absorbance: f64) -> [f64; 3] {
    let mut wavelength_nm = FIRST_NM;
    let mut sums = [0.0; 3];
    let mut white = 0.0;
    for [x, y, z, light] in OBSERVER_AND_DAYLIGHT {
        let seen = light * passed(absorbance, wavelength_nm);
        let [sum_x, sum_y, sum_z] = sums;
        sums = [sum_x + seen * x, sum_y + seen * y, sum_z + seen * z];
        white += light * y;
        wavelength_nm += STEP_NM;
    }
    sums.map(|sum| sum / white)
}

/// CIE 1976 L\*a\*b\* (CIE 15).
fn lab_of(xyz: [f64; 3], white: [f64; 3]) -> Lab {
    let root = |value: f64, white: f64| {
        let ratio = value / white;
        if ratio > (6.0_f64 / 29.0).powi(3) {
            ratio.cbrt()
        } else {
            ratio * (29.0_f64 / 6.0).powi(2) / 3.0 + 4.0 / 29.0
        }
    };
    let ([x, y, z], [white_x, white_y, white_z]) = (xyz, white);
    let (x, y, z) = (root(x, white_x), root(y, white_y), root(z, white_z));
    Lab {
        lightness: 116.0 * y - 16.0,
        red_green: 500.0 * (x - y),
        yellow_blue: 200.0 * (y - z),
    }
}

/// The coding of one linear component (IEC 61966-2-1).
fn srgb_byte(linear: f64) -> u8 {
    let shown = linear.clamp(0.0, 1.0);
    let coded = if shown <= 0.0031308 {
        12.92 * shown
    } else {
        1.055 * shown.powf(1.0 / 2.4) - 0.055
    };
    (255.0 * coded).round() as u8
}

fn product(row: [f64; 3], column: [f64; 3]) -> f64 {
    row.iter().zip(column).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Unit, metres};
    use crate::science::colour::tables::reference_rows;

    #[test]
    fn the_mean_spectrum_is_that_of_an_average_beer() {
        assert!((relative_absorbance(430.0) - 1.0).abs() < 1e-12);
        // C5: test of ASBC Beer-10A.
        assert!(relative_absorbance(700.0) < 0.039);
        assert!((relative_absorbance(700.0) - 0.0364).abs() < 5e-5);
    }

    #[test]
    fn every_line_of_the_tabulated_spectrum_comes_out() {
        let text = include_str!("../../../tests/reference/colour_average_spectrum.csv");
        for line in reference_rows(text) {
            let computed = relative_absorbance(line[0]);
            assert!((computed - line[1]).abs() <= 0.51e-6, "{line:?} {computed}");
        }
    }

    #[test]
    fn tristimulus_values_of_the_bare_light_are_those_of_its_white() {
        // CIE 15 gives D65 0.95047, 1, 1.08883; the sum at 5 nm differs by 4e-5.
        let white = tristimulus(0.0);
        for (computed, published) in white.iter().zip([0.95047, 1.0, 1.08883]) {
            assert!((computed - published).abs() < 5e-5);
        }
    }

    #[test]
    fn colour_numbers_agree_with_their_definitions() {
        // SRM, A430 over 1 cm, EBC as 25 A430, A430 from the original half inch, transmittance over 1 cm.
        let text = include_str!("../../../tests/reference/colour_definitions.csv");
        for line in reference_rows(text) {
            let [srm, over_1_cm, ebc, original, transmitted] = line[..] else {
                panic!("{line:?}");
            };
            let beer = BeerColour::from_ebc(Unit::Srm.to_base(srm)).unwrap();
            assert!((beer.ebc() - ebc).abs() <= 0.51e-4, "{srm}");
            let absorbed = absorbance(beer, 1.0);
            assert!((absorbed - over_1_cm).abs() <= 0.51e-5, "{srm}");
            let half_inch = 10.0 * absorbance(beer, 1.27) / 12.7;
            assert!((half_inch - original).abs() <= 0.51e-5, "{srm}");
            let share = passed(absorbed, COLOUR_NM);
            assert!((share - transmitted).abs() <= 0.51e-5, "{srm}");
        }
        // C1: a hundredth of the light is SRM 25.4.
        let beer = BeerColour::from_ebc(Unit::Srm.to_base(25.4)).unwrap();
        assert!((passed(absorbance(beer, 1.0), COLOUR_NM) - 0.01).abs() < 1e-12);
    }

    #[test]
    fn water_is_white_and_a_black_beer_black() {
        let shown = |ebc, m| screen_colour(BeerColour::from_ebc(ebc).unwrap(), metres(m)).unwrap();
        assert_eq!(shown(0.0, 0.05).hex(), "#ffffff");
        assert_eq!(shown(2000.0, 1.0).hex(), "#000000");
    }

    #[test]
    fn absurd_paths_are_refused() {
        let beer = BeerColour::from_ebc(10.0).unwrap();
        assert!(screen_colour(beer, metres(-0.01)).is_err());
        assert!(screen_colour(beer, metres(f64::NAN)).is_err());
    }
}
