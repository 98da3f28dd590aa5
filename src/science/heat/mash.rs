//! Mixing grist, water and tun: what is mixed shares its heat, `T = Σ c m T / Σ c m`.
//!
//! Grist also warms the mash a little as it takes up water (slaking); the trade gives that as a rise of the mash
//! temperature.
//!
//! Source: a UK trade book for brewing rooms, 1984/85: I = (S Tg + M T)/(S + M) + Sc, with S the specific heat of
//! grist relative to water, M the water per mass of grist, Sc the slaking rise.
//! Range: any thickness. Losses to the surroundings are not modelled: stir before reading. Units: kJ/K, °C.
//! Strike water and mash scald.

use super::specific::{WATER_KJ_PER_KG_K, capacity_kj, specific_heat_kj};
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{HeatCapacity, Mass, Temperature, in_kilograms};
use crate::science::within::within;
use uom::si::f64::{SpecificHeatCapacity, TemperatureInterval};
use uom::si::heat_capacity::kilojoule_per_kelvin;
use uom::si::temperature_interval::kelvin;

/// More than any tun holds, kg.
const MOST_KG: f64 = 1e7;

/// The grist before mashing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryGrist {
    /// Its mass.
    pub mass: Mass,
    /// Its temperature.
    pub temperature: Temperature,
    /// Its specific heat; [`grist_specific_heat`](super::grist_specific_heat) gives that of malt.
    pub specific_heat: SpecificHeatCapacity,
}

/// A tun, and how warm it is before mashing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tun {
    /// Heat that warms the part in contact with the mash by a kelvin.
    pub heat_capacity: HeatCapacity,
    /// Its temperature.
    pub temperature: Temperature,
}

/// Temperature of the mash when grist and water are mixed.
///
/// `tun` is left out where the tun is preheated or its heat small; `slaking` is the rise by hydration.
///
/// # Errors
///
/// `OutOfRange` for a mass, heat or rise outside of sense, or no water; `OutOfModel` for a mash above 200 °C.
///
/// # Source
///
/// Trade book of 1984/85, initial heat of the mash.
///
/// ```
/// use wortwright::quantity::{Mass, Temperature};
/// use wortwright::quantity::uom::si::f64::TemperatureInterval;
/// use wortwright::quantity::uom::si::{mass::kilogram, temperature_interval::kelvin};
/// use wortwright::science::heat::{DryGrist, mash_temperature, water_specific_heat};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grist = DryGrist {
///     mass: Mass::new::<kilogram>(100.0),
///     temperature: Temperature::from_celsius(27.0)?,
///     specific_heat: water_specific_heat() * 0.39, // malt of 2 % moisture
/// };
/// let rise = TemperatureInterval::new::<kelvin>(2.3);
/// let water = Mass::new::<kilogram>(268.0);
/// let mash = mash_temperature(grist, water, Temperature::from_celsius(69.0)?, None, rise)?;
/// assert!((mash.celsius() - 65.96).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn mash_temperature(
    grist: DryGrist,
    water: Mass,
    water_temperature: Temperature,
    tun: Option<Tun>,
    slaking: TemperatureInterval,
) -> Result<Temperature, Error> {
    let mash = Mash::new(grist, water, tun, slaking)?;
    let heat_kj = mash.cold_kj + mash.water_kj_per_k * water_temperature.celsius();
    let mixed_c = heat_kj / (mash.cold_kj_per_k + mash.water_kj_per_k);
    temperature("a mash", mixed_c + mash.slaking_k)
}

