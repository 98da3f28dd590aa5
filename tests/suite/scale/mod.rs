//! Plans: the source's beer on another plant.

mod colour;
mod continuity;
mod extremes;
mod gas;
mod laws;
mod liquor;
mod mash_steps;
pub(crate) mod one_beer;
mod shortfall;
mod three_plants;
