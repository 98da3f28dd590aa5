//! Laws of the whole crate, held against its sources.

mod cookbook;
mod modules;
mod state_carried;
