//! The work behind a schedule: how the water is divided, and what each rest takes.

use super::{MashPlant, MashRest, MashStep, MashStop, Raise, StepWork};
use crate::quantity::{Energy, LiquorRatio, in_litres, kilograms, litres};
use crate::science::density::water as water_density;
use crate::science::heat::mash::MashIn;
use crate::science::heat::specific::WATER_KJ_PER_KG_K;
use crate::science::heat::step::{Decoction, decoction, infusion_kg};
use uom::si::energy::kilojoule;
use uom::si::mass_density::kilogram_per_cubic_meter;

/// The thickest mash that can still be stirred, litres of water per kilogram; a litre counts as a kilogram (common
/// practice, no source).
pub(crate) const THICKEST_L_PER_KG: f64 = 2.0;
/// What is thicker by no more than a figure shows is not told.
const SHOWN: f64 = 0.025;
/// Room that a kilogram of grain takes up in a mash, L/kg (common practice, no source).
pub(crate) const GRAIN_ROOM_L_PER_KG: f64 = 0.67;

/// A mash in the making.
pub(super) struct Mashing<'a> {
    pub(super) mash: &'a MashIn,
    pub(super) grist_kg: f64,
    /// Grist and tun as the mass of water that holds as much heat.
    pub(super) dry_kg: f64,
    pub(super) plant: &'a MashPlant,
    pub(super) water_kg: f64,
    pub(super) steps: Vec<MashStep>,
}

impl Mashing<'_> {
    /// Mashes in with what the later infusions leave of the water.
    pub(super) fn mash_in(
        &mut self,
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
        let thickest_kg = THICKEST_L_PER_KG * self.grist_kg;
        // A mash of one water is as thick as it is wanted; only infusions may not take what mashing in needs.
        if strike_kg < thickest_kg.min(total_kg) * (1.0 - SHOWN) {
            return Err(MashStop::TooThick {
                left: LiquorRatio::clamped(strike_kg / self.grist_kg),
                enough: kilograms((thickest_kg + self.dry_kg) / shrinks - self.dry_kg),
            });
        }
        let water = kilograms(strike_kg);
        let mash = MashIn {
            water,
            ..*self.mash
        };
        let strike = mash.strike_temperature(first.temperature).ok();
        let at = strike
            .filter(|strike| strike.celsius() <= boiling_c)
            .ok_or(MashStop::StrikeTooHot { needed: strike })?;
        self.water_kg = strike_kg;
        self.step(first, StepWork::MashIn { water, at })
    }

    /// Raises the mash from rest to rest.
    pub(super) fn rise(&mut self, first: &MashRest, later: &[MashRest]) -> Result<(), MashStop> {
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
                        let water_kg = infusion_kg(heat_kg, now, rest.temperature, boiling)
                            .ok_or(MashStop::WaterTooCool { rest: number })?;
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
