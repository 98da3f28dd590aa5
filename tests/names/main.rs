//! What hosts can name: the items of the crate, and the fields of its JSON.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic
)]

mod circles;
mod habits;
mod json_fields;
mod macros;
mod public_items;
mod types;
mod words;
