//! A whole mash: how much water at which temperature, and what raises it from rest to rest.
//!
//! The water given is that of the whole mash. Where rests are reached by infusion, part of it is kept back for them:
//! backwards from the last rest, `C + c W` shrinks by `(Th - T2)/(Th - T1)` at each.
//!
//! Source: energy balances as in [`strike_temperature`](super::strike_temperature) and [`step_infusion`].
//! Range: any. Losses to the surroundings are not modelled: stir, read, and keep some hot water by. Units: kg, L, °C,
//! kJ. Strike water and mash scald; boiling mash spits.

use super::mash::{Grist, Tun, strike_temperature};
use super::specific::{WATER_KJ_PER_KG_K, capacity_kj, specific_heat_kj};
use super::step::{Decoction, decoction};
use crate::diagnostic::Error;
use crate::quantity::{
    Energy, LiquorRatio, Mass, Share, Temperature, Time, Volume, in_kilograms, in_litres, json,
    kilograms, litres,
};
use crate::science::density::water as water_density;
use crate::science::within::within;
use serde::Serialize;
use uom::si::energy::kilojoule;
use uom::si::f64::TemperatureInterval;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::temperature_interval::kelvin;

/// The thickest mash that can be stirred, kg of water per kg of grist (common practice, no source).
const THICKEST: f64 = 2.0;
/// Room that a kilogram of grain takes up in a mash, L (common practice, no source).
const GRAIN_ROOM_L_PER_KG: f64 = 0.67;
/// Grain bed in the sparge, °C; hotter than 78 to 80 it gives tannin and starch (common practice, no source).
const SPARGED_BED_C: f64 = 76.0;

/// How a mash is raised to a rest.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
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

/// A rest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashRest {
    /// Its temperature.
    pub temperature: Temperature,
    /// Its length.
    pub time: Time,
    /// How the mash is raised to it; of no account for the first.
    pub by: Raise,
}

/// What a mash is made in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashPlant {
    /// Boiling point of the place.
    pub boiling: Temperature,
    /// What the vessel holds; absent where nobody knows.
    pub capacity: Option<Volume>,
    /// Its heat, where it is cold before mashing in.
    pub tun: Option<Tun>,
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
        /// Its temperature.
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
        /// Its temperature.
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
    /// Infusions leave too little water to mash in with: use more water in all, leave out a rest, or heat the mash.
    TooThick {
        /// Water per kilogram left for mashing in.
        #[serde(rename = "left_l_per_kg")]
        left: LiquorRatio,
        /// Water in all that would do.
        #[serde(rename = "enough_kg", with = "json::kilogram")]
        enough: Mass,
    },
    /// The vessel does not hold the mash at this rest, counted from one: mash less, or with less water.
    VesselFull {
        /// Which rest.
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
        /// Which rest.
        rest: usize,
    },
    /// Nothing can raise the mash to this rest, counted from one: leave it out, or add boiling water.
    NoHeating {
        /// Which rest.
        rest: usize,
    },
}

/// A mash from the strike to the last rest that can be reached.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MashSchedule {
    /// One step a rest.
    pub steps: Vec<MashStep>,
    /// What ends the schedule early, if anything.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stopped: Option<MashStop>,
}

/// The schedule of a mash with `water` in all.
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
///     Grist, MashPlant, MashRest, Raise, StepWork, grist_specific_heat, mash_schedule,
/// };
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let rest = |celsius| -> Result<_, wortwright::diagnostic::Error> {
///     Ok(MashRest {
///         temperature: Temperature::from_celsius(celsius)?,
///         time: Time::new::<minute>(30.0),
///         by: Raise::Infusion,
///     })
/// };
/// let grist = Grist {
///     mass: Mass::new::<kilogram>(5.0),
///     temperature: Temperature::from_celsius(20.0)?,
///     specific_heat: grist_specific_heat(Moisture::from_percent(4.0)?),
/// };
/// let plant = MashPlant {
///     boiling: Temperature::from_celsius(100.0)?,
///     capacity: None,
///     tun: None,
/// };
/// let water = Mass::new::<kilogram>(18.0);
/// let mash = mash_schedule(grist, water, &[rest(50.0)?, rest(64.0)?], &plant)?;
/// let StepWork::Infuse { water, .. } = mash.steps[1].work else { unreachable!("by infusion") };
/// // By hand: (5 · 0.4048 + 18) · (100 - 64)/(100 - 50) = 14.417 of 20.024 remain before it.
/// assert!((water.get::<kilogram>() - 5.607).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn mash_schedule(
    grist: Grist,
    water: Mass,
    rests: &[MashRest],
    plant: &MashPlant,
) -> Result<MashSchedule, Error> {
    let grist_kg = within("a grist", in_kilograms(grist.mass), 1e-6..=1e7, "kg")?;
    let total_kg = within("mash water", in_kilograms(water), 1e-6..=1e7, "kg")?;
    let tun_kj_per_k = match plant.tun {
        Some(tun) => capacity_kj(tun.heat_capacity)?,
        None => 0.0,
    };
    let mut mash = Mashing {
        grist_kg,
        dry_kg: (grist_kg * specific_heat_kj(grist.specific_heat)? + tun_kj_per_k)
            / WATER_KJ_PER_KG_K,
        plant,
        water_kg: 0.0,
        steps: Vec::with_capacity(rests.len()),
    };
    let stopped = match rests.split_first() {
        Some((first, later)) => match mash.mash_in(grist, total_kg, first, later) {
            Ok(()) => mash.rise(first, later).err(),
            Err(stop) => Some(stop),
        },
        None => None,
    };
    Ok(MashSchedule {
        steps: mash.steps,
        stopped,
    })
}

