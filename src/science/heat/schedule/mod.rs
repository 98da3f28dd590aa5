//! A whole mash: how much water at which temperature, and what raises it from rest to rest.
//!
//! The water given is that of the whole mash. Where rests are reached by infusion, part of it is kept back for them:
//! backwards from the last rest, `C + c W` shrinks by `(Th - T2)/(Th - T1)` at each.
//!
//! Source: energy balances as in [`MashIn`] and [`step_infusion`](super::step_infusion).
//! Range: any. Losses to the surroundings are not modelled: stir, read, and keep some hot water by. Units: kg, L, °C,
//! kJ. Strike water and mash scald; boiling mash spits.

mod mashing;

use super::mash::MashIn;
use super::specific::{WATER_KJ_PER_KG_K, capacity_kj};
use crate::diagnostic::Error;
use crate::quantity::{
    Energy, LiquorRatio, Mass, Share, Temperature, Time, Volume, in_kilograms, json,
};
use crate::science::within::within;
use mashing::Mashing;
use serde::Serialize;

pub(crate) use mashing::{GRAIN_ROOM_L_PER_KG, THICKEST_L_PER_KG};

/// How a mash is raised to a rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Raise {
    /// By direct heat.
    Direct,
    /// By boiling water.
    Infusion,
    /// By boiling part of the mash and returning it.
    Decoction,
    /// Not at all.
    None,
}

/// A temperature that the mash is held at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashRest {
    /// That of the mash.
    pub temperature: Temperature,
    /// How long it is held.
    pub time: Time,
    /// How the mash is raised to it; of no account for the first.
    pub by: Raise,
}

/// What a mash is made in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashPlant {
    /// Boiling point of the place.
    pub boiling: Temperature,
    /// What the vessel holds; absent where it is not known.
    pub capacity: Option<Volume>,
}

/// What is done for one rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MashStep {
    /// Temperature of the rest.
    #[serde(rename = "temperature_c")]
    pub temperature: Temperature,
    /// Length of the rest.
    #[serde(rename = "time_min", with = "json::minute")]
    pub time: Time,
    /// What brings the mash there.
    pub work: StepWork,
    /// Water in the mash then.
    #[serde(rename = "water_kg", with = "json::kilogram")]
    pub water: Mass,
    /// Room that the mash takes up, hot.
    #[serde(rename = "volume_hot_l", with = "json::litre")]
    pub volume_hot: Volume,
}

/// What brings a mash to a rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum StepWork {
    /// Grain into water of this temperature.
    MashIn {
        /// How much water.
        #[serde(rename = "water_kg", with = "json::kilogram")]
        water: Mass,
        /// Just before it meets the mash.
        #[serde(rename = "water_c")]
        at: Temperature,
    },
    /// So much heat.
    Heat {
        /// How much.
        #[serde(rename = "energy_kj", with = "json::kilojoule")]
        energy: Energy,
    },
    /// So much boiling water.
    Infuse {
        /// How much.
        #[serde(rename = "water_kg", with = "json::kilogram")]
        water: Mass,
        /// Just before it meets the mash.
        #[serde(rename = "water_c")]
        at: Temperature,
    },
    /// Part of the mash, boiled and returned; a fifth to a third more makes up for heat lost on the way.
    Decoct {
        /// The part.
        #[serde(rename = "share_pct", with = "json::percent")]
        share: Share,
    },
    /// The mash is there already.
    Nothing,
    /// The mash is warmer than the rest: let it cool, or stir in cold water.
    LetCool,
}

