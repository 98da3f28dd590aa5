//! What tests and long runs share: requests to the exchange, and the same bent at random.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::missing_panics_doc,
    clippy::print_stderr
)]

#[cfg(feature = "exchange")]
pub mod bent;
#[cfg(feature = "exchange")]
pub mod requests;
