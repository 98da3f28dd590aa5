//! How strong a beer is, from the log of its fermentation, whatever was drawn or added on the way.
//!
//! ```
//! use wortwright::Job;
//!
//! let text = "log\n  pitched 8.3 L at 15.7 P on day 0\n  reading 1.033 at 22 C on day 3\n  \
//!             added 980 mL sour cherry juice, 13 Bx on day 3\n  reading 1.011 at 20 C on day 16\n";
//! let job = Job::read([("log", text)])?;
//! for ledger in job.ledgers() {
//!     let beer = ledger?.alcohol;
//!     println!("{} ± {}", beer.by_volume, beer.uncertainty);
//!     assert!((beer.by_volume.percent() - 6.8).abs() < 0.1);
//! }
//! # Ok::<(), wortwright::Error>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the logs of texts | [`Job::ledgers`](crate::job::Job::ledgers) |
//! | a log built in code, without a recipe | [`ledger()`], [`ledger_with`], [`LedgerOptions`] |
//! | alcohol, attenuation, energy at the end; measured or predicted | [`Ledger`], [`Alcohol`], [`Basis`] |
//! | line by line: what was shown, what was in the vessel | [`Step`], [`StepKind`] |
//! | what the handbooks' short ways would have said | [`Shortcut`], [`ShortcutRule`] |
//! | what deserves a look | [`Remark`] |
//! | a log that no fermentation can have given, refused at its line | [`LogFault`], [`Fault`] |
//!
//! Its lines become events (`events`), each played on what is in the vessel (`run`), with the end's uncertainty
//! (`uncertainty`).

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
