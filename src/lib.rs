//! Wortwright turns a beer recipe printed for a commercial plant into one that a small brewer can brew.
#![forbid(unsafe_code)]
#![cfg_attr(
    test,
    allow(
        clippy::unwrap_used,
        clippy::expect_used,
        clippy::indexing_slicing,
        clippy::panic,
        clippy::float_cmp
    )
)]

pub mod catalogue;
pub mod diagnostic;
pub mod notation;
pub mod numeric;
pub mod process;
pub mod quantity;
pub mod recipe;
pub mod remedy;
pub mod scale;
pub mod science;
pub mod substitute;
pub mod wording;