/// Temperature of sparge water that brings the grain bed to 76 °C, at most `boiling`.
///
/// `bed` is the heat of the drained grain with the wort it holds, as
/// [`mash_heat_capacity`](super::mash_heat_capacity) gives it.
///
/// # Errors
///
/// `OutOfRange` for a heat or mass outside of sense, or no water.
///
/// # Source
///
/// Energy balance; 76 °C is common practice: hotter than 78 to 80 °C draws tannin and starch.
///
/// ```
/// use wortwright::quantity::{HeatCapacity, Mass, Temperature};
/// use wortwright::quantity::uom::si::{heat_capacity::kilojoule_per_kelvin, mass::kilogram};
/// use wortwright::science::heat::sparge_temperature;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let bed = HeatCapacity::new::<kilojoule_per_kelvin>(5.0 * 4.186);
/// let sparge = sparge_temperature(bed, celsius(66.0)?, Mass::new::<kilogram>(10.0), celsius(99.0)?)?;
/// assert!((sparge.celsius() - 81.0).abs() < 1e-9); // by hand: 76 + 10 · 5/10
/// # Ok(())
/// # }
/// ```
pub fn sparge_temperature(
    bed: crate::quantity::HeatCapacity,
    bed_temperature: Temperature,
    water: Mass,
    boiling: Temperature,
) -> Result<Temperature, Error> {
    let bed_kj_per_k = capacity_kj(bed)?;
    let water_kg = within("sparge water", in_kilograms(water), 1e-6..=1e7, "kg")?;
    let rise_k = (SPARGED_BED_C - bed_temperature.celsius()).max(0.0);
    let wanted_c = SPARGED_BED_C + rise_k * bed_kj_per_k / (WATER_KJ_PER_KG_K * water_kg);
    Ok(Temperature::clamped(wanted_c.min(boiling.celsius())))
}

/// A mash in the making.
struct Mashing<'a> {
    grist_kg: f64,
    /// Grist and tun as the mass of water that holds as much heat.
    dry_kg: f64,
    plant: &'a MashPlant,
    water_kg: f64,
    steps: Vec<MashStep>,
}

