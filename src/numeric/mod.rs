//! Numerical methods without a word of brewing in them.

mod nnls;
mod qp;
mod root;

pub use nnls::{NonNegativeFit, non_negative_least_squares};
#[cfg(test)]
pub(crate) use qp::oracle;
pub(crate) use qp::{Constraint, Coupled, Program, Vector};
pub use root::{Bracket, root};
