//! Laws of the whole crate, held against its sources.

mod agreement;
mod cookbook;
mod growth;
mod modules;
mod state_carried;
