//! A beer in the figures that an analysis prints, from any two of them that fix the rest.
//!
//! Balling's balance and Tabarié's relation solved together, both on mass; sources in [`super::balling`] and
//! [`super::tabarie`]. For beer brewed from one wort, without later additions of juice or sugar and without dilution.
//! Range: original extract 0 to 85 °P; tested against published figures from 8 to 25 °P.

use serde::Serialize;

use super::balling::{
    EXTRACT_PER_ETHANOL, apparent_attenuation, fermented_share, original_extract, real_attenuation,
};
use super::composition::Composition;
use super::tabarie::beer_density_20;
use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::{Bracket, root};
use crate::quantity::{
    AlcoholByMass, AlcoholByVolume, Attenuation, Extract, Fermentability, kilograms,
};
use crate::science::density::{extract_fraction_from_density_20, sucrose_density_20};

/// Greatest original extract, °P: the range of the sucrose polynomial.
const GREATEST_PLATO: f64 = 85.0;

/// The figures of a beer brewed from one wort.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Beer {
    /// Extract of the wort, °P.
    #[serde(rename = "original_extract_plato")]
    pub original_extract: Extract,
    /// Extract of the beer by mass, °P.
    #[serde(rename = "real_extract_plato")]
    pub real_extract: Extract,
    /// What a hydrometer shows at 20 °C, °P.
    #[serde(rename = "apparent_extract_plato")]
    pub apparent_extract: Extract,
    /// Ethanol by mass.
    #[serde(rename = "alcohol_by_mass_fraction")]
    pub alcohol_by_mass: AlcoholByMass,
    /// Ethanol by volume at 20 °C.
    #[serde(rename = "alcohol_by_volume_fraction")]
    pub alcohol_by_volume: AlcoholByVolume,
    /// Fall to the apparent extract over the original extract.
    #[serde(rename = "apparent_attenuation_fraction")]
    pub apparent_attenuation: Attenuation,
    /// Fall to the real extract over the original extract.
    #[serde(rename = "real_attenuation_fraction")]
    pub real_attenuation: Attenuation,
    /// Mass of extract consumed over mass of extract in the wort.
    #[serde(rename = "fermented_share_fraction")]
    pub fermented_share: Fermentability,
}

impl Beer {
    /// From the original extract and a hydrometer's reading at 20 °C.
    ///
    /// # Errors
    ///
    /// `OutOfModel` when the original extract lies outside 0 to 85 °P, or the apparent extract above it or below what
    /// is left when all of it has fermented (−2.8 °P for a wort of 12 °P).
    ///
    /// # Source
    ///
    /// Balling and Tabarié, see the head of this module's file. With 0.8192 the real extract below would be 3.81.
    ///
    /// ```
    /// use wortwright::{quantity::Extract, science::attenuation::Beer};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let beer = Beer::from_readings(Extract::from_plato(12.0)?, Extract::from_plato(2.0)?)?;
    /// assert!((beer.real_extract.plato() - 3.947).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    pub fn from_readings(original: Extract, apparent: Extract) -> Result<Self, Error> {
        in_range(original)?;
        let aim = sucrose_density_20(apparent.plato() / 100.0);
        let excess = |share: f64| {
            let (water, extract, ethanol) = fermented_parts(original, share);
            beer_density_20(water, extract, ethanol) - aim
        };
        // At the end of the range rounding decides the sign: 1e-9 kg/m³ is 3e-10 °P.
        if excess(0.0).abs() < 1e-9 {
            return Self::from_fermented_share(original, Fermentability::clamped(0.0));
        }
        if excess(1.0).abs() < 1e-9 {
            return Self::from_fermented_share(original, Fermentability::clamped(1.0));
        }
        let all = Bracket {
            low: 0.0,
            high: 1.0,
        };
        match root(excess, all, 1e-13) {
            Ok(share) => Self::from_fermented_share(original, Fermentability::clamped(share)),
            Err(_) => Err(unreachable_reading(original, apparent)),
        }
    }

    /// From the original extract and the share of it, by mass, that the yeast consumes.
    ///
    /// # Errors
    ///
    /// `OutOfModel` when the original extract lies outside 0 to 85 °P.
    ///
    /// ```
    /// use wortwright::{quantity::{Extract, Fermentability}, science::attenuation::Beer};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let beer = Beer::from_fermented_share(Extract::from_plato(12.0)?, Fermentability::from_percent(68.5)?)?;
    /// assert!((beer.apparent_extract.plato() - 2.0).abs() < 0.01);
    /// # Ok(())
    /// # }
    /// ```
    pub fn from_fermented_share(original: Extract, share: Fermentability) -> Result<Self, Error> {
        in_range(original)?;
        let (water, extract, ethanol) = fermented_parts(original, share.fraction());
        let liquid = Composition::new(kilograms(water), kilograms(extract), kilograms(ethanol))?;
        Ok(Self::of(original, liquid))
    }

    /// From an analysis: alcohol by mass and real extract. The original extract is Balling's.
    ///
    /// # Errors
    ///
    /// `OutOfModel` when the real extract is below 0 °P, alcohol and extract are more than the whole, or the original
    /// extract would lie above 85 °P.
    ///
    /// ```
    /// use wortwright::{quantity::{AlcoholByMass, Extract}, science::attenuation::Beer};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// // Means of 221 beers: apparent extract 2.01 and original extract 11.34 were listed.
    /// let beer = Beer::from_analysis(AlcoholByMass::from_percent(3.82)?, Extract::from_plato(3.80)?)?;
    /// assert!((beer.apparent_extract.plato() - 2.01).abs() < 0.02);
    /// assert!((beer.original_extract.plato() - 11.34).abs() < 0.11);
    /// # Ok(())
    /// # }
    /// ```
    pub fn from_analysis(alcohol: AlcoholByMass, real: Extract) -> Result<Self, Error> {
        let water = 100.0 - alcohol.percent() - real.plato();
        if real.plato() < 0.0 || water < 0.0 {
            return Err(Error::new(
                ErrorKind::OutOfModel,
                format!(
                    "expected a real extract from 0 to {} °P beside {} % alcohol by mass, found {real}",
                    100.0 - alcohol.percent(),
                    alcohol.percent(),
                ),
            ));
        }
        let original = original_extract(alcohol, real);
        in_range(original)?;
        let liquid = Composition::new(
            kilograms(water),
            kilograms(real.plato()),
            kilograms(alcohol.percent()),
        )?;
        Ok(Self::of(original, liquid))
    }

    fn of(original: Extract, liquid: Composition) -> Self {
        let (real, apparent) = (liquid.real_extract(), liquid.apparent_extract());
        Self {
            original_extract: original,
            real_extract: real,
            apparent_extract: apparent,
            alcohol_by_mass: liquid.alcohol_by_mass(),
            alcohol_by_volume: liquid.alcohol_by_volume(),
            apparent_attenuation: apparent_attenuation(original, apparent),
            real_attenuation: real_attenuation(original, real),
            fermented_share: fermented_share(original, real),
        }
    }
}

