//! What the beer has become.

use crate::quantity::{
    AlcoholByMass, AlcoholByVolume, Attenuation, Extract, Fermentability, SpecificGravity,
};
use crate::science::attenuation::{apparent_attenuation, fermented_share, real_attenuation};
use crate::science::density::gravity_of;
use crate::science::liquid::Liquid;
use serde::Serialize;

/// Kilocalories in a gram of ethanol (Regulation (EU) No 1169/2011, annex XIV; from memory).
const KCAL_PER_G_ETHANOL: f64 = 7.0;
/// Kilocalories in a gram of extract, taken for carbohydrate and protein, which count the same (same source).
const KCAL_PER_G_EXTRACT: f64 = 4.0;

/// The beer at the end of a log.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Alcohol {
    /// Ethanol by volume.
    #[serde(rename = "abv_pct", with = "crate::quantity::json::percent")]
    pub by_volume: AlcoholByVolume,
    /// One sigma of it, in per cent by volume: root of the sum of squares of what each reading, each amount and the relation of alcohol to
    /// extracts can be off by.
    #[serde(
        rename = "abv_uncertainty_pct",
        with = "crate::quantity::json::percent"
    )]
    pub uncertainty: AlcoholByVolume,
    /// Ethanol by mass.
    #[serde(rename = "abw_pct", with = "crate::quantity::json::percent")]
    pub by_mass: AlcoholByMass,
    /// Extract left, by mass.
    #[serde(rename = "real_extract_plato")]
    pub real_extract: Extract,
    /// What a hydrometer shows.
    #[serde(rename = "final_plato")]
    pub apparent_extract: Extract,
    /// The same as specific gravity.
    #[serde(rename = "final_sg")]
    pub gravity: SpecificGravity,
    /// Extract of the wort that all of it together would have been.
    #[serde(rename = "equivalent_original_plato")]
    pub equivalent_original: Extract,
    /// Fall of the apparent extract over the equivalent original extract.
    #[serde(
        rename = "apparent_attenuation_pct",
        with = "crate::quantity::json::percent"
    )]
    pub apparent_attenuation: Attenuation,
    /// Fall to the real extract over the equivalent original extract.
    #[serde(
        rename = "real_attenuation_pct",
        with = "crate::quantity::json::percent"
    )]
    pub real_attenuation: Attenuation,
    /// Mass of extract consumed over the mass of all that went in.
    #[serde(
        rename = "fermented_share_pct",
        with = "crate::quantity::json::percent"
    )]
    pub fermented_share: Fermentability,
    /// Food energy: 7 kcal for a gram of ethanol and 4 for a gram of real extract (food-labelling law of the European Union).
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub energy_kcal_per_100_ml: f64,
}

/// Ethanol by volume, per cent.
pub(super) fn abv_pct(beer: Liquid) -> f64 {
    100.0 * beer.alcohol_fraction()
}

pub(super) fn alcohol(beer: Liquid, uncertainty_pct: f64) -> Alcohol {
    let (original, real, apparent) = (
        beer.original_extract(),
        beer.real_extract(),
        beer.apparent_extract(),
    );
    // Grams in 100 mL: density in kg/m³ is g/L.
    let per_100_ml = 0.1 * beer.density_20() / beer.mass_kg();
    Alcohol {
        by_volume: beer.alcohol_by_volume(),
        uncertainty: AlcoholByVolume::clamped(uncertainty_pct / 100.0),
        by_mass: beer.alcohol_by_mass(),
        real_extract: real,
        apparent_extract: apparent,
        gravity: gravity_of(apparent),
        equivalent_original: original,
        apparent_attenuation: apparent_attenuation(original, apparent),
        real_attenuation: real_attenuation(original, real),
        fermented_share: fermented_share(original, real),
        energy_kcal_per_100_ml: per_100_ml
            * (KCAL_PER_G_ETHANOL * beer.ethanol_kg + KCAL_PER_G_EXTRACT * beer.extract_kg),
    }
}
