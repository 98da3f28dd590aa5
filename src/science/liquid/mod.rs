//! What a liquid of the brewery holds, and what instruments show of it.
//!
//! One type for wort, juice, beer and whatever a vessel holds. Masses are the state; density, volume, gravity and
//! strength are readings of it at 20 °C through the ICUMSA polynomial, OIML R 22 and Tabarié's relation (see the head of
//! `tabarie.rs`). Dissolved gas and suspended yeast are left out.
//!
//! The factor 0.8192 that is usually put between apparent and real extract stands nowhere here: against these densities
//! it is wrong by up to 0.3 °P, and not by the same amount for every beer.

mod tabarie;

pub(crate) use tabarie::Fall;

use serde::Serialize;
use uom::si::mass_density::kilogram_per_cubic_meter;

use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{
    AlcoholByMass, AlcoholByVolume, Extract, Fermentability, Mass, MassDensity, SpecificGravity,
    Volume, in_kilograms, in_litres, json, kilograms, litres,
};
use crate::science::attenuation::EXTRACT_PER_ETHANOL;
use crate::science::density::{
    WATER_20, WATER_KG_PER_L, Weighing, extract_fraction_from_density_20, gravity_ratio,
    sucrose_density_20,
};
use crate::science::ethanol;

/// Greatest mass of one part, kg; keeps sums finite.
const GREATEST_KG: f64 = 1e12;

/// Water, extract and ethanol of a wort, juice or beer, by mass. The default is an empty vessel, with the density of water
/// and no strength.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[allow(clippy::struct_field_names, reason = "each field ends in its unit")]
pub struct Liquid {
    #[serde(serialize_with = "json::rounded")]
    pub(crate) water_kg: f64,
    #[serde(serialize_with = "json::rounded")]
    pub(crate) extract_kg: f64,
    #[serde(serialize_with = "json::rounded")]
    pub(crate) ethanol_kg: f64,
}

/// Making a liquid.
impl Liquid {
    /// A liquid of the given masses.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when a mass is negative, not finite or above 1e12 kg, or when all three are zero.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, uom::si::mass::kilogram};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let kg = |mass| Mass::new::<kilogram>(mass);
    /// let beer = Liquid::new(kg(91.924), kg(3.947), kg(4.129))?;
    /// assert!((beer.apparent_extract().plato() - 2.0).abs() < 0.02);
    /// assert!((beer.alcohol_by_volume().percent() - 5.26).abs() < 0.01);
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(water: Mass, extract: Mass, ethanol: Mass) -> Result<Self, Error> {
        let liquid = Self {
            water_kg: in_range("water", water)?,
            extract_kg: in_range("extract", extract)?,
            ethanol_kg: in_range("ethanol", ethanol)?,
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
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Liquid::wort(Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
    /// assert!((wort.extract().get::<kilogram>() - 2.5115).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    pub fn wort(volume: Volume, extract: Extract) -> Result<Self, Error> {
        let wort = Self::wort_of(in_litres(volume), extract.plato() / 100.0);
        Self::new(wort.water(), wort.extract(), wort.ethanol())
    }

    /// Wort of `volume_l` at 20 °C with this mass fraction of extract.
    pub(crate) fn wort_of(volume_l: f64, strength: f64) -> Self {
        let mass_kg = volume_l * sucrose_density_20(strength) / 1000.0;
        Self::solution(mass_kg * (1.0 - strength), mass_kg * strength)
    }

    /// A kilogram of a drink of this alcohol, by volume at 20 °C, and this extract by mass. With the extract no room is left for
    /// more ethanol than there would be without water.
    pub(crate) fn drink(alcohol: f64, extract: f64) -> Self {
        let extract_kg = extract.clamp(0.0, 1.0);
        let mixed = |ethanol_kg: f64| Self {
            water_kg: 1.0 - extract_kg - ethanol_kg,
            extract_kg,
            ethanol_kg,
        };
        let mut drink = mixed(0.0);
        // The density depends on the ethanol by a third at the most, so that plain repetition converges.
        for _ in 0..60 {
            let ethanol_kg = alcohol * ethanol::PURE_20 / drink.density_20();
            let next = mixed(ethanol_kg.clamp(0.0, 1.0 - extract_kg));
            let step_kg = next.ethanol_kg - drink.ethanol_kg;
            drink = next;
            if step_kg.abs() <= 1e-15 {
                break;
            }
        }
        drink
    }

    /// A kilogram of a drink of this alcohol in which a hydrometer shows so much.
    pub(crate) fn drink_showing(alcohol: f64, apparent: Extract) -> Self {
        let (mut low, mut high) = (0.0, 1.0);
        // What is shown grows with the extract: halved so often, the range is one number.
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            if Self::drink(alcohol, middle).apparent_plato() < apparent.plato() {
                low = middle;
            } else {
                high = middle;
            }
        }
        Self::drink(alcohol, low)
    }

    /// Water and extract, and no ethanol.
    #[inline]
    pub(crate) const fn solution(water_kg: f64, extract_kg: f64) -> Self {
        Self {
            water_kg,
            extract_kg,
            ethanol_kg: 0.0,
        }
    }
}

/// What happens to a liquid.
impl Liquid {
    /// After yeast has consumed the given share of its extract, by Balling's balance: water stays, gas and yeast leave.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Fermentability, Volume, uom::si::volume::liter};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Liquid::wort(Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
    /// let beer = wort.fermented(Fermentability::from_percent(68.0)?);
    /// assert!((beer.real_extract().plato() - 4.0088).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn fermented(self, share: Fermentability) -> Self {
        self.fermented_kg(self.extract_kg * share.fraction())
    }

