//! A refractometer in wort and in fermenting beer.
//!
//! Wort bends light a little more than sucrose of its density, so its Brix reading is divided by a factor of the
//! instrument, 1.00 to 1.06, usually 1.04 (common practice, no source). Alcohol bends light too, so in beer the reading must be
//! undone with the extract the wort had.
//!
//! For finished beer there are two regressions of 68 measured triplets (Terrill 2011), both on readings already divided
//! by that factor. They differ by about 0.001 in gravity inside their range and fail where less than half of the
//! extract has really fermented (61 % apparent). The linear one is used: it is slightly the more accurate by its author,
//! and the cubic runs wild at the edges (20 °Bx down to 14: 1.051 against 1.032). Optics alone would give less than both
//! (an older cubic, 2001, has 1.0085 for 12 down to 6 °Bx, Terrill 1.0107 and 1.0117): any of these is an estimate.
//!
//! All of them take the alcohol to come from the initial extract. After juice or sugar the initial extract must be that
//! of everything together, else the result means nothing.

use serde::{Serialize, Serializer};

use super::super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{Extract, SpecificGravity, Temperature, json};
use crate::science::density::{extract_of, gravity_of};

/// Terrill's linear fit: constant, initial, final (2011).
const LINEAR: [f64; 3] = [1.0000, -0.00085683, 0.0034941];

/// Apparent attenuation from which Terrill's fits hold (2011: half of the extract really fermented).
const FITTED_FROM: f64 = 0.61;

/// Mass % in the columns of [`COLDER`]. It begins at 10: below, its first column counts, which is at most 0.1 too much
/// at 10 °C (0.50 at 0 %, ICUMSA, from memory).
const COLUMNS: [f64; 7] = [10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0];
/// What a refractometer made for 20 °C shows too much, mass %, from 10 to 16 °C (OIV-MA-AS2-02, 2012, table I).
const COLDER: [[f64; 7]; 7] = [
    [0.59, 0.62, 0.65, 0.67, 0.69, 0.71, 0.72],
    [0.54, 0.57, 0.59, 0.61, 0.63, 0.64, 0.65],
    [0.49, 0.51, 0.53, 0.55, 0.56, 0.57, 0.58],
    [0.43, 0.45, 0.47, 0.48, 0.50, 0.51, 0.52],
    [0.38, 0.39, 0.40, 0.42, 0.43, 0.44, 0.44],
    [0.32, 0.33, 0.34, 0.35, 0.36, 0.37, 0.37],
    [0.26, 0.27, 0.28, 0.28, 0.29, 0.30, 0.30],
];
/// Temperature of its first row, °C.
const COLDEST_C: f64 = 10.0;
/// Temperature of its last row, °C. From there to the scale, and as far again on the other side, the correction is a
/// straight line through nothing at 20 °C; above 20 °C that is this crate's own, and no source stands behind it.
const LINEAR_FROM_C: f64 = 16.0;
/// The scale, °C.
const SCALE_C: f64 = 20.0;
/// As warm as a sample may be, °C.
const WARMEST_C: f64 = 30.0;

/// What a refractometer that does not compensate for temperature would show at 20 °C, from its reading of a sample from 10 to
/// 30 °C.
///
/// # Errors
///
/// `OutOfRange` outside 10 to 30 °C.
///
/// # Source
///
/// OIV-MA-AS2-02 (2012), table I, from 10 to 16 °C; extrapolated above 20 °C.
///
/// ```
/// use wortwright::{quantity::{Extract, Temperature}, science::instruments::refractometer_at_20};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// // The table has −0.59 at 10 °C for 10 %.
/// let at_20 = refractometer_at_20(Extract::from_plato(10.0)?, Temperature::from_celsius(10.0)?)?;
/// assert!((at_20.plato() - 9.41).abs() < 1e-12);
/// # Ok(())
/// # }
/// ```
pub fn refractometer_at_20(shown: Extract, temperature: Temperature) -> Result<Extract, Error> {
    let celsius = within(
        "a refractometer's sample",
        temperature.celsius(),
        COLDEST_C..=WARMEST_C,
        "°C",
    )
    .map_err(|error| {
        error.with_help(
            "read again at 20 °C, or leave the temperature out if the instrument compensates for it",
        )
    })?;
    let too_much = if celsius <= LINEAR_FROM_C {
        let row = celsius - COLDEST_C;
        between(&COLDER.map(|row| in_columns(&row, shown.plato())), row)
    } else {
        let last = COLDER
            .last()
            .map_or(0.0, |row| in_columns(row, shown.plato()));
        last * (SCALE_C - celsius) / (SCALE_C - LINEAR_FROM_C)
    };
    Ok(Extract::clamped(shown.plato() - too_much))
}

