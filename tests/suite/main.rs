//! One binary for every test from outside: a module for each room.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::float_cmp,
    clippy::format_collect,
    clippy::items_after_statements
)]

mod attenuation_tables;
mod balance;
mod boil_tables;
mod brewing;
mod carbonation_tables;
mod catalogue_lookup;
mod catalogue_rows;
mod catalogue_salts;
mod catalogue_tables;
mod cautions;
mod day;
mod day_mended;
mod demo;
mod density_tables;
mod ethanol_tables;
mod exchange;
mod exchange_codes;
mod extremes;
mod hot_side;
mod instrument_tables;
mod ledger;
mod liquor;
mod notation;
mod notation_invalid;
mod notation_print;
mod plant_reference;
mod plant_tables;
mod reference;
mod remedies;
mod rooms;
mod scaling;
mod sheet;
mod substitute;
mod substitute_table;
mod water_tables;
