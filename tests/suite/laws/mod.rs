//! Laws of the whole crate, held against its sources.

pub(crate) mod modules;
mod state_carried;
