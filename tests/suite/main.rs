//! One binary for every test from outside: a module for each room.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::float_cmp
)]

mod attenuation_tables;
mod boil_tables;
mod catalogue_lookup;
mod catalogue_rows;
mod catalogue_salts;
mod catalogue_tables;
mod cautions;
mod density_tables;
mod ethanol_tables;
mod exchange;
mod exchange_codes;
mod hostile_texts;
mod hot_side;
mod notation;
mod notation_hostile;
mod notation_invalid;
mod notation_print;
mod notation_written;
mod plant_reference;
mod plant_tables;
mod reference;
mod rooms;
mod sheet;
