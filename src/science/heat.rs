//! Heat balances of mash and wort.
//!
//! What is mixed shares its heat: `T = Σ c m T / Σ c m`. Grist also warms the mash a little as it takes up water
//! (slaking); the trade gives that as a rise of the mash temperature.
//!
//! Source: a UK trade book for brewing rooms, 1984/85, and a supplier's handbook: I = (S Tg + M T)/(S + M) + Sc, with
//! S the specific heat of grist relative to water, M the water per mass of grist, Sc the slaking rise.
//! Range: mashes from 1 to 50 kg of water per kg; the slaking table is for large mashes of usual thickness, and much
//! of that heat is lost in a small tun, where the rise is often set to nothing (common practice).
//! Units: kJ/(kg K), °C. Losses to the surroundings are not modelled: bring a margin, and stir before reading. Water
//! and mash at these temperatures scald.

use super::within::within;
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{
    Energy, HeatCapacity, Mass, Moisture, Share, Temperature, in_kilograms, json, kilograms,
};
use serde::Serialize;
use uom::si::energy::kilojoule;
use uom::si::f64::{SpecificHeatCapacity, TemperatureInterval};
use uom::si::heat_capacity::kilojoule_per_kelvin;
use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;
use uom::si::temperature_interval::kelvin;

/// Specific heat of water, kJ/(kg K): the kilocalorie of the trade tables, which state heats relative to water.
const WATER_KJ_PER_KG_K: f64 = 4.186;

/// Specific heat of dry malt relative to water (trade book 1984/85; in SI 1.59 kJ/(kg K)).
const DRY_MALT_RELATIVE: f64 = 0.38;

/// Specific heat of wort of about 12 °P, kJ/(kg K) (brewing arithmetic practice sheet). A rule from memory,
/// 4.19 (1 - 0.006 P), gives 3.89: 4 % less.
const WORT_KJ_PER_KG_K: f64 = 4.05;

/// Malt moisture, fraction, and the rise by slaking, K (supplier's handbook, whose Celsius and Fahrenheit columns
/// agree; those of the trade book differ from each other by up to 0.4 K).
const SLAKING_RISE: [(f64, f64); 7] = [
    (0.00, 3.1),
    (0.01, 2.6),
    (0.02, 2.3),
    (0.03, 2.1),
    (0.04, 1.7),
    (0.06, 1.3),
    (0.08, 1.1),
];

/// More than any tun holds, kg.
const MOST_KG: f64 = 1e7;

/// The grist before mashing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grist {
    /// Its mass.
    pub mass: Mass,
    /// Its temperature.
    pub temperature: Temperature,
    /// Its specific heat; [`grist_specific_heat`] gives that of malt.
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

/// Hot water that takes a mash to its next rest.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
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
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Decoction {
    /// So much of the mash does it, by mass or by volume.
    Part {
        /// The share that is drawn and boiled.
        share: Share,
    },
    /// The decoction is no hotter than the rest: boil it.
    TooCool,
}

/// Specific heat of malt: dry matter and its water.
///
/// # Source
///
/// `0.38 (1 - w) + 1.0 w` relative to water, fitted to the table in a UK trade book of 1984/85 (0.38 dry, 0.40 at
/// 4 %, 0.42 at 8 %; the fit is up to 0.01 high).
///
/// ```
/// use wortwright::quantity::Moisture;
/// use wortwright::quantity::uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;
/// use wortwright::science::heat::grist_specific_heat;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let heat = grist_specific_heat(Moisture::from_percent(4.0)?);
/// assert!((heat.get::<kilojoule_per_kilogram_kelvin>() - 1.69).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn grist_specific_heat(moisture: Moisture) -> SpecificHeatCapacity {
    SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(
        grist_relative_heat(moisture.fraction()) * WATER_KJ_PER_KG_K,
    )
}

/// Specific heat of malt relative to that of water.
pub(crate) fn grist_relative_heat(moisture: f64) -> f64 {
    DRY_MALT_RELATIVE * (1.0 - moisture) + moisture
}

/// Specific heat of water as the trade tables take it: 4.186 kJ/(kg K).
#[must_use]
pub fn water_specific_heat() -> SpecificHeatCapacity {
    SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(WATER_KJ_PER_KG_K)
}

