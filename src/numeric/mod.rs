//! Numerical methods without a word of brewing in them.

mod qp;
mod root;

pub(crate) use qp::{Equality, Minimum, Program, Vector, dot};
pub use root::{Bracket, root};
