//! The forward model: what a set of amounts gives in a plant, stage by stage.
//!
//! Mass is conserved: every stage is kilograms of water, extract and ethanol, and every volume or gravity is a reading
//! of that state through a density model. [`predict`] reads a recipe on the plant it was brewed on; `scale` and
//! everything else that judges or searches runs the same model.

mod aim;
mod assumption;
mod brew;
mod cellar;
mod figures;
mod formula;
mod material;
mod plant;
mod predict;
mod source;
mod warning;
mod wort;

pub use assumption::{Assumption, Defaulted, FermentabilityBasis, Figure, SumOfShares};
pub use figures::{Figures, Volumes};
pub use formula::Stage;
pub use plant::Side;
pub use predict::{Prediction, predict};
pub use warning::Warning;

pub(crate) use aim::{Aim, Limit, Reach, THICKEST_L_PER_KG, mash_vessel_l, reach};
pub(crate) use brew::{
    Amounts, Brewed, Dosing, GravityProfile, Nature, brew, brew_with, fermentables, grist,
    kettle_sugars, utilisation,
};
pub(crate) use cellar::Fall;
pub(crate) use figures::boiling_c;
pub(crate) use formula::{Formula, Item, Rule};
pub(crate) use material::{Fermentable, Material, settle};
pub(crate) use plant::{Lautering, Plant};
pub(crate) use source::{Notes, SourceBrew, design, dilution, liquor_to_fill, read as read_source};