/// Specific heat of wort of about 12 °P: 4.05 kJ/(kg K) (brewing arithmetic practice sheet).
#[must_use]
pub fn wort_specific_heat() -> SpecificHeatCapacity {
    SpecificHeatCapacity::new::<kilojoule_per_kilogram_kelvin>(WORT_KJ_PER_KG_K)
}

/// Rise of the mash temperature by slaking in a large mash of usual thickness, between the lines of the table.
///
/// # Errors
///
/// `OutOfModel` for malt above 8 % moisture, where the table ends.
///
/// # Source
///
/// Supplier's handbook of brewing, table of slaking heats.
///
/// ```
/// use wortwright::quantity::Moisture;
/// use wortwright::quantity::uom::si::temperature_interval::kelvin;
/// use wortwright::science::heat::slaking_rise;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let rise = slaking_rise(Moisture::from_percent(5.0)?)?;
/// assert!((rise.get::<kelvin>() - 1.5).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn slaking_rise(moisture: Moisture) -> Result<TemperatureInterval, Error> {
    let wet = moisture.fraction();
    let between = SLAKING_RISE.windows(2).find_map(|pair| match pair {
        [(low, rise_low), (high, rise_high)] if (*low..=*high).contains(&wet) => {
            Some(rise_low + (rise_high - rise_low) * (wet - low) / (high - low))
        }
        _ => None,
    });
    between
        .map(TemperatureInterval::new::<kelvin>)
        .ok_or_else(|| {
            Error::new(
                ErrorKind::OutOfModel,
                format!(
                    "expected a malt moisture up to 8 % for the slaking heat, found {} %",
                    moisture.percent()
                ),
            )
        })
}