/// A row's value at a mass %.
fn in_columns(row: &[f64; 7], percent: f64) -> f64 {
    let [first, second, ..] = COLUMNS;
    between(row, (percent - first) / (second - first))
}

/// The value between two neighbours; that of an end beyond it.
fn between(values: &[f64; 7], at: f64) -> f64 {
    let at = at.clamp(0.0, 6.0);
    let near = |index: u8| (1.0 - (at - f64::from(index)).abs()).max(0.0);
    values
        .iter()
        .zip(0..)
        .map(|(value, index)| value * near(index))
        .sum()
}

/// How much more wort bends light than sucrose of its density.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct WortCorrection(f64);

impl WortCorrection {
    /// The factor that a Brix reading is divided by.
    ///
    /// # Errors
    ///
    /// `OutOfRange` outside 0.9 to 1.2.
    pub fn from_factor(factor: f64) -> Result<Self, Error> {
        within("a wort correction", factor, 0.9..=1.2, "").map(Self)
    }

    /// The factor that a Brix reading is divided by.
    pub const fn factor(self) -> f64 {
        self.0
    }
}

impl Default for WortCorrection {
    /// 1.04 (common practice, no source).
    fn default() -> Self {
        Self(1.04)
    }
}

impl Serialize for WortCorrection {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json::number(self.0, serializer)
    }
}

#[cfg(feature = "schema")]
crate::quantity::schema::numbers!(WortCorrection);

/// What a refractometer says of a fermenting beer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Refracted {
    /// Apparent extract, within the range of the published fit.
    Fitted(Extract),
    /// Apparent extract by a straight line between the unfermented wort and the edge of the published fit: rough.
    Bridged(Extract),
}

impl Refracted {
    /// The apparent extract, however it was found.
    pub const fn apparent(self) -> Extract {
        match self {
            Self::Fitted(extract) | Self::Bridged(extract) => extract,
        }
    }
}

/// Extract of an unfermented wort from a Brix reading.
///
/// ```
/// use wortwright::{quantity::Extract, science::instruments::{WortCorrection, refractometer_wort}};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let wort = refractometer_wort(Extract::from_plato(13.0)?, WortCorrection::default());
/// assert!((wort.plato() - 12.5).abs() < 1e-12);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn refractometer_wort(shown: Extract, correction: WortCorrection) -> Extract {
    Extract::clamped(shown.plato() / correction.0)
}

/// Apparent extract of a fermenting beer from the extract of its wort (of everything together, where juice or sugar
/// was added) and a Brix reading as shown.
///
/// Where the published fit does not reach, a straight line joins its edge to the unfermented wort. That line is this
/// crate's own, and no source stands behind it.
///
/// # Source
///
/// Terrill 2011, linear, see the head of this module's file.
///
/// ```
/// use wortwright::quantity::Extract;
/// use wortwright::science::instruments::{Refracted, WortCorrection, refractometer_beer};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let wort = Extract::from_plato(12.0)?;
/// let beer = refractometer_beer(wort, Extract::from_plato(6.24)?, WortCorrection::default());
/// assert!(matches!(beer, Refracted::Fitted(apparent) if (apparent.plato() - 2.73).abs() < 0.01));
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn refractometer_beer(
    original: Extract,
    shown: Extract,
    correction: WortCorrection,
) -> Refracted {
    let corrected = refractometer_wort(shown, correction);
    let edge = Extract::clamped(original.plato() * (1.0 - FITTED_FROM));
    let [constant, by_i, by_f] = LINEAR;
    let edge_reading = (gravity_of(edge).ratio() - constant - by_i * original.plato()) / by_f;
    let above = original.plato() - edge_reading;
    if corrected.plato() <= edge_reading || above <= 0.0 {
        return Refracted::Fitted(extract_of(finished(original, corrected)));
    }
    let way = (corrected.plato() - edge_reading) / above;
    Refracted::Bridged(Extract::clamped(
        edge.plato() + way * (original.plato() - edge.plato()),
    ))
}

