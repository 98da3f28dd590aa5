//! One binary for every test from outside: a module for each room.
#![allow(missing_docs)]

mod attenuation_tables;
mod boil_tables;
mod density_tables;
mod ethanol_tables;
mod reference;
mod rooms;
