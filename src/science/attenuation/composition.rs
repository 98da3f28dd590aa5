//! What a liquid of the brewery holds, and what instruments show of it.
//!
//! Masses are the state; density, volume, gravity and strength are readings of it at 20 °C through
//! the ICUMSA polynomial, OIML R 22 and Tabarié's relation (volume reading, see [`super::tabarie`]). Dissolved gas and
//! suspended yeast are left out.

use serde::Serialize;
use uom::si::mass_density::kilogram_per_cubic_meter;

use super::balling::EXTRACT_PER_ETHANOL;
use super::tabarie::beer_density_20;
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{
    AlcoholByMass, AlcoholByVolume, Extract, Fermentability, Mass, MassDensity, SpecificGravity,
    Volume, in_kilograms, in_litres, kilograms, litres,
};
use crate::science::density::{
    Weighing, extract_fraction_from_density_20, gravity_ratio, sucrose_density_20,
};
use crate::science::ethanol;

/// Greatest mass of one part, kg; keeps sums finite.
const GREATEST_KG: f64 = 1e12;

/// Water, extract and ethanol of a wort, juice or beer, by mass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Composition {
    #[serde(rename = "water_kg", with = "crate::quantity::json::kilogram")]
    water: Mass,
    #[serde(rename = "extract_kg", with = "crate::quantity::json::kilogram")]
    extract: Mass,
    #[serde(rename = "ethanol_kg", with = "crate::quantity::json::kilogram")]
    ethanol: Mass,
}

impl Composition {
    /// A liquid of the given masses.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when a mass is negative, not finite or above 1e12 kg, or when all three are zero.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, uom::si::mass::kilogram};
    /// use wortwright::science::attenuation::Composition;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let kg = |mass| Mass::new::<kilogram>(mass);
    /// let beer = Composition::new(kg(91.924), kg(3.947), kg(4.129))?;
    /// assert!((beer.apparent_extract().plato() - 2.0).abs() < 0.02);
    /// assert!((beer.alcohol_by_volume().percent() - 5.26).abs() < 0.01);
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(water: Mass, extract: Mass, ethanol: Mass) -> Result<Self, Error> {
        for (what, mass) in [("water", water), ("extract", extract), ("ethanol", ethanol)] {
            let kg = in_kilograms(mass);
            if !(0.0..=GREATEST_KG).contains(&kg) {
                return Err(Error::new(
                    ErrorKind::OutOfRange,
                    format!(
                        "expected a mass of {what} from 0 to {GREATEST_KG:e} kg, found {kg} kg"
                    ),
                ));
            }
        }
        let liquid = Self {
            water,
            extract,
            ethanol,
        };
        if liquid.mass_kg() > 0.0 {
            Ok(liquid)
        } else {
            Err(Error::new(
                ErrorKind::OutOfRange,
                "expected some water, extract or ethanol, found none",
            ))
        }
    }

