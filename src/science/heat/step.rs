//! From rest to rest: by infusion of hot water or by decoction.
//!
//! Source: energy balance; decoction as in a university formula sheet of brewing.
//! Range: any. Losses to the surroundings are not modelled. Units: kJ/K, °C. Boiling mash spits and scalds.

use super::mash::ThermalMass;
use super::specific::{WATER_KJ_PER_KG_K, capacity_kj};
use crate::diagnostic::Error;
use crate::quantity::{Mass, Share, Temperature, json, kilograms};
use serde::Serialize;

/// Hot water that takes a mash to its next rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum StepInfusion {
    /// So much water does it.
    Water {
        /// Its mass; none if the mash is as warm already.
        #[serde(rename = "mass_kg", with = "json::kilogram")]
        mass: Mass,
    },
    /// The water is no hotter than the rest: heat it further, or heat the mash itself.
    WaterTooCool,
}

/// The part of a mash that is boiled and returned to take it to its next rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Decoction {
    /// A part of the mash does it, by mass or by volume.
    Part {
        /// The share that is drawn and boiled.
        share: Share,
    },
    /// The decoction is no hotter than the rest: boil it.
    TooCool,
}

/// Hot water that takes a mash from its rest to the next: `(T2 - T1) C / (c (Th - T2))`.
///
/// # Errors
///
/// `OutOfRange` for a heat capacity below zero or beyond 10⁹ kJ/K.
///
/// # Source
///
/// Energy balance.
///
/// ```
/// use wortwright::quantity::{HeatCapacity, Temperature};
/// use wortwright::quantity::uom::si::{heat_capacity::kilojoule_per_kelvin, mass::kilogram};
/// use wortwright::science::heat::{StepInfusion, ThermalMass, step_infusion};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// // 5 kg of grist at 0.4 of water, and 12.5 kg of water.
/// let mash = ThermalMass {
///     heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(14.5 * 4.186),
///     temperature: celsius(50.0)?,
/// };
/// let step = step_infusion(mash, celsius(64.0)?, celsius(100.0)?)?;
/// let StepInfusion::Water { mass } = step else { unreachable!("boiling water is hot enough") };
/// assert!((mass.get::<kilogram>() - 5.639).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn step_infusion(
    mash: ThermalMass,
    to: Temperature,
    water: Temperature,
) -> Result<StepInfusion, Error> {
    let heat_kg = capacity_kj(mash.heat_capacity)? / WATER_KJ_PER_KG_K;
    Ok(infusion_kg(heat_kg, mash.temperature, to, water).map_or(
        StepInfusion::WaterTooCool,
        |water_kg| StepInfusion::Water {
            mass: kilograms(water_kg),
        },
    ))
}

/// Hot water for a mash that holds as much heat as `heat_kg` of water; none that would do where it is no hotter than the rest.
pub(super) fn infusion_kg(
    heat_kg: f64,
    from: Temperature,
    to: Temperature,
    water: Temperature,
) -> Option<f64> {
    let rise_k = (to.celsius() - from.celsius()).max(0.0);
    let excess_k = water.celsius() - to.celsius();
    // Water within a millikelvin of the rest would be wanted by the million.
    (rise_k == 0.0 || excess_k >= 1e-3).then(|| rise_k * heat_kg / excess_k.max(1e-3))
}

/// Part of a mash to boil and return for the next rest: `(T2 - T1)/(Td - T1)`.
///
/// Heat lost on the way is not in it: trade advice adds up to 35 %, or counts the boiling mash as 90 °C.
///
/// # Source
///
/// University formula sheet of brewing; decoction and rest of the mash have equal heat capacity.
///
/// ```
/// use wortwright::quantity::Temperature;
/// use wortwright::science::heat::{Decoction, decoction};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let Decoction::Part { share } = decoction(celsius(52.0)?, celsius(64.0)?, celsius(100.0)?) else {
///     unreachable!("a boiling mash is hot enough")
/// };
/// assert!((20.0 * share.fraction() - 5.0).abs() < 1e-9); // of 20 L
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn decoction(from: Temperature, to: Temperature, boiled: Temperature) -> Decoction {
    let rise_k = to.celsius() - from.celsius();
    let share = if rise_k <= 0.0 {
        0.0
    } else if boiled <= to {
        return Decoction::TooCool;
    } else {
        rise_k / (boiled.celsius() - from.celsius())
    };
    Decoction::Part {
        share: Share::clamped(share),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::HeatCapacity;
    use uom::si::heat_capacity::kilojoule_per_kelvin;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    #[test]
    fn what_cannot_warm_the_mash_is_said() {
        let step = |from, to, water| {
            let mash = ThermalMass {
                heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(60.0),
                temperature: celsius(from),
            };
            step_infusion(mash, celsius(to), celsius(water)).unwrap()
        };
        assert_eq!(step(50.0, 64.0, 64.0), StepInfusion::WaterTooCool);
        let none = StepInfusion::Water {
            mass: kilograms(0.0),
        };
        assert_eq!(step(64.0, 50.0, 90.0), none);
        let cool = decoction(celsius(50.0), celsius(64.0), celsius(60.0));
        assert_eq!(cool, Decoction::TooCool);
    }
}
