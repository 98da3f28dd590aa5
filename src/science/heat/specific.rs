//! Specific heats of water and of malt.
//!
//! Source: a UK trade book for brewing rooms, 1984/85. Range: malt to 8 % moisture. Units: kJ/(kg K).

use crate::diagnostic::Error;
use crate::quantity::{HeatCapacity, Moisture};
use crate::science::within::within;
use uom::si::f64::SpecificHeatCapacity;
use uom::si::heat_capacity::kilojoule_per_kelvin;
use uom::si::specific_heat_capacity::kilojoule_per_kilogram_kelvin;

/// Specific heat of water, kJ/(kg K): the kilocalorie of the trade tables, which state heats relative to water.
pub(super) const WATER_KJ_PER_KG_K: f64 = 4.186;

/// Specific heat of dry malt relative to water (trade book 1984/85; in SI 1.59 kJ/(kg K)).
const DRY_MALT_RELATIVE: f64 = 0.38;

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

/// Heat that warms water with dry matter of malt in it by a kelvin, kJ/K: a mash, or wort, whose extract counts as dry malt.
pub(crate) fn wet_kj_per_k(water_kg: f64, dry_kg: f64) -> f64 {
    WATER_KJ_PER_KG_K * (water_kg + DRY_MALT_RELATIVE * dry_kg)
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
}
