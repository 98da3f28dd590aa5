//! Ingredients.

use serde::{Deserialize, Serialize};

/// What an ingredient is to the brewer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Malted grain, mashed.
    Malt,
    /// Unmalted or roasted grain, and lautering aids.
    Grain,
    /// Sugar, syrup, honey, malt extract or colouring: dissolves as it is.
    Sugar,
    /// Fruit juice, puree or concentrate.
    Juice,
    /// Hops in any form.
    Hop,
    /// Herbs, spices, flowers, woods.
    Botanical,
    /// Yeast and other cultures.
    Yeast,
    /// Brewing salts.
    Salt,
    /// Acids.
    Acid,
    /// Process aids: finings, nutrients, enzymes.
    Aid,
    /// Anything else, carried along per litre.
    Other,
}