    /// After it has fermented until a hydrometer shows `apparent` at 20 °C.
    ///
    /// # Errors
    ///
    /// `OutOfModel` when `apparent` lies above what it shows now or below what is left when all of its extract has
    /// fermented (−2.8 °P for a wort of 12 °P).
    ///
    /// # Source
    ///
    /// Balling and Tabarié. With the factor 0.8192 the real extract below would be 3.81.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Volume, uom::si::volume::liter};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Liquid::wort(Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
    /// let beer = wort.fermented_to(Extract::from_plato(2.0)?)?;
    /// assert!((beer.real_extract().plato() - 3.947).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    pub fn fermented_to(self, apparent: Extract) -> Result<Self, Error> {
        let consumed = self.falls_to_kg(apparent.plato(), self.extract_kg);
        consumed
            .map(|consumed_kg| self.fermented_kg(consumed_kg))
            .map_err(|_| {
                let dry = self.fermented_kg(self.extract_kg);
                let range = format!(
                    "{:.2} to {:.2} °P",
                    dry.apparent_plato(),
                    self.apparent_plato()
                );
                Error::new(
                    ErrorKind::OutOfModel,
                    format!("expected an apparent extract from {range}, found {apparent}"),
                )
            })
    }

    /// With another liquid mixed in.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Volume, uom::si::volume::liter};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let of = |litres, plato| Liquid::wort(Volume::new::<liter>(litres), Extract::from_plato(plato)?);
    /// let mixed = of(10.0, 12.0)?.blended(of(10.0, 16.0)?);
    /// // By mass: the stronger half is the heavier one.
    /// assert!((mixed.real_extract().plato() - 14.016).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    #[inline]
    #[must_use]
    pub fn blended(self, other: Self) -> Self {
        Self {
            water_kg: self.water_kg + other.water_kg,
            extract_kg: self.extract_kg + other.extract_kg,
            ethanol_kg: self.ethanol_kg + other.ethanol_kg,
        }
    }

    /// With water added.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when the mass is negative, not finite or above 1e12 kg.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Mass, Volume, uom::si::{mass::kilogram, volume::liter}};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Liquid::wort(Volume::new::<liter>(20.0), Extract::from_plato(13.0)?)?;
    /// // At 1050.65 kg/m³: 2.7317 kg of extract in 21.013 + 2 kg.
    /// let thinner = wort.diluted(Mass::new::<kilogram>(2.0))?;
    /// assert!((thinner.real_extract().plato() - 11.870).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    pub fn diluted(self, water: Mass) -> Result<Self, Error> {
        Ok(self.with_water_kg(in_range("water", water)?))
    }

    /// With water driven off.
    ///
    /// # Errors
    ///
    /// `OutOfRange` when the mass is negative, not finite or more than the water that is there.
    ///
    /// ```
    /// use wortwright::quantity::{Extract, Mass, Volume, uom::si::{mass::kilogram, volume::liter}};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wort = Liquid::wort(Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
    /// // 2.5115 kg of extract in 20.929 − 3 kg.
    /// let boiled = wort.boiled_down(Mass::new::<kilogram>(3.0))?;
    /// assert!((boiled.real_extract().plato() - 14.008).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    pub fn boiled_down(self, steam: Mass) -> Result<Self, Error> {
        let (steam_kg, water_kg) = (in_kilograms(steam), self.water_kg);
        if (0.0..=water_kg).contains(&steam_kg) {
            Ok(self.with_water_kg(-steam_kg))
        } else {
            Err(Error::new(
                ErrorKind::OutOfRange,
                format!("expected steam from 0 to {water_kg} kg, found {steam_kg} kg"),
            ))
        }
    }

    /// With so much more water; less where it is negative.
    #[inline]
    pub(crate) fn with_water_kg(self, water_kg: f64) -> Self {
        Self {
            water_kg: self.water_kg + water_kg,
            ..self
        }
    }

    /// A share of it: what is drawn, or what is left.
    #[inline]
    pub(crate) fn part(self, share: f64) -> Self {
        Self {
            water_kg: self.water_kg * share,
            extract_kg: self.extract_kg * share,
            ethanol_kg: self.ethanol_kg * share,
        }
    }

    /// After yeast has consumed so much extract; below zero, before it had.
    pub(crate) fn fermented_kg(self, consumed_kg: f64) -> Self {
        Self {
            extract_kg: self.extract_kg - consumed_kg,
            ethanol_kg: self.ethanol_kg + consumed_kg / EXTRACT_PER_ETHANOL,
            ..self
        }
    }

    /// Water that fills it up to `volume_l` at 20 °C; below zero where it is fuller already. A litre of water more is very nearly a litre of liquid more, so that the plain correction converges by a factor of
    /// hundreds a step.
    pub(crate) fn water_to_fill_kg(self, volume_l: f64) -> f64 {
        let dry_l = 0.62 * self.extract_kg + 1.27 * self.ethanol_kg;
        let mut water_kg = (volume_l - dry_l).max(0.0) * WATER_KG_PER_L - self.water_kg;
        for _ in 0..60 {
            let missing_l = volume_l - self.with_water_kg(water_kg).volume_l();
            water_kg += missing_l * WATER_KG_PER_L;
            if missing_l.abs() <= 1e-14 * volume_l {
                break;
            }
        }
        water_kg
    }
}

