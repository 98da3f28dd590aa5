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

use uom::si::mass_density::kilogram_per_cubic_meter;

use crate::quantity::{AlcoholByMass, Extract, MassDensity};
use crate::science::density::sucrose_density_20;
use crate::science::ethanol;

/// Most steps of the fixed point. Beers need six to eight; the strongest mixtures of spirit and syrup sixteen.
const MOST_STEPS: u32 = 40;

/// Density at 20 °C of a beer by the *mass* reading of Tabarié's relation, for comparison with analyses in which
/// distillate and residue were made up to the mass of the sample. The crate itself uses the volume reading.
///
/// # Source
///
/// Practice of beer analysis (MEBAK collection, density and alcohol-sensor method).
///
/// ```
/// use uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::quantity::{AlcoholByMass, Extract, uom};
/// use wortwright::science::attenuation::density_by_mass_reading;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let beer = density_by_mass_reading(AlcoholByMass::from_percent(4.178)?, Extract::from_plato(3.901)?);
/// // 12 °P fermented to an apparent 2 °P.
/// assert!((beer.get::<kilogram_per_cubic_meter>() - 1005.961).abs() < 5e-3);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn density_by_mass_reading(alcohol: AlcoholByMass, real: Extract) -> MassDensity {
    let fall = ethanol::mixture_density_20(alcohol.fraction()) - ethanol::WATER_20;
    let density = sucrose_density_20(real.plato() / 100.0) + fall;
    MassDensity::new::<kilogram_per_cubic_meter>(density)
}

/// Density at 20 °C of water, extract and ethanol together, kg/m³, by the volume reading. Nothing at all has the
/// density of water.
///
/// The three densities are found together: guess the beer's, take its volume, see what the two solutions hold in
/// that volume and so what they weigh, and sum again.
pub(crate) fn beer_density_20(water_kg: f64, extract_kg: f64, ethanol_kg: f64) -> f64 {
    let mass_kg = water_kg + extract_kg + ethanol_kg;
    if mass_kg <= 0.0 {
        return sucrose_density_20(0.0);
    }
    let extract = extract_kg / mass_kg;
    if ethanol_kg <= 0.0 {
        return sucrose_density_20(extract);
    }
    let alcohol = ethanol_kg / mass_kg;
    let mut with_alcohol = ethanol::mixture_density_20(alcohol);
    let mut with_extract = sucrose_density_20(extract);
    let mut density = with_alcohol - ethanol::WATER_20 + with_extract;
    for _ in 0..MOST_STEPS {
        with_alcohol = ethanol::mixture_density_20((alcohol * density / with_alcohol).min(1.0));
        with_extract = sucrose_density_20((extract * density / with_extract).min(1.0));
        let next = with_alcohol - ethanol::WATER_20 + with_extract;
        let moved = (next - density).abs();
        density = next;
        if moved < 1e-10 {
            break;
        }
    }
    density
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::density::solution_volume_l;

    #[test]
    fn satisfies_the_relation_it_solves() {
        for (extract, alcohol) in [(4.0, 4.0), (12.0, 0.1), (0.0, 8.0), (30.0, 15.0)] {
            let density = beer_density_20(100.0 - extract - alcohol, extract, alcohol);
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
    fn without_alcohol_is_the_wort_to_the_bit() {
        assert_eq!(beer_density_20(88.0, 12.0, 0.0), sucrose_density_20(0.12));
        let wort_l = 1000.0 * 100.0 / beer_density_20(88.0, 12.0, 0.0);
        assert_eq!(wort_l, solution_volume_l(88.0, 12.0));
        // And a trace of alcohol makes no jump.
        let trace = beer_density_20(88.0, 12.0, 1e-9);
        assert!((trace - sucrose_density_20(0.12)).abs() < 1e-7);
    }

    #[test]
    fn settles_in_every_mixture() {
        for extract in 0..=20 {
            for alcohol in 1..=(20 - extract) {
                let (e, a) = (f64::from(extract) * 5.0, f64::from(alcohol) * 5.0);
                let once = beer_density_20(100.0 - e - a, e, a);
                // A tenfold batch is no denser; a mixture that had not settled would be.
                let more = beer_density_20(1000.0 - 10.0 * e - 10.0 * a, 10.0 * e, 10.0 * a);
                assert!((once - more).abs() < 1e-8 && once > 780.0 && once < 1560.0);
            }
        }
    }

    #[test]
    fn nothing_weighs_as_water() {
        assert_eq!(beer_density_20(0.0, 0.0, 0.0), sucrose_density_20(0.0));
    }
}
