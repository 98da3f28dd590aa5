//! One binary for every test from outside: a module for each room.
#![allow(missing_docs)]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::float_cmp
)]

mod plant_reference;
mod plant_tables;
mod rooms;
