//! Mixing grist, water and tun: what is mixed shares its heat, `T = Σ c m T / Σ c m`.
//!
//! Grist also warms the mash a little as it takes up water (slaking). In a small tun most of that heat is lost, and the
//! rise is usually left out (common practice), as it is here; large mashes come out 1 to 3 K warmer.
//!
//! Source: a UK trade book for brewing rooms, 1984/85: I = (S Tg + M T)/(S + M) + Sc, with S the specific heat of
//! grist relative to water, M the water per mass of grist, Sc the slaking rise.
//! Range: any thickness. Losses to the surroundings are not modelled: stir before reading. Units: kJ/K, °C.
//! Strike water and mash scald.

use super::specific::{WATER_KJ_PER_KG_K, capacity_kj, specific_heat_kj};
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{HeatCapacity, Mass, Temperature, in_kilograms};
use crate::science::within::within;
use uom::si::f64::SpecificHeatCapacity;
use uom::si::heat_capacity::kilojoule_per_kelvin;

/// More than any tun holds, kg.
const MOST_KG: f64 = 1e7;

/// The grist before mashing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DryGrist {
    /// How much is mashed.
    pub mass: Mass,
    /// That of the store or the room.
    pub temperature: Temperature,
    /// [`grist_specific_heat`](super::grist_specific_heat) gives that of malt.
    pub specific_heat: SpecificHeatCapacity,
}

/// Something warm or cold that shares its heat: a tun, a mash, a grain bed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThermalMass {
    /// Heat that warms it by a kelvin; of a tun, the part in contact with the mash.
    pub heat_capacity: HeatCapacity,
    /// How warm it is before it shares.
    pub temperature: Temperature,
}

/// Grist and water about to be mixed.
///
/// ```
/// use wortwright::quantity::{Mass, Moisture, Temperature};
/// use wortwright::quantity::uom::si::mass::kilogram;
/// use wortwright::science::heat::{DryGrist, MashIn, grist_specific_heat};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grist = DryGrist {
///     mass: Mass::new::<kilogram>(5.0),
///     temperature: Temperature::from_celsius(20.0)?,
///     specific_heat: grist_specific_heat(Moisture::from_percent(0.0)?),
/// };
/// let mash = MashIn { grist, water: Mass::new::<kilogram>(12.5), tun: None };
/// // By hand: 65 + 0.38 · 5/12.5 · (65 - 20).
/// let strike = mash.strike_temperature(Temperature::from_celsius(65.0)?)?;
/// assert!((strike.celsius() - 71.84).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashIn {
    /// What is mashed, before it is wetted.
    pub grist: DryGrist,
    /// Strike water.
    pub water: Mass,
    /// The tun; none where it is preheated or its heat small.
    pub tun: Option<ThermalMass>,
}

impl MashIn {
    /// Temperature of the strike water that brings the mash to `target`. It may lie above the boiling point of the
    /// place: then use more water, warm the tun or heat the mash.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a mass or heat outside of sense, or no water; `OutOfModel` if no water from -30 to 200 °C would
    /// do.
    ///
    /// # Source
    ///
    /// Trade book of 1984/85: T = I + (S/M)(I - Tg).
    pub fn strike_temperature(&self, target: Temperature) -> Result<Temperature, Error> {
        let (cold, water_kj_per_k) = (self.cold()?, self.water_kj_per_k()?);
        let mash_c = target.celsius();
        let wanting_kj = cold.kj_per_k * mash_c - cold.kj;
        temperature("strike water", mash_c + wanting_kj / water_kj_per_k)
    }

    /// Temperature of the mash with water of this temperature: the inverse of
    /// [`strike_temperature`](Self::strike_temperature).
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a mass or heat outside of sense, or no water; `OutOfModel` for a mash above 200 °C.
    ///
    /// # Source
    ///
    /// Trade book of 1984/85, initial heat of the mash.
    pub fn temperature(&self, water: Temperature) -> Result<Temperature, Error> {
        let (cold, water_kj_per_k) = (self.cold()?, self.water_kj_per_k()?);
        let heat_kj = cold.kj + water_kj_per_k * water.celsius();
        temperature("a mash", heat_kj / (cold.kj_per_k + water_kj_per_k))
    }

    /// Heat that warms the mash by a kelvin: grist, the water in it, and the tun.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a mass or heat outside of sense.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, Moisture, Temperature};
    /// use wortwright::quantity::uom::si::{heat_capacity::kilojoule_per_kelvin, mass::kilogram};
    /// use wortwright::science::heat::{DryGrist, MashIn, grist_specific_heat};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let grist = DryGrist {
    ///     mass: Mass::new::<kilogram>(5.0),
    ///     temperature: Temperature::from_celsius(20.0)?,
    ///     specific_heat: grist_specific_heat(Moisture::from_percent(0.0)?),
    /// };
    /// let mash = MashIn { grist, water: Mass::new::<kilogram>(12.5), tun: None };
    /// // By hand: (0.38 · 5 + 12.5) · 4.186.
    /// assert!((mash.heat_capacity()?.get::<kilojoule_per_kelvin>() - 60.28).abs() < 0.005);
    /// # Ok(())
    /// # }
    /// ```
    pub fn heat_capacity(&self) -> Result<HeatCapacity, Error> {
        let water_kg = within("mash water", in_kilograms(self.water), 0.0..=MOST_KG, "kg")?;
        let whole = self.cold()?.kj_per_k + water_kg * WATER_KJ_PER_KG_K;
        Ok(HeatCapacity::new::<kilojoule_per_kelvin>(whole))
    }

