//! Sparge water: how hot it is, and what it makes of a drained grain bed.
//!
//! Source: energy balance; the temperature of the water is that of the trade. Range: any bed. Losses to the surroundings are not
//! modelled. Units: kJ/K, kg, °C. Sparge water scalds.

use super::mash::ThermalMass;
use super::specific::{WATER_KJ_PER_KG_K, capacity_kj};
use crate::diagnostic::Error;
use crate::quantity::{Mass, Temperature, in_kilograms};
use crate::science::within::within;

/// Sparge water, °C: the middle of 76 to 78 (an equipment maker; Kunze, quoted: above 78 no enzyme is left for the starch that is
/// washed out late).
pub(crate) const SPARGE_C: f64 = 77.0;

/// Temperature of a drained grain bed with sparge water of `at` stirred in. The bed is the grain with the wort that it holds:
/// [`MashIn::heat_capacity`](super::MashIn::heat_capacity) gives its heat.
///
/// # Errors
///
/// `OutOfRange` for a heat or mass outside of sense, or no water.
///
/// # Source
///
/// Energy balance.
///
/// ```
/// use wortwright::quantity::{HeatCapacity, Mass, Temperature};
/// use wortwright::quantity::uom::si::{heat_capacity::kilojoule_per_kelvin, mass::kilogram};
/// use wortwright::science::heat::{ThermalMass, sparged_bed};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let bed = ThermalMass {
///     heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(5.0 * 4.186),
///     temperature: celsius(65.0)?,
/// };
/// let mixed = sparged_bed(bed, Mass::new::<kilogram>(10.0), celsius(77.0)?)?;
/// assert!((mixed.celsius() - 73.0).abs() < 1e-9); // by hand: (5 · 65 + 10 · 77)/15
/// # Ok(())
/// # }
/// ```
pub fn sparged_bed(bed: ThermalMass, water: Mass, at: Temperature) -> Result<Temperature, Error> {
    let bed_kj_per_k = capacity_kj(bed.heat_capacity)?;
    let water_kg = within("sparge water", in_kilograms(water), 1e-6..=1e7, "kg")?;
    let water_kj_per_k = WATER_KJ_PER_KG_K * water_kg;
    let heat = bed_kj_per_k * bed.temperature.celsius() + water_kj_per_k * at.celsius();
    Ok(Temperature::clamped(heat / (bed_kj_per_k + water_kj_per_k)))
}