/// Gravity of a finished beer by Terrill's linear fit, both readings already divided by the wort correction.
fn finished(original: Extract, corrected: Extract) -> SpecificGravity {
    let [constant, by_i, by_f] = LINEAR;
    SpecificGravity::clamped(constant + by_i * original.plato() + by_f * corrected.plato())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::colour::tables::reference_rows;

    fn plato(value: f64) -> Extract {
        Extract::from_plato(value).unwrap()
    }

    #[test]
    fn the_published_fit_comes_out() {
        // Initial and final, °Bx corrected, and the gravity that other code gives by the same fit; half a last digit.
        let text = include_str!("../../../tests/reference/refractometer_fg.csv");
        for line in reference_rows(text) {
            let gravity = finished(plato(line[0]), plato(line[1])).ratio();
            assert!((gravity - line[2]).abs() < 5.1e-6, "{line:?} {gravity}");
        }
    }

    #[test]
    fn the_bridge_meets_the_wort_and_the_fit() {
        let plain = WortCorrection::from_factor(1.0).unwrap();
        for original in [8.0, 12.0, 16.0, 20.0] {
            let wort = refractometer_beer(plato(original), plato(original), plain);
            assert!((wort.apparent().plato() - original).abs() < 1e-9);
            let mut last = None;
            for tenth in 0..=200 {
                let shown = plato(original * f64::from(tenth) / 200.0);
                let next = refractometer_beer(plato(original), shown, plain)
                    .apparent()
                    .plato();
                assert!(
                    last.is_none_or(|last| next > last && next - last < 0.25),
                    "{original} {tenth}"
                );
                last = Some(next);
            }
        }
    }

    #[test]
    fn says_where_the_fit_ends() {
        let plain = WortCorrection::from_factor(1.0).unwrap();
        let early = refractometer_beer(plato(12.0), plato(10.0), plain);
        assert!(matches!(early, Refracted::Bridged(_)));
        // No wort at all, or a wort below zero, gives a figure and no nonsense.
        assert!(
            refractometer_beer(plato(0.0), plato(1.0), plain)
                .apparent()
                .plato()
                .is_finite()
        );
        assert!(
            refractometer_beer(plato(-5.0), plato(50.0), plain)
                .apparent()
                .plato()
                .is_finite()
        );
    }

    /// The table of the OIV between its rows and columns, and a straight line through 20 °C: 0.26/4 a degree for 10 %.
    #[test]
    fn a_sample_off_20_degrees_is_corrected() {
        for (shown, celsius, at_20) in [
            (15.0, 12.0, 14.49),
            (12.5, 10.5, 12.5 - (0.59 + 0.62 + 0.54 + 0.57) / 4.0),
            (6.0, 10.0, 5.41),
            (10.0, 18.0, 9.87),
            (10.0, 20.0, 10.0),
            (10.0, 24.0, 10.26),
            (60.0, 10.0, 59.28),
        ] {
            let at = Temperature::from_celsius(celsius).unwrap();
            let found = refractometer_at_20(plato(shown), at).unwrap().plato();
            assert!((found - at_20).abs() < 1e-9, "{shown} {celsius}: {found}");
        }
        for celsius in [9.9, 30.1, 40.0] {
            let at = Temperature::from_celsius(celsius).unwrap();
            let refused = refractometer_at_20(plato(6.0), at).unwrap_err();
            assert!(refused.help().is_some_and(|help| help.contains("20 °C")));
        }
    }

    #[test]
    fn absurd_factors_are_refused() {
        assert!(WortCorrection::from_factor(f64::NAN).is_err());
        assert!(WortCorrection::from_factor(1.3).is_err());
    }
}