/// Water, extract and ethanol (kg) that 100 kg of wort become when this share of the extract is consumed.
fn fermented_parts(original: Extract, share: f64) -> (f64, f64, f64) {
    let extract = original.plato();
    let consumed = share * extract;
    (
        100.0 - extract,
        extract - consumed,
        consumed / EXTRACT_PER_ETHANOL,
    )
}

fn in_range(original: Extract) -> Result<(), Error> {
    if (0.0..=GREATEST_PLATO).contains(&original.plato()) {
        Ok(())
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!("expected an original extract from 0 to {GREATEST_PLATO} °P, found {original}"),
        ))
    }
}

fn unreachable_reading(original: Extract, apparent: Extract) -> Error {
    let (water, extract, ethanol) = fermented_parts(original, 1.0);
    let least = extract_fraction_from_density_20(beer_density_20(water, extract, ethanol));
    Error::new(
        ErrorKind::OutOfModel,
        format!(
            "expected an apparent extract from {:.2} to {} °P after {original}, found {apparent}",
            100.0 * least,
            original.plato(),
        ),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn plato(value: f64) -> Extract {
        Extract::from_plato(value).unwrap()
    }

    #[test]
    fn the_three_ways_to_a_beer_meet() {
        let read = Beer::from_readings(plato(16.0), plato(3.0)).unwrap();
        let brewed = Beer::from_fermented_share(plato(16.0), read.fermented_share).unwrap();
        assert!((brewed.apparent_extract.plato() - 3.0).abs() < 1e-9);
        let analysed = Beer::from_analysis(read.alcohol_by_mass, read.real_extract).unwrap();
        assert!((analysed.original_extract.plato() - 16.0).abs() < 1e-9);
        assert!((analysed.apparent_extract.plato() - 3.0).abs() < 1e-9);
    }

    #[test]
    fn alcohol_by_hand() {
        // 100 kg of wort at 12 °P lose 8 kg of extract: 3.87128 kg of ethanol in 95.87128 kg of beer.
        let beer = Beer::from_fermented_share(plato(12.0), Fermentability::clamped(2.0 / 3.0));
        let beer = beer.unwrap();
        assert!((beer.alcohol_by_mass.percent() - 387.128 / 95.87128).abs() < 1e-4);
        assert!((beer.real_extract.plato() - 400.0 / 95.87128).abs() < 1e-5);
    }

    #[test]
    fn unfermented_wort_has_no_alcohol() {
        for original in [0.0, 12.0, 85.0] {
            let wort = Beer::from_readings(plato(original), plato(original)).unwrap();
            assert_eq!(wort.alcohol_by_volume.fraction(), 0.0);
            assert!((wort.apparent_extract.plato() - original).abs() < 1e-12);
        }
    }

    #[test]
    fn says_which_readings_are_possible() {
        let light = Beer::from_readings(plato(12.0), plato(-4.0)).unwrap_err();
        assert_eq!(
            light.to_string(),
            "expected an apparent extract from -2.81 to 12 °P after 12 °P, found -4 °P"
        );
        let heavy = Beer::from_readings(plato(12.0), plato(13.0)).unwrap_err();
        assert_eq!(heavy.kind(), ErrorKind::OutOfModel);
        assert_eq!(
            Beer::from_readings(plato(86.0), plato(1.0))
                .unwrap_err()
                .to_string(),
            "expected an original extract from 0 to 85 °P, found 86 °P"
        );
        let spirit = AlcoholByMass::from_percent(60.0).unwrap();
        assert_eq!(
            Beer::from_analysis(spirit, plato(50.0))
                .unwrap_err()
                .to_string(),
            "expected a real extract from 0 to 40 °P beside 60 % alcohol by mass, found 50 °P"
        );
    }
}
