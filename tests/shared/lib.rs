//! What tests, benches and long runs share: texts that no brewer writes, requests to the exchange, and the same bent at random.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::missing_panics_doc,
    clippy::print_stderr
)]

#[cfg(feature = "exchange")]
pub mod bent;
pub mod hostile;
#[cfg(feature = "exchange")]
pub mod requests;
