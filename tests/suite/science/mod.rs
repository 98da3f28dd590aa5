//! Relations of the trade against published tables and worked examples.

mod attenuation;
mod bitterness;
mod boil;
mod carbonation;
mod density;
mod ethanol;
mod instruments;
mod plant;
mod salt_solver;
mod shelf;
mod water;
