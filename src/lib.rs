//! Wortwright turns a beer recipe printed for a commercial plant into one that a small brewer can brew.
//!
//! It reads a plain-text notation, predicts by mass balance what a set of amounts gives in a plant, finds the amounts
//! for another plant that keep the strength, colour and bitterness of the beer, and calculates the alcohol when
//! fermentables are added during fermentation. Each result carries its reasons, its assumptions and what could not be reached.
//!
//! ```
//! use wortwright::Job;
//!
//! let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P, bitterness 25 IBU\n\
//!             mash\n  100 % pale ale malt\nboil 60 min\n  northern brewer at 60 min\n\
//!             brewhouse Kitchen\n  batch 10 L into fermenter\n  evaporation 2 L/h\n";
//! let plan = Job::read([("plain", text)])?.on("Kitchen")?.plan()?;
//! assert!((plan.predicted.original.map_or(0.0, |g| g.plato()) - 12.0).abs() < 1e-9);
//! assert!((plan.predicted.bitterness.map_or(0.0, |b| b.ibu()) - 25.0).abs() < 1e-6);
//! println!("{plan}"); // the sheet to brew from
//! # Ok::<(), wortwright::Error>(())
//! ```
//!
//! Begin with [`Job`], [`Brew`] and [`Plan`]; the [cookbook] has a short recipe for each task, with figures.
//!
//! | for | module | begins with |
//! |---|---|---|
//! | the way in: texts or models to plans, substitutes, ledgers | [`job`] | [`Job`], [`Brew`] |
//! | a plan for another plant, with reasons | [`scale`] | [`Plan`] |
//! | what a recipe gives on its own plant | [`process`] | [`Job::as_written`] |
//! | substitutes for what is not available | [`substitute`] | [`Brew::substitutes`] |
//! | remedies for a target out of reach | [`remedy`] | [`scale::Outcome::remedies`] |
//! | advice when a reading of the day is off | [`advice`] | [`Plan::advise`] |
//! | what a plant's figures are, from its brewing days | [`mod@learn`] | [`learn::learn`] |
//! | how strong a beer is, from its log | [`ledger`] | [`Job::ledgers`] |
//! | safety cautions | [`caution`] | [`Plan::cautions`] |
//! | a sheet to brew from | [`sheet`] | [`Plan::sheet`] |
//! | the sentences of results, in the units of a practice | [`speech`] | [`speech::Speaks`] |
//! | recipes, plants, stock and logs as data | [`recipe`] | [`recipe::Recipe`], [`recipe::Brewhouse`] |
//! | ingredients, a host's own included | [`catalogue`] | [`catalogue::Catalogue`] |
//! | reading and printing texts, for editors | [`notation`] | [`notation::read`] |
//! | findings in texts, errors of calls | [`diagnostic`] | [`Error`], [`diagnostic::Diagnostic`] |
//! | units and ranges | [`quantity`] | [`quantity::Written`] |
//! | brewing science, one topic per module | [`science`] | [`science::liquid::Liquid`] |
//! | all of this in JSON, for any language | `exchange`, feature `exchange`, on by default | `exchange::answer` |
//! | the schema of that JSON | `exchange::schema`, feature `schema` | `schema::request` |
//! | all of this from C | `c_api`, feature `c-api` | `wortwright_answer` |
//!
//! It does no input or output, reads no clock, holds no global state, and everything is `Send + Sync`. It does not
//! taste, and it does not replace a hydrometer. It is a calculation, not a safety assessment: follow local regulations,
//! suppliers' instructions and professional practice.
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
pub mod learn;
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
