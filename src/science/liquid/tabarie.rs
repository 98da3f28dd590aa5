//! Tabarié's relation: the density of a beer from its alcohol and its extract.
//!
//! `ρ = ρ_alcohol-water + ρ_extract-water − ρ_water` at 20 °C (OIV-MA-AS2-03B; GOST R 51620-2000 eq. 1). Each of the
//! two solutions holds what the beer holds *in the beer's volume*, as the OIV makes distillate and residue up. The
//! other practice, up to the sample's *mass*, gives another density; this crate's reading is the volume one because
//! it is the one that beers bear out: from the mean alcohol and real extract of five sets of 532 analysed beers
//! (Cutaia, Reid and Speers, J. Inst. Brew. 115 (2009) 318, table III) it predicts the apparent extract within 0.04 °P,
//! the mass reading only within 0.08 °P.
//!
//! The water term is that of OIML R 22, so the alcohol enters as the fall below its own water. Without alcohol the
//! density is then exactly that of the sucrose solution, and a beer's scale starts where the wort's does.
//!
//! Range: extract as in the ICUMSA polynomial and alcohol as in R 22, both at 20 °C; tested as a mixture on beer only.

use super::Liquid;
use crate::science::attenuation::EXTRACT_PER_ETHANOL;
use crate::science::density::{sucrose_density_20, sucrose_density_and_slope_20};
use crate::science::ethanol;

/// Most steps of Newton's method. Beers need two; the strongest mixtures of spirit and syrup, and falls, three to six.
const MOST_STEPS: u32 = 40;
/// A step smaller than this is the last: what it leaves is about its square.
const DENSITY_NEAR: f64 = 1e-6;
/// The same for what ferments, as a part of the mass.
const SHARE_NEAR: f64 = 1e-9;
/// Densities closer than this are the same, kg/m³: 3e-10 °P. Where all or nothing has fermented, rounding decides the rest.
const SAME_DENSITY: f64 = 1e-9;

/// Why fermenting does not bring a liquid to a gravity, with the nearest apparent extract that it does bring, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Fall {
    AlreadyBelow(f64),
    EndsAbove(f64),
}

impl Liquid {
    /// Density at 20 °C of a liquid with ethanol in it, kg/m³, by the volume reading.
    ///
    /// The three densities are found together by Newton's method: with each solution's density as its tangent, a straight
    /// line in what a cubic metre holds, the relation is linear in the beer's density.
    pub(super) fn density_with_ethanol_20(self) -> f64 {
        let mass_kg = self.mass_kg();
        let (extract, alcohol) = (self.extract_kg / mass_kg, self.ethanol_kg / mass_kg);
        // Extract makes a cubic metre of beer hold more alcohol than one of spirit as strong, and alcohol less extract: a start that
        // spares beers the third step.
        let mut in_water = alcohol * (1.0 + 0.4 * extract);
        let mut in_wort = extract * (1.0 - 0.2 * alcohol);
        let mut density = 0.0;
        for _ in 0..MOST_STEPS {
            let spirit = Tangent::of_spirit(in_water);
            let syrup = Tangent::of_syrup(in_wort);
            let next = (spirit.at_none + syrup.at_none - ethanol::WATER_20)
                / (1.0 - spirit.slope * alcohol - syrup.slope * extract);
            in_water = spirit.nearer(alcohol * next);
            in_wort = syrup.nearer(extract * next);
            let moved = (next - density).abs();
            density = next;
            if moved < DENSITY_NEAR {
                break;
            }
        }
        density
    }

    /// Extract that ferments, of `most_kg` that can, until a hydrometer shows `plato`.
    pub(crate) fn falls_to_kg(self, plato: f64, most_kg: f64) -> Result<f64, Fall> {
        // The apparent extract rises with the density, which is quicker to find.
        let wanted = sucrose_density_20(plato / 100.0);
        let now = self.density_20();
        if wanted > now - SAME_DENSITY {
            return if wanted < now + SAME_DENSITY {
                Ok(0.0)
            } else {
                Err(Fall::AlreadyBelow(self.apparent_plato()))
            };
        }
        let dry = self.fermented_kg(most_kg);
        let least = dry.density_20();
        if wanted < least + SAME_DENSITY {
            return if wanted > least - SAME_DENSITY {
                Ok(most_kg)
            } else {
                Err(Fall::EndsAbove(dry.apparent_plato()))
            };
        }
        Ok(self.consumed_at_kg(wanted).max(0.0).min(most_kg))
    }

    /// Extract that ferments away until the liquid has this density (kg/m³) at 20 °C. Below zero where it is lighter
    /// already; it may be more than there is.
    ///
    /// Where the beer's density is known, both solutions' contents are linear in what has fermented, and so is the relation
    /// with their tangents: a few steps in place of a search with [`Liquid::density_20`].
    pub(crate) fn consumed_at_kg(self, density: f64) -> f64 {
        let mass_kg = self.mass_kg();
        let ethanol_per_extract = 1.0 / EXTRACT_PER_ETHANOL;
        let leaving_per_extract = 1.0 - ethanol_per_extract;
        let (mut in_water, mut in_wort) = (self.ethanol_kg / mass_kg, self.extract_kg / mass_kg);
        let mut consumed_kg = 0.0_f64;
        for _ in 0..MOST_STEPS {
            let spirit = Tangent::of_spirit(in_water);
            let syrup = Tangent::of_syrup(in_wort);
            let by_contents = density + ethanol::WATER_20 - spirit.at_none - syrup.at_none;
            let next_kg = (by_contents * mass_kg
                - density * (spirit.slope * self.ethanol_kg + syrup.slope * self.extract_kg))
                / (density * (spirit.slope * ethanol_per_extract - syrup.slope)
                    + by_contents * leaving_per_extract);
            let per_m3 = density / (mass_kg - next_kg * leaving_per_extract);
            in_water = spirit.nearer(per_m3 * (self.ethanol_kg + next_kg * ethanol_per_extract));
            in_wort = syrup.nearer(per_m3 * (self.extract_kg - next_kg));
            let moved_kg = (next_kg - consumed_kg).abs();
            consumed_kg = next_kg;
            if moved_kg < SHARE_NEAR * mass_kg {
                break;
            }
        }
        consumed_kg
    }
}

