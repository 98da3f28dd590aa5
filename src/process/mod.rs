//! The forward model: what a set of amounts gives in a plant, stage by stage.
//!
//! Mass is conserved: every stage is kilograms of water, extract and ethanol, and every volume or gravity is a reading
//! of that state through a density model. No amounts are sought here: `inverse` does that, by running this model, as does
//! everything else that judges or searches.

mod assumption;
mod brew;
mod cellar;
mod container;
mod fermentation;
mod figures;
mod formula;
mod gas;
mod hops;
mod hot_side;
mod mash_ph;
mod material;
mod plant;
mod plant_defaults;
mod prediction;
mod preservatives;
mod setup;
mod side;
mod warning;
mod wort;
mod yeast_temperature;

pub use assumption::{Assumption, FermentabilityBasis, Figure, MashInUnused, SumOfShares};
pub use container::Container;
pub use figures::{Figures, Volumes};
pub use formula::Stage;
pub use gas::GasPlan;
pub use mash_ph::NoMashPh;
pub use plant_defaults::Defaulted;
pub use prediction::Prediction;
pub use side::{PlantSize, Side};
pub use warning::Warning;

pub(crate) use brew::{
    Amounts, Brewed, fermentables, grist, kettle_sugars, mash_yield, mean_fermentability,
    wort_fermentable_kg,
};
pub(crate) use cellar::Fermenting;
pub(crate) use fermentation::{ferment, ferment_by_rule};
pub(crate) use figures::boiling_c;
pub(crate) use formula::{Formula, Item, ItemIndex, PITCH, PerItem, Rule, Slot, whole};
pub(crate) use gas::{GasNotes, Measured, ToPackage, gas_plan};
pub(crate) use hops::GravityProfile;
pub(crate) use hot_side::{CoolingHistory, note_defaults};
pub(crate) use mash_ph::{
    KnownWater, Stirred, WATER_PH, acid_product, alkali_of, grain, liquor, note_classes, of_brew,
    predicted, salt_ions, stated_agents, stated_ions, stirred_water,
};
pub(crate) use material::{Fermentable, Material, settle};
#[cfg(test)]
pub(crate) use plant::Boiloff;
pub(crate) use plant::{
    BatchSize, Holdback, KnownYield, Lautering, Plant, PrintedWater, drains_a_bag,
};
pub(crate) use prediction::{carbonation_is_as_stated, colour_gap, remarks, what_is_as_stated};
pub(crate) use preservatives::preserved_juice;
pub(crate) use setup::{Setup, SourceMash, Worked};
pub(crate) use wort::{
    DRIED_MALT_EXTRACT, Grist, KettleSugar, Lautered, Liquor, all_of, boil, lauter,
    mash_volume_hot_l,
};
pub(crate) use yeast_temperature::unusual_temperatures;
