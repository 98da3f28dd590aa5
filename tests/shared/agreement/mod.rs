//! Whether one beer has one set of figures, however it is written and asked for: drawn beers under laws that hold of any.

pub mod answer;
pub mod compare;
pub mod draw;
pub mod figure;
pub mod laws;
pub mod moves;
pub mod page;
pub mod rows;
pub mod run;
