//! A figure of an ingredient.

use crate::quantity::Unit;
use serde::Serialize;

/// A figure of an ingredient.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Figure {
    /// Laboratory extract, or the solids of a sugar.
    Extract,
    /// Moisture.
    Moisture,
    /// Colour.
    Colour,
    /// Fermentable share.
    Fermentability,
    /// Diastatic power.
    DiastaticPower,
    /// Alpha acids.
    Alpha,
    /// Soluble solids of a juice.
    Brix,
    /// Alcohol of a drink.
    Alcohol,
    /// Attenuation of a yeast.
    Attenuation,
}

impl Figure {
    /// The field of an ingredient that states it.
    pub(crate) const fn field(self) -> &'static str {
        match self {
            Self::Extract => "facts.extract",
            Self::Moisture => "facts.moisture_pct",
            Self::Colour => "facts.colour_ebc",
            Self::Fermentability => "facts.fermentable_pct",
            Self::DiastaticPower => "facts.diastatic_power_wk",
            Self::Alpha => "facts.alpha_pct",
            Self::Brix => "facts.brix_plato",
            Self::Alcohol => "facts.alcohol_abv_pct",
            Self::Attenuation => "facts.attenuation_pct",
        }
    }

    /// The unit in which it is written.
    pub const fn unit(self) -> Unit {
        match self {
            Self::Colour => Unit::Ebc,
            Self::DiastaticPower => Unit::WindischKolbach,
            Self::Brix => Unit::Brix,
            Self::Extract
            | Self::Moisture
            | Self::Fermentability
            | Self::Alpha
            | Self::Alcohol
            | Self::Attenuation => Unit::Percent,
        }
    }
}
