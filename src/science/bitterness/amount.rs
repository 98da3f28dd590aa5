//! Bitterness by definition: milligrams of iso-alpha-acids in a litre, nominal.
//!
//! Source: Tinseth 1997, research note: IBU = U · alpha · mass · 1000 / volume, with mass in grams and volume in
//! litres. Measured bitterness units also count oxidised acids and polyphenols. Range: any.

use crate::diagnostic::Error;
use crate::quantity::{
    AlphaAcids, Bitterness, Mass, Share, Volume, in_kilograms, in_litres, kilograms,
};
use crate::science::within::within;

/// Milligrams in a kilogram.
const MG_PER_KG: f64 = 1e6;

/// Hops of one alpha in a wort or beer, of whose alpha acids a known share arrives there as iso-alpha-acids.
///
/// ```
/// use wortwright::quantity::{AlphaAcids, Bitterness, Mass, Share, Volume};
/// use wortwright::quantity::uom::si::{mass::gram, volume::liter};
/// use wortwright::science::bitterness::BitteringHops;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let hops = BitteringHops {
///     alpha: AlphaAcids::from_percent(7.0)?,
///     used: Share::from_percent(20.0)?, // by `utilisation` or `Isomerisation::formed`
///     volume: Volume::new::<liter>(23.0),
/// };
/// // By hand: 30 mg/L · 23 L = 690 mg; 690 mg/(0.07 · 0.20) = 49.29 g.
/// assert!((hops.mass_for(Bitterness::from_ibu(30.0)?)?.get::<gram>() - 49.29).abs() < 0.005);
/// assert!((hops.bitterness(Mass::new::<gram>(49.29))?.ibu() - 30.0).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BitteringHops {
    /// Alpha acids of the hops.
    pub alpha: AlphaAcids,
    /// Share of them that arrives as iso-alpha-acids.
    pub used: Share,
    /// The wort or beer, at 20 °C.
    pub volume: Volume,
}

impl BitteringHops {
    /// Bitterness that a mass of these hops gives.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for hops below zero or above 10⁵ kg, a volume outside 1 mL to 10⁷ L, or a bitterness off its scale.
    ///
    /// # Source
    ///
    /// Tinseth 1997.
    pub fn bitterness(&self, hops: Mass) -> Result<Bitterness, Error> {
        let hops_kg = within("hops", in_kilograms(hops), 0.0..=1e5, "kg")?;
        let iso_mg = hops_kg * MG_PER_KG * self.alpha.fraction() * self.used.fraction();
        Bitterness::from_ibu(iso_mg / self.volume_l()?)
    }

    /// Hops that give this bitterness: the inverse of [`bitterness`](Self::bitterness).
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a volume outside 1 mL to 10⁷ L, or alpha acids × share used below a millionth, from which no
    /// amount of hops would bitter.
    pub fn mass_for(&self, bitterness: Bitterness) -> Result<Mass, Error> {
        let iso_share = within(
            "alpha acids times the share used",
            self.alpha.fraction() * self.used.fraction(),
            1e-6..=1.0,
            "kg/kg",
        )?;
        let iso_mg = bitterness.ibu() * self.volume_l()?;
        Ok(kilograms(iso_mg / (MG_PER_KG * iso_share)))
    }

    fn volume_l(&self) -> Result<f64, Error> {
        within("a volume", in_litres(self.volume), 1e-3..=1e7, "L")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::litres;

    fn hops(used: f64, volume_l: f64) -> BitteringHops {
        BitteringHops {
            alpha: AlphaAcids::clamped(0.055),
            used: Share::clamped(used),
            volume: litres(volume_l),
        }
    }

    #[test]
    fn hops_and_bitterness_are_inverse() {
        let hops = hops(0.23, 21.0);
        let beer = hops.bitterness(kilograms(0.042)).unwrap();
        // By hand: 42 000 mg · 0.055 · 0.23/21 L.
        assert!((beer.ibu() - 25.3).abs() < 1e-9);
        assert!((in_kilograms(hops.mass_for(beer).unwrap()) - 0.042).abs() < 1e-15);
    }

    #[test]
    fn impossible_demands_are_refused() {
        let beer = Bitterness::from_ibu(20.0).unwrap();
        assert!(hops(0.0, 20.0).mass_for(beer).is_err());
        assert!(hops(0.2, 0.0).bitterness(kilograms(0.1)).is_err());
        assert!(hops(0.2, 1.0).bitterness(kilograms(-0.1)).is_err());
    }
}
