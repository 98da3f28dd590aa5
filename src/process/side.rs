//! Which plant is spoken of, and its size.

/// Above this batch a plant is taken for a commercial one, 2 hL (common practice, no source).
const COMMERCIAL_FROM_L: f64 = 200.0;

/// Which side of the job a plant stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Side {
    /// The plant that the printed figures speak for.
    Source,
    /// The plant that is to brew it now.
    Target,
}

/// The size of a plant, which decides between two sets of defaults.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum PlantSize {
    /// Up to 2 hL, or of unknown size.
    Small,
    /// Above 2 hL.
    Commercial,
}

impl PlantSize {
    /// The size of a plant that brews so much.
    pub(crate) fn of(batch_l: Option<f64>) -> Self {
        if batch_l.is_some_and(|l| l > COMMERCIAL_FROM_L) {
            Self::Commercial
        } else {
            Self::Small
        }
    }
}
