//! Numerical methods without a word of brewing in them.

mod nnls;
mod root;

pub use nnls::{NonNegativeFit, non_negative_least_squares};
pub use root::{Bracket, root};
