//! A plan: the beer of a printed recipe on another plant, with the reasons for every change.
//!
//! ```
//! use wortwright::{Job, speech::Speaks};
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
//! for addition in &plan.additions {
//!     println!("{:?} {}: {:?} {:?}", addition.stage, addition.name, addition.mass, addition.volume);
//! }
//! for change in &plan.changes {
//!     println!("{}", change.text(plan.brewhouse.style()));
//! }
//! assert!(plan.outcomes.iter().all(|outcome| outcome.code() == "cannot_be_bought")); // all targets are met
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | asking for one, with settings | [`Brew::plan`](crate::job::Brew::plan), [`ScaleOptions`], [`WeighOut`] |
//! | what to weigh and when; what to buy | [`Plan`], [`PlannedAddition`], [`Purchase`], [`OpenedPacks`], [`Supply`] |
//! | water, salts and the mash step by step | [`WaterPlan`], [`LiquorAddition`], [`WantedIon`], [`IonBrought`] |
//! | gas of keg or bottles; the colour in a glass | [`GasPlan`](crate::process::GasPlan), [`InTheGlass`] |
//! | why it differs from the printed sheet | [`Change`], [`Drift`] |
//! | what the plant cannot do, with remedies | [`Outcome`], [`Stop`], [`Remedy`](crate::remedy::Remedy) |
//! | a plan stored, and taken up again | [`Plan::keep`], [`Kept`] |
//! | the day: advice, cautions, the sheet | [`Plan::advise`], [`Plan::cautions`], [`Plan::sheet`] |
//!
//! The amounts are found by root-finding on the forward model of [`process`](crate::process), rounded to what the plant can
//! weigh, and predicted again. Strength, colour and bitterness of the beer are kept: grain keeps its ratios, kettle sugars
//! their share of the extract, late hops and botanicals their mass per litre of cold wort, later additions their share of
//! the liquid in the vessel, and the first bittering hop closes the gap in bitterness. A target that cannot be met is an
//! [`Outcome`] with the reachable figure and remedies, never a silent change; the plan then holds the nearest that the plant
//! can brew.

mod appearance;
mod change;
mod colour;
mod drift;
mod kept;
mod liquor;
mod options;
mod order;
mod outcome;
mod packs;
mod plan;
mod report;
mod scaled;
mod solve;
mod spread;
mod state;
mod stocked;
mod water;
mod weigh;

pub use crate::inverse::Stop;
pub use appearance::InTheGlass;
pub use change::{Change, IonBrought};
pub use drift::Drift;
pub use kept::Kept;
pub use liquor::{LiquorAddition, LiquorPart};
pub use options::{ScaleOptions, WeighOut};
pub(crate) use order::{Order, SourceRead, no_batch};
pub use outcome::Outcome;
pub use plan::{OpenedPacks, Plan, PlannedAddition, Purchase, Supply};
pub(crate) use state::Brews;
pub use water::{WantedIon, WaterPlan};
