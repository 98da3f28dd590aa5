//! Heat balances of the mash: strike water, rests, sparge water.

/// Mixing grist, water and tun: mash and strike temperatures.
pub(crate) mod mash;
/// A whole mash: strike and rests.
pub(crate) mod schedule;
/// Temperature of sparge water.
pub(crate) mod sparge;
/// Specific heats of water and malt.
pub(crate) mod specific;
/// From rest to rest by hot water or decoction.
pub(crate) mod step;

pub use mash::{DryGrist, MashIn, ThermalMass};
pub use schedule::{
    MashPlant, MashRest, MashSchedule, MashStep, MashStop, Raise, StepWork, mash_schedule,
};
pub(crate) use sparge::SPARGE_C;
pub use sparge::sparged_bed;
pub use specific::grist_specific_heat;
pub(crate) use specific::wet_kj_per_k;
pub use step::{Decoction, StepInfusion, decoction, step_infusion};
