//! Strength of the first wort.
//!
//! Source: balance, as in a university formula sheet of brewing.
//! Range: any mash whose extract is all in solution and mixed. Units: kg per kg of grist, °P.

use crate::diagnostic::Error;
use crate::quantity::{Extract, LiquorRatio, MassDensity, Moisture, Share};
use crate::science::within::within;
use uom::si::mass_density::kilogram_per_cubic_meter;

/// Strength of the first wort: `100 Y / (Y + W + moisture)`.
///
/// `dissolved` is the extract in solution per mass of grist as is (conversion × laboratory extract), `liquor` the
/// mash water at the temperature of which `water_density` is given.
///
/// # Errors
///
/// `OutOfRange` unless the density is 900 to 1100 kg/m³.
///
/// # Source
///
/// University formula sheet of brewing, W = Y (100 - P)/P, with the malt moisture added to the water.
///
/// ```
/// use wortwright::quantity::{LiquorRatio, MassDensity, Moisture, Share};
/// use wortwright::quantity::uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::science::lautering::first_wort;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let wort = first_wort(
///     Share::from_percent(76.0)?,
///     LiquorRatio::from_litres_per_kilogram(3.0)?,
///     MassDensity::new::<kilogram_per_cubic_meter>(1000.0),
///     Moisture::from_percent(4.0)?,
/// )?;
/// assert!((wort.plato() - 20.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn first_wort(
    dissolved: Share,
    liquor: LiquorRatio,
    water_density: MassDensity,
    moisture: Moisture,
) -> Result<Extract, Error> {
    let density_kg_per_m3 = within(
        "a density of water",
        water_density.get::<kilogram_per_cubic_meter>(),
        900.0..=1100.0,
        "kg/m³",
    )?;
    let water_kg_per_kg = liquor.litres_per_kilogram() * density_kg_per_m3 / 1000.0;
    let fraction = first_wort_fraction(dissolved.fraction(), water_kg_per_kg, moisture.fraction());
    Ok(Extract::clamped(100.0 * fraction))
}

/// Mass fraction of extract in the first wort, per kilogram of grist.
pub(crate) fn first_wort_fraction(
    dissolved_kg_per_kg: f64,
    water_kg_per_kg: f64,
    moisture_kg_per_kg: f64,
) -> f64 {
    dissolved_kg_per_kg / (dissolved_kg_per_kg + water_kg_per_kg + moisture_kg_per_kg)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn water_counts_by_its_mass_and_must_be_water() {
        let wort = |density| {
            first_wort(
                Share::from_percent(76.0).unwrap(),
                LiquorRatio::from_litres_per_kilogram(3.0).unwrap(),
                MassDensity::new::<kilogram_per_cubic_meter>(density),
                Moisture::from_percent(4.0).unwrap(),
            )
        };
        // By hand: 0.76/(0.76 + 3 · 0.98 + 0.04).
        assert!((wort(980.0).unwrap().plato() - 100.0 * 0.76 / 3.74).abs() < 1e-12);
        assert!(wort(1.0).is_err());
    }
}
