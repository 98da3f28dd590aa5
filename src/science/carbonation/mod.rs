//! Carbon dioxide in beer: what dissolves under a pressure, what fermentation leaves, and what sugar makes.
//!
//! Pressure is absolute throughout, so that a keg on a mountain is not overlooked: what a gauge shows is the absolute
//! pressure less that of the air ([`air_pressure`] at sea level, [`super::boiling::pressure_at`] higher up). A volume
//! of gas is 1.977 g/L.
//!
//! A sealed vessel with sugar left in it has no natural end to its pressure. Glass bursts: keep crown-capped beer bottles
//! to 3 volumes, heavy swing-top ones to 4 (common practice, no source), and use vessels with a relief valve for more.

mod equilibrium;
mod priming;

pub use equilibrium::{
    air_pressure, carbon_dioxide_at, carbon_dioxide_left, pressure_at, sealed_pressure,
};
pub use priming::{Priming, PrimingSugar, carbon_dioxide_from};
