//! What to do on the day: a reading in, and what each way on from there would give.
//!
//! [`Plan::advise`](crate::scale::Plan::advise) takes a [`DayReading`] and goes on from the plan's own brew: the forward model is
//! run again from what was measured, once for each [`Action`]. One file for each moment: before the boil and in the fermenter
//! (`day`), the mash (`mash`), later additions (`late`, `juice`), a fermentation that has stopped (`stopped`), packaging
//! (`package`).

mod action;
mod advise;
mod day;
mod juice;
mod late;
mod mash;
mod package;
mod reading;
mod stopped;

pub use action::{Action, AdvisedAction, Dose};
pub use advise::Advice;
pub use reading::{DayReading, Shown};
