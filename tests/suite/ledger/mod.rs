//! A fermentation's balance, from its log.

pub(crate) mod balance;
mod faults;
#[cfg(feature = "exchange")]
mod laws;
