//! Density of ethanol and water together, −20 to 40 °C and mass fractions 0 to 1, in kg/m³; strength by volume.
//!
//! General formula of OIML R 22 (International alcoholometric tables, 1975), which the annex of Council Directive
//! 76/766/EEC repeats: `ρ(p, t) = A₁ + Σ A_k p^(k−1) + Σ B_k (t − 20)^k + Σ C_ik p^k (t − 20)^i`. Five public
//! sources print the same coefficients; a sixth has C₂₃ with other last digits. The formula
//! does not know that weak mixtures freeze: below zero it is meant for strong ones.
//!
//! Pure ethanol at 20 °C has 789.2391 kg/m³ (R 22 prints 789.24); strength by volume is the volume the ethanol
//! would fill alone at 20 °C over the volume of the whole at 20 °C, from 0 to 1.

use uom::si::mass_density::kilogram_per_cubic_meter;

use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::value_and_slope;
use crate::quantity::{AlcoholByMass, AlcoholByVolume, MassDensity, Temperature};

/// A₁ to A₁₂ (OIML R 22): powers 0 to 11 of the mass fraction at 20 °C.
const A: [f64; 12] = [
    9.982012300e2,
    -1.929769495e2,
    3.891238958e2,
    -1.668103923e3,
    1.352215441e4,
    -8.829278388e4,
    3.062874042e5,
    -6.138381234e5,
    7.470172998e5,
    -5.478461354e5,
    2.234460334e5,
    -3.903285426e4,
];

/// B₁ to B₆ (OIML R 22): powers 1 to 6 of t − 20.
const B: [f64; 6] = [
    -2.0618513e-1,
    -5.2682542e-3,
    3.6130013e-5,
    -3.8957702e-7,
    7.1693540e-9,
    -9.9739231e-11,
];

/// C₁ₖ (OIML R 22): powers 1 to 11 of the mass fraction, with t − 20.
const C1: [f64; 11] = [
    1.693443461530087e-1,
    -1.046914743455169e1,
    7.196353469546523e1,
    -7.047478054272792e2,
    3.924090430035045e3,
    -1.210164659068747e4,
    2.248646550400788e4,
    -2.605562982188164e4,
    1.852373922069467e4,
    -7.420201433430137e3,
    1.285617841998974e3,
];

/// C₂ₖ (OIML R 22): powers 1 to 10, with (t − 20)².
const C2: [f64; 10] = [
    -1.193013005057010e-2,
    2.517399633803461e-1,
    -2.170575700536993,
    1.353034988843029e1,
    -5.029988758547014e1,
    1.096355666577570e2,
    -1.422753946421155e2,
    1.080435942856230e2,
    -4.414153236817392e1,
    7.442971530188783,
];

/// C₃ₖ (OIML R 22): powers 1 to 9, with (t − 20)³.
const C3: [f64; 9] = [
    -6.802995733503803e-4,
    1.876837790289664e-2,
    -2.002561813734156e-1,
    1.022992966719220,
    -2.895696483903638,
    4.810060584300675,
    -4.672147440794683,
    2.458043105903461,
    -5.411227621436812e-1,
];

/// C₄ₖ (OIML R 22): powers 1 to 4, with (t − 20)⁴.
const C4: [f64; 4] = [
    4.075376675622027e-6,
    -8.763058573471110e-6,
    6.515031360099368e-6,
    -1.515784836987210e-6,
];

/// C₅ₖ (OIML R 22): powers 1 and 2, with (t − 20)⁵.
const C5: [f64; 2] = [-2.788074354782409e-8, 1.345612883493354e-8];

/// Density of pure ethanol at 20 °C, kg/m³: the formula at a mass fraction of 1, 789.2391.
pub(crate) const PURE_20: f64 = mixture_density_20(1.0);

/// Density of the formula's water at 20 °C, kg/m³ (A₁).
pub(crate) const WATER_20: f64 = mixture_density_20(0.0);

/// Density of ethanol and water of the given strength at −20 to 40 °C.
///
/// # Errors
///
/// `OutOfModel` outside −20 to 40 °C.
///
/// # Source
///
/// OIML R 22 (1975): 5 % by mass at 20 °C has 989.52 kg/m³; pure ethanol at 20 °C 789.24 kg/m³.
///
/// ```
/// use uom::si::mass_density::kilogram_per_cubic_meter;
/// use wortwright::{quantity::{AlcoholByMass, Temperature, uom}, science::ethanol};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let pure = ethanol::density(AlcoholByMass::from_percent(100.0)?, Temperature::from_celsius(20.0)?)?;
/// assert!((pure.get::<kilogram_per_cubic_meter>() - 789.24).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn density(alcohol: AlcoholByMass, temperature: Temperature) -> Result<MassDensity, Error> {
    let celsius = temperature.celsius();
    if (-20.0..=40.0).contains(&celsius) {
        let density = mixture_density(alcohol.fraction(), celsius);
        Ok(MassDensity::new::<kilogram_per_cubic_meter>(density))
    } else {
        Err(Error::new(
            ErrorKind::OutOfModel,
            format!(
                "the density of ethanol and water is known from -20 to 40 °C, found {temperature}"
            ),
        ))
    }
}

