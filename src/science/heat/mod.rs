//! Heat balances of mash and wort.

/// Mixing grist, water and tun: mash and strike temperatures.
pub(crate) mod mash;
/// A whole mash: strike and rests.
pub(crate) mod schedule;
/// Temperature of sparge water.
pub(crate) mod sparge;
/// Specific heats and slaking heat.
pub(crate) mod specific;
/// From rest to rest by hot water or decoction.
pub(crate) mod step;
/// Heating and cooling of wort and water.
pub(crate) mod wort;

pub use mash::{DryGrist, Tun, mash_heat_capacity, mash_temperature, strike_temperature};
pub use schedule::{
    MashPlant, MashRest, MashSchedule, MashStep, MashStop, Raise, StepWork, mash_schedule,
};
pub use sparge::sparge_temperature;
pub use specific::{grist_specific_heat, slaking_rise, water_specific_heat, wort_specific_heat};
pub use step::{Decoction, StepInfusion, decoction, step_infusion};
pub use wort::{coolant, heat_to_change};
