//! Acids: protons given up at a pH, and how much of a product brings so many.
//!
//! A weak acid keeps part of its protons at the pH of a mash: lactic acid of 88 % holds 11.8 mol per litre, but gives
//! up 11.5 of them on the way to pH 5.4.
//!
//! Source: mass action; pK at 25 °C and no ionic strength from memory (CRC Handbook), lactic 3.86 confirmed by a worked
//! example; molar masses from the IUPAC abridged atomic weights (2021).
//! Range: pH 1 to 10. Units: mol of protons (a milliequivalent is a millimole), kg, L.
//!
//! Concentrated acids burn: wear goggles and gloves, and pour acid into water, never water into acid.

use super::within::within;
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{AcidConstant, Mass, MassDensity, Ph, Strength, Volume};
use uom::ConstZero as _;
use uom::si::amount_of_substance::mole;
use uom::si::f64::{AmountOfSubstance, MolarMass};
use uom::si::molar_mass::gram_per_mole;

/// An acid of up to three protons.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Acid {
    molar_mass_g_mol: f64,
    /// Rising; those beyond the acid's last proton are so high that it never leaves.
    pk: [f64; 3],
}

/// A pK that no brewing liquid reaches.
const NEVER: f64 = 99.0;

impl Acid {
    /// Lactic acid.
    pub const LACTIC: Self = Self::tabled(90.078, [3.86, NEVER, NEVER]);
    /// Phosphoric acid.
    pub const PHOSPHORIC: Self = Self::tabled(97.994, [2.15, 7.20, 12.35]);
    /// Citric acid, anhydrous.
    pub const CITRIC: Self = Self::tabled(192.123, [3.13, 4.76, 6.40]);
    /// Sulphuric acid; its first proton is always free.
    pub const SULPHURIC: Self = Self::tabled(98.072, [-3.0, 1.99, NEVER]);
    /// Hydrochloric acid; its proton is always free.
    pub const HYDROCHLORIC: Self = Self::tabled(36.458, [-6.0, NEVER, NEVER]);

    const fn tabled(molar_mass_g_mol: f64, pk: [f64; 3]) -> Self {
        Self {
            molar_mass_g_mol,
            pk,
        }
    }

    /// An acid by its molar mass and its pK values, the strongest proton first.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a molar mass outside of 1 to 1000 g/mol, no pK or more than three, one outside of -10 to 20, or
    /// values that fall.
    ///
    /// ```
    /// use wortwright::quantity::{AcidConstant, Ph, Strength};
    /// use wortwright::quantity::uom::si::{amount_of_substance::mole, f64::AmountOfSubstance};
    /// use wortwright::quantity::uom::si::{f64::MolarMass, mass::gram, molar_mass::gram_per_mole};
    /// use wortwright::science::acid::{Acid, AcidProduct};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let malic = Acid::new(
    ///     MolarMass::new::<gram_per_mole>(134.087),
    ///     &[AcidConstant::from_pk(3.40)?, AcidConstant::from_pk(5.11)?],
    /// )?;
    /// let powder = AcidProduct { acid: malic, strength: Strength::from_percent(100.0)?, density: None };
    /// let mass = powder.mass_for(AmountOfSubstance::new::<mole>(1.0), Ph::from_value(5.11)?)?;
    /// // By hand at pH 5.11: 10^1.71 = 51.29, so that a mole gives (51.29 + 2 · 51.29)/(1 + 2 · 51.29) = 1.4855.
    /// assert!((mass.get::<gram>() - 134.087 / 1.4855).abs() < 0.005);
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(molar_mass: MolarMass, constants: &[AcidConstant]) -> Result<Self, Error> {
        let molar_mass_g_mol = within(
            "a molar mass",
            molar_mass.get::<gram_per_mole>(),
            1.0..=1000.0,
            "g/mol",
        )?;
        let rising = constants.windows(2).all(|pair| match pair {
            [first, second] => first <= second,
            _ => true,
        });
        if constants.is_empty() || constants.len() > 3 || !rising {
            let found: Vec<_> = constants
                .iter()
                .map(|constant| constant.pk().to_string())
                .collect();
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!(
                    "expected one to three pK values, none below the one before it, found {}",
                    if found.is_empty() {
                        "none".to_owned()
                    } else {
                        found.join(", ")
                    }
                ),
            ));
        }
        let mut pk = [NEVER; 3];
        for (place, constant) in pk.iter_mut().zip(constants) {
            *place = constant.pk();
        }
        Ok(Self::tabled(molar_mass_g_mol, pk))
    }

    pub(crate) const fn kg_per_mol(&self) -> f64 {
        self.molar_mass_g_mol / 1000.0
    }

    /// Protons that a mole gives up at a pH, as a mean over its molecules.
    pub(crate) fn protons(&self, ph: f64) -> f64 {
        let [first, second, third] = self.pk.map(|pk| 10f64.powf(ph - pk));
        let (one, two, three) = (first, first * second, first * second * third);
        (one + 2.0 * two + 3.0 * three) / (1.0 + one + two + three)
    }
}

/// An acid as it is bought.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AcidProduct {
    /// What gives up the protons.
    pub acid: Acid,
    /// Acid by mass in the product.
    pub strength: Strength,
    /// Density of a liquid product.
    pub density: Option<MassDensity>,
}

