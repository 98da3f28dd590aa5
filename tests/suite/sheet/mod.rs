//! A plan as readable text.

mod page;
mod water;