/// Temperature of the mash when grist and water are mixed.
///
/// `tun` is left out where the tun is preheated or its heat small; `slaking` is the rise by hydration.
///
/// # Errors
///
/// `OutOfRange` for a mass, heat or rise outside of sense; `OutOfModel` for an empty mash.
///
/// # Source
///
/// Trade book of 1984/85, initial heat of the mash.
///
/// ```
/// use wortwright::quantity::{Mass, Moisture, Temperature};
/// use wortwright::quantity::uom::si::f64::TemperatureInterval;
/// use wortwright::quantity::uom::si::{mass::kilogram, temperature_interval::kelvin};
/// use wortwright::science::heat::{Grist, grist_specific_heat, mash_temperature};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grist = Grist {
///     mass: Mass::new::<kilogram>(100.0),
///     temperature: Temperature::from_celsius(27.0)?,
///     specific_heat: grist_specific_heat(Moisture::from_percent(2.0)?),
/// };
/// let rise = TemperatureInterval::new::<kelvin>(2.3);
/// let water = Mass::new::<kilogram>(268.0);
/// let mash = mash_temperature(grist, water, Temperature::from_celsius(69.0)?, None, rise)?;
/// assert!((mash.celsius() - 65.96).abs() < 0.02);
/// # Ok(())
/// # }
/// ```
pub fn mash_temperature(
    grist: Grist,
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
/// `OutOfRange` for a mass, heat or rise outside of sense; `OutOfModel` without water, or if no water from -30 to 200 °C would do.
///
/// # Source
///
/// Trade book of 1984/85: T = I' + (S/M)(I' - Tg) with I' = I - Sc.
///
/// ```
/// use wortwright::quantity::{Mass, Moisture, Temperature};
/// use wortwright::quantity::uom::si::f64::TemperatureInterval;
/// use wortwright::quantity::uom::si::{mass::kilogram, temperature_interval::kelvin};
/// use wortwright::science::heat::{Grist, grist_specific_heat, strike_temperature};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grist = Grist {
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
    grist: Grist,
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

/// Hot water that takes a mash from one rest to the next: `(T2 - T1) C / (c (Th - T2))`.
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
/// use wortwright::science::heat::{StepInfusion, step_infusion};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let celsius = Temperature::from_celsius;
/// // 5 kg of grist at 0.4 of water, and 12.5 kg of water.
/// let mash = HeatCapacity::new::<kilojoule_per_kelvin>(14.5 * 4.186);
/// let step = step_infusion(mash, celsius(50.0)?, celsius(64.0)?, celsius(100.0)?)?;
/// let StepInfusion::Water { mass } = step else { unreachable!("boiling water is hot enough") };
/// assert!((mass.get::<kilogram>() - 5.639).abs() < 5e-4);
/// # Ok(())
/// # }
/// ```
pub fn step_infusion(
    mash: HeatCapacity,
    from: Temperature,
    to: Temperature,
    water: Temperature,
) -> Result<StepInfusion, Error> {
    let mash_kj_per_k = capacity_kj(mash)?;
    let rise_k = to.celsius() - from.celsius();
    if rise_k <= 0.0 {
        return Ok(StepInfusion::Water {
            mass: kilograms(0.0),
        });
    }
    let excess_k = water.celsius() - to.celsius();
    // Water within a millikelvin of the rest would be wanted by the million.
    if excess_k < 1e-3 {
        return Ok(StepInfusion::WaterTooCool);
    }
    Ok(StepInfusion::Water {
        mass: kilograms(rise_k * mash_kj_per_k / (WATER_KJ_PER_KG_K * excess_k)),
    })
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
        grist: Grist,
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

fn specific_heat_kj(heat: SpecificHeatCapacity) -> Result<f64, Error> {
    within(
        "a specific heat",
        heat.get::<kilojoule_per_kilogram_kelvin>(),
        0.1..=10.0,
        "kJ/(kg K)",
    )
}

fn capacity_kj(capacity: HeatCapacity) -> Result<f64, Error> {
    within(
        "a heat capacity",
        capacity.get::<kilojoule_per_kelvin>(),
        0.0..=1e9,
        "kJ/K",
    )
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
        let grist = Grist {
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
        let grist = Grist {
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
    fn the_fit_of_the_specific_heat_keeps_to_its_table() {
        // Trade book of 1984/85.
        for (percent, printed) in [
            (0.0, 0.38),
            (1.0, 0.38),
            (2.0, 0.39),
            (3.0, 0.40),
            (4.0, 0.40),
            (6.0, 0.41),
            (8.0, 0.42),
        ] {
            let fitted = grist_relative_heat(percent / 100.0);
            // The table is rounded to 0.01 and the fit runs up to 0.01 high.
            assert!((fitted - printed).abs() < 0.0101, "{percent}: {fitted}");
        }
    }

    #[test]
    fn slaking_follows_its_table_and_ends_with_it() {
        let at = |percent| slaking_rise(Moisture::from_percent(percent).unwrap());
        for (percent, printed) in [(0.0, 3.1), (2.0, 2.3), (4.0, 1.7), (8.0, 1.1)] {
            assert!((at(percent).unwrap().get::<kelvin>() - printed).abs() < 1e-9);
        }
        assert_eq!(at(9.0).unwrap_err().kind(), ErrorKind::OutOfModel);
    }

    #[test]
    fn wort_cooler_of_the_practice_sheet() {
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
    fn what_cannot_warm_the_mash_is_said() {
        let mash = HeatCapacity::new::<kilojoule_per_kelvin>(60.0);
        let step = |water| step_infusion(mash, celsius(50.0), celsius(64.0), celsius(water));
        assert_eq!(step(64.0).unwrap(), StepInfusion::WaterTooCool);
        let back = step_infusion(mash, celsius(64.0), celsius(50.0), celsius(90.0)).unwrap();
        assert_eq!(
            back,
            StepInfusion::Water {
                mass: kilograms(0.0)
            }
        );
        let cool = decoction(celsius(50.0), celsius(64.0), celsius(60.0));
        assert_eq!(cool, Decoction::TooCool);
    }

    #[test]
    fn impossible_mashes_are_refused() {
        let grist = Grist {
            mass: kilograms(50.0),
            temperature: celsius(-20.0),
            specific_heat: relative(0.4),
        };
        let hot = celsius(66.0);
        let too_little = strike_temperature(grist, kilograms(5.0), hot, None, rise(0.0));
        assert_eq!(
            too_little.unwrap_err().to_string(),
            "strike water would have to be at 410.0 °C"
        );
        assert!(strike_temperature(grist, kilograms(0.0), hot, None, rise(0.0)).is_err());
        assert!(mash_temperature(grist, kilograms(f64::NAN), hot, None, rise(0.0)).is_err());
        assert!(heat_to_change(kilograms(-1.0), wort_specific_heat(), hot, hot).is_err());
    }
}
