//! One binary for every test from outside: a module for each room.
#![allow(missing_docs)]

mod plant_reference;
mod plant_tables;
mod rooms;
