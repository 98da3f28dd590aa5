//! From a printed recipe and its plant to a plan for another plant.
//!
//! [`Brew::plan`](crate::job::Brew::plan) finds the amounts by root-finding on the forward model of
//! [`process`](crate::process), rounds them to what the plant can weigh, and predicts again. Strength, colour and
//! bitterness of the beer are kept: grain keeps its ratios, kettle sugars their share of the extract, late hops and
//! botanicals their mass per litre of cold wort, later additions their share of the liquid in the vessel, and the first
//! bittering hop closes the gap in bitterness. A target that cannot be met is an [`Outcome`] with the reachable figure and
//! remedies, never a silent change; the plan then holds the nearest that the plant can brew.

mod appearance;
mod change;
mod colour;
mod liquor;
mod options;
mod order;
mod outcome;
mod packs;
mod plan;
mod report;
mod scaled;
mod solve;
mod state;
mod stocked;
mod water;
mod weigh;

pub use crate::inverse::Stop;
pub use appearance::InTheGlass;
pub use change::{Change, IonBrought};
pub use liquor::{LiquorAddition, LiquorPart};
pub use options::{ScaleOptions, WeighOut};
pub(crate) use order::{Order, SourceRead, no_batch};
pub use outcome::Outcome;
pub use plan::{Drift, OpenedPacks, Plan, PlannedAddition, Purchase, Supply};
pub(crate) use state::Brews;
pub use water::{WantedIon, WaterPlan};
