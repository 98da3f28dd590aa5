//! Heating and cooling of wort and water.
//!
//! Source: energy balance, checked against a practice sheet of brewing arithmetic.
//! Range: no change of state. Units: kJ, kg, °C.

use super::specific::specific_heat_kj;
use crate::diagnostic::Error;
use crate::quantity::{Energy, Mass, Temperature, in_kilograms, kilograms};
use crate::science::within::within;
use uom::si::energy::kilojoule;
use uom::si::f64::SpecificHeatCapacity;

/// More than any tun holds, kg.
const MOST_KG: f64 = 1e7;

/// Heat that takes a mass from one temperature to another; below zero for cooling.
///
/// # Errors
///
/// `OutOfRange` for a mass or heat outside of sense.
///
/// # Source
///
/// Energy balance; checked against a practice sheet of brewing arithmetic.
///
/// ```
/// use wortwright::quantity::{Mass, Temperature};
/// use wortwright::quantity::uom::si::{energy::kilojoule, mass::kilogram};
/// use wortwright::science::heat::{heat_to_change, wort_specific_heat};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let wort = Mass::new::<kilogram>(30_000.0);
/// let heat = heat_to_change(wort, wort_specific_heat(), celsius(95.0)?, celsius(20.0)?)?;
/// assert!((heat.get::<kilojoule>() + 9_112_500.0).abs() < 0.01);
/// # Ok(())
/// # }
/// ```
pub fn heat_to_change(
    mass: Mass,
    specific_heat: SpecificHeatCapacity,
    from: Temperature,
    to: Temperature,
) -> Result<Energy, Error> {
    let mass_kg = within("a mass", in_kilograms(mass), 0.0..=MOST_KG, "kg")?;
    let rise_k = to.celsius() - from.celsius();
    let heat_kj = mass_kg * specific_heat_kj(specific_heat)? * rise_k;
    Ok(Energy::new::<kilojoule>(heat_kj))
}

/// Cooling water that takes up so much heat while it warms from one temperature to another.
///
/// # Errors
///
/// `OutOfRange` for heat outside of sense, or if the water does not warm by a hundredth of a kelvin.
///
/// # Source
///
/// Energy balance; checked against a practice sheet of brewing arithmetic.
///
/// ```
/// use wortwright::quantity::uom::si::f64::SpecificHeatCapacity;
/// use wortwright::quantity::uom::si::{
///     energy::kilojoule, mass::kilogram, specific_heat_capacity::kilojoule_per_kilogram_kelvin,
/// };
/// use wortwright::quantity::{Energy, Temperature};
/// use wortwright::science::heat::coolant;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// let heat = Energy::new::<kilojoule>(9_112_500.0);
/// let of_water = SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(4.2);
/// let water = coolant(heat, of_water, celsius(18.0)?, celsius(89.0)?)?;
/// assert!((water.get::<kilogram>() - 30_558.0).abs() < 0.5);
/// # Ok(())
/// # }
/// ```
pub fn coolant(
    heat: Energy,
    specific_heat: SpecificHeatCapacity,
    from: Temperature,
    to: Temperature,
) -> Result<Mass, Error> {
    let heat_kj = within("heat", heat.get::<kilojoule>(), 0.0..=1e12, "kJ")?;
    let rise_k = within(
        "a rise of the cooling water",
        to.celsius() - from.celsius(),
        0.01..=300.0,
        "K",
    )?;
    let heat_kj_per_kg_k = specific_heat_kj(specific_heat)?;
    Ok(kilograms(heat_kj / (heat_kj_per_kg_k * rise_k)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::heat::wort_specific_heat;
    use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    #[test]
    fn wort_cooler_of_the_practice_sheet() {
        // H4: 300 hL from 95 to 20 °C at 4.05 kJ/(kg K), 1 kg/L.
        let cooled = heat_to_change(
            kilograms(30_000.0),
            wort_specific_heat(),
            celsius(95.0),
            celsius(20.0),
        )
        .unwrap();
        assert!((cooled.get::<kilojoule>() + 9_112_500.0).abs() < 0.01);
        // H5: what takes it up, water from 18 to 89 °C at 4.2 kJ/(kg K).
        let heat = SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(4.2);
        let water = coolant(-cooled, heat, celsius(18.0), celsius(89.0)).unwrap();
        assert!((in_kilograms(water) - 30_558.0).abs() < 0.5);
        // H6: 500 hL from 98 to 18 °C, 1 kg/L.
        let heat = heat_to_change(
            kilograms(50_000.0),
            wort_specific_heat(),
            celsius(98.0),
            celsius(18.0),
        );
        assert!((heat.unwrap().get::<kilojoule>() + 16_200_000.0).abs() < 0.01);
    }

    #[test]
    fn negative_masses_and_water_that_does_not_warm_are_refused() {
        let (hot, cold) = (celsius(95.0), celsius(20.0));
        let heat = wort_specific_heat();
        assert!(heat_to_change(kilograms(-1.0), heat, hot, cold).is_err());
        assert!(coolant(Energy::new::<kilojoule>(10.0), heat, cold, cold).is_err());
    }
}
