//! What is in the cupboard.

use super::{Amount, Ingredient};
use serde::{Deserialize, Serialize};

/// The lots a brewer has, may buy, or cannot get. What is not listed can be bought.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub struct Stock {
    /// The lots, in the order of the text.
    pub lots: Vec<Lot>,
}

/// One line of a stock. A lot's figures replace the recipe's on the brewer's own plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[allow(
    clippy::large_enum_variant,
    reason = "a text holds tens of these, never millions"
)]
pub enum Lot {
    /// This much is there.
    Held(Ingredient, Amount),
    /// As much as is wanted can be had.
    Any(Ingredient),
    /// It cannot be had.
    Missing(Ingredient),
}

impl Lot {
    /// What the lot is of.
    pub const fn ingredient(&self) -> &Ingredient {
        match self {
            Self::Held(ingredient, _) | Self::Any(ingredient) | Self::Missing(ingredient) => {
                ingredient
            }
        }
    }
}
