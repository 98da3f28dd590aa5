//! On the day: readings in, what to do now and what the beer has become.
//!
//! [`ledger()`] follows a log from pitching to its last line and gives the true alcohol, whatever was drawn or added on the
//! way.

mod alcohol;
mod events;
mod fault;
mod ledger;
mod run;
mod shortcut;
mod uncertainty;
mod vessel;

pub use alcohol::Alcohol;
pub use fault::{Fault, LogFault};
pub use ledger::{Basis, Ledger, LedgerOptions, Remark, Step, StepKind, ledger, ledger_with};
pub use shortcut::{Rule, Shortcut};