impl AcidProduct {
    /// Acid in a kilogram of the product, released or not, mol.
    pub(crate) fn moles_per_kg(&self) -> f64 {
        1000.0 * self.strength.fraction() / self.acid.molar_mass_g_mol
    }

    /// Mass of the product that gives up so many protons at a pH; nothing for a negative number.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a product without acid.
    ///
    /// ```
    /// use wortwright::quantity::{Ph, Strength};
    /// use wortwright::quantity::uom::si::amount_of_substance::millimole;
    /// use wortwright::quantity::uom::si::f64::AmountOfSubstance;
    /// use wortwright::quantity::uom::si::mass::gram;
    /// use wortwright::science::acid::{Acid, AcidProduct};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let wanted = AmountOfSubstance::new::<millimole>(19.0);
    /// let lactic = AcidProduct { acid: Acid::LACTIC, strength: Strength::from_percent(88.0)?, density: None };
    /// let mass = lactic.mass_for(wanted, Ph::from_value(5.4)?)?;
    /// assert!((mass.get::<gram>() - 2.0).abs() < 0.005);
    /// # Ok(())
    /// # }
    /// ```
    pub fn mass_for(&self, protons: AmountOfSubstance, ph: Ph) -> Result<Mass, Error> {
        let per_kg = within(
            "the acid in a product",
            self.moles_per_kg() * self.acid.protons(ph.value()),
            1e-9..=1e4,
            "mol/kg",
        )?;
        let moles = within("protons", protons.get::<mole>(), -1e6..=1e6, "mol")?;
        Ok(crate::quantity::kilograms(moles.max(0.0) / per_kg))
    }

    /// Volume of a liquid product that gives up so many protons at a pH; none for a solid.
    ///
    /// # Errors
    ///
    /// As [`mass_for`](Self::mass_for).
    pub fn volume_for(&self, protons: AmountOfSubstance, ph: Ph) -> Result<Option<Volume>, Error> {
        let mass = self.mass_for(protons, ph)?;
        Ok(self
            .density
            .filter(|density| *density > MassDensity::ZERO)
            .map(|density| mass / density))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{in_litres, kilograms};
    use uom::si::mass_density::kilogram_per_cubic_meter;

    fn ph(value: f64) -> Ph {
        Ph::from_value(value).unwrap()
    }

    #[test]
    fn half_of_a_group_is_free_at_its_pk_and_strong_acids_hold_nothing_back() {
        assert!((Acid::LACTIC.protons(3.86) - 0.5).abs() < 1e-12);
        assert!((Acid::HYDROCHLORIC.protons(5.4) - 1.0).abs() < 1e-9);
        assert!((Acid::SULPHURIC.protons(1.99) - 1.5).abs() < 1e-4);
        for value in [-5.0f64, 0.0, 14.0] {
            assert!(Acid::CITRIC.protons(value).is_finite());
        }
    }

    #[test]
    fn mass_and_protons_are_inverse_and_solids_have_no_volume() {
        let product = AcidProduct {
            acid: Acid::LACTIC,
            strength: Strength::clamped(0.88),
            density: Some(MassDensity::new::<kilogram_per_cubic_meter>(1206.0)),
        };
        // By hand: 10 g hold 0.88 · 10/90.078 = 97.69 mmol, of which 0.96498 are given up at pH 5.3.
        let protons = AmountOfSubstance::new::<mole>(0.09769 * 0.96498);
        let mass = product.mass_for(protons, ph(5.3)).unwrap();
        assert!((mass - kilograms(0.01)).abs() < kilograms(1e-6));
        let volume = product.volume_for(protons, ph(5.3)).unwrap().unwrap();
        assert!((in_litres(volume) - 0.01 / 1.206).abs() < 1e-6);
        let solid = AcidProduct {
            acid: Acid::CITRIC,
            strength: Strength::clamped(1.0),
            density: None,
        };
        assert_eq!(solid.volume_for(protons, ph(5.3)).unwrap(), None);
        let nothing = product.mass_for(-protons, ph(5.3)).unwrap();
        assert_eq!(nothing, kilograms(0.0));
        let water = AcidProduct {
            strength: Strength::clamped(0.0),
            ..product
        };
        assert!(water.mass_for(protons, ph(5.3)).is_err());
    }

    #[test]
    fn constants_that_describe_no_acid_are_refused() {
        let mass = MolarMass::new::<gram_per_mole>(100.0);
        let pk = |value| AcidConstant::from_pk(value).unwrap();
        assert!(Acid::new(mass, &[]).is_err());
        assert_eq!(
            Acid::new(mass, &[pk(5.0), pk(3.0)])
                .unwrap_err()
                .to_string(),
            "expected one to three pK values, none below the one before it, found 5, 3"
        );
        assert!(Acid::new(MolarMass::new::<gram_per_mole>(0.0), &[pk(3.0)]).is_err());
        assert!(AcidConstant::from_pk(f64::NAN).is_err());
        let one = Acid::new(mass, &[pk(3.86)]).unwrap();
        assert!((one.protons(5.4) - Acid::LACTIC.protons(5.4)).abs() < 1e-12);
    }
}
