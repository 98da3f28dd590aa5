//! What is stated and has no figure to change.

use serde::Serialize;

/// Something that is stated and has no figure to change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Unused {
    /// The protein of a malt or grain: no figure depends on it.
    Protein,
    /// The amount of a yeast: the cells to pitch follow from the pitching rate.
    YeastAmount,
    /// A salt or an acid after the mash: no pH is calculated there.
    AfterMash,
    /// A salt or an acid in a mash of which neither ions nor pH are calculated.
    InMash,
    /// The wanted pH of a mash whose pH is not calculated.
    MashPh,
}
