//! What to measure before anything is added.

use crate::quantity::Temperature;
use crate::speech::Style;
use serde::Serialize;

/// Starch that is left still converts in a wort held between these, °C (common practice, no source).
const CONVERTS_C: (f64, f64) = (66.0, 68.0);

/// Something to measure, or to measure again.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum ToMeasure {
    /// The volume.
    Volume,
    /// The gravity.
    Gravity,
    /// The gravity again, of a wort that was stirred and a sample that was cooled.
    StirredSample,
    /// Starch, by iodine: the mash may not be converted.
    Starch,
}

impl ToMeasure {
    pub(super) fn text(self, style: Style) -> String {
        match self {
            Self::Volume => "read the volume, and check its unit".to_owned(),
            Self::Gravity => "measure the gravity of a stirred, cooled sample".to_owned(),
            Self::StirredSample => {
                "stir the wort well, cool a sample and measure the gravity again".to_owned()
            }
            Self::Starch => {
                let (low, high) = CONVERTS_C;
                let at = |celsius| style.temperature(Temperature::clamped(celsius));
                format!(
                    "test a cold drop for starch with iodine and throw it away: if it turns blue-black, rest the mash at {} to {} before the boil",
                    at(low),
                    at(high)
                )
            }
        }
    }
}
