//! Plans: the source's beer on another plant.

mod colour;
mod continuity;
mod extremes;
mod gas;
mod laws;
mod liquor;
mod mash_steps;
mod shortfall;
