//! One binary for every test from outside: a module for each room.
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
mod assumed;
mod attenuation_tables;
mod balance;
mod bitterness_tables;
mod boil_tables;
mod brewing;
#[cfg(feature = "exchange")]
mod c_interface;
mod carbonation_tables;
mod catalogue_lookup;
mod catalogue_rows;
mod catalogue_salts;
mod catalogue_tables;
mod cautions;
mod charge_balance;
#[cfg(feature = "exchange")]
mod codes;
mod colours;
mod continuity;
mod day;
mod day_applied;
mod day_mended;
mod demo;
mod demo_fermentation;
mod density_tables;
mod ethanol_tables;
#[cfg(feature = "exchange")]
mod exchange;
#[cfg(feature = "exchange")]
mod exchange_day;
#[cfg(feature = "exchange")]
mod exchange_substitutes;
mod extremes;
mod gas;
mod hostile_texts;
mod hot_side;
mod instrument_tables;
mod job;
mod later;
mod ledger;
mod ledger_faults;
#[cfg(feature = "exchange")]
mod ledger_laws;
mod liquor;
mod mash_steps;
mod models;
mod modules;
mod notation;
mod notation_demo;
mod notation_hostile;
mod notation_invalid;
#[cfg(feature = "exchange")]
mod notation_log;
#[cfg(feature = "exchange")]
mod notation_own;
mod notation_print;
mod notation_sense;
mod notation_written;
mod places;
mod plant_reference;
mod plant_tables;
mod quantities_written;
mod reference;
mod remedies;
mod salt_solver;
mod scaling;
mod sheet;
mod sheet_amounts;
mod shelf;
mod state_carried;
mod substitute;
mod substitute_by_hand;
mod substitute_juice_hop;
mod substitute_table;
mod substitute_together;
mod substitute_wort;
mod target_day;
mod unknown_figures;
#[cfg(feature = "exchange")]
mod water_notation;
mod water_sheet;
mod water_tables;
