//! What a set of amounts gives in a plant, stage by stage: predictions, with all that they rest on.
//!
//! ```
//! use wortwright::{Job, speech::{Speaks, Style}};
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let found = Job::read([("beer", beer)])?.as_written()?; // on the plant that the recipe was printed for
//! println!("{:?} into the fermenter, {:?}", found.volumes.into_fermenter, found.predicted.original);
//! for assumed in &found.assumptions {
//!     println!("{}", assumed.text(Style::default()));
//! }
//! assert_eq!(found.published.bitterness.map(|bitterness| bitterness.ibu()), Some(21.0)); // as printed
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | a recipe on its own plant; on another | [`Job::as_written`](crate::job::Job::as_written), [`Brew::predict`](crate::job::Brew::predict) |
//! | figures of wort and beer, volumes on the way | [`Prediction`], [`Figures`], [`Volumes`] |
//! | what was assumed, and from what | [`Assumption`], [`Defaulted`], [`Figure`], [`FermentabilityBasis`], [`NoMashPh`], [`SumOfShares`] |
//! | what deserves a look | [`Warning`] |
//! | how far a figure may be off, from what, and what would narrow it | [`Spread`], [`FigureSpread`], [`PredictedFigure`], [`Cause`], [`CauseKind`], [`BestMeasurement`], [`Measurement`] |
//! | which plant, how large, which stage | [`Side`], [`PlantSize`], [`Stage`] |
//!
//! Mass is conserved: every stage is kilograms of water, extract and ethanol, and every volume or gravity is a reading of
//! that state through a density model. No amounts are sought here: `inverse` does that, by running this model, as does
//! everything else that judges or searches.

mod assumption;
mod brew;
mod cap;
mod cellar;
mod colour;
mod container;
mod cooled_on;
mod fermentability;
mod fermentation;
mod figures;
mod formula;
mod gas;
mod headroom;
mod heater;
mod hops;
mod hot_side;
mod kept;
mod kept_notes;
mod mash_ph;
mod material;
mod plant;
mod plant_defaults;
mod prediction;
mod preservatives;
mod setup;
mod side;
mod souring;
mod souring_limits;
mod spread;
mod steep;
mod unused;
mod warning;
mod wort;
mod worts;
mod yeast_limits;
mod yeast_temperature;
mod yeast_use;

pub use assumption::{
    Assumption, FermentabilityBasis, Figure, MashInUnused, NoMashPh, SumOfShares, Unused,
};
pub use container::Container;
pub use figures::{Figures, Volumes};
pub use formula::Stage;
pub use gas::GasPlan;
pub use plant_defaults::Defaulted;
pub use prediction::Prediction;
pub use side::{PlantSize, Side};
pub use spread::{
    BestMeasurement, Cause, CauseKind, FigureSpread, Measurement, PredictedFigure, Spread,
};
pub use warning::{PhCorrection, Warning};

pub(crate) use brew::{
    Amounts, Brewed, Worked, converts_starch, grist, into_kettle, kettle_drinks, kettle_sugars,
};
pub(crate) use cap::cap_l;
pub(crate) use cellar::{Fermenting, HEADSPACE};
pub(crate) use colour::{grain_ebc, grain_units, run_off_units, units_for};
pub(crate) use cooled_on::{CooledOn, cooled_on};
pub(crate) use fermentability::{
    MashFactor, cool_last_rest, fermentable_of_mash, fit_sigma, fully_fermenting_fit,
    later_of_mash_kg, mash_rise, mean_fermentability, wort_fermentable_kg,
};
pub(crate) use fermentation::InFermenter;
pub(crate) use formula::{
    Formula, HotStepOf, Item, ItemIndex, PITCH, PerItem, Rule, Slot, TOP_UP, fermentables, whole,
};
pub(crate) use gas::{
    DEXTROSE_PER_GLUCOSE, GasNotes, Measured, ToPackage, gas_plan, left, regulator, thin_air,
};
pub(crate) use headroom::{Filled, Headroom};
pub(crate) use heater::{mash_kj_per_k, rise_c_per_min};
pub(crate) use hops::GravityProfile;
pub(crate) use hot_side::{CoolingHistory, Walked, cooling_min, note_defaults, to_stand_min};
pub(crate) use kept::KeptInKettle;
pub(crate) use kept_notes::kept_notes;
pub(crate) use mash_ph::{
    KnownWater, MIDDLE_MASH_PH, Stirred, USUAL_MASH_PH, WATER_PH, acid_product, alkali_of, grain,
    liquor, note_classes, of_brew, predicted, salt_ions, stated_agents, stated_ions, stirred_water,
};
pub(crate) use material::{Fermentable, Material, Sugars, check_kind, colour_yield, settle};
pub(crate) use plant::{
    BatchSize, Boiloff, Holdback, KnownYield, Lautering, Loss, Plant, PrintedWater, boiling_c,
    drains_a_bag,
};
pub(crate) use prediction::{
    ColourGap, carbonation_is_as_stated, colour_gaps, remarks, what_is_as_stated,
};
pub(crate) use preservatives::preserved_juice;
pub(crate) use setup::Setup;
#[allow(
    unused_imports,
    reason = "what is learnt of a plant rests on them next"
)]
pub(crate) use spread::{DayEffect, PlantFigure};
pub(crate) use spread::{Known, LotSigma, Uncertain};
pub(crate) use steep::{STEEPED, is_steep, steep_without_mash};
pub(crate) use unused::{MashWaterKnown, unused};
pub(crate) use wort::{
    DRIED_MALT_EXTRACT, Grist, KettleSugar, Lautered, Liquor, all_of, boil, lauter,
    mash_volume_hot_l,
};
pub(crate) use worts::{Bent, Worts};
pub(crate) use yeast_limits::{STRONG_PITCH, wants_more_yeast};
pub(crate) use yeast_temperature::unusual_temperatures;
pub(crate) use yeast_use::YeastUse;
