//! Why no mash pH is predicted.

use serde::Serialize;

/// Why no mash pH is predicted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoMashPh {
    /// The plant has no water report: write a `water` line.
    NoWaterReport,
    /// The water report states neither alkalinity nor bicarbonate: add one of them.
    NoAlkalinity,
    /// The water report contradicts itself: check its pH and alkalinity.
    WaterOutOfModel,
}

impl NoMashPh {
    /// The field of a plant that is wanting or at fault.
    pub(crate) const fn field(self) -> &'static str {
        match self {
            Self::NoWaterReport => "water",
            Self::NoAlkalinity => "water.ions.alkalinity_as_caco3_g_l",
            Self::WaterOutOfModel => "water.ph",
        }
    }
}