    /// Grist and tun.
    fn cold(&self) -> Result<Cold, Error> {
        let grist = self.grist;
        let grist_kg = within("a grist", in_kilograms(grist.mass), 0.0..=MOST_KG, "kg")?;
        let grist_kj_per_k = grist_kg * specific_heat_kj(grist.specific_heat)?;
        let (tun_kj_per_k, tun_c) = match self.tun {
            Some(tun) => (capacity_kj(tun.heat_capacity)?, tun.temperature.celsius()),
            None => (0.0, 0.0),
        };
        Ok(Cold {
            kj_per_k: grist_kj_per_k + tun_kj_per_k,
            kj: grist_kj_per_k * grist.temperature.celsius() + tun_kj_per_k * tun_c,
        })
    }

    fn water_kj_per_k(&self) -> Result<f64, Error> {
        let water_kg = within("mash water", in_kilograms(self.water), 1e-6..=MOST_KG, "kg")?;
        Ok(water_kg * WATER_KJ_PER_KG_K)
    }
}

/// What strike water has to warm.
struct Cold {
    kj_per_k: f64,
    /// Its heat above 0 °C.
    kj: f64,
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

    fn grist(kg: f64, celsius_: f64, relative_heat: f64) -> DryGrist {
        DryGrist {
            mass: kilograms(kg),
            temperature: celsius(celsius_),
            specific_heat: SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(
                relative_heat * WATER_KJ_PER_KG_K,
            ),
        }
    }

    fn mash(grist: DryGrist, water_kg: f64) -> MashIn {
        MashIn {
            grist,
            water: kilograms(water_kg),
            tun: None,
        }
    }

    /// Initial heat of a mash by the printed relation, without the rise by slaking.
    fn initial(grist: DryGrist, water_kg: f64, water_c: f64) -> f64 {
        let mixed = mash(grist, water_kg).temperature(celsius(water_c));
        mixed.unwrap().celsius()
    }

    #[test]
    fn initial_heats_of_the_trade_book_come_out() {
        // H1, printed with a slaking rise of 2.3 K: (0.39 · 27 + 2.68 · 69)/3.07 + 2.3 = 65.96.
        let h1 = initial(grist(1.0, 27.0, 0.39), 2.68, 69.0);
        assert!((h1 + 2.3 - 65.96).abs() < 0.005);
        // H2, the same in degrees Fahrenheit with 2.5 taken for the water and a rise of 4 °F: 149.74 °F.
        let c = |f: f64| (f - 32.0) / 1.8;
        let h2 = initial(grist(1.0, c(80.0), 0.39), 2.5, c(156.0));
        assert!((h2 * 1.8 + 32.0 + 4.0 - 149.74).abs() < 0.01);
    }

    #[test]
    fn the_misprinted_example_is_not_reproduced() {
        // H3, with a rise of 2.1 K: printed 65.9 °C for water "at 60 °C"; the relation gives 58.57, and 65.63 with water
        // at 68 °C.
        let malt = grist(1.0, 30.0, 0.40);
        let as_printed = initial(malt, 3.0, 60.0) + 2.1;
        assert!((as_printed - 65.9).abs() > 7.0);
        assert!((as_printed - 58.57).abs() < 0.005);
        assert!((initial(malt, 3.0, 68.0) + 2.1 - 65.63).abs() < 0.005);
    }

    #[test]
    fn strike_water_gives_the_mash_its_temperature_with_a_cold_tun() {
        let mash = MashIn {
            tun: Some(ThermalMass {
                heat_capacity: HeatCapacity::new::<kilojoule_per_kelvin>(4.186),
                temperature: celsius(20.0),
            }),
            ..mash(grist(5.0, 12.0, 0.4), 15.0)
        };
        let strike = mash.strike_temperature(celsius(65.0)).unwrap();
        // By hand, relative to water: 65 + (2 · 53 + 1 · 45)/15.
        assert!((strike.celsius() - (65.0 + 151.0 / 15.0)).abs() < 1e-9);
        let mixed = mash.temperature(strike).unwrap();
        assert!((mixed.celsius() - 65.0).abs() < 1e-9);
    }

    #[test]
    fn impossible_mashes_are_refused() {
        let grist = grist(50.0, -20.0, 0.4);
        let strike = |water_kg| mash(grist, water_kg).strike_temperature(celsius(66.0));
        assert_eq!(
            strike(5.0).unwrap_err().message(),
            "strike water would have to be at 410.0 °C"
        );
        assert!(strike(0.0).is_err());
        assert!(mash(grist, f64::NAN).temperature(celsius(66.0)).is_err());
    }
}