    /// A wort of the given volume at 20 °C and extract.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when the volume is not above zero or holds more than 1e12 kg, or the extract is below 0 °P.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Volume, uom::si::{mass::kilogram, volume::liter}};
    /// use wortwright::science::attenuation::Composition;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Composition::wort(Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
    /// assert!((wort.extract().get::<kilogram>() - 2.5115).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    pub fn wort(volume: Volume, extract: Extract) -> Result<Self, Error> {
        let fraction = extract.plato() / 100.0;
        let mass_kg = in_litres(volume) * sucrose_density_20(fraction) / 1000.0;
        Self::new(
            kilograms(mass_kg * (1.0 - fraction)),
            kilograms(mass_kg * fraction),
            kilograms(0.0),
        )
    }

    /// The same liquid after yeast has consumed the given share of its extract, by Balling's balance: water stays, gas
    /// and yeast leave.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Fermentability, Volume, uom::si::volume::liter};
    /// use wortwright::science::attenuation::Composition;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Composition::wort(Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
    /// let beer = wort.fermented(Fermentability::from_percent(68.0)?);
    /// assert!((beer.real_extract().plato() - 4.0088).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn fermented(self, share: Fermentability) -> Self {
        let consumed = self.extract * share.fraction();
        Self {
            water: self.water,
            extract: self.extract - consumed,
            ethanol: self.ethanol + consumed / EXTRACT_PER_ETHANOL,
        }
    }

    /// Mass of water.
    #[must_use]
    pub fn water(self) -> Mass {
        self.water
    }

    /// Mass of extract.
    #[must_use]
    pub fn extract(self) -> Mass {
        self.extract
    }

    /// Mass of ethanol.
    #[must_use]
    pub fn ethanol(self) -> Mass {
        self.ethanol
    }

    /// Mass of the whole.
    #[must_use]
    pub fn mass(self) -> Mass {
        kilograms(self.mass_kg())
    }

    /// Density at 20 °C.
    #[must_use]
    pub fn density(self) -> MassDensity {
        MassDensity::new::<kilogram_per_cubic_meter>(self.density_20())
    }

    /// Volume at 20 °C.
    #[must_use]
    pub fn volume(self) -> Volume {
        litres(1000.0 * self.mass_kg() / self.density_20())
    }

    /// What a hydrometer shows: the extract of the sucrose solution of the same density. −20 °P at the least.
    #[must_use]
    pub fn apparent_extract(self) -> Extract {
        Extract::clamped(100.0 * extract_fraction_from_density_20(self.density_20()))
    }

    /// Specific gravity 20/20 °C in air, the scale of the brewing tables.
    #[must_use]
    pub fn specific_gravity(self) -> SpecificGravity {
        SpecificGravity::clamped(gravity_ratio(self.density_20(), Weighing::InAir))
    }

    /// Extract by mass of the whole.
    #[must_use]
    pub fn real_extract(self) -> Extract {
        Extract::clamped(100.0 * in_kilograms(self.extract) / self.mass_kg())
    }

    /// Ethanol by volume at 20 °C: the volume it would fill alone, over the volume of the whole.
    #[must_use]
    pub fn alcohol_by_volume(self) -> AlcoholByVolume {
        AlcoholByVolume::clamped(
            in_kilograms(self.ethanol) * self.density_20() / (self.mass_kg() * ethanol::PURE_20),
        )
    }

    /// Ethanol by mass of the whole.
    #[must_use]
    pub fn alcohol_by_mass(self) -> AlcoholByMass {
        AlcoholByMass::clamped(in_kilograms(self.ethanol) / self.mass_kg())
    }

    fn mass_kg(self) -> f64 {
        in_kilograms(self.water) + in_kilograms(self.extract) + in_kilograms(self.ethanol)
    }

    fn density_20(self) -> f64 {
        beer_density_20(
            in_kilograms(self.water),
            in_kilograms(self.extract),
            in_kilograms(self.ethanol),
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kg(water: f64, extract: f64, ethanol: f64) -> Result<Composition, Error> {
        Composition::new(kilograms(water), kilograms(extract), kilograms(ethanol))
    }

    #[test]
    fn refuses_masses_that_are_none() {
        assert_eq!(
            kg(1.0, -1.0, 0.0).unwrap_err().to_string(),
            "expected a mass of extract from 0 to 1e12 kg, found -1 kg"
        );
        assert!(kg(f64::NAN, 1.0, 1.0).is_err());
        assert!(kg(1.0, 1.0, f64::INFINITY).is_err());
        assert_eq!(
            kg(0.0, 0.0, 0.0).unwrap_err().to_string(),
            "expected some water, extract or ethanol, found none"
        );
    }

    #[test]
    fn readings_agree_with_one_another() {
        let beer = kg(92.0, 4.0, 4.0).unwrap();
        let litres = in_litres(beer.volume());
        assert!((litres * beer.density_20() / 1000.0 - 100.0).abs() < 1e-10);
        let ethanol_l = 4.0 / 0.7892391;
        assert!((beer.alcohol_by_volume().fraction() - ethanol_l / litres).abs() < 1e-8);
        assert_eq!(beer.real_extract().plato(), 4.0);
        assert_eq!(beer.alcohol_by_mass().percent(), 4.0);
    }

    #[test]
    fn pure_spirit_is_pure() {
        let spirit = kg(0.0, 0.0, 1.0).unwrap();
        assert!((spirit.alcohol_by_volume().fraction() - 1.0).abs() < 1e-5);
        assert_eq!(spirit.apparent_extract().plato(), -20.0);
    }

    #[test]
    fn serialises_in_kilograms() {
        let json = serde_json::to_string(&kg(9.0, 1.0, 0.0).unwrap()).unwrap();
        assert_eq!(
            json,
            r#"{"water_kg":9.0,"extract_kg":1.0,"ethanol_kg":0.0}"#
        );
    }
}