/// Temperature of the strike water that gives the mash its temperature: the inverse of [`mash_temperature`].
///
/// The result may lie above the boiling point of the place; then use more water, warm the tun or heat the mash.
///
/// # Errors
///
/// `OutOfRange` for a mass, heat or rise outside of sense, or no water; `OutOfModel` if no water from -30 to 200 °C
/// would do.
///
/// # Source
///
/// Trade book of 1984/85: T = I' + (S/M)(I' - Tg) with I' = I - Sc.
///
/// ```
/// use wortwright::quantity::{Mass, Moisture, Temperature};
/// use wortwright::quantity::uom::si::f64::TemperatureInterval;
/// use wortwright::quantity::uom::si::{mass::kilogram, temperature_interval::kelvin};
/// use wortwright::science::heat::{DryGrist, grist_specific_heat, strike_temperature};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grist = DryGrist {
///     mass: Mass::new::<kilogram>(5.0),
///     temperature: Temperature::from_celsius(20.0)?,
///     specific_heat: grist_specific_heat(Moisture::from_percent(0.0)?),
/// };
/// let none = TemperatureInterval::new::<kelvin>(0.0);
/// let water = Mass::new::<kilogram>(12.5);
/// let strike = strike_temperature(grist, water, Temperature::from_celsius(65.0)?, None, none)?;
/// assert!((strike.celsius() - 71.84).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn strike_temperature(
    grist: DryGrist,
    water: Mass,
    target: Temperature,
    tun: Option<Tun>,
    slaking: TemperatureInterval,
) -> Result<Temperature, Error> {
    let mash = Mash::new(grist, water, tun, slaking)?;
    let mixed_c = target.celsius() - mash.slaking_k;
    let wanting_kj = mash.cold_kj_per_k * mixed_c - mash.cold_kj;
    temperature("strike water", mixed_c + wanting_kj / mash.water_kj_per_k)
}

/// Heat that warms a mash by a kelvin: grist, the water in it, and the tun.
///
/// # Errors
///
/// `OutOfRange` for a mass or heat outside of sense.
///
/// ```
/// use wortwright::quantity::{HeatCapacity, Mass, Moisture};
/// use wortwright::quantity::uom::si::{heat_capacity::kilojoule_per_kelvin, mass::kilogram};
/// use wortwright::science::heat::{grist_specific_heat, mash_heat_capacity};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let kg = Mass::new::<kilogram>;
/// let dry = grist_specific_heat(Moisture::from_percent(0.0)?);
/// let mash = mash_heat_capacity(kg(5.0), dry, kg(12.5), HeatCapacity::default())?;
/// assert!((mash.get::<kilojoule_per_kelvin>() - 60.28).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn mash_heat_capacity(
    grist: Mass,
    specific_heat: SpecificHeatCapacity,
    water: Mass,
    tun: HeatCapacity,
) -> Result<HeatCapacity, Error> {
    let grist_kg = within("a grist", in_kilograms(grist), 0.0..=MOST_KG, "kg")?;
    let water_kg = within("mash water", in_kilograms(water), 0.0..=MOST_KG, "kg")?;
    let whole = grist_kg * specific_heat_kj(specific_heat)?
        + water_kg * WATER_KJ_PER_KG_K
        + capacity_kj(tun)?;
    Ok(HeatCapacity::new::<kilojoule_per_kelvin>(whole))
}

/// The checked figures of a mash about to be mixed.
struct Mash {
    /// Heat capacity of grist and tun.
    cold_kj_per_k: f64,
    /// Their heat above 0 °C.
    cold_kj: f64,
    water_kj_per_k: f64,
    slaking_k: f64,
}

impl Mash {
    fn new(
        grist: DryGrist,
        water: Mass,
        tun: Option<Tun>,
        slaking: TemperatureInterval,
    ) -> Result<Self, Error> {
        let grist_kg = within("a grist", in_kilograms(grist.mass), 0.0..=MOST_KG, "kg")?;
        let water_kg = within("mash water", in_kilograms(water), 1e-6..=MOST_KG, "kg")?;
        let slaking_k = within("a slaking rise", slaking.get::<kelvin>(), 0.0..=10.0, "K")?;
        let grist_kj_per_k = grist_kg * specific_heat_kj(grist.specific_heat)?;
        let (tun_kj_per_k, tun_c) = match tun {
            Some(tun) => (capacity_kj(tun.heat_capacity)?, tun.temperature.celsius()),
            None => (0.0, 0.0),
        };
        Ok(Self {
            cold_kj_per_k: grist_kj_per_k + tun_kj_per_k,
            cold_kj: grist_kj_per_k * grist.temperature.celsius() + tun_kj_per_k * tun_c,
            water_kj_per_k: water_kg * WATER_KJ_PER_KG_K,
            slaking_k,
        })
    }
}

