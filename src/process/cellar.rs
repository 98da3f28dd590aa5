//! From pitched wort to finished beer: Balling's stoichiometry on mass, with what is added on the way.

use crate::science::attenuation::{EXTRACT_PER_ETHANOL, beer_density_20, fermented_at_density_kg};
use crate::science::density::{extract_fraction_from_density_20, sucrose_density_20};
use crate::science::ethanol;

/// Fermenting wort or beer. `fermentable_kg` is a part of `extract_kg`.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Beer {
    pub(crate) water_kg: f64,
    pub(crate) extract_kg: f64,
    pub(crate) fermentable_kg: f64,
    pub(crate) ethanol_kg: f64,
    /// Carbon dioxide and yeast that have left.
    pub(crate) left_kg: f64,
    /// Iso-alpha-acids.
    pub(crate) bitterness_mg: f64,
    /// Absorbance as colour times volume: from malt and kettle, EBC·L.
    pub(crate) malt_colour_ebc_l: f64,
    /// The same from juice and whatever else was added later, EBC·L.
    pub(crate) later_colour_ebc_l: f64,
}

impl Beer {
    /// Mass of the liquid.
    pub(crate) fn mass_kg(&self) -> f64 {
        self.water_kg + self.extract_kg + self.ethanol_kg
    }

    /// Density at 20 °C, kg/m³.
    pub(crate) fn density(&self) -> f64 {
        beer_density_20(self.water_kg, self.extract_kg, self.ethanol_kg)
    }

    /// Volume at 20 °C.
    pub(crate) fn volume_l(&self) -> f64 {
        self.volume_at_l(self.density())
    }

    /// Volume at 20 °C where the density is known.
    pub(crate) fn volume_at_l(&self, density: f64) -> f64 {
        self.mass_kg() / density * 1000.0
    }

    /// What a hydrometer shows, as an apparent extract in °P.
    pub(crate) fn apparent_plato(&self) -> f64 {
        apparent_plato_at(self.density())
    }

    /// Ethanol by volume, a fraction.
    pub(crate) fn alcohol_by_volume(&self) -> f64 {
        1000.0 * self.ethanol_kg / ethanol::PURE_20 / self.volume_l()
    }

    /// The extract that a wort would have needed to become this beer: Balling's balance read backwards.
    pub(crate) fn equivalent_original_plato(&self) -> f64 {
        let consumed_kg = EXTRACT_PER_ETHANOL * self.ethanol_kg;
        100.0 * (consumed_kg + self.extract_kg)
            / (self.mass_kg() + (EXTRACT_PER_ETHANOL - 1.0) * self.ethanol_kg)
    }

    /// The beer after yeast has consumed `extract_kg` of what can ferment.
    pub(crate) fn fermented(&self, extract_kg: f64) -> Self {
        let consumed_kg = extract_kg.min(self.fermentable_kg);
        let ethanol_kg = consumed_kg / EXTRACT_PER_ETHANOL;
        Self {
            extract_kg: self.extract_kg - consumed_kg,
            fermentable_kg: self.fermentable_kg - consumed_kg,
            ethanol_kg: self.ethanol_kg + ethanol_kg,
            left_kg: self.left_kg + consumed_kg - ethanol_kg,
            ..*self
        }
    }

    /// The beer when everything that can ferment has fermented.
    pub(crate) fn finished(&self) -> Self {
        self.fermented(self.fermentable_kg)
    }

    /// The beer when its apparent extract has fallen to `plato`, or how that fails.
    pub(crate) fn fallen_to(&self, plato: f64) -> Result<Self, Fall> {
        // The apparent extract rises with the density, which is quicker to find.
        let wanted = sucrose_density_20(plato / 100.0);
        if self.density() <= wanted {
            return Err(Fall::AlreadyBelow(self.apparent_plato()));
        }
        let finished = self.finished();
        if finished.density() > wanted {
            return Err(Fall::EndsAbove(finished.apparent_plato()));
        }
        Ok(self.fermented(fermented_at_density_kg(
            self.water_kg,
            self.extract_kg,
            self.ethanol_kg,
            wanted,
        )))
    }

    /// The beer with a later addition mixed in.
    pub(crate) fn with(&self, later: &Poured) -> Self {
        Self {
            water_kg: self.water_kg + later.water_kg,
            extract_kg: self.extract_kg + later.extract_kg,
            fermentable_kg: self.fermentable_kg + later.fermentable_kg,
            later_colour_ebc_l: self.later_colour_ebc_l + later.colour_ebc_l,
            ..*self
        }
    }
}

/// What a hydrometer shows in a liquid of this density at 20 °C, as an apparent extract in °P.
pub(crate) fn apparent_plato_at(density: f64) -> f64 {
    100.0 * extract_fraction_from_density_20(density)
}

/// Why a gravity is not met on the way down, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Fall {
    AlreadyBelow(f64),
    EndsAbove(f64),
}

/// What an addition brings along.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Poured {
    pub(crate) water_kg: f64,
    pub(crate) extract_kg: f64,
    pub(crate) fermentable_kg: f64,
    pub(crate) colour_ebc_l: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::kilograms;
    use crate::science::attenuation::Composition;

    /// The volume that its ethanol would fill alone, over its own: the same in a forecast as in an analysis.
    #[test]
    fn alcohol_by_volume_is_that_of_the_same_masses_anywhere() {
        let beer = Beer {
            water_kg: 18.6,
            extract_kg: 0.7,
            ethanol_kg: 0.85,
            ..Beer::default()
        };
        let kept = [beer.water_kg, beer.extract_kg, beer.ethanol_kg].map(kilograms);
        let [water, extract, ethanol] = kept;
        let analysed = Composition::new(water, extract, ethanol).unwrap();
        let (one, other) = (
            beer.alcohol_by_volume(),
            analysed.alcohol_by_volume().fraction(),
        );
        assert!((one / other - 1.0).abs() < 1e-12, "{one} {other}");
    }
}
