//! One binary for every test from outside: a module for each room.
#![allow(missing_docs)]

mod catalogue_tables;
mod rooms;
