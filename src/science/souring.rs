//! Souring of wort by lactic bacteria: how much of its extract becomes acid on the way to a pH.
//!
//! The acid must give up as many protons as the wort takes up between both pH values, and a weak acid gives up few of
//! its own where it is sour: at pH 3.4 a quarter. Homofermentative bacteria make a kilogram of lactic acid of a kilogram
//! of sugar (180 g of glucose, 2 x 90 g of acid).
//!
//! Source: mass action ([`acid`](super::acid)); the buffering of wort is a constant per kilogram of its malt extract,
//! since how much of a mash's own ([`mash_ph`](super::mash_ph)) runs off with the wort is published nowhere.
//! Range: from pH 6 down to 2.8. Units: share of the malt extract, by mass.
//!
//! Heterofermentative bacteria make ethanol and carbon dioxide besides, which is left out. Acid is lighter in solution
//! than sugar (88 % lactic acid weighs 1.21 kg/L, 88 % sugar about 1.47, from memory), so that a hydrometer shows up to
//! 0.2 °P less at the end than acid counted as extract.

use super::acid::Acid;
use crate::quantity::{Ph, Share};

/// Acid that wort takes up for each kilogram of extract from malt, mEq per unit of pH: measured base malts take 30 to 50
/// mEq/(kg pH) (water reference, section 5.2), here 40, of which a kilogram gives 0.8 kg of extract. Right within a half.
const BUFFERING_MEQ_KG_PH: f64 = 50.0;

/// The share of a wort's malt extract that becomes lactic acid when bacteria bring it from one pH to another; none where
/// it does not get more sour.
///
/// # Source
///
/// Charge balance on a constant buffering, see the module.
///
/// ```
/// use wortwright::quantity::Ph;
/// use wortwright::science::souring::lactic_acid_share;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let share = lactic_acid_share(Ph::from_value(5.4)?, Ph::from_value(3.4)?);
/// // By hand: 100 mmol of protons per kg; at pH 3.4 a mole gives 10^-0.46/(1 + 10^-0.46) = 0.2575; 388 mmol weigh 35 g.
/// assert!((share.fraction() - 0.0350).abs() < 5e-5);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn lactic_acid_share(from: Ph, to: Ph) -> Share {
    let protons_mol_kg = BUFFERING_MEQ_KG_PH * (from.value() - to.value()).max(0.0) / 1000.0;
    let acid_mol_kg = protons_mol_kg / Acid::LACTIC.protons(to.value());
    Share::clamped(acid_mol_kg * Acid::LACTIC.kg_per_mol())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sourer_wort_holds_more_acid_than_its_ph_alone_says() {
        let share = |from: f64, to: f64| {
            let [from, to] = [from, to].map(|ph| Ph::from_value(ph).unwrap());
            lactic_acid_share(from, to).fraction()
        };
        // By hand, to pH 3.2: 110 mmol/kg; 10^-0.66 = 0.21878, of which 0.21878/1.21878 = 0.17951; 612.8 mmol of 90.078 g.
        assert!((share(5.4, 3.2) - 0.05520).abs() < 5e-5);
        // To pH 3.86 half of the acid is free: 77 mmol/kg, 154 mmol of acid.
        assert!((share(5.4, 3.86) - 0.154 * 0.090_078).abs() < 1e-7);
        assert_eq!(share(3.4, 5.4), 0.0);
    }
}
