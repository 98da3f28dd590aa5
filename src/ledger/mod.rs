//! The fermentation's balance: a log, line by line, and the true alcohol at its end.
//!
//! [`ledger()`] follows a log from pitching to its last line, whatever was drawn or added on the way: its lines as events
//! (`events`), each played on what is in the vessel (`run`), the end with its uncertainty, and what the handbooks' short ways
//! would have said. A log that no fermentation can have given is refused at its line (`fault`).

mod alcohol;
mod balance;
mod events;
mod fault;
mod remark;
mod run;
mod shortcut;
mod uncertainty;

pub use alcohol::Alcohol;
pub use balance::{Basis, Ledger, LedgerOptions, Step, StepKind, ledger, ledger_with};
pub use fault::{Fault, LogFault};
pub use remark::Remark;
pub use shortcut::{Shortcut, ShortcutRule};