/// A computed temperature, or word that none on the scale fits.
fn temperature(of: &str, celsius: f64) -> Result<Temperature, Error> {
    Temperature::from_celsius(celsius).map_err(|_| {
        Error::new(
            ErrorKind::OutOfModel,
            format!("{of} would have to be at {celsius:.1} °C"),
        )
        .with_help("use more water, or bring grist and tun closer to the mash temperature")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::kilograms;
    use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;

    fn celsius(value: f64) -> Temperature {
        Temperature::from_celsius(value).unwrap()
    }

    fn relative(heat: f64) -> SpecificHeatCapacity {
        SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(heat * WATER_KJ_PER_KG_K)
    }

    fn rise(value: f64) -> TemperatureInterval {
        TemperatureInterval::new::<kelvin>(value)
    }

    /// Initial heat of a mash by the printed relation.
    fn initial(heat: f64, grist_c: f64, water: f64, water_c: f64, slaking_k: f64) -> f64 {
        let grist = DryGrist {
            mass: kilograms(1.0),
            temperature: celsius(grist_c),
            specific_heat: relative(heat),
        };
        mash_temperature(
            grist,
            kilograms(water),
            celsius(water_c),
            None,
            rise(slaking_k),
        )
        .unwrap()
        .celsius()
    }

    #[test]
    fn initial_heats_of_the_trade_book_come_out() {
        // H1, by hand: (0.39 · 27 + 2.68 · 69)/3.07 + 2.3.
        assert!((initial(0.39, 27.0, 2.68, 69.0, 2.3) - 65.96).abs() < 0.005);
        // H2, the same in degrees Fahrenheit with 2.5 taken for the water.
        let c = |f: f64| (f - 32.0) / 1.8;
        let mash = initial(0.39, c(80.0), 2.5, c(156.0), 4.0 / 1.8);
        assert!((mash - 65.41).abs() < 0.005);
        assert!((mash * 1.8 + 32.0 - 149.74).abs() < 0.01);
    }

    #[test]
    fn the_misprinted_example_is_not_reproduced() {
        // H3: printed 65.9 °C for water "at 60 °C"; the relation gives 58.57, and 65.63 with water at 68 °C.
        let as_printed = initial(0.40, 30.0, 3.0, 60.0, 2.1);
        assert!((as_printed - 65.9).abs() > 7.0);
        assert!((as_printed - 58.57).abs() < 0.005);
        assert!((initial(0.40, 30.0, 3.0, 68.0, 2.1) - 65.63).abs() < 0.005);
    }

    #[test]
    fn strike_water_gives_the_mash_its_temperature_with_a_cold_tun_and_slaking() {
        let grist = DryGrist {
            mass: kilograms(5.0),
            temperature: celsius(12.0),
            specific_heat: relative(0.4),
        };
        let tun = Some(Tun {
            heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(4.186),
            temperature: celsius(20.0),
        });
        let water = kilograms(15.0);
        let strike = strike_temperature(grist, water, celsius(66.0), tun, rise(1.0)).unwrap();
        // By hand, relative to water: 65 + (2 · 53 + 1 · 45)/15.
        assert!((strike.celsius() - (65.0 + 151.0 / 15.0)).abs() < 1e-9);
        let mash = mash_temperature(grist, water, strike, tun, rise(1.0)).unwrap();
        assert!((mash.celsius() - 66.0).abs() < 1e-9);
    }

    #[test]
    fn impossible_mashes_are_refused() {
        let grist = DryGrist {
            mass: kilograms(50.0),
            temperature: celsius(-20.0),
            specific_heat: relative(0.4),
        };
        let hot = celsius(66.0);
        let too_little = strike_temperature(grist, kilograms(5.0), hot, None, rise(0.0));
        assert_eq!(
            too_little.unwrap_err().message(),
            "strike water would have to be at 410.0 °C"
        );
        assert!(strike_temperature(grist, kilograms(0.0), hot, None, rise(0.0)).is_err());
        assert!(mash_temperature(grist, kilograms(f64::NAN), hot, None, rise(0.0)).is_err());
    }
}
