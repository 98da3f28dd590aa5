//! Laws of the whole crate, held against its sources.

mod modules;
mod state_carried;