impl Mashing<'_> {
    /// Mashes in with what the later infusions leave of the water.
    fn mash_in(
        &mut self,
        grist: Grist,
        total_kg: f64,
        first: &MashRest,
        later: &[MashRest],
    ) -> Result<(), MashStop> {
        let boiling_c = self.plant.boiling.celsius();
        let mut shrinks = 1.0;
        let mut now_c = first.temperature.celsius();
        for (rest, number) in later.iter().zip(2..) {
            let to_c = rest.temperature.celsius();
            if rest.by == Raise::Infusion && to_c > now_c {
                // Water within a millikelvin of the rest would be wanted by the million.
                if boiling_c - to_c < 1e-3 {
                    return Err(MashStop::WaterTooCool { rest: number });
                }
                shrinks *= (boiling_c - to_c) / (boiling_c - now_c);
            }
            now_c = to_c;
        }
        let strike_kg = (self.dry_kg + total_kg) * shrinks - self.dry_kg;
        let least_kg = (THICKEST * self.grist_kg).min(total_kg);
        // A mash of one water is as thick as it is wanted; only infusions may not take what mashing in needs.
        if strike_kg < least_kg * (1.0 - 1e-9) {
            return Err(MashStop::TooThick {
                left: LiquorRatio::clamped(strike_kg / self.grist_kg),
                enough: kilograms((least_kg + self.dry_kg) / shrinks - self.dry_kg),
            });
        }
        let no_slaking = TemperatureInterval::new::<kelvin>(0.0);
        let water = kilograms(strike_kg);
        let strike =
            strike_temperature(grist, water, first.temperature, self.plant.tun, no_slaking).ok();
        let at = strike
            .filter(|strike| strike.celsius() <= boiling_c)
            .ok_or(MashStop::StrikeTooHot { needed: strike })?;
        self.water_kg = strike_kg;
        self.step(first, StepWork::MashIn { water, at })
    }

    /// Raises the mash from rest to rest.
    fn rise(&mut self, first: &MashRest, later: &[MashRest]) -> Result<(), MashStop> {
        let boiling = self.plant.boiling;
        let mut now = first.temperature;
        for (rest, number) in later.iter().zip(2..) {
            let rise_k = rest.temperature.celsius() - now.celsius();
            let work = if rise_k == 0.0 {
                StepWork::Nothing
            } else if rise_k < 0.0 {
                StepWork::LetCool
            } else {
                let heat_kg = self.dry_kg + self.water_kg;
                match rest.by {
                    Raise::Direct => StepWork::Heat {
                        energy: Energy::new::<kilojoule>(heat_kg * WATER_KJ_PER_KG_K * rise_k),
                    },
                    Raise::Infusion => {
                        let excess_k = boiling.celsius() - rest.temperature.celsius();
                        let water_kg = rise_k * heat_kg / excess_k.max(1e-3);
                        self.water_kg += water_kg;
                        StepWork::Infuse {
                            water: kilograms(water_kg),
                            at: boiling,
                        }
                    }
                    Raise::Decoction => match decoction(now, rest.temperature, boiling) {
                        Decoction::Part { share } => StepWork::Decoct { share },
                        Decoction::TooCool => return Err(MashStop::WaterTooCool { rest: number }),
                    },
                    Raise::None => return Err(MashStop::NoHeating { rest: number }),
                }
            };
            now = rest.temperature;
            self.step(rest, work)?;
        }
        Ok(())
    }

    /// Notes a step, unless the vessel overflows.
    fn step(&mut self, rest: &MashRest, work: StepWork) -> Result<(), MashStop> {
        let density = water_density(rest.temperature)
            .map_or(1000.0, |density| density.get::<kilogram_per_cubic_meter>());
        let volume_l = self.water_kg * 1000.0 / density + GRAIN_ROOM_L_PER_KG * self.grist_kg;
        if let Some(capacity) = self.plant.capacity
            && volume_l > in_litres(capacity)
        {
            return Err(MashStop::VesselFull {
                rest: self.steps.len() + 1,
                needed: litres(volume_l),
                capacity,
            });
        }
        self.steps.push(MashStep {
            temperature: rest.temperature,
            time: rest.time,
            work,
            water: kilograms(self.water_kg),
            volume_hot: litres(volume_l),
        });
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::minutes;
    use uom::si::f64::SpecificHeatCapacity;
    use uom::si::heat_capacity::kilojoule_per_kelvin;
    use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    #[test]
    fn sparge_water_makes_up_for_a_cool_bed_and_no_more() {
        // By hand, water at 4.1868 kJ/(kg K): a bed of as much heat as 5 kg of water, 10 K too cool, under 10 kg.
        let bed =
            crate::quantity::HeatCapacity::new::<kilojoule_per_kelvin>(5.0 * WATER_KJ_PER_KG_K);
        let water = kilograms(10.0);
        let sparge = |bed_c| sparge_temperature(bed, celsius(bed_c), water, celsius(99.0)).unwrap();
        assert!((sparge(SPARGED_BED_C - 10.0).celsius() - (SPARGED_BED_C + 5.0)).abs() < 1e-9);
        assert!((sparge(SPARGED_BED_C + 4.0).celsius() - SPARGED_BED_C).abs() < 1e-9);
    }

    /// 5 kg of grist at 0.4 of water's heat and 20 °C, boiling at 100 °C.
    fn mash(water_kg: f64, rests: &[(f64, Raise)], capacity_l: Option<f64>) -> MashSchedule {
        let grist = Grist {
            mass: kilograms(5.0),
            temperature: celsius(20.0),
            specific_heat: SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(
                0.4 * WATER_KJ_PER_KG_K,
            ),
        };
        let rests: Vec<_> = rests
            .iter()
            .map(|(c, by)| MashRest {
                temperature: celsius(*c),
                time: minutes(20.0),
                by: *by,
            })
            .collect();
        let plant = MashPlant {
            boiling: celsius(100.0),
            capacity: capacity_l.map(litres),
            tun: None,
        };
        mash_schedule(grist, kilograms(water_kg), &rests, &plant).unwrap()
    }

    #[test]
    fn three_rests_by_infusion_use_the_water_up_and_keep_the_heat() {
        let rests = [
            (52.0, Raise::None),
            (64.0, Raise::Infusion),
            (72.0, Raise::Infusion),
        ];
        let schedule = mash(24.0, &rests, None);
        assert_eq!(schedule.stopped, None);
        let water: Vec<_> = schedule
            .steps
            .iter()
            .map(|step| match step.work {
                StepWork::MashIn { water, .. } | StepWork::Infuse { water, .. } => {
                    in_kilograms(water)
                }
                _ => 0.0,
            })
            .collect();
        // By hand: 26 · 28/36 = 20.2222 before the second infusion, · 36/48 = 15.1667 before the first.
        for (ours, by_hand) in water.iter().zip([13.1667, 5.0556, 5.7778]) {
            assert!((ours - by_hand).abs() < 5e-5, "{water:?}");
        }
        assert!((water.iter().sum::<f64>() - 24.0).abs() < 1e-9);
        // Everything mixed at once comes to the last rest.
        let StepWork::MashIn { at, .. } = schedule.steps[0].work else {
            panic!("no mashing in");
        };
        let heat = 2.0 * 20.0 + water[0] * at.celsius() + (water[1] + water[2]) * 100.0;
        assert!((heat / 26.0 - 72.0).abs() < 1e-9);
    }

    #[test]
    fn heat_and_decoction_leave_the_water_as_it_is() {
        let rests = [
            (52.0, Raise::None),
            (64.0, Raise::Decoction),
            (76.0, Raise::Direct),
            (76.0, Raise::None),
            (70.0, Raise::None),
        ];
        let schedule = mash(15.0, &rests, None);
        assert_eq!(schedule.stopped, None);
        let works: Vec<_> = schedule.steps.iter().map(|step| step.work).collect();
        // University formula sheet: 12/48 of the mash. Heat by hand: 17 · 4.186 · 12.
        assert!(
            matches!(works[1], StepWork::Decoct { share } if (share.fraction() - 0.25).abs() < 1e-12)
        );
        assert!(matches!(works[2], StepWork::Heat { energy }
            if (energy.get::<kilojoule>() - 853.944).abs() < 1e-9));
        assert_eq!(works[3..], [StepWork::Nothing, StepWork::LetCool]);
        assert_eq!(schedule.steps[4].water, kilograms(15.0));
    }

    #[test]
    fn what_a_plant_cannot_do_is_said() {
        let stop = |water, rests: &[(f64, Raise)], room| mash(water, rests, room).stopped;
        let two = |by| [(52.0, Raise::None), (66.0, by)];
        assert_eq!(
            stop(15.0, &two(Raise::None), None),
            Some(MashStop::NoHeating { rest: 2 })
        );
        let hot = [(66.0, Raise::None), (100.0, Raise::Infusion)];
        assert_eq!(
            stop(15.0, &hot, None),
            Some(MashStop::WaterTooCool { rest: 2 })
        );
        // By hand: (2 + 12) · 34/48 - 2 = 7.917, 1.583 L/kg; enough is 12 · 48/34 - 2.
        let Some(MashStop::TooThick { left, enough }) = stop(12.0, &two(Raise::Infusion), None)
        else {
            panic!("a mash of 1.6 L/kg was called stirrable");
        };
        assert!((left.litres_per_kilogram() - 1.5833).abs() < 5e-5);
        assert!((in_kilograms(enough) - 14.9412).abs() < 5e-5);
        assert_eq!(stop(14.95, &two(Raise::Infusion), None), None);
        assert!(matches!(
            stop(2.0, &[(66.0, Raise::None)], None),
            Some(MashStop::StrikeTooHot { needed: Some(_) })
        ));
        // 15 kg at 66 °C take 15.30 L, and 5 kg of grain 3.35 L.
        let Some(MashStop::VesselFull {
            rest: 1, needed, ..
        }) = stop(15.0, &[(66.0, Raise::None)], Some(18.0))
        else {
            panic!("a full vessel was missed");
        };
        assert!((in_litres(needed) - 18.65).abs() < 0.01);
        assert!(mash(15.0, &[], None).steps.is_empty());
    }
}
