//! What a host may set when scaling.

use crate::recipe::BitternessModel;
use serde::{Deserialize, Serialize};

/// Settings of a [`Brew`](crate::job::Brew).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct ScaleOptions {
    /// Whether amounts are rounded to what the plant can weigh.
    pub weigh_out: WeighOut,
    /// How bitterness is predicted on both plants; without it as the target plant says, else the source plant, else by
    /// Tinseth.
    pub bitterness: Option<BitternessModel>,
    /// Whether a plan or prediction says how far its figures may be off, which it does by default. That takes longer than the rest of a
    /// plan: a slider does without.
    pub spread: bool,
}

impl Default for ScaleOptions {
    fn default() -> Self {
        Self {
            weigh_out: WeighOut::default(),
            bitterness: None,
            spread: true,
        }
    }
}

/// Whether amounts are rounded to what the plant can weigh.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum WeighOut {
    /// Rounded to the plant's weighing steps, and predicted again.
    #[default]
    Rounded,
    /// As computed.
    Exact,
}

impl ScaleOptions {
    /// The same settings with a bitterness model.
    #[must_use]
    pub const fn with_bitterness(mut self, model: BitternessModel) -> Self {
        self.bitterness = Some(model);
        self
    }

    /// The same settings without the spread of the figures.
    #[must_use]
    pub const fn without_spread(mut self) -> Self {
        self.spread = false;
        self
    }

    /// The same settings with or without rounding.
    #[must_use]
    pub const fn with_weigh_out(mut self, weigh_out: WeighOut) -> Self {
        self.weigh_out = weigh_out;
        self
    }
}
