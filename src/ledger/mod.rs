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
//! | the logs of texts, or built in code without a recipe | [`Job::ledgers`](crate::job::Job::ledgers), [`Job::with`](crate::job::Job::with) |
//! | a host's settings | [`Job::ledgers_with`](crate::job::Job::ledgers_with), [`LedgerOptions`] |
//! | alcohol, attenuation, energy at the end; measured or predicted | [`Ledger`], [`Alcohol`], [`Basis`] |
//! | line by line: what was shown, what was in the vessel | [`Step`], [`StepKind`] |
//! | what the handbooks' short ways would have said | [`Shortcut`], [`ShortcutRule`] |
//! | what deserves a look | [`Remark`] |
//! | a log that no fermentation can have given, refused at its line | [`CODES`] |
//!
//! Its lines become events (`events`), each played on what is in the vessel (`run`), with the end's uncertainty
//! (`uncertainty`) by that of readings (`noise`).

mod alcohol;
mod balance;
mod events;
mod fault;
mod kettle;
mod noise;
mod remark;
mod run;
mod shortcut;
mod uncertainty;

pub use alcohol::Alcohol;
pub(crate) use balance::ledger_with;
pub use balance::{Basis, Ledger, LedgerOptions, Step, StepKind};
pub(crate) use noise::{VOLUME_READ, beer_noise_plato, wort_noise_plato};
pub use remark::Remark;
pub(crate) use run::at_scale;
pub use shortcut::{Shortcut, ShortcutRule};

/// The codes of an error of the kind `ImpossibleLog`.
pub const CODES: &[&str] = fault::Fault::CODES;
