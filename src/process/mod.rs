//! The forward model: what a set of amounts gives in a plant, stage by stage.
//!
//! Mass is conserved: every stage is kilograms of water, extract and ethanol, and every volume or gravity is a reading
//! of that state through a density model. `predict` reads a recipe on the plant it was brewed on; `scale` and
//! everything else that judges or searches runs the same model.

mod assumption;
mod brew;
mod cellar;
mod conservation;
mod defaulted;
mod fermentation;
mod figures;
mod formula;
mod hops;
mod hot_side;
mod mash_ph;
mod material;
mod plant;
mod predict;
mod preserved;
mod setup;
mod source;
mod warning;
mod wort;

pub use assumption::{Assumption, FermentabilityBasis, Figure, SumOfShares};
pub use defaulted::Defaulted;
pub use figures::{Figures, Volumes};
pub use formula::Stage;
pub use mash_ph::NoMashPh;
pub use plant::{PlantSize, Side};
pub use predict::Prediction;
pub use source::Stop;
pub use warning::Warning;

pub(crate) use brew::{Amounts, Brewed, grist, kettle_sugars};
pub(crate) use cellar::Fermenting;
pub(crate) use fermentation::ferment;
pub(crate) use figures::boiling_c;
pub(crate) use formula::{Formula, Item, ItemIndex, PITCH, PerItem, Place, Rule};
pub(crate) use hops::GravityProfile;
pub(crate) use hot_side::{History, note_defaults};
pub(crate) use mash_ph::{
    Liquor, Stirred, WATER_PH, acid_product, alkali_of, grain, liquor, note_classes, predicted,
    salt_ions, stated_agents, stated_ions, stirred_water,
};
pub(crate) use material::{Fermentable, Material, settle};
pub(crate) use plant::{Holdback, Lautering, Plant, drains_a_bag};
pub(crate) use predict::predict;
pub(crate) use predict::{
    carbonation_is_as_stated, colour_gap, remarks, source_mash_ph, what_is_as_stated,
};
pub(crate) use preserved::preserved_juice;
pub(crate) use setup::{Setup, Worked};
pub(crate) use source::{
    Aim, Design, Notes, Printed, Reach, SourceBrew, SugarShare, before_boil_hot_l, can_reach,
    check_yield, dilution, reach, wort_for_packaged,
};
pub(crate) use wort::{DRIED_MALT_EXTRACT, Lautered};
