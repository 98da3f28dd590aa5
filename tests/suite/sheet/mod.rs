//! A plan as readable text.

mod corrections;
mod page;
mod practices;
mod relevant;
mod safety;
mod times;
mod told;
mod water;
