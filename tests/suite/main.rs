//! One binary for every test from outside: a module for each room.
#![allow(missing_docs)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::float_cmp
)]

mod catalogue_lookup;
mod catalogue_rows;
mod catalogue_salts;
mod catalogue_tables;
mod rooms;
