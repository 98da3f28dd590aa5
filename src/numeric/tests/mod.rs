//! What tests of the whole crate share: seeded numbers, and a general solver's answers.

mod general_solver;
mod seeded_numbers;

pub(crate) use general_solver::{General, Verdict};
pub(crate) use seeded_numbers::SeededNumbers;
