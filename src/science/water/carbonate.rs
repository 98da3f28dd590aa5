//! Alkalinity and the carbonate system.
//!
//! Alkalinity is titrated to pH 4.3, a mash ends at 5.2 to 5.6: there only 0.79 to 0.93 of it has been used up.
//!
//! Source: mass action with pK 6.35 and 10.33 and a product of water of 10⁻¹⁴ (25 °C, no ionic strength, from memory:
//! CRC Handbook); the charge balance of deLange, MBAA TQ 2015, 52(1) 3.
//! Range: pH 3 to 11. A closed system: carbon dioxide that escapes does not change the alkalinity, only the pH. Units:
//! mEq/L, mmol/L.

use super::equivalents::EquivalentConcentration;
use crate::diagnostic::{Error, ErrorKind};
use crate::numeric::{Bracket, root};
use crate::quantity::{Concentration, Ph};

/// First and second dissociation of carbonic acid (25 °C, no ionic strength, from memory: CRC Handbook).
const PK_1: f64 = 6.35;
const PK_2: f64 = 10.33;
/// Exponent of the product of water (25 °C, from memory: CRC Handbook).
const PK_WATER: f64 = 14.0;
/// Where a titration of alkalinity ends (water analysis practice: 4.3 to 4.5).
const END_PH: f64 = 4.3;
/// Mass of a millimole of bicarbonate, mg (IUPAC abridged atomic weights 2021).
const BICARBONATE_MG_PER_MMOL: f64 = 61.016;

/// Between these a water is looked for.
const BALANCED: Bracket = Bracket {
    low: 1.0,
    high: 13.0,
};

/// Negative charges on a mole of carbonate in all its forms, as a mean.
fn charges(ph: f64) -> f64 {
    let first = 10f64.powf(ph - PK_1);
    let second = first * 10f64.powf(ph - PK_2);
    (first + 2.0 * second) / (1.0 + first + second)
}

/// Free protons less hydroxide, mmol/L.
fn free_protons_mmol_l(ph: f64) -> f64 {
    1000.0 * (10f64.powf(-ph) - 10f64.powf(ph - PK_WATER))
}

/// A water as its alkalinity and its pH describe it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarbonateWater {
    total_mmol_l: f64,
    ph: f64,
}

impl CarbonateWater {
    /// A water with an alkalinity titrated to pH 4.3, and its pH.
    ///
    /// # Errors
    ///
    /// `OutOfModel` for a pH below 4.5 or above 11, or an alkalinity below what hydroxide alone gives at that pH: there
    /// carbonate is not what the alkalinity is made of.
    ///
    /// ```
    /// use wortwright::quantity::Ph;
    /// use wortwright::science::water::{CarbonateWater, EquivalentConcentration};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let alkalinity = EquivalentConcentration::from_milliequivalents_per_litre(2.0)?;
    /// let water = CarbonateWater::new(alkalinity, Ph::from_value(7.5)?)?;
    /// let used = water.acid_down_to(Ph::from_value(5.4)?);
    /// assert!((used.milliequivalents_per_litre() - 1.7602).abs() < 5e-5); // 0.88 of it
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(alkalinity: EquivalentConcentration, ph: Ph) -> Result<Self, Error> {
        let ph = ph.value();
        let alkalinity = alkalinity.milliequivalents_per_litre();
        let spent_on_water = free_protons_mmol_l(END_PH) - free_protons_mmol_l(ph);
        if !(4.5..=11.0).contains(&ph) || (alkalinity < spent_on_water && ph > 8.3) {
            return Err(Error::new(
                ErrorKind::OutOfModel,
                format!(
                    "carbonate does not explain an alkalinity of {alkalinity} mEq/L at pH {ph}"
                ),
            )
            .with_help("check the pH and the alkalinity of the water report"));
        }
        // The last drops of a titration acidify the water itself; a water with no more than that holds no carbonate.
        let carried = (alkalinity - spent_on_water).max(0.0);
        Ok(Self {
            total_mmol_l: carried / (charges(ph) - charges(END_PH)),
            ph,
        })
    }

    /// Acid that brings a litre to `ph`; negative for alkali.
    ///
    /// # Source
    ///
    /// deLange, MBAA TQ 2015: C (n(pH of the water) - n(pH)), and the free protons.
    #[must_use]
    pub fn acid_down_to(&self, ph: Ph) -> EquivalentConcentration {
        EquivalentConcentration::of(self.acid_meq_l(ph.value()))
    }

    /// [`acid_down_to`](Self::acid_down_to) as a number, mEq/L.
    pub(crate) fn acid_meq_l(&self, ph: f64) -> f64 {
        self.total_mmol_l * (charges(self.ph) - charges(ph)) + free_protons_mmol_l(ph)
            - free_protons_mmol_l(self.ph)
    }

    /// The same water with alkali dissolved in it and the carbonate that came with it, whatever the pH it is dissolved
    /// at: a millimole of bicarbonate brings one of each, one of carbonate two of alkali, hydroxide no carbonate.
    pub(crate) fn with_alkali(self, alkali_meq_l: f64, carbonate_mmol_l: f64) -> Option<Self> {
        let total_mmol_l = self.total_mmol_l + carbonate_mmol_l.max(0.0);
        let held = self.total_mmol_l * charges(self.ph) - free_protons_mmol_l(self.ph);
        let alkali = held + alkali_meq_l.max(0.0);
        let short = |ph: f64| total_mmol_l * charges(ph) - free_protons_mmol_l(ph) - alkali;
        let ph = root(short, BALANCED, 1e-12).ok()?;
        Some(Self { total_mmol_l, ph })
    }
}