/// Why a schedule ends before its last rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum MashStop {
    /// Strike water would have to be hotter than boiling: use more water, or warm grain and tun.
    StrikeTooHot {
        /// What it would have to be; absent above 200 °C.
        #[serde(rename = "needed_c", skip_serializing_if = "Option::is_none")]
        needed: Option<Temperature>,
    },
    /// Infusions leave too little water to mash in with: use more water, leave out a rest, or heat the mash.
    TooThick {
        /// Water per kilogram left for mashing in.
        #[serde(rename = "left_l_per_kg")]
        left: LiquorRatio,
        /// Total water that would do.
        #[serde(rename = "enough_kg", with = "json::kilogram")]
        enough: Mass,
    },
    /// The vessel does not hold the mash at this rest, counted from one: mash less, or with less water.
    VesselFull {
        /// The first is 1.
        rest: usize,
        /// Room needed, hot.
        #[serde(rename = "needed_hot_l", with = "json::litre")]
        needed: Volume,
        /// Room there is.
        #[serde(rename = "capacity_l", with = "json::litre")]
        capacity: Volume,
    },
    /// Boiling water or mash is no hotter than this rest, counted from one: heat the mash itself.
    WaterTooCool {
        /// The first is 1.
        rest: usize,
    },
    /// Nothing can raise the mash to this rest, counted from one: leave it out, or add boiling water.
    NoHeating {
        /// The first is 1.
        rest: usize,
    },
}

impl MashStop {
    /// The rest that is not reached, counted from one.
    pub const fn rest(self) -> usize {
        match self {
            Self::StrikeTooHot { .. } | Self::TooThick { .. } => 1,
            Self::VesselFull { rest, .. }
            | Self::WaterTooCool { rest }
            | Self::NoHeating { rest } => rest,
        }
    }
}

/// A mash from the strike to the last rest that can be reached.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MashSchedule {
    /// One step per rest.
    pub steps: Vec<MashStep>,
    /// What ends the schedule early, if anything.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stopped: Option<MashStop>,
}

/// The schedule of a mash, whose `water` is that of all its rests together.
///
/// # Errors
///
/// `OutOfRange` for masses or heats outside of sense.
///
/// # Source
///
/// Energy balance; slaking heat, mostly lost in small tuns, is left out.
///
/// ```
/// use wortwright::quantity::{Mass, Moisture, Temperature, Time};
/// use wortwright::quantity::uom::si::{mass::kilogram, time::minute};
/// use wortwright::science::heat::{
///     DryGrist, MashIn, MashPlant, MashRest, Raise, StepWork, grist_specific_heat, mash_schedule,
/// };
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let rest = |celsius| -> Result<_, wortwright::diagnostic::Error> {
///     Ok(MashRest {
///         temperature: Temperature::from_celsius(celsius)?,
///         time: Time::new::<minute>(30.0),
///         by: Raise::Infusion,
///     })
/// };
/// let grist = DryGrist {
///     mass: Mass::new::<kilogram>(5.0),
///     temperature: Temperature::from_celsius(20.0)?,
///     specific_heat: grist_specific_heat(Moisture::from_percent(4.0)?),
/// };
/// let mash = MashIn { grist, water: Mass::new::<kilogram>(18.0), tun: None };
/// let plant = MashPlant { boiling: Temperature::from_celsius(100.0)?, capacity: None };
/// let mash = mash_schedule(&mash, &[rest(50.0)?, rest(64.0)?], &plant)?;
/// let StepWork::Infuse { water, .. } = mash.steps[1].work else { unreachable!("by infusion") };
/// // By hand: (5 · 0.4048 + 18) · (100 - 64)/(100 - 50) = 14.417 of 20.024 remain before it.
/// assert!((water.get::<kilogram>() - 5.607).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn mash_schedule(
    mash: &MashIn,
    rests: &[MashRest],
    plant: &MashPlant,
) -> Result<MashSchedule, Error> {
    let grist_kg = within("a grist", in_kilograms(mash.grist.mass), 1e-6..=1e7, "kg")?;
    let total_kg = within("mash water", in_kilograms(mash.water), 1e-6..=1e7, "kg")?;
    let dry = MashIn {
        water: Mass::default(),
        ..*mash
    };
    let mut mashing = Mashing {
        mash,
        grist_kg,
        dry_kg: capacity_kj(dry.heat_capacity()?)? / WATER_KJ_PER_KG_K,
        plant,
        water_kg: 0.0,
        steps: Vec::with_capacity(rests.len()),
    };
    let stopped = match rests.split_first() {
        Some((first, later)) => match mashing.mash_in(total_kg, first, later) {
            Ok(()) => mashing.rise(first, later).err(),
            Err(stop) => Some(stop),
        },
        None => None,
    };
    Ok(MashSchedule {
        steps: mashing.steps,
        stopped,
    })
}

#[cfg(test)]
mod tests;
