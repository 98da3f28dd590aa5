//! Attenuation: Balling's balance of fermentation, on mass.
//!
//! Balling, Die Bierbrauerei wissenschaftlich begründet, vol. 1 part 2, p. 233: 2.0665 g of extract give 1 g of ethanol,
//! 0.9565 g of carbon dioxide and 0.11 g of dry yeast. Gas and yeast leave, so 100 g of beer with A g of ethanol come
//! from 100 + 1.0665 A g of wort. Every worked example of Balling's books follows from these three numbers; the Russian
//! standard's table of 147 pairs (GOST 12787-2021) does so to 0.01 °P. Beers as analysed scatter by 0.2 °P about it.
//!
//! Range: any wort up to 100 °P. Extract and alcohol are per cent by mass.
//!
//! What liquid results, and so what a hydrometer shows of it, is [`Liquid`](super::liquid::Liquid)'s to say.
//!
//! | word | meaning |
//! |---|---|
//! | original extract | extract of the wort before fermentation |
//! | real extract | extract of the beer, by mass of the beer |
//! | apparent extract | extract of the sucrose solution as dense as the beer: what a hydrometer shows |
//! | apparent attenuation | fall to the apparent extract over the original extract |
//! | real attenuation | fall to the real extract over the original extract |
//! | fermented share | mass of extract consumed over mass of extract in the wort |

use crate::quantity::{Attenuation, Extract, Fermentability};

/// Extract consumed per mass of ethanol formed (Balling, p. 233).
pub(crate) const EXTRACT_PER_ETHANOL: f64 = 2.0665;

/// Carbon dioxide formed per mass of ethanol (Balling, p. 233).
pub(crate) const CARBON_DIOXIDE_PER_ETHANOL: f64 = 0.9565;

/// Dry yeast formed per mass of ethanol (Balling, p. 233).
pub(crate) const YEAST_PER_ETHANOL: f64 = 0.11;

/// What leaves the liquid per mass of ethanol: gas and yeast.
const LOST_PER_ETHANOL: f64 = CARBON_DIOXIDE_PER_ETHANOL + YEAST_PER_ETHANOL;

/// Apparent attenuation, as breweries state it: the fall of the hydrometer's reading over the original extract.
/// Nothing ferments from a wort without extract, so that gives 0.
///
/// ```
/// use wortwright::{quantity::Extract, science::attenuation::apparent_attenuation};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// // Balling's example of a distiller's wash: 8 °P down to 1 °P.
/// let fall = apparent_attenuation(Extract::from_plato(8.0)?, Extract::from_plato(1.0)?);
/// assert_eq!(fall.fraction(), 0.875);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn apparent_attenuation(original: Extract, apparent: Extract) -> Attenuation {
    fall(original, apparent)
}

/// Real attenuation: the fall to the real extract over the original extract. Each is a per cent of its own liquid,
/// and a beer weighs less than its wort, so this is a little less than [`fermented_share`].
///
/// ```
/// use wortwright::{quantity::Extract, science::attenuation::real_attenuation};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let fall = real_attenuation(Extract::from_plato(12.0)?, Extract::from_plato(4.0)?);
/// assert!((fall.percent() - 66.67).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn real_attenuation(original: Extract, real: Extract) -> Attenuation {
    fall(original, real)
}

/// Share of the wort's extract, by mass, that fermentation consumed: the true degree of fermentation.
///
/// # Source
///
/// Balling's balance: `(OE − RE)/OE / (1 − RE 1.0665/206.65)`. ASBC Beer-6B has the same form with 0.005161 RE (from memory).
///
/// ```
/// use wortwright::{quantity::Extract, science::attenuation::fermented_share};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let share = fermented_share(Extract::from_plato(12.0)?, Extract::from_plato(4.0)?);
/// assert!((share.percent() - 68.07).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn fermented_share(original: Extract, real: Extract) -> Fermentability {
    if original.plato() <= 0.0 {
        return Fermentability::clamped(0.0);
    }
    let fallen = 1.0 - real.plato() / original.plato();
    let wort_over_beer = 1.0 - real.plato() * LOST_PER_ETHANOL / (100.0 * EXTRACT_PER_ETHANOL);
    Fermentability::clamped(fallen / wort_over_beer)
}

fn fall(from: Extract, to: Extract) -> Attenuation {
    if from.plato() > 0.0 {
        Attenuation::clamped(1.0 - to.plato() / from.plato())
    } else {
        Attenuation::clamped(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::science::liquid::Liquid;

    fn plato(value: f64) -> Extract {
        Extract::from_plato(value).unwrap()
    }

    #[test]
    fn the_balance_closes() {
        let products = 1.0 + CARBON_DIOXIDE_PER_ETHANOL + YEAST_PER_ETHANOL;
        assert!((products - EXTRACT_PER_ETHANOL).abs() < 1e-12);
    }

    #[test]
    fn products_of_ballings_example() {
        // Beer volume p. 505: 12 °P without real extract; carbon dioxide 5.921, dry yeast 0.681 in 100 of beer.
        let wort = Liquid::solution(88.0, 12.0);
        let alcohol = wort.fermented_kg(12.0).alcohol_by_mass().percent();
        assert!((CARBON_DIOXIDE_PER_ETHANOL * alcohol - 5.921).abs() < 5e-4);
        assert!((YEAST_PER_ETHANOL * alcohol - 0.681).abs() < 5e-4);
    }

    #[test]
    fn fermented_share_is_the_mass_by_hand() {
        // 100 kg of beer with 4 kg of ethanol and 4 kg of extract: 8.266 kg of 12.266 kg were consumed, of 104.266 kg.
        let original = plato(100.0 * 12.266 / 104.266);
        let share = fermented_share(original, plato(4.0)).fraction();
        assert!((share - 8.266 / 12.266).abs() < 1e-12);
    }

    #[test]
    fn water_ferments_to_nothing() {
        let none = plato(0.0);
        assert_eq!(apparent_attenuation(none, plato(-1.0)).fraction(), 0.0);
        assert_eq!(fermented_share(none, none).fraction(), 0.0);
    }
}
