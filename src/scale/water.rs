//! Brewing water and its temperatures.

use crate::process::Plant;
use crate::quantity::{
    Concentration, Temperature, Volume, Written, in_kilograms, in_litres, kilograms,
};
use crate::recipe::{Brewhouse, Recipe};
use crate::science::density::water as water_density;
use crate::science::heat::{Grist, Tun, grist_specific_heat, strike_temperature};
use serde::Serialize;
use uom::si::f64::TemperatureInterval;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::temperature_interval::kelvin;

/// Grain before mashing in, where the plant does not say (common practice, no source).
const GRAIN_C: f64 = 20.0;

/// Water of the brewing day.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[non_exhaustive]
pub struct WaterPlan {
    /// Temperature of the mash water just before the grain goes in; absent where no water is hot enough.
    #[serde(rename = "strike_c", skip_serializing_if = "Option::is_none")]
    pub strike: Option<Temperature>,
    /// Temperature taken for the grain.
    #[serde(rename = "grain_c", skip_serializing_if = "Option::is_none")]
    pub grain: Option<Temperature>,
    /// Wanted ions, as printed.
    pub wanted: Vec<WantedIon>,
}

/// A wanted ion, as the sheet prints it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct WantedIon {
    /// The ion, or `alkalinity` as calcium carbonate.
    pub ion: &'static str,
    /// How much.
    #[serde(rename = "concentration_g_l")]
    pub concentration: Concentration,
}

/// Strike temperature for the first rest, and the wanted ions.
pub(super) fn plan(
    recipe: &Recipe,
    brewhouse: &Brewhouse,
    plant: &Plant,
    grist_kg: f64,
    moisture_kg: f64,
    mash_water: Volume,
) -> WaterPlan {
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
    let strike = recipe
        .mash
        .rests
        .first()
        .filter(|_| grist_kg > 0.0)
        .and_then(|rest| {
            let moisture = crate::quantity::Moisture::clamped(moisture_kg / grist_kg);
            let grist = Grist {
                mass: kilograms(grist_kg),
                temperature: grain,
                specific_heat: grist_specific_heat(moisture),
            };
            let tun = brewhouse.tun_heat.as_ref().map(|heat| Tun {
                heat_capacity: heat.value(),
                temperature: grain,
            });
            let density = water_density(Temperature::clamped(20.0))
                .ok()?
                .get::<kilogram_per_cubic_meter>();
            let water = kilograms(in_litres(mash_water) * density / 1000.0);
            // Slaking heat is mostly lost in a small tun: common practice sets it to nothing.
            let slaking = TemperatureInterval::new::<kelvin>(0.0);
            let strike =
                strike_temperature(grist, water, rest.temperature.value(), tun, slaking).ok()?;
            let boiling_c = crate::process::boiling_c(plant);
            (strike.celsius() <= boiling_c && in_kilograms(water) > 0.0).then_some(strike)
        });
    WaterPlan {
        grain: strike.map(|_| grain),
        strike,
        wanted,
    }
}
