//! Wortwright turns a beer recipe printed for a commercial plant into one that a small brewer can brew.
//!
//! It reads a plain-text notation, predicts by mass balance what a set of amounts gives in a plant, finds the amounts
//! for another plant that keep the strength, colour and bitterness of the beer, and works out the alcohol when
//! fermentables enter half-way. Each result carries its reasons, its assumptions and what could not be reached.
//!
//! ```
//! use wortwright::{Error, Job};
//! # fn main() -> Result<(), Error> {
//! let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P, bitterness 25 IBU\n\
//!             mash\n  100 % pale ale malt\nboil 60 min\n  northern brewer at 60 min\n\
//!             brewhouse Kitchen\n  batch 10 L into fermenter\n  evaporation 2 L/h\n";
//! let plan = Job::read([("plain", text)])?.on("Kitchen")?.plan()?;
//! assert!((plan.predicted.original.map_or(0.0, |g| g.plato()) - 12.0).abs() < 1e-9);
//! assert!((plan.predicted.bitterness.map_or(0.0, |b| b.ibu()) - 25.0).abs() < 1e-6);
//! println!("{plan}"); // the sheet to brew from
//! # Ok(())
//! # }
//! ```
//!
//! # Where to look
//!
//! | for | see |
//! |---|---|
//! | the way in: texts or models to plans, substitutes, ledgers | [`job::Job`], [`job::Brew`] |
//! | reading texts, for editors | [`notation::read`], [`notation::Reading`] |
//! | building a recipe or plant in code | [`recipe::Recipe`], [`recipe::Brewhouse`] |
//! | ingredients, a host's own included | [`catalogue::Catalogue`] |
//! | what a recipe gives on its own plant | [`Job::as_written`] |
//! | a plan for another plant | [`job::Brew::plan`], [`scale::Plan`] |
//! | a sheet to brew from | [`scale::Plan::sheet`], [`sheet::SheetOptions`] |
//! | substitutes for what is not available | [`job::Brew::substitutes`] |
//! | how strong a beer is, from its log | [`Job::ledgers`] |
//! | all of this in JSON, for any language | `exchange::answer`, with the feature `exchange`, on by default |
//! | the schema of that JSON | `exchange::schema`, with the feature `schema` |
//! | all of this from C | `c_api`, with the feature `c-api` |
//! | what can hurt someone | [`scale::Plan::cautions`], [`caution::for_recipe`] |
//! | a single relation of the trade | [`science`] |
//! | units and ranges | [`quantity`] |
//!
//! The [cookbook] has a short recipe for each, with figures.
//!
//! It does no input or output, reads no clock, holds no global state, and everything is `Send + Sync`. It does not
//! taste, and it replaces neither a hydrometer nor local codes and licensed practice.
#![cfg_attr(docsrs, feature(doc_cfg))]
#![cfg_attr(not(feature = "c-api"), forbid(unsafe_code))]
#![cfg_attr(feature = "c-api", deny(unsafe_code))]
#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::indexing_slicing,
        clippy::panic,
        clippy::float_cmp
    )
)]

pub mod advice;
#[cfg(feature = "c-api")]
pub mod c_api;
pub mod catalogue;
pub mod caution;
#[cfg(all(doc, feature = "exchange"))]
#[doc = include_str!("cookbook.md")]
pub mod cookbook {}
pub mod diagnostic;
#[cfg(feature = "exchange")]
pub mod exchange;
mod inverse;
pub mod job;
pub mod ledger;
pub mod notation;
mod numeric;
pub mod process;
pub mod quantity;
pub mod recipe;
pub mod remedy;
pub mod scale;
pub mod science;
pub mod sheet;
pub mod speech;
pub mod substitute;

pub use diagnostic::Error;
pub use job::{Brew, Job};
pub use scale::Plan;

/// The README's example is compiled and run with the other examples.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
struct ReadmeDoctests;
