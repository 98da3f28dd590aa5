//! Specific heats of grist, water and wort, and the slaking heat of malt.
//!
//! Source: a UK trade book for brewing rooms, 1984/85, and a supplier's handbook.
//! Range: malt to 8 % moisture. The slaking table is for large mashes of usual thickness; much of that heat is lost in
//! a small tun, where the rise is often set to nothing (common practice). Units: kJ/(kg K), K.

use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{HeatCapacity, Moisture};
use crate::science::within::within;
use uom::si::f64::{SpecificHeatCapacity, TemperatureInterval};
use uom::si::heat_capacity::kilojoule_per_kelvin;
use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;
use uom::si::temperature_interval::kelvin;

/// Specific heat of water, kJ/(kg K): the kilocalorie of the trade tables, which state heats relative to water.
pub(super) const WATER_KJ_PER_KG_K: f64 = 4.186;

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

/// The figure of a specific heat, checked.
pub(super) fn specific_heat_kj(heat: SpecificHeatCapacity) -> Result<f64, Error> {
    within(
        "a specific heat",
        heat.get::<kilojoule_per_kilogram_kelvin>(),
        0.1..=10.0,
        "kJ/(kg K)",
    )
}

/// The figure of a heat capacity, checked.
pub(super) fn capacity_kj(capacity: HeatCapacity) -> Result<f64, Error> {
    within(
        "a heat capacity",
        capacity.get::<kilojoule_per_kelvin>(),
        0.0..=1e9,
        "kJ/K",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

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
}
