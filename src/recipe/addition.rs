//! One addition: what, how much, and when.

use super::Ingredient;
use crate::quantity::{
    Bitterness, Concentration, Extract, Mass, Share, Temperature, Time, Volume, VolumeShare,
    Written, in_kilograms, in_litres,
};
use serde::{Deserialize, Serialize};

/// What goes in at one place and time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Addition {
    /// One ingredient, or a blend of several.
    pub content: Content,
    /// How much; absent when the headline figures decide it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<Amount>,
    /// When.
    #[serde(default)]
    pub timing: Timing,
}

/// One ingredient, or a blend of several.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[allow(
    clippy::large_enum_variant,
    reason = "a text holds tens of these, never millions"
)]
pub enum Content {
    /// One ingredient.
    Single(Ingredient),
    /// Parts of a blend; a share among them is of the blend, in the blend's own basis.
    Blend(Vec<Addition>),
}

/// How much of something.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Amount {
    /// A mass.
    #[serde(rename = "mass_kg")]
    Mass(Written<Mass>),
    /// A volume.
    #[serde(rename = "volume_l")]
    Volume(Written<Volume>),
    /// Mass per litre of the liquid it goes into.
    #[serde(rename = "concentration_g_l")]
    Concentration(Written<Concentration>),
    /// Volume per litre of the liquid it goes into.
    #[serde(rename = "dose_fraction")]
    Dose(Written<VolumeShare>),
    /// A share of all fermentables, or of the blend it stands in.
    #[serde(rename = "share_fraction")]
    Share(Written<Share>),
    /// A share of the liquid's volume after the addition.
    #[serde(rename = "share_by_volume_fraction")]
    ShareByVolume(Written<VolumeShare>),
    /// Bitterness it gives to the wort at the end of the boil.
    #[serde(rename = "bitterness_ibu")]
    Bitterness(Written<Bitterness>),
    /// So many packs of one size.
    Packs {
        /// How many.
        count: u32,
        /// The size of each.
        each: PackSize,
    },
    /// So many packs of unknown size.
    PackCount(#[serde(serialize_with = "crate::quantity::json::rounded")] f64),
}

/// The size of a pack or bottle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum PackSize {
    /// By mass.
    #[serde(rename = "mass_kg")]
    Mass(Written<Mass>),
    /// By volume.
    #[serde(rename = "volume_l")]
    Volume(Written<Volume>),
}

/// When an addition enters, and how long it stays.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub struct Timing {
    /// When it enters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at: Option<At>,
    /// How long it stays.
    #[serde(rename = "for_min", skip_serializing_if = "Option::is_none")]
    pub contact: Option<Written<Time>>,
}

/// When an addition enters.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum At {
    /// With so much boiling time left.
    #[serde(rename = "time_left_min")]
    TimeLeft(Written<Time>),
    /// With the first wort in the kettle.
    FirstWort,
    /// When the liquid has this temperature.
    #[serde(rename = "temperature_c")]
    Temperature(Written<Temperature>),
    /// When the apparent extract has fallen to this.
    #[serde(rename = "when_plato")]
    Gravity(Written<Extract>),
    /// So long after pitching.
    #[serde(rename = "after_pitching_min")]
    AfterPitching(Written<Time>),
}

impl Amount {
    /// Kilograms and litres of what is there to be weighed or measured, packs counted; neither of a share, a dose or
    /// packs of unknown size.
    pub(crate) fn kilograms_and_litres(&self) -> (f64, f64) {
        match self {
            Self::Mass(mass) => (in_kilograms(mass.value()), 0.0),
            Self::Volume(volume) => (0.0, in_litres(volume.value())),
            Self::Packs { count, each } => {
                let count = f64::from(*count);
                match each {
                    PackSize::Mass(mass) => (count * in_kilograms(mass.value()), 0.0),
                    PackSize::Volume(volume) => (0.0, count * in_litres(volume.value())),
                }
            }
            _ => (0.0, 0.0),
        }
    }
}

impl Addition {
    /// One ingredient, with neither amount nor timing yet.
    pub fn of(ingredient: Ingredient) -> Self {
        Self {
            content: Content::Single(ingredient),
            amount: None,
            timing: Timing::default(),
        }
    }

    /// The ingredient, unless this is a blend.
    pub fn ingredient(&self) -> Option<&Ingredient> {
        match &self.content {
            Content::Single(ingredient) => Some(ingredient),
            Content::Blend(_) => None,
        }
    }

    /// The parts of a blend; none for a single ingredient.
    pub fn parts(&self) -> &[Self] {
        match &self.content {
            Content::Single(_) => &[],
            Content::Blend(parts) => parts,
        }
    }
}
