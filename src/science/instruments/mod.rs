//! What hydrometers and refractometers show, and what it means.
//!
//! A reading is turned into the apparent extract at 20 °C, °P.
//!
//! | instrument | liquid | call |
//! |---|---|---|
//! | hydrometer | wort or beer at any temperature | [`hydrometer`] (default), [`hydrometer_asbc`] (published fit, for comparison) |
//! | refractometer | wort | [`refractometer_wort`] |
//! | refractometer | fermenting beer | [`refractometer_beer`] (default), [`refractometer_finished`] (the published fits) |
//! | refractometer that shows an index | wort, juice | [`brix_of_index`] |

mod hydrometer;
mod refractometer;

pub use hydrometer::{hydrometer, hydrometer_asbc};
pub use refractometer::{
    FinishedFit, Refracted, RefractiveIndex, WortCorrection, brix_of_index, refractometer_beer,
    refractometer_finished, refractometer_wort,
};
