//! Numerical methods without a word of brewing in them.

mod elimination;
mod nnls;
mod normal;
pub(crate) mod order;
mod polynomial;
mod qp;
mod root;

pub(crate) use elimination::inverse;
pub(crate) use nnls::{NonNegativeFit, non_negative_least_squares};
pub(crate) use normal::{student_as_normal, two_sided_sigma};
pub(crate) use polynomial::value_and_slope;
pub(crate) use qp::{Constraint, Coupled, Minimum, Program, Vector, dot};
pub(crate) use root::{Bracket, root, root_between};

#[cfg(test)]
pub(crate) mod tests;
