//! Numerical methods without a word of brewing in them.

mod qp;
mod root;

#[cfg(test)]
pub(crate) use qp::oracle;
pub(crate) use qp::{Program, Vector};
pub use root::{Bracket, root};
