//! Printed figures of a wort and its beer.

use super::{Addition, Recipe};
use crate::catalogue::Kind;
use crate::diagnostic::Error;
use crate::quantity::{
    AlcoholByVolume, BeerColour, Bitterness, CarbonDioxide, Concentration, Extract, Volume,
    Written, litres,
};
use crate::science::liquid::Liquid;
use serde::{Deserialize, Serialize};
use std::str::FromStr;

/// Printed alcohol may differ from what the gravities give by this, % vol: the EU's tolerance for beers up to 5.5 % vol
/// (Directive 87/250/EEC).
pub(crate) const ALCOHOL_WITHIN_PERCENT: f64 = 0.5;

/// A volume of wort or beer, and where it is counted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Batch {
    /// Volume at 20 °C.
    #[serde(rename = "volume_l")]
    pub volume: Written<Volume>,
    /// Where it is counted.
    pub at: BatchPoint,
}

impl Batch {
    /// A volume that is counted at some point.
    #[must_use]
    pub const fn new(volume: Written<Volume>, at: BatchPoint) -> Self {
        Self { volume, at }
    }
}

/// A volume of wort into the fermenter.
impl From<Written<Volume>> for Batch {
    fn from(volume: Written<Volume>) -> Self {
        Self::new(volume, BatchPoint::IntoFermenter)
    }
}

impl FromStr for Batch {
    type Err = Error;

    /// A volume of wort into the fermenter.
    fn from_str(text: &str) -> Result<Self, Error> {
        text.parse::<Written<Volume>>().map(Self::from)
    }
}

/// Where a batch is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum BatchPoint {
    /// Wort into the fermenter, before later additions.
    #[default]
    IntoFermenter,
    /// Wort in the kettle when the boil ends, cold volume.
    EndOfBoil,
    /// Finished beer in its package.
    Packaged,
}

/// The figures a sheet prints. Those named `wort_…` speak of the wort before later additions, the others of the
/// finished beer with everything in it.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Targets {
    /// Original extract of the wort into the fermenter, before later additions.
    #[serde(rename = "original_plato", skip_serializing_if = "Option::is_none")]
    pub original: Option<Written<Extract>>,
    /// Apparent final extract of the beer.
    #[serde(rename = "final_plato", skip_serializing_if = "Option::is_none")]
    pub final_extract: Option<Written<Extract>>,
    /// Alcohol of the beer.
    #[serde(rename = "alcohol_abv_pct", skip_serializing_if = "Option::is_none")]
    pub alcohol: Option<Written<AlcoholByVolume>>,
    /// Bitterness of the beer.
    #[serde(rename = "bitterness_ibu", skip_serializing_if = "Option::is_none")]
    pub bitterness: Option<Written<Bitterness>>,
    /// As printed: it is compared, and the grist is not changed for it.
    #[serde(rename = "colour_ebc", skip_serializing_if = "Option::is_none")]
    pub colour: Option<Written<BeerColour>>,
    /// Carbon dioxide of the beer.
    #[serde(rename = "carbonation_g_l", skip_serializing_if = "Option::is_none")]
    pub carbonation: Option<Written<CarbonDioxide>>,
    /// Apparent final extract the wort would reach without later additions.
    #[serde(rename = "wort_final_plato", skip_serializing_if = "Option::is_none")]
    pub wort_final: Option<Written<Extract>>,
    /// Alcohol the wort would reach without later additions.
    #[serde(
        rename = "wort_alcohol_abv_pct",
        skip_serializing_if = "Option::is_none"
    )]
    pub wort_alcohol: Option<Written<AlcoholByVolume>>,
    /// In the cold wort at the end of the boil.
    #[serde(
        rename = "wort_bitterness_ibu",
        skip_serializing_if = "Option::is_none"
    )]
    pub wort_bitterness: Option<Written<Bitterness>>,
    /// Of the cold wort at the end of the boil, before later additions.
    #[serde(rename = "wort_colour_ebc", skip_serializing_if = "Option::is_none")]
    pub wort_colour: Option<Written<BeerColour>>,
}

/// Wanted ions, or the ions that a water report states. An ion that is not named is free.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct IonTargets {
    /// Calcium.
    #[serde(rename = "calcium_g_l", skip_serializing_if = "Option::is_none")]
    pub calcium: Option<Written<Concentration>>,
    /// Magnesium.
    #[serde(rename = "magnesium_g_l", skip_serializing_if = "Option::is_none")]
    pub magnesium: Option<Written<Concentration>>,
    /// Sodium.
    #[serde(rename = "sodium_g_l", skip_serializing_if = "Option::is_none")]
    pub sodium: Option<Written<Concentration>>,
    /// Potassium.
    #[serde(rename = "potassium_g_l", skip_serializing_if = "Option::is_none")]
    pub potassium: Option<Written<Concentration>>,
    /// Sulphate.
    #[serde(rename = "sulphate_g_l", skip_serializing_if = "Option::is_none")]
    pub sulphate: Option<Written<Concentration>>,
    /// Chloride.
    #[serde(rename = "chloride_g_l", skip_serializing_if = "Option::is_none")]
    pub chloride: Option<Written<Concentration>>,
    /// Bicarbonate.
    #[serde(rename = "bicarbonate_g_l", skip_serializing_if = "Option::is_none")]
    pub bicarbonate: Option<Written<Concentration>>,
    /// Total alkalinity, as calcium carbonate.
    #[serde(
        rename = "alkalinity_as_caco3_g_l",
        skip_serializing_if = "Option::is_none"
    )]
    pub alkalinity: Option<Written<Concentration>>,
}

impl IonTargets {
    /// The named ions with what is stated of each, in the customary order.
    pub fn stated(&self) -> impl Iterator<Item = (&'static str, &Written<Concentration>)> {
        [
            ("calcium", &self.calcium),
            ("magnesium", &self.magnesium),
            ("sodium", &self.sodium),
            ("potassium", &self.potassium),
            ("sulphate", &self.sulphate),
            ("chloride", &self.chloride),
            ("bicarbonate", &self.bicarbonate),
            ("alkalinity", &self.alkalinity),
        ]
        .into_iter()
        .filter_map(|(name, ion)| ion.as_ref().map(|ion| (name, ion)))
    }

    /// Whether no ion is named.
    pub fn is_empty(&self) -> bool {
        self.stated().next().is_none()
    }
}

impl Recipe {
    /// The alcohol that the printed gravities give, where that is not the printed one; not where sugar enters late, since
    /// the gravities then say little.
    pub(crate) fn contradicted_alcohol(&self) -> Option<AlcoholByVolume> {
        let targets = &self.targets;
        let (original, last) = (targets.original?.value(), targets.final_extract?.value());
        let printed = targets.alcohol?.value();
        let is_sweet = |addition: &Addition| {
            let all = addition.ingredient().into_iter();
            let mut all = all.chain(addition.parts().iter().filter_map(Addition::ingredient));
            all.any(|i| matches!(i.kind, Kind::Sugar | Kind::Juice | Kind::Malt | Kind::Grain))
        };
        if self.fermentation.additions.iter().any(is_sweet) {
            return None;
        }
        let wort = Liquid::wort(litres(1.0), original).ok()?;
        let given = wort.fermented_to(last).ok()?.alcohol_by_volume();
        let off = (given.percent() - printed.percent()).abs();
        (off > ALCOHOL_WITHIN_PERCENT).then_some(given)
    }
}
