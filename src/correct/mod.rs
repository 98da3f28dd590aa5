//! On the day: readings in, what to do now and what the beer has become.
//!
//! [`ledger()`] follows a log from pitching to its last line and gives the true alcohol, whatever was drawn or added on the
//! way. [`advise`] takes a reading of the brewing day and says what each way on from there would give, by running the forward
//! model again from what was measured.

mod advice;
mod alcohol;
mod day;
mod events;
mod fault;
mod late;
mod ledger;
mod mash;
mod package;
mod run;
mod shortcut;
mod uncertainty;
mod vessel;
mod way;

pub use advice::{Advice, DayReading, advise};
pub use alcohol::Alcohol;
pub use fault::{Fault, LogFault};
pub use ledger::{Basis, Ledger, LedgerOptions, Remark, Step, StepKind, ledger, ledger_with};
pub use shortcut::{Rule, Shortcut};
pub use way::{Dose, Way, WayOn};
