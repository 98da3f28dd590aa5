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
//! Acid is lighter in solution than sugar, so that souring takes something off every gravity read after it
//! (`as_read`): 0.19 °P of a wort of 12 °P brought to pH 3.4, real extract by density and apparent extract alike.
//!
//! Left out: heterofermentative bacteria make ethanol and carbon dioxide besides. Acid that is stirred in before them
//! spares them as much sugar, 5 g per kg of malt extract down to pH 4.5, 0.06 °P at 12 °P: counted where a recipe says how
//! far it goes. What that acid itself adds to a reading, half as much, is not.

use super::acid::Acid;
use super::density::WATER_KG_PER_L;
use super::liquid::Liquid;
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

/// Litres that a kilogram of lactic acid takes up in water: 10 % by mass weighs 1.0199 kg/L at 20 °C (handbook values, read in a
/// tabulation: composition reference, salts and acids). At 80 %, 1.1848 kg/L, it is 0.804.
const ACID_L_PER_KG: f64 = (1.0 / 1.0199 - 0.9 / WATER_KG_PER_L) / 0.1;
/// The same of sucrose, which a hydrometer takes everything for: 10 % by mass weighs 1.03810 kg/L (ICUMSA).
const SUGAR_L_PER_KG: f64 = (1.0 / 1.0381 - 0.9 / WATER_KG_PER_L) / 0.1;
/// The share of lactic acid that a hydrometer shows as extract, 0.55; the rest it takes for water.
const SHOWN: f64 = (1.0 / WATER_KG_PER_L - ACID_L_PER_KG) / (1.0 / WATER_KG_PER_L - SUGAR_L_PER_KG);

/// A wort of whose extract so much is lactic acid, as a hydrometer reads it: the same mass, and less extract in it.
pub(crate) fn as_read(wort: Liquid, acid_kg: f64) -> Liquid {
    let unseen_kg = ((1.0 - SHOWN) * acid_kg).min(wort.extract_kg);
    Liquid {
        water_kg: wort.water_kg + unseen_kg,
        extract_kg: wort.extract_kg - unseen_kg,
        ..wort
    }
}

/// pH to which wort is brought before the bacteria, so that nothing else grows (common practice, no source).
pub(crate) const SAFE_PH: Ph = Ph::clamped(4.5);

/// Lactic acid of 88 %, kg/L (composition reference).
pub(crate) const ACID_KG_PER_L: f64 = 1.206;

/// Lactic acid in a litre of the acid of 88 %, kg.
pub(crate) const PURE_ACID_KG_PER_L: f64 = 0.88 * ACID_KG_PER_L;

/// Lactic acid of 88 % that brings a wort with so much malt extract from one pH down to another, L.
pub(crate) fn acid_before_l(malt_extract_kg: f64, (from, to): (Ph, Ph)) -> f64 {
    let share = lactic_acid_share(from, to).fraction();
    share * malt_extract_kg / PURE_ACID_KG_PER_L
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: a solution of 10 % takes up 0.98049 L per kg, 0.90162 of them the water: 0.7887 L/kg of acid; of sugar 0.6168. Water
    /// takes up 1.0018, so that acid shows (1.0018 - 0.7887)/(1.0018 - 0.6168) = 0.5535 of its mass. The solution then reads as one of
    /// 5.5 % of sugar: 1.0199 over water's 0.99820 is 1.0217, which Plato's table has at 5.53.
    #[test]
    fn a_hydrometer_shows_half_of_the_acid() {
        let read = |acid_kg: f64, sugar_kg: f64| {
            let water_kg = 10.0 - acid_kg - sugar_kg;
            as_read(Liquid::solution(water_kg, acid_kg + sugar_kg), acid_kg)
        };
        let acid = read(1.0, 0.0);
        assert!((acid.apparent_plato() - 5.53).abs() < 0.02);
        assert!((acid.mass_kg() - 10.0).abs() < 1e-12);
        // Half of it acid: 5 % of sugar and half of the above.
        assert!((read(0.5, 0.5).apparent_plato() - 7.77).abs() < 0.02);
        assert_eq!(read(0.0, 1.0), Liquid::solution(9.0, 1.0));
        assert_eq!(as_read(Liquid::solution(1.0, 0.0), 1.0).extract_kg, 0.0);
    }

    /// By hand: 2.5 kg of extract take up 50 x 0.9 x 2.5 = 112.5 mmol down to pH 4.5, where a mole gives 0.81361 (water reference):
    /// 138.3 mmol, 12.46 g; over 0.88 and 1.206 that is 11.7 mL. From pH 5.0 it is 6.5 mL.
    #[test]
    fn acid_before_the_bacteria_is_measured_out() {
        let ml = |from: f64| 1000.0 * acid_before_l(2.5, (Ph::from_value(from).unwrap(), SAFE_PH));
        assert!((ml(5.4) - 11.74).abs() < 0.01);
        assert!((ml(5.0) - 6.52).abs() < 0.01);
        assert_eq!(ml(4.4), 0.0);
    }

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
