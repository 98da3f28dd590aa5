//! A plan as readable text.

mod corrections;
mod page;
mod safety;
mod times;
mod told;
mod water;
