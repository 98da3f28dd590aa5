//! What the distance between an ingredient and its substitute is made of.

use serde::Serialize;

/// What a part of the distance speaks of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Aspect {
    /// Flavour.
    Flavour,
    /// Fermentable extract.
    Fermentable,
    /// Diastatic power of the grist.
    DiastaticPower,
    /// Protein.
    Protein,
    /// Gum and body.
    Gum,
    /// Acidity of the mash.
    MashAcidity,
    /// Aroma of a juice or hop.
    Aroma,
    /// Acid of a juice.
    Acid,
    /// Fermentable sugar of a juice.
    Sugar,
    /// What yeast leaves of a juice.
    Unfermented,
    /// Volume.
    Volume,
    /// Hue.
    Hue,
    /// Tannin and pectin.
    TanninAndPectin,
    /// Oil of a hop.
    Oil,
    /// Cohumulone.
    Cohumulone,
    /// How far a yeast ferments.
    Attenuation,
    /// How warm a yeast ferments.
    FermentationTemperature,
    /// How readily a yeast settles.
    Settling,
    /// Fixed: parts beyond the first.
    ExtraParts,
    /// Colour beyond half of what is told apart.
    Colour,
    /// Fixed: another kind of ingredient.
    ChangeOfKind,
    /// Fixed: another job.
    ChangeOfFunction,
    /// Fixed: hard to use in a small mash.
    Practicality,
    /// Fixed: not at hand.
    ToBuy,
    /// Fixed: hard to buy.
    Uncommon,
    /// Fixed: an allergen that the recipe has not.
    NewAllergen,
    /// Fixed: figures that nobody states.
    Unknown,
    /// Fixed: base malt changed.
    Slack,
    /// Fixed: sugar or water added.
    ToppingUp,
}

/// A part of the distance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct DistancePart {
    /// What it speaks of.
    pub what: Aspect,
    /// Its size; all parts add up to the distance.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub value: f64,
}

impl Aspect {
    /// The aspect in words.
    pub const fn text(self) -> &'static str {
        match self {
            Self::Flavour => "flavour",
            Self::Fermentable => "fermentable extract",
            Self::DiastaticPower => "diastatic power",
            Self::Protein => "protein",
            Self::Gum => "gum",
            Self::MashAcidity => "mash acidity",
            Self::Aroma => "aroma",
            Self::Acid => "acid",
            Self::Sugar => "sugar",
            Self::Unfermented => "unfermented solids",
            Self::Volume => "volume",
            Self::Hue => "hue",
            Self::TanninAndPectin => "tannin and pectin",
            Self::Oil => "oil",
            Self::Cohumulone => "cohumulone",
            Self::Attenuation => "attenuation",
            Self::FermentationTemperature => "fermentation temperature",
            Self::Settling => "settling",
            Self::ExtraParts => "extra parts",
            Self::Colour => "colour",
            Self::ChangeOfKind => "change of kind",
            Self::ChangeOfFunction => "another function",
            Self::Practicality => "hard to mash",
            Self::ToBuy => "to buy",
            Self::Uncommon => "hard to buy",
            Self::NewAllergen => "new allergen",
            Self::Unknown => "unknown figures",
            Self::Slack => "base malt changed",
            Self::ToppingUp => "topping up",
        }
    }
}
