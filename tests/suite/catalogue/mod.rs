//! The ingredients: their rows, their names, and the static tables made from them.

mod lookup;
mod meaning;
mod rows;
mod salts;
mod tables;
