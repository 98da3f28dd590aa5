//! Sparge water: how hot it must be to bring a drained grain bed to its sparging temperature.
//!
//! Source: energy balance; the temperature of the bed is common practice. Range: any bed. Losses to the surroundings
//! are not modelled. Units: kJ/K, kg, °C. Sparge water scalds.

use super::mash::ThermalMass;
use super::specific::{WATER_KJ_PER_KG_K, capacity_kj};
use crate::diagnostic::Error;
use crate::quantity::{Mass, Temperature, in_kilograms};
use crate::science::within::within;

/// Grain bed in the sparge, °C; hotter than 78 to 80 it gives tannin and starch (common practice, no source).
const SPARGED_BED_C: f64 = 76.0;

/// Temperature of sparge water that brings the grain bed to 76 °C, at most `boiling`. The bed is the drained grain with
/// the wort that it holds: [`MashIn::heat_capacity`](super::MashIn::heat_capacity) gives its heat.
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
/// use wortwright::science::heat::{ThermalMass, sparge_temperature};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let bed = ThermalMass {
///     heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(5.0 * 4.186),
///     temperature: celsius(66.0)?,
/// };
/// let sparge = sparge_temperature(bed, Mass::new::<kilogram>(10.0), celsius(99.0)?)?;
/// assert!((sparge.celsius() - 81.0).abs() < 1e-9); // by hand: 76 + 10 · 5/10
/// # Ok(())
/// # }
/// ```
pub fn sparge_temperature(
    bed: ThermalMass,
    water: Mass,
    boiling: Temperature,
) -> Result<Temperature, Error> {
    let bed_kj_per_k = capacity_kj(bed.heat_capacity)?;
    let water_kg = within("sparge water", in_kilograms(water), 1e-6..=1e7, "kg")?;
    let rise_k = (SPARGED_BED_C - bed.temperature.celsius()).max(0.0);
    let wanted_c = SPARGED_BED_C + rise_k * bed_kj_per_k / (WATER_KJ_PER_KG_K * water_kg);
    Ok(Temperature::clamped(wanted_c.min(boiling.celsius())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{HeatCapacity, kilograms};
    use uom::si::heat_capacity::kilojoule_per_kelvin;

    #[test]
    fn sparge_water_makes_up_for_a_cool_bed_and_no_more() {
        // By hand, water at 4.186 kJ/(kg K): a bed of as much heat as 5 kg of water, 10 K too cool, under 10 kg.
        let celsius = |value| Temperature::from_celsius(value).unwrap();
        let sparge = |bed_c| {
            let bed = ThermalMass {
                heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(5.0 * WATER_KJ_PER_KG_K),
                temperature: celsius(bed_c),
            };
            sparge_temperature(bed, kilograms(10.0), celsius(99.0)).unwrap()
        };
        assert!((sparge(SPARGED_BED_C - 10.0).celsius() - (SPARGED_BED_C + 5.0)).abs() < 1e-9);
        assert!((sparge(SPARGED_BED_C + 4.0).celsius() - SPARGED_BED_C).abs() < 1e-9);
    }
}
