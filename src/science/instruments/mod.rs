//! What hydrometers and refractometers show, and what it means.
//!
//! A reading is turned into the apparent extract at 20 °C, °P.
//!
//! | instrument | liquid | call |
//! |---|---|---|
//! | hydrometer | wort or beer at any temperature | [`hydrometer`] |
//! | refractometer | wort | [`refractometer_wort`] |
//! | refractometer | fermenting beer | [`refractometer_beer`] (default), [`refractometer_finished`] (the published fits) |

mod hydrometer;
mod refractometer;

pub use hydrometer::hydrometer;
pub use refractometer::{
    FinishedFit, Refracted, WortCorrection, refractometer_beer, refractometer_finished,
    refractometer_wort,
};
