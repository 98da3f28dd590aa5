//! Why a recipe's mash water per kilogram is not used.

use serde::Serialize;

/// Why a recipe's mash water per kilogram is not used on a plant.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum MashInUnused {
    /// A bag takes all the water but that of its sparge.
    Bag,
    /// The plant does not sparge: all the water goes into the mash.
    NoSparge,
    /// The plant does not mash.
    NoMash,
    /// The plant states its own.
    PlantStatesOwn,
}
