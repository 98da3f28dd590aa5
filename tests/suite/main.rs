//! One binary for every test from outside: a folder for each module of the crate, and `laws` of the whole crate.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::float_cmp,
    clippy::format_collect,
    clippy::items_after_statements,
    clippy::print_stderr
)]

// Modules that ask the exchange too are there with it only.
mod advice;
#[cfg(feature = "exchange")]
mod c_api;
mod catalogue;
mod caution;
mod corpus;
mod diagnostic;
#[cfg(feature = "exchange")]
mod exchange;
mod inverse;
mod job;
mod laws;
mod learn;
mod ledger;
mod notation;
mod process;
mod quantity;
mod recipe;
mod remedy;
mod scale;
mod science;
mod sheet;
mod substitute;
mod tools;

// Under short names for all of them.
use wortwright_tests::{brewing, reference};