/// Strength by volume of ethanol and water whose strength by mass is given. For a beer, which holds extract too, use
/// [`super::liquid::Liquid`].
///
/// # Source
///
/// OIML R 22 (1975): 33.300 % by mass is 40 % by volume.
///
/// ```
/// use wortwright::{quantity::AlcoholByMass, science::ethanol};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let spirit = ethanol::volume_strength(AlcoholByMass::from_percent(33.300)?);
/// assert!((spirit.percent() - 40.0).abs() < 1e-3);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn volume_strength(alcohol: AlcoholByMass) -> AlcoholByVolume {
    let p = alcohol.fraction();
    AlcoholByVolume::clamped(p * mixture_density_20(p) / PURE_20)
}

/// Strength by mass of ethanol and water whose strength by volume is given: the inverse of [`volume_strength`].
///
/// # Source
///
/// OIML R 22 (1975): 5 % by volume is 3.9818 % by mass.
///
/// ```
/// use wortwright::{quantity::AlcoholByVolume, science::ethanol};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let weak = ethanol::mass_strength(AlcoholByVolume::from_percent(5.0)?);
/// assert!((weak.percent() - 3.9818).abs() < 5e-5);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn mass_strength(alcohol: AlcoholByVolume) -> AlcoholByMass {
    let kg_per_m3 = alcohol.fraction() * PURE_20;
    AlcoholByMass::clamped(fraction_of_concentration(kg_per_m3))
}

/// Density at 20 °C of this mass fraction of ethanol in water, kg/m³.
pub(crate) const fn mixture_density_20(ethanol_fraction: f64) -> f64 {
    let [a1, a2, a3, a4, a5, a6, a7, a8, a9, a10, a11, a12] = A;
    let p = ethanol_fraction;
    let high = a7 + p * (a8 + p * (a9 + p * (a10 + p * (a11 + p * a12))));
    a1 + p * (a2 + p * (a3 + p * (a4 + p * (a5 + p * (a6 + p * high)))))
}

/// The density at 20 °C as above, and how much it changes for one in the mass fraction.
pub(crate) fn mixture_density_and_slope_20(ethanol_fraction: f64) -> (f64, f64) {
    value_and_slope(&A, ethanol_fraction)
}

fn mixture_density(p: f64, celsius: f64) -> f64 {
    let t = celsius - 20.0;
    let mixed = [
        without_constant(&C1, p),
        without_constant(&C2, p),
        without_constant(&C3, p),
        without_constant(&C4, p),
        without_constant(&C5, p),
    ];
    mixture_density_20(p) + without_constant(&B, t) + without_constant(&mixed, t)
}

/// Mass fraction of ethanol that has this many kg of it in a m³ of the mixture at 20 °C. A fixed point: the density
/// falls so slowly that each step leaves at most 0.4 of the error.
fn fraction_of_concentration(kg_per_m3: f64) -> f64 {
    let mut p = kg_per_m3 / WATER_20;
    for _ in 0..60 {
        let next = (kg_per_m3 / mixture_density_20(p)).clamp(0.0, 1.0);
        let moved = (next - p).abs();
        p = next;
        if moved < 1e-14 {
            break;
        }
    }
    p
}

/// A polynomial whose first coefficient belongs to the first power.
fn without_constant(coefficients: &[f64], x: f64) -> f64 {
    x * coefficients.iter().rev().fold(0.0, |sum, c| sum * x + c)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn meets_the_check_points_of_the_recommendation() {
        assert!((PURE_20 - 789.24).abs() < 0.005);
        assert!((WATER_20 - 998.2012).abs() < 5e-5);
        // Lower limit of density that R 22 states with the formula.
        assert!((mixture_density(1.0, 40.0) - 771.93).abs() < 0.005);
        assert!((mixture_density(0.73, 15.5) - 864.24863).abs() < 5e-6);
    }

    #[test]
    fn gives_the_density_by_hand() {
        // 1 % by mass: 998.20123 - 1.929769495 + 0.03891238958 - 0.001668103923 + 0.0001352215 - 0.0000088293 + 3.06e-7.
        assert!((mixture_density_20(0.01) - 996.308831).abs() < 1e-5);
    }

    #[test]
    fn falls_with_strength() {
        let mut last = WATER_20;
        for step in 1..=1000 {
            let next = mixture_density_20(f64::from(step) / 1000.0);
            assert!(next < last, "{step}");
            last = next;
        }
    }

    #[test]
    fn strength_runs_from_nothing_to_pure() {
        let mass = |p| AlcoholByMass::from_fraction(p).unwrap();
        let volume = |q| AlcoholByVolume::from_fraction(q).unwrap();
        assert_eq!(volume_strength(mass(0.0)).fraction(), 0.0);
        assert_eq!(volume_strength(mass(1.0)).fraction(), 1.0);
        assert_eq!(mass_strength(volume(0.0)).fraction(), 0.0);
        assert!((mass_strength(volume(1.0)).fraction() - 1.0).abs() < 1e-14);
    }

    #[test]
    fn refuses_what_lies_outside_the_tables() {
        let warm = density(
            AlcoholByMass::clamped(0.1),
            Temperature::from_celsius(40.5).unwrap(),
        );
        assert_eq!(
            warm.unwrap_err().message(),
            "the density of ethanol and water is known from -20 to 40 °C, found 40.5 °C"
        );
    }
}
