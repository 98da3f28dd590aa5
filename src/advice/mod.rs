//! What to do on the brewing day when a reading differs from the plan.
//!
//! A plan takes a reading and answers with the actions that are possible, each with the beer that it would give.
//!
//! ```
//! use wortwright::{Job, advice::{DayReading, Shown}, speech::Speaks};
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
//! let reading = DayReading::BeforeBoil { volume: None, shown: Some(Shown::hydrometer("10.1 P".parse()?)) };
//! let advice = plan.advise(&reading)?;
//! for action in &advice.actions {
//!     println!("{}: {:?}", action.text(plan.brewhouse.style()), action.predicted.original);
//! }
//! assert_eq!(advice.actions[0].code(), "go_on");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the question, by a reading or by a line of the log | [`Plan::advise`](crate::scale::Plan::advise), [`Plan::advise_log`](crate::scale::Plan::advise_log) |
//! | what was measured, and when; by which instrument | [`DayReading`], [`Shown`] |
//! | the answer: as planned, the actions, each with its prediction | [`Advice`], [`AdvisedAction`], [`Action`], [`Dose`] |
//!
//! The forward model is run again from what was measured, once for each action. One file for each moment: before the boil and
//! in the fermenter (`day`), the mash (`mash`), later additions (`late`, `juice`), a fermentation that has stopped (`stopped`),
//! packaging (`package`); a line of a log as a reading (`log_line`).

mod action;
mod advise;
mod day;
mod juice;
mod late;
mod log_line;
mod mash;
mod package;
mod reading;
mod room;
mod stopped;

pub use action::{Action, AdvisedAction, Dose};
pub use advise::Advice;
pub(crate) use mash::{MashDose, mash_doses};
pub use reading::{DayReading, Shown};