/// What it holds and what instruments show.
impl Liquid {
    /// All its water, that of the malt included.
    #[must_use]
    pub fn water(self) -> Mass {
        kilograms(self.water_kg)
    }

    /// Everything dissolved but ethanol, counted as sucrose.
    #[must_use]
    pub fn extract(self) -> Mass {
        kilograms(self.extract_kg)
    }

    /// Ethanol; dissolved gas is left out.
    #[must_use]
    pub fn ethanol(self) -> Mass {
        kilograms(self.ethanol_kg)
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
        litres(self.volume_l())
    }

    /// What a hydrometer shows: the extract of the sucrose solution of the same density. −20 °P at the least.
    #[must_use]
    pub fn apparent_extract(self) -> Extract {
        Extract::clamped(self.apparent_plato())
    }

    /// Specific gravity 20/20 °C in air, the scale of the brewing tables.
    #[must_use]
    pub fn specific_gravity(self) -> SpecificGravity {
        SpecificGravity::clamped(gravity_ratio(self.density_20(), Weighing::InAir))
    }

    /// Extract by mass of the whole.
    #[must_use]
    pub fn real_extract(self) -> Extract {
        Extract::clamped(100.0 * self.strength())
    }

    /// Extract of the wort that would have become this liquid at once, Balling's balance read backwards: the original
    /// extract of a beer, the equivalent one where juice or water went in later.
    ///
    /// ```
    /// use wortwright::quantity::{Mass, uom::si::mass::kilogram};
    /// use wortwright::science::liquid::Liquid;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// // Balling, p. 505: 6.190 kg of ethanol in 100 kg of beer without extract, from a wort of 12 °P.
    /// let kg = |mass| Mass::new::<kilogram>(mass);
    /// let beer = Liquid::new(kg(93.810), kg(0.0), kg(6.190))?;
    /// assert!((beer.original_extract().plato() - 12.0).abs() < 1e-3);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn original_extract(self) -> Extract {
        Extract::clamped(self.original_plato())
    }

    /// Ethanol by volume at 20 °C: the volume it would fill alone, over the volume of the whole.
    #[must_use]
    pub fn alcohol_by_volume(self) -> AlcoholByVolume {
        AlcoholByVolume::clamped(self.alcohol_fraction())
    }

    /// Ethanol by mass of the whole.
    #[must_use]
    pub fn alcohol_by_mass(self) -> AlcoholByMass {
        AlcoholByMass::clamped(self.share_of(self.ethanol_kg))
    }

    #[inline]
    pub(crate) fn mass_kg(self) -> f64 {
        self.water_kg + self.extract_kg + self.ethanol_kg
    }

    /// Density at 20 °C, kg/m³. Nothing at all has the density of water.
    #[inline]
    pub(crate) fn density_20(self) -> f64 {
        let mass_kg = self.mass_kg();
        if mass_kg <= 0.0 {
            WATER_20
        } else if self.ethanol_kg > 0.0 {
            self.density_with_ethanol_20()
        } else {
            sucrose_density_20(self.extract_kg / mass_kg)
        }
    }

    #[inline]
    pub(crate) fn volume_l(self) -> f64 {
        self.volume_at_l(self.density_20())
    }

    /// Volume at 20 °C of a wort: without ethanol it takes no steps to find, which counts where run-offs are searched.
    #[inline]
    pub(crate) fn wort_volume_l(self) -> f64 {
        debug_assert!(self.ethanol_kg <= 0.0, "beer is no wort");
        let mass_kg = self.water_kg + self.extract_kg;
        if mass_kg > 0.0 {
            1000.0 * mass_kg / sucrose_density_20(self.extract_kg / mass_kg)
        } else {
            0.0
        }
    }

    /// Volume at 20 °C where the density is known.
    #[inline]
    pub(crate) fn volume_at_l(self, density: f64) -> f64 {
        1000.0 * self.mass_kg() / density
    }

    pub(crate) fn apparent_plato(self) -> f64 {
        apparent_plato_at(self.density_20())
    }

    pub(crate) fn original_plato(self) -> f64 {
        let wort = Self::solution(
            self.water_kg,
            self.extract_kg + EXTRACT_PER_ETHANOL * self.ethanol_kg,
        );
        100.0 * wort.strength()
    }

    /// Extract by mass, a fraction.
    #[inline]
    pub(crate) fn strength(self) -> f64 {
        self.share_of(self.extract_kg)
    }

    /// Ethanol by volume, a fraction.
    pub(crate) fn alcohol_fraction(self) -> f64 {
        self.share_of(self.ethanol_kg) * self.density_20() / ethanol::PURE_20
    }

    fn share_of(self, part_kg: f64) -> f64 {
        let mass_kg = self.mass_kg();
        if mass_kg > 0.0 {
            part_kg / mass_kg
        } else {
            0.0
        }
    }
}

/// What a hydrometer shows in a liquid of this density at 20 °C, as an apparent extract in °P.
pub(crate) fn apparent_plato_at(density: f64) -> f64 {
    100.0 * extract_fraction_from_density_20(density)
}

fn in_range(what: &str, mass: Mass) -> Result<f64, Error> {
    let kg = in_kilograms(mass);
    if (0.0..=GREATEST_KG).contains(&kg) {
        Ok(kg)
    } else {
        Err(Error::new(
            ErrorKind::OutOfRange,
            format!("expected a mass of {what} from 0 to {GREATEST_KG:e} kg, found {kg} kg"),
        ))
    }
}

#[cfg(test)]
mod tests;
