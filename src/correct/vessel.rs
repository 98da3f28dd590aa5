//! What is in the fermenter, by mass. Balling's balance moves it; Tabarié's relation reads it.

use crate::science::attenuation::{EXTRACT_PER_ETHANOL, beer_density_20, fermented_at_density_kg};
use crate::science::density::{extract_fraction_from_density_20, sucrose_density_20};

/// Water, extract and ethanol in the fermenter; `fermentable_kg` is the part of the extract that is thought to ferment.
#[allow(clippy::struct_field_names, reason = "each field ends in its unit")]
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Vessel {
    pub(super) water_kg: f64,
    pub(super) extract_kg: f64,
    pub(super) fermentable_kg: f64,
    pub(super) ethanol_kg: f64,
}

/// Why no amount of fermentation gives a reading; the reading that would still be possible, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Unreachable {
    Above(f64),
    Below(f64),
}

impl Vessel {
    pub(super) fn mass_kg(&self) -> f64 {
        self.water_kg + self.extract_kg + self.ethanol_kg
    }

    /// kg/m³ at 20 °C.
    pub(super) fn density(&self) -> f64 {
        beer_density_20(self.water_kg, self.extract_kg, self.ethanol_kg)
    }

    /// At 20 °C.
    pub(super) fn volume_l(&self) -> f64 {
        1000.0 * self.mass_kg() / self.density()
    }

    /// What a hydrometer shows.
    pub(super) fn apparent_plato(&self) -> f64 {
        100.0 * extract_fraction_from_density_20(self.density())
    }

    /// Extract of the wort that everything in the vessel would have been, Balling's balance read backwards.
    pub(super) fn equivalent_original_plato(&self) -> f64 {
        let consumed_kg = EXTRACT_PER_ETHANOL * self.ethanol_kg;
        100.0 * (consumed_kg + self.extract_kg)
            / (self.mass_kg() + (EXTRACT_PER_ETHANOL - 1.0) * self.ethanol_kg)
    }

    /// After yeast has consumed so much extract.
    pub(super) fn fermented(&self, consumed_kg: f64) -> Self {
        Self {
            extract_kg: self.extract_kg - consumed_kg,
            fermentable_kg: (self.fermentable_kg - consumed_kg).max(0.0),
            ethanol_kg: self.ethanol_kg + consumed_kg / EXTRACT_PER_ETHANOL,
            ..*self
        }
    }

    /// After this share of it has been taken out.
    pub(super) fn drawn(&self, share: f64) -> Self {
        let left = 1.0 - share;
        Self {
            water_kg: self.water_kg * left,
            extract_kg: self.extract_kg * left,
            fermentable_kg: self.fermentable_kg * left,
            ethanol_kg: self.ethanol_kg * left,
        }
    }

    /// After something without alcohol has been mixed in.
    pub(super) fn with(&self, mass_kg: f64, extract: f64, fermentability: f64) -> Self {
        let extract_kg = mass_kg * extract;
        Self {
            water_kg: self.water_kg + mass_kg - extract_kg,
            extract_kg: self.extract_kg + extract_kg,
            fermentable_kg: self.fermentable_kg + extract_kg * fermentability,
            ethanol_kg: self.ethanol_kg,
        }
    }

