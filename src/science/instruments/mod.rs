//! What hydrometers and refractometers show, and what it means.
//!
//! A reading is turned into the apparent extract at 20 °C, °P.
//!
//! | instrument | liquid | call |
//! |---|---|---|
//! | hydrometer | wort or beer at any temperature | [`hydrometer`] |
//! | refractometer without compensation, off 20 °C | any | [`refractometer_at_20`] first |
//! | refractometer | wort | [`refractometer_wort`] |
//! | refractometer | fermenting beer | [`refractometer_beer`] |

mod hydrometer;
mod refractometer;

pub use hydrometer::hydrometer;
pub use refractometer::{
    Refracted, WortCorrection, refractometer_at_20, refractometer_beer, refractometer_wort,
};
