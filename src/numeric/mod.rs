//! Numerical methods without a word of brewing in them.

mod root;

pub use root::{Bracket, root};
