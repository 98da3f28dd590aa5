//! The tools of the tests, benches and long runs.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::missing_panics_doc,
    clippy::missing_errors_doc,
    clippy::print_stderr
)]

pub mod agreement;
#[cfg(feature = "exchange")]
pub mod bent;
pub mod brewing;
pub mod brewing_days;
pub mod corpus;
pub mod dice;
pub mod files;
pub mod fixtures;
pub mod growth;
pub mod hostile;
pub mod reference;
#[cfg(feature = "exchange")]
pub mod requests;
pub mod rows;
pub mod sources;