    /// After it has fermented so far that a hydrometer shows `plato`. A reading within `slack_plato` of the possible counts as the
    /// nearest possible one.
    pub(super) fn fallen_to(&self, plato: f64, slack_plato: f64) -> Result<Self, Unreachable> {
        let wanted = sucrose_density_20(plato / 100.0);
        if wanted >= self.density() {
            let now = self.apparent_plato();
            return if plato - now <= slack_plato {
                Ok(*self)
            } else {
                Err(Unreachable::Above(now))
            };
        }
        let dry = self.fermented(self.extract_kg);
        if wanted <= dry.density() {
            let least = dry.apparent_plato();
            return if least - plato <= slack_plato {
                Ok(dry)
            } else {
                Err(Unreachable::Below(least))
            };
        }
        let consumed_kg =
            fermented_at_density_kg(self.water_kg, self.extract_kg, self.ethanol_kg, wanted);
        Ok(self.fermented(consumed_kg.clamp(0.0, self.extract_kg)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn yeast_turns_extract_into_alcohol_and_gas() {
        // Balling: 2.0665 g of extract give 1 g of ethanol; the rest goes as gas and yeast.
        let start = Vessel {
            water_kg: 17.6,
            extract_kg: 2.4,
            fermentable_kg: 1.5,
            ethanol_kg: 0.1,
        };
        let later = start.fermented(1.0333);
        assert_eq!(later.water_kg, 17.6);
        assert!((later.extract_kg - 1.3667).abs() < 1e-12);
        assert!((later.fermentable_kg - 0.4667).abs() < 1e-12);
        assert!((later.ethanol_kg - (0.1 + 0.5000)).abs() < 1e-4);
        // More than was thought to ferment leaves nothing that is.
        assert_eq!(start.fermented(2.0).fermentable_kg, 0.0);
    }

    #[test]
    fn falls_as_far_as_sugar_goes_and_never_rises() {
        let wort = Vessel {
            water_kg: 88.0,
            extract_kg: 12.0,
            ..Vessel::default()
        };
        let beer = wort.fallen_to(2.0, 0.1).unwrap();
        assert!((beer.apparent_plato() - 2.0).abs() < 1e-9);
        assert!((beer.equivalent_original_plato() - 12.0).abs() < 1e-9);
        assert_eq!(wort.fallen_to(12.05, 0.1), Ok(wort));
        assert!(matches!(
            wort.fallen_to(12.2, 0.1),
            Err(Unreachable::Above(_))
        ));
        let Err(Unreachable::Below(least)) = wort.fallen_to(-5.0, 0.1) else {
            panic!("a wort of 12 °P does not fall to −5 °P")
        };
        assert!((least + 2.81).abs() < 0.01);
    }

    /// A quarter of the vessel holds a quarter of everything; 2 kg of juice of 15 % bring 0.3 kg, of which 0.27 kg ferment.
    #[test]
    fn draws_take_of_everything_and_juice_brings_what_it_is() {
        let beer = Vessel {
            water_kg: 88.0,
            extract_kg: 7.0,
            fermentable_kg: 4.0,
            ethanol_kg: 2.4,
        };
        let drawn = beer.drawn(0.75);
        assert_eq!(
            (drawn.extract_kg, drawn.fermentable_kg, drawn.water_kg),
            (1.75, 1.0, 22.0)
        );
        let juiced = drawn.with(2.0, 0.15, 0.9);
        assert!((juiced.water_kg - 23.7).abs() < 1e-12);
        assert!((juiced.extract_kg - 2.05).abs() < 1e-12);
        assert!((juiced.fermentable_kg - 1.27).abs() < 1e-12);
        assert_eq!(juiced.ethanol_kg, drawn.ethanol_kg);
    }

    #[test]
    fn shows_every_reading_that_it_fell_to() {
        // From water to syrup, without alcohol and with as much as that of a strong beer after an addition.
        for extract in [0.5, 4.0, 12.0, 30.0, 60.0, 85.0] {
            for ethanol in [0.0, 1e-6, 5.0, 12.0] {
                let start = Vessel {
                    water_kg: 100.0 - extract,
                    extract_kg: extract,
                    fermentable_kg: 0.5 * extract,
                    ethanol_kg: ethanol,
                };
                let (now, least) = (
                    start.apparent_plato(),
                    start.fermented(extract).apparent_plato(),
                );
                for share in [1e-9, 0.01, 0.3, 0.7, 0.99, 1.0 - 1e-9] {
                    let wanted = now + share * (least - now);
                    let beer = start.fallen_to(wanted, 0.0).unwrap();
                    assert!(
                        (beer.apparent_plato() - wanted).abs() < 1e-10,
                        "{extract} {ethanol} {share}: {} for {wanted}",
                        beer.apparent_plato()
                    );
                    assert!(beer.extract_kg >= 0.0 && beer.extract_kg <= extract);
                }
            }
        }
    }
}
