//! How far a reading may be off, one sigma.
//!
//! Rows of `tests/reference/uncertainty.csv`. The fits of a refractometer disagree by about 0.002 in gravity (optics against Terrill
//! 2011; the table has 0.4 °P, 0.0016).

use crate::quantity::{Extract, SpecificGravity};
use crate::recipe::Instrument;
use crate::science::density::{extract_of, gravity_of};

/// Of a hydrometer, specific gravity: row "hydrometer, two points checked" (from memory).
pub(super) const GRAVITY: f64 = 0.001;
/// Of a refractometer, °Bx: row "hand refractometer" (from memory).
pub(super) const BRIX: f64 = 0.15;
/// Of a volume, as a share of it: row "volume by dip stick or marks" (from memory).
pub(crate) const VOLUME_READ: f64 = 0.015;
/// Of a refractometer's fit where it reaches, specific gravity.
pub(super) const FIT: f64 = 0.002;

/// One sigma of a reading of wort, °P.
pub(crate) fn wort_noise_plato(instrument: Instrument, extract: Extract) -> f64 {
    match instrument {
        Instrument::Hydrometer => in_plato(extract.plato(), GRAVITY),
        Instrument::Refractometer => BRIX,
    }
}

/// One sigma of a reading of beer, as apparent extract in °P: by refractometer that of the fits.
pub(crate) fn beer_noise_plato(instrument: Instrument, apparent: Extract) -> f64 {
    let gravity = match instrument {
        Instrument::Hydrometer => GRAVITY,
        Instrument::Refractometer => FIT,
    };
    in_plato(apparent.plato(), gravity)
}

/// A difference in gravity as one in °P, at a reading.
pub(super) fn in_plato(shown_plato: f64, difference: f64) -> f64 {
    let gravity = gravity_of(Extract::clamped(shown_plato)).ratio() + difference;
    extract_of(SpecificGravity::clamped(gravity)).plato() - shown_plato
}
