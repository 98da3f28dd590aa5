//! Sugar that a closed vessel turns into carbon dioxide, by stoichiometry.
//!
//! Two molecules of gas come of each hexose: 2 × 44.0095 g from 180.156 g of glucose, twice as much from a mole of
//! sucrose or maltose. Part of the sugar feeds the yeast, so that the extract of wort gives less (Balling). Practice
//! takes 4 g of sugar per litre for a volume, which lies within 4 % of all four. The 3.7 g of some texts counts the volume
//! at 20 °C; the tables of dissolved gas count it at 0 °C.

use serde::{Deserialize, Serialize};

use super::super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{CarbonDioxide, Concentration, Mass, Volume, in_litres, kilograms};
use crate::science::attenuation::{CARBON_DIOXIDE_PER_ETHANOL, EXTRACT_PER_ETHANOL};

/// Molar mass of carbon dioxide, g/mol (IUPAC atomic weights).
const CARBON_DIOXIDE: f64 = 44.0095;
/// Molar mass of glucose, g/mol (IUPAC atomic weights).
const GLUCOSE: f64 = 180.156;
/// Molar mass of water, g/mol (IUPAC atomic weights).
const WATER: f64 = 18.0153;

/// What is put into the beer to carbonate it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum PrimingSugar {
    /// Anhydrous glucose.
    Glucose,
    /// Glucose with its molecule of water, as dextrose is sold.
    GlucoseMonohydrate,
    /// Table sugar.
    Sucrose,
    /// Fermentable extract of wort, by Balling's balance, which counts what the yeast keeps.
    Extract,
}

impl PrimingSugar {
    /// Grams of gas from a gram.
    pub(crate) fn yield_of_gas(self) -> f64 {
        match self {
            Self::Glucose => 2.0 * CARBON_DIOXIDE / GLUCOSE,
            Self::GlucoseMonohydrate => 2.0 * CARBON_DIOXIDE / (GLUCOSE + WATER),
            Self::Sucrose => 4.0 * CARBON_DIOXIDE / (2.0 * GLUCOSE - WATER),
            Self::Extract => CARBON_DIOXIDE_PER_ETHANOL / EXTRACT_PER_ETHANOL,
        }
    }
}

/// Carbon dioxide that so much sugar per litre of beer gives when it ferments in a sealed vessel.
///
/// # Errors
///
/// `OutOfRange` where it would exceed 30 g/L.
///
/// ```
/// use wortwright::quantity::Concentration;
/// use wortwright::science::carbonation::{PrimingSugar, carbon_dioxide_from};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let gas = carbon_dioxide_from(PrimingSugar::Glucose, Concentration::from_grams_per_litre(4.0463)?)?;
/// assert!((gas.volumes() - 1.0).abs() < 1e-4);
/// # Ok(())
/// # }
/// ```
pub fn carbon_dioxide_from(
    sugar: PrimingSugar,
    amount: Concentration,
) -> Result<CarbonDioxide, Error> {
    CarbonDioxide::from_grams_per_litre(amount.grams_per_litre() * sugar.yield_of_gas())
}

/// Beer to be carbonated by sugar in a closed vessel.
///
/// ```
/// use wortwright::quantity::{CarbonDioxide, Volume, uom::si::{mass::gram, volume::liter}};
/// use wortwright::science::carbonation::{Priming, PrimingSugar};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let priming = Priming {
///     beer: Volume::new::<liter>(23.0),
///     present: CarbonDioxide::from_grams_per_litre(1.78)?,
///     wanted: CarbonDioxide::from_grams_per_litre(4.74)?,
/// };
/// // By hand: 23 · 2.96 g of gas, of which a gram of glucose gives 2 · 44.0095/180.156.
/// assert!((priming.mass_of(PrimingSugar::Glucose)?.get::<gram>() - 139.3).abs() < 0.1);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Priming {
    /// The beer, at 20 °C.
    pub beer: Volume,
    /// What it holds, with what is still fermentable in it counted: that makes gas too.
    pub present: CarbonDioxide,
    /// What it shall hold.
    pub wanted: CarbonDioxide,
}

impl Priming {
    /// Mass of a sugar that brings the beer there; nothing if it holds enough.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a volume below zero or above 10⁷ L.
    ///
    /// # Source
    ///
    /// Stoichiometry. A printed example has 23 L from 0.9 to 2.4 volumes with 140 g at 4 g/L and volume.
    pub fn mass_of(&self, sugar: PrimingSugar) -> Result<Mass, Error> {
        let beer_l = within("a volume of beer", in_litres(self.beer), 0.0..=1e7, "L")?;
        let missing_g_l = self.wanted.grams_per_litre() - self.present.grams_per_litre();
        let gas_g = beer_l * missing_g_l.max(0.0);
        Ok(kilograms(gas_g / sugar.yield_of_gas() / 1000.0))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{in_kilograms, litres};

    #[test]
    fn sugar_and_gas_undo_each_other() {
        let priming = Priming {
            beer: litres(20.0),
            present: CarbonDioxide::clamped(1.7),
            wanted: CarbonDioxide::clamped(5.0),
        };
        for sugar in [
            PrimingSugar::Glucose,
            PrimingSugar::GlucoseMonohydrate,
            PrimingSugar::Sucrose,
            PrimingSugar::Extract,
        ] {
            let kg = in_kilograms(priming.mass_of(sugar).unwrap());
            let per_litre = Concentration::clamped(kg * 1000.0 / 20.0);
            let gas = carbon_dioxide_from(sugar, per_litre).unwrap();
            assert!((gas.grams_per_litre() - 3.3).abs() < 1e-12);
        }
    }

    #[test]
    fn gas_enough_needs_no_sugar() {
        let priming = |beer_l| Priming {
            beer: litres(beer_l),
            present: CarbonDioxide::clamped(5.0),
            wanted: CarbonDioxide::clamped(4.0),
        };
        let none = priming(20.0).mass_of(PrimingSugar::Sucrose).unwrap();
        assert_eq!(in_kilograms(none), 0.0);
        assert!(priming(-1.0).mass_of(PrimingSugar::Sucrose).is_err());
    }
}
