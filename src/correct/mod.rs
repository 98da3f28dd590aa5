//! On the day: readings in, what to do now and what the beer has become.
//!
//! [`ledger()`] follows a log from pitching to its last line and gives the true alcohol, whatever was drawn or added on the
//! way. [`Plan::advise`](crate::scale::Plan::advise) takes a reading of the brewing day and says what each way on from there would give, by running the forward
//! model again from what was measured.

mod advice;
mod alcohol;
mod day;
mod events;
mod fault;
mod juice;
mod late;
mod ledger;
mod mash;
mod package;
mod reading;
mod remark;
mod run;
mod shortcut;
mod stopped;
mod uncertainty;
mod way;

pub use advice::Advice;
pub use alcohol::Alcohol;
pub use fault::{Fault, LogFault};
pub use ledger::{Basis, Ledger, LedgerOptions, Step, StepKind, ledger, ledger_with};
pub use reading::{DayReading, Shown};
pub use remark::Remark;
pub use shortcut::{Rule, Shortcut};
pub use way::{Dose, Way, WayOn};