/// The density of a solution as a straight line in what a cubic metre of it holds, true near one strength.
struct Tangent {
    /// Where the line starts, kg/m³, at no content.
    at_none: f64,
    /// Change of the density for one kg/m³ of content.
    slope: f64,
    fraction: f64,
    content: f64,
    content_per_fraction: f64,
}

impl Tangent {
    /// Of ethanol and water.
    fn of_spirit(fraction: f64) -> Self {
        Self::of(fraction, ethanol::mixture_density_and_slope_20(fraction))
    }

    /// Of extract and water.
    fn of_syrup(fraction: f64) -> Self {
        Self::of(fraction, sucrose_density_and_slope_20(fraction))
    }

    fn of(fraction: f64, (density, density_per_fraction): (f64, f64)) -> Self {
        let content = fraction * density;
        let content_per_fraction = density + fraction * density_per_fraction;
        let slope = density_per_fraction / content_per_fraction;
        Self {
            at_none: density - slope * content,
            slope,
            fraction,
            content,
            content_per_fraction,
        }
    }

    /// The mass fraction nearer to a content.
    fn nearer(&self, content: f64) -> f64 {
        (self.fraction + (content - self.content) / self.content_per_fraction).min(1.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::density::solution_volume_at_l;

    const fn of(water_kg: f64, extract_kg: f64, ethanol_kg: f64) -> Liquid {
        Liquid {
            water_kg,
            extract_kg,
            ethanol_kg,
        }
    }

    #[test]
    fn satisfies_the_relation_it_solves() {
        for (extract, alcohol) in [(4.0, 4.0), (12.0, 0.1), (0.0, 8.0), (30.0, 15.0)] {
            let density = of(100.0 - extract - alcohol, extract, alcohol).density_20();
            let volume_m3 = 100.0 / density;
            // Both solutions made up to the beer's volume, each found by bisection on its own mass.
            let made_up = |solute: f64, solution: &dyn Fn(f64) -> f64| {
                let (mut low, mut high) = (0.0_f64, 1.0_f64);
                for _ in 0..200 {
                    let p = 0.5 * (low + high);
                    if p * solution(p) * volume_m3 < solute {
                        low = p;
                    } else {
                        high = p;
                    }
                }
                solution(low)
            };
            let sum = made_up(alcohol, &ethanol::mixture_density_20) - ethanol::WATER_20
                + made_up(extract, &sucrose_density_20);
            assert!((sum - density).abs() < 1e-9, "{extract} {alcohol}");
        }
    }

    #[test]
    fn what_ferments_to_a_density_gives_it() {
        for (extract, alcohol, density) in [
            (15.6, 0.0, 1023.6),
            (4.0, 4.0, 1005.0),
            (30.0, 2.0, 1010.0),
            (6.0, 5.0, 990.0),
        ] {
            let start = of(100.0 - extract - alcohol, extract, alcohol);
            let reached = start
                .fermented_kg(start.consumed_at_kg(density))
                .density_20();
            assert!((reached - density).abs() < 1e-9, "{extract} {reached}");
            // What is lighter already has to give extract back, up to the wort that it was.
            for share in [1.0, 0.5, 1e-6] {
                let earlier = start.fermented_kg(-share * EXTRACT_PER_ETHANOL * alcohol);
                let back_kg = -start.consumed_at_kg(earlier.density_20());
                let given_kg = share * EXTRACT_PER_ETHANOL * alcohol;
                assert!((back_kg - given_kg).abs() < 1e-9, "{extract} {back_kg}");
            }
        }
    }

    #[test]
    fn without_alcohol_is_the_wort_to_the_bit() {
        let wort = of(88.0, 12.0, 0.0);
        assert_eq!(wort.density_20(), sucrose_density_20(0.12));
        assert_eq!(wort.volume_l(), solution_volume_at_l(88.0, 12.0, 20.0));
        // And a trace of alcohol makes no jump.
        let trace = of(88.0, 12.0, 1e-9).density_20();
        assert!((trace - sucrose_density_20(0.12)).abs() < 1e-7);
    }

    #[test]
    fn settles_in_every_mixture() {
        for extract in 0..=20 {
            for alcohol in 1..=(20 - extract) {
                let (e, a) = (f64::from(extract) * 5.0, f64::from(alcohol) * 5.0);
                let once = of(100.0 - e - a, e, a).density_20();
                // A tenfold batch is no denser; a mixture that had not settled would be.
                let more = of(1000.0 - 10.0 * e - 10.0 * a, 10.0 * e, 10.0 * a).density_20();
                assert!((once - more).abs() < 1e-8 && once > 780.0 && once < 1560.0);
            }
        }
    }
}