/// Alkalinity of a water that holds so much bicarbonate at that pH, titrated to pH 4.3.
///
/// Meant for waters, pH 4.5 to 11 as in [`CarbonateWater::new`]. Far below, where bicarbonate is a trace of all carbonate,
/// the figure has no meaning; it is negative below pH 4.3.
///
/// ```
/// use wortwright::quantity::{Concentration, Ph};
/// use wortwright::science::water::alkalinity_from_bicarbonate;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let bicarbonate = Concentration::from_grams_per_litre(0.122032)?; // 2 mmol/L
/// let alkalinity = alkalinity_from_bicarbonate(bicarbonate, Ph::from_value(7.5)?);
/// assert!((alkalinity.milliequivalents_per_litre() - 2.0).abs() < 0.05);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn alkalinity_from_bicarbonate(bicarbonate: Concentration, ph: Ph) -> EquivalentConcentration {
    let ph = ph.value();
    let total_mmol_l = bicarbonate.grams_per_litre() * 1000.0
        / BICARBONATE_MG_PER_MMOL
        / bicarbonate_share(ph).max(1e-9);
    EquivalentConcentration::of(
        total_mmol_l * (charges(ph) - charges(END_PH)) + free_protons_mmol_l(END_PH)
            - free_protons_mmol_l(ph),
    )
}

/// Share of all carbonate that is bicarbonate.
fn bicarbonate_share(ph: f64) -> f64 {
    let first = 10f64.powf(ph - PK_1);
    first / (1.0 + first + first * 10f64.powf(ph - PK_2))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ph(value: f64) -> Ph {
        Ph::from_value(value).unwrap()
    }

    #[test]
    fn a_titration_to_its_end_uses_up_the_whole_alkalinity() {
        for (alkalinity, water_ph) in [(0.5, 6.5), (2.0, 7.5), (6.0, 8.3)] {
            let stated = EquivalentConcentration::of(alkalinity);
            let water = CarbonateWater::new(stated, ph(water_ph)).unwrap();
            assert!((water.acid_meq_l(END_PH) - alkalinity).abs() < 1e-12);
            let bicarbonate_g_l =
                water.total_mmol_l * bicarbonate_share(water_ph) * BICARBONATE_MG_PER_MMOL / 1000.0;
            let bicarbonate = Concentration::from_grams_per_litre(bicarbonate_g_l).unwrap();
            let back = alkalinity_from_bicarbonate(bicarbonate, ph(water_ph));
            assert!((back.milliequivalents_per_litre() - alkalinity).abs() < 1e-9);
        }
    }

    #[test]
    fn bicarbonate_is_half_of_all_carbonate_at_either_constant() {
        // By hand: at pH = pK1 as much carbonic acid as bicarbonate, at pK2 as much carbonate; of the third form there is
        // then a part in 10^(pK2 - pK1), some 9000. Half way between them nearly all is bicarbonate.
        let ratio = 10f64.powf(PK_2 - PK_1);
        for at in [PK_1, PK_2] {
            assert!((bicarbonate_share(at) - 1.0 / (2.0 + 1.0 / ratio)).abs() < 1e-12);
        }
        let middle = bicarbonate_share(0.5 * (PK_1 + PK_2));
        assert!((middle - 1.0 / (1.0 + 2.0 / ratio.sqrt())).abs() < 1e-12);
    }

    #[test]
    fn distilled_water_holds_no_carbonate_and_caustic_is_no_water() {
        let none = EquivalentConcentration::of(0.0);
        let distilled = CarbonateWater::new(none, ph(7.0)).unwrap();
        assert_eq!(distilled.total_mmol_l, 0.0);
        assert!(distilled.acid_meq_l(5.4) < 0.005);
        assert!(CarbonateWater::new(none, ph(10.5)).is_err());
        assert!(CarbonateWater::new(EquivalentConcentration::of(2.0), ph(3.0)).is_err());
    }

    /// At pH 5.4 carbonate with pK 6.35 and 10.33 bears 10^(5.4 - 6.35)/(1 + 10^(5.4 - 6.35)) = 0.1009 charges a molecule; all
    /// other alkali has taken up acid, whatever the water's pH.
    #[test]
    fn alkali_takes_up_acid_but_for_what_carbonate_keeps() {
        for water_ph in [5.0, 6.5, 8.0] {
            let alkalinity = EquivalentConcentration::of(1.5);
            let water = CarbonateWater::new(alkalinity, Ph::clamped(water_ph)).unwrap();
            for (alkali_meq_l, carbonate_mmol_l, by_hand) in [
                (1.0, 1.0, 0.8991), // sodium bicarbonate
                (2.0, 1.0, 1.8991), // sodium carbonate
                (1.0, 0.0, 1.0),    // slaked lime
            ] {
                let with = water.with_alkali(alkali_meq_l, carbonate_mmol_l).unwrap();
                let taken = with.acid_meq_l(5.4) - water.acid_meq_l(5.4);
                assert!(
                    (taken - by_hand).abs() < 1e-4,
                    "{water_ph}: {taken} {by_hand}"
                );
            }
        }
    }
}
