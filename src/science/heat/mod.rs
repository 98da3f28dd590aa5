//! Heat balances of mash and wort.

/// Mixing grist, water and tun: mash and strike temperatures.
pub(crate) mod mash;
/// Specific heats and slaking heat.
pub(crate) mod specific;
/// From rest to rest by hot water or decoction.
pub(crate) mod step;
/// Heating and cooling of wort and water.
pub(crate) mod wort;

pub use mash::{Grist, Tun, mash_heat_capacity, mash_temperature, strike_temperature};
pub use specific::{grist_specific_heat, slaking_rise, water_specific_heat, wort_specific_heat};
pub use step::{Decoction, StepInfusion, decoction, step_infusion};
pub use wort::{coolant, heat_to_change};
