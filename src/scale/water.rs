//! Brewing water: how much of what, how warm, and the mash from the strike to the last rest.

use super::liquor::LiquorAddition;
use crate::diagnostic::Place;
use crate::process::{Assumption, Holdback, Lautering, Plant, Worked, boiling_c};
use crate::quantity::{Concentration, Moisture, Temperature, Written, kilograms};
use crate::recipe::{Brewhouse, Heating, Recipe};
use crate::science::density::WATER_KG_PER_L;
use crate::science::heat::{
    DryGrist, MashIn, MashPlant, MashRest, MashSchedule, Raise, SPARGE_C, StepWork, ThermalMass,
    grist_specific_heat, mash_schedule, sparged_bed,
};
use crate::science::water::{Balance, Ions};
use crate::speech::Noted;
use serde::Serialize;

/// Grain before mashing in, where the plant does not say (common practice, no source).
const GRAIN_C: f64 = 20.0;

/// Water of the brewing day.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct WaterPlan {
    /// Temperature of the mash water just before the grain goes in; absent where no water is hot enough.
    #[serde(rename = "strike_c", skip_serializing_if = "Option::is_none")]
    pub strike: Option<Temperature>,
    /// Temperature taken for the grain.
    #[serde(rename = "grain_c", skip_serializing_if = "Option::is_none")]
    pub grain: Option<Temperature>,
    /// Temperature of the sparge water: as printed, else 77 °C.
    #[serde(rename = "sparge_c", skip_serializing_if = "Option::is_none")]
    pub sparge: Option<Temperature>,
    /// What the grain of a bag or of batch sparging comes to with it, each portion stirred in.
    #[serde(rename = "sparged_bed_c", skip_serializing_if = "Option::is_none")]
    pub sparged_bed: Option<Temperature>,
    /// The mash, step by step; absent where nothing is mashed or no rest is stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mash: Option<MashSchedule>,
    /// Wanted ions, as printed.
    pub wanted: Vec<WantedIon>,
    /// Ions of the mash water with salts, acid and alkali in it; absent without a water report.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reached: Option<Ions>,
    /// Whether any water can have the wanted ions; absent where none are wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub balance: Option<Balance>,
    /// Salts and acid for the mash and the sparge water.
    pub additions: Vec<LiquorAddition>,
}

/// A wanted ion, as the sheet prints it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct WantedIon {
    /// The ion, or `alkalinity` as calcium carbonate.
    pub ion: &'static str,
    /// How much.
    #[serde(rename = "concentration_g_l")]
    pub concentration: Concentration,
}

/// Temperatures and the mash; salts and acid are worked out elsewhere.
pub(super) fn plan(
    recipe: &Recipe,
    brewhouse: &Brewhouse,
    worked: &Worked,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> WaterPlan {
    let (plant, brewed, liquor) = (&worked.setup.plant, &worked.brewed, worked.amounts.liquor);
    let wanted = recipe
        .water
        .stated()
        .map(|(ion, written)| WantedIon {
            ion,
            concentration: written.value(),
        })
        .collect();
    let grain = brewhouse
        .grain
        .as_ref()
        .map_or(Temperature::clamped(GRAIN_C), Written::value);
    let boiling = Temperature::clamped(boiling_c(plant));
    let mut water = WaterPlan {
        wanted,
        ..WaterPlan::default()
    };
    let grist_kg = brewed.grist.mass_kg;
    let mashes = grist_kg > 0.0 && plant.lautering != Lautering::NoMash;
    let Some(last) = recipe.mash.rests.last().filter(|_| mashes) else {
        return water;
    };
    let grist = DryGrist {
        mass: kilograms(grist_kg),
        temperature: grain,
        specific_heat: grist_specific_heat(Moisture::clamped(brewed.grist.moisture_kg / grist_kg)),
    };
    let mash_plant = MashPlant {
        boiling,
        capacity: match plant.lautering {
            Lautering::Bag { .. } => brewhouse.mash_tun.as_ref().or(brewhouse.kettle.as_ref()),
            _ => brewhouse.mash_tun.as_ref(),
        }
        .map(Written::value),
    };
    let mash = MashIn {
        grist,
        water: kilograms(liquor.mash_l * WATER_KG_PER_L),
        tun: brewhouse.tun_heat.as_ref().map(|heat| ThermalMass {
            heat_capacity: heat.value(),
            temperature: grain,
        }),
    };
    let rests = rests(recipe, brewhouse, plant, assumptions);
    let schedule = mash_schedule(&mash, &rests, &mash_plant).ok();
    if let Some(schedule) = &schedule {
        water.strike = schedule.steps.first().and_then(|step| match step.work {
            StepWork::MashIn { at, .. } => Some(at),
            _ => None,
        });
        water.grain = water.strike.map(|_| grain);
    }
    water.mash = schedule;
    let printed = recipe.mash.sparge.as_ref();
    let printed = printed.and_then(|sparge| sparge.temperature.as_ref());
    if liquor.sparge_l > 0.0 {
        let usual = || Temperature::clamped(SPARGE_C.min(boiling.celsius()));
        let at = printed.map_or_else(usual, Written::value);
        water.sparge = Some(at);
        water.sparged_bed = sparged(&mash, last.temperature.value(), at, worked);
    }
    water
}

/// Temperature of the drained grain of `mash` with the sparge water stirred in, where it is stirred in.
fn sparged(
    mash: &MashIn,
    rest: Temperature,
    at: Temperature,
    worked: &Worked,
) -> Option<Temperature> {
    let plant = &worked.setup.plant;
    let portions = match plant.lautering {
        Lautering::Bag { .. } => 1,
        Lautering::Batch { sparges } => sparges.max(1),
        Lautering::Continuous | Lautering::NoMash => return None,
    };
    let (Holdback::Apparent(held) | Holdback::Retained(held)) = plant.holdback;
    let drained = MashIn {
        water: kilograms(held * worked.brewed.grist.mass_kg),
        tun: None,
        ..*mash
    };
    let portion_l = worked.amounts.liquor.sparge_l / f64::from(portions);
    let portion = kilograms(portion_l * WATER_KG_PER_L);
    let mut bed = ThermalMass {
        heat_capacity: drained.heat_capacity().ok()?,
        temperature: rest,
    };
    for _ in 0..portions {
        bed.temperature = sparged_bed(bed, portion, at).ok()?;
    }
    Some(bed.temperature)
}

/// The rests with what raises the mash to each: the rest's own word, else the plant's, else the usual one for its
/// vessel, which is noted.
fn rests(
    recipe: &Recipe,
    brewhouse: &Brewhouse,
    plant: &Plant,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Vec<MashRest> {
    let raise = |heating: Heating| match heating {
        Heating::Direct => Raise::Direct,
        Heating::Infusion => Raise::Infusion,
        Heating::Decoction => Raise::Decoction,
        Heating::None => Raise::None,
    };
    let mut taken = false;
    let mut before = None;
    let rests = recipe
        .mash
        .rests
        .iter()
        .map(|rest| {
            let temperature = rest.temperature.value();
            let stated = rest.by.or(brewhouse.heating);
            taken |= stated.is_none() && before.is_some_and(|before| temperature > before);
            before = Some(temperature);
            MashRest {
                temperature,
                time: rest.time.value(),
                by: raise(stated.unwrap_or(plant.heating)),
            }
        })
        .collect();
    if taken {
        let place = Place::plant(&plant.name, "heating");
        assumptions.push(Noted::at(
            place,
            Assumption::MashHeating {
                by: raise(plant.heating),
            },
        ));
    }
    rests
}
