//! Preservatives that come along with juice: how much of them can act on yeast at a pH, and what usually follows.
//!
//! Only undissociated sulphur dioxide and sorbic acid pass into the cell. pKa in water, 1.81 and 4.76 (from memory): at the
//! pH of beer nearly all sorbic acid counts and next to no sulphur dioxide. Alcohol and warmth shift both. Whether a beer ferments on depends on the yeast as much as on the acid, so the
//! [`outlook`] warns and does not predict. A large, growing population withstands several times what keeps a sweet wine
//! quiet, and binds sulphur dioxide with its own acetaldehyde (from memory).
//!
//! Sulphite can bring on asthma; say so where it is used. Range: pH 2 to 8.

use serde::Serialize;

use crate::quantity::{Concentration, Ph};

/// First pKa of sulphur dioxide in water (from memory).
const SULPHUR_DIOXIDE_PKA: f64 = 1.81;

/// Molecular sulphur dioxide that hinders a small population, g/L: 0.5 to 0.8 mg/L is the wine maker's aim against
/// refermentation (from memory).
const SULPHUR_HINDERS_G_L: f64 = 0.0005;
/// The same above which even a pitched beer may wait, g/L: several times as much (from memory, order of magnitude).
const SULPHUR_STOPS_G_L: f64 = 0.004;
/// Sorbic acid below which a vigorous fermentation usually goes on, g/L (from memory, order of magnitude, no source).
const SORBIC_HINDERS_G_L: f64 = 0.05;
/// Sorbic acid above which delay or a stop is to be expected, g/L (from memory, order of magnitude, no source).
const SORBIC_STOPS_G_L: f64 = 0.2;

/// What usually becomes of a fermentation beside so much preservative.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Outlook {
    /// A vigorous fermentation usually goes on.
    UsuallyFerments,
    /// It may start late, slow down or stay incomplete; a beer that has already cleared may not start again.
    MayBeHindered,
    /// Delay or a stop is to be expected.
    OftenStops,
}

/// Molecular sulphur dioxide in a liquid of a pH that holds so much free sulphur dioxide.
///
/// # Source
///
/// `free / (1 + 10^(pH − 1.81))`.
///
/// ```
/// use wortwright::quantity::{Concentration, Ph};
/// use wortwright::science::inhibition::molecular_sulphur_dioxide;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let free = Concentration::from_grams_per_litre(0.03192)?;
/// let molecular = molecular_sulphur_dioxide(free, Ph::from_value(3.4)?);
/// assert!((molecular.milligrams_per_litre() - 0.8).abs() < 1e-3);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn molecular_sulphur_dioxide(free: Concentration, ph: Ph) -> Concentration {
    let undissociated = 1.0 / (1.0 + 10_f64.powf(ph.value() - SULPHUR_DIOXIDE_PKA));
    Concentration::clamped(free.grams_per_litre() * undissociated)
}

/// What usually becomes of a vigorous fermentation in a liquid of this pH, free sulphur dioxide and sorbic acid, all of the
/// *whole* liquid after mixing. Orders of magnitude, from memory: a warning, never a prediction.
///
/// ```
/// use wortwright::quantity::{Concentration, Ph};
/// use wortwright::science::inhibition::{Outlook, outlook};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let none = Concentration::from_grams_per_litre(0.0)?;
/// // Juice with 800 mg/L of sorbic acid makes an eighth of the beer.
/// let sorbic = Concentration::from_grams_per_litre(0.1)?;
/// assert_eq!(outlook(none, sorbic, Ph::from_value(4.0)?), Outlook::MayBeHindered);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn outlook(free_sulphur_dioxide: Concentration, sorbic: Concentration, ph: Ph) -> Outlook {
    let molecular = molecular_sulphur_dioxide(free_sulphur_dioxide, ph).grams_per_litre();
    let sorbic = sorbic.grams_per_litre();
    if molecular >= SULPHUR_STOPS_G_L || sorbic > SORBIC_STOPS_G_L {
        Outlook::OftenStops
    } else if molecular >= SULPHUR_HINDERS_G_L || sorbic >= SORBIC_HINDERS_G_L {
        Outlook::MayBeHindered
    } else {
        Outlook::UsuallyFerments
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mg_l(value: f64) -> Concentration {
        Concentration::from_grams_per_litre(value / 1000.0).unwrap()
    }

    #[test]
    fn half_of_an_acid_is_whole_at_its_pka() {
        let molecular = molecular_sulphur_dioxide(mg_l(100.0), Ph::clamped(SULPHUR_DIOXIDE_PKA));
        assert!((molecular.milligrams_per_litre() - 50.0).abs() < 1e-9);
    }

    #[test]
    fn the_same_sulphite_hinders_juice_and_not_beer() {
        let free = mg_l(60.0);
        let at = |ph| outlook(free, mg_l(0.0), Ph::from_value(ph).unwrap());
        assert_eq!(at(4.4), Outlook::UsuallyFerments);
        assert_eq!(at(3.4), Outlook::MayBeHindered);
        assert_eq!(at(2.8), Outlook::OftenStops);
    }

    #[test]
    fn more_sorbate_is_never_better() {
        let ph = Ph::from_value(4.2).unwrap();
        let mut last = Outlook::UsuallyFerments;
        for step in 0..60 {
            let next = outlook(mg_l(0.0), mg_l(f64::from(step) * 5.0), ph);
            assert!(next >= last);
            last = next;
        }
        assert_eq!(last, Outlook::OftenStops);
    }
}
