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
//! let reading = DayReading::InFermenter { volume: Some("8 L".parse()?), shown: Some(Shown::hydrometer("14.8 P".parse()?)) };
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
//! | the answer: as planned, the actions, each with its prediction | [`Advice`], [`AdvisedAction`], [`Action`], [`Dose`], [`ToMeasure`] |
//!
//! The forward model is run again from what was measured, once for each action. Nothing is corrected that a reading cannot tell
//! (`doubt`), and nothing advised that a vessel does not hold (`room`). One file for each moment: the wort around the boil and
//! in the fermenter (`wort`, on the planned brew of `day`), the mash (`mash`), later additions (`late`, `juice`), a fermentation that has stopped (`stopped`),
//! packaging (`package`), beer with something left to ferment at either (`unfinished`); a line of a log as a reading (`log_line`).

mod action;
mod advise;
mod advised;
mod day;
mod doubt;
mod juice;
mod late;
mod log_line;
mod mash;
mod package;
mod reading;
mod room;
mod stopped;
mod to_measure;
mod unfinished;
mod wort;

pub use action::{Action, Dose};
pub use advise::Advice;
pub use advised::AdvisedAction;
pub(crate) use mash::{MashDose, mash_doses};
pub use reading::{DayReading, Shown};
pub use to_measure::ToMeasure;
