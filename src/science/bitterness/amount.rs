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

/// Bitterness that hops give to a volume when `used` of their alpha acids arrives there as iso-alpha-acids.
///
/// # Errors
///
/// `OutOfRange` for hops below zero or above 10⁵ kg, a volume outside 1 mL to 10⁷ L, or a bitterness off its scale.
///
/// # Source
///
/// Tinseth 1997.
///
/// ```
/// use wortwright::quantity::{AlphaAcids, Mass, Share, Volume};
/// use wortwright::quantity::uom::si::{mass::gram, volume::liter};
/// use wortwright::science::bitterness::bitterness;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let beer = bitterness(
///     Mass::new::<gram>(30.0),
///     AlphaAcids::from_percent(8.0)?,
///     Share::from_percent(25.0)?,
///     Volume::new::<liter>(20.0),
/// )?;
/// assert!((beer.ibu() - 30.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn bitterness(
    hops: Mass,
    alpha: AlphaAcids,
    used: Share,
    volume: Volume,
) -> Result<Bitterness, Error> {
    let hops_kg = within("hops", in_kilograms(hops), 0.0..=1e5, "kg")?;
    let volume_l = within("a volume", in_litres(volume), 1e-3..=1e7, "L")?;
    let iso_mg = hops_kg * MG_PER_KG * alpha.fraction() * used.fraction();
    Bitterness::from_ibu(iso_mg / volume_l)
}

/// Hops that give `bitterness` to a volume: the inverse of [`bitterness`](fn@bitterness).
///
/// # Errors
///
/// `OutOfRange` for a volume outside 1 mL to 10⁷ L, or alpha acids × share used below a millionth, from which no
/// amount of hops would bitter.
///
/// # Source
///
/// Tinseth 1997.
///
/// ```
/// use wortwright::quantity::{AlphaAcids, Bitterness, Share, Volume};
/// use wortwright::quantity::uom::si::{mass::gram, volume::liter};
/// use wortwright::science::bitterness::hops_for;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let hops = hops_for(
///     Bitterness::from_ibu(30.0)?,
///     AlphaAcids::from_percent(7.0)?,
///     Share::from_percent(20.0)?,
///     Volume::new::<liter>(23.0),
/// )?;
/// assert!((hops.get::<gram>() - 49.29).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
pub fn hops_for(
    bitterness: Bitterness,
    alpha: AlphaAcids,
    used: Share,
    volume: Volume,
) -> Result<Mass, Error> {
    let volume_l = within("a volume", in_litres(volume), 1e-3..=1e7, "L")?;
    let iso_share = within(
        "alpha acids times the share used",
        alpha.fraction() * used.fraction(),
        1e-6..=1.0,
        "kg/kg",
    )?;
    Ok(kilograms(
        bitterness.ibu() * volume_l / (MG_PER_KG * iso_share),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::litres;

    #[test]
    fn hops_and_bitterness_are_inverse() {
        let alpha = AlphaAcids::from_percent(5.5).unwrap();
        let used = Share::from_percent(23.0).unwrap();
        let hops = kilograms(0.042);
        let beer = bitterness(hops, alpha, used, litres(21.0)).unwrap();
        let back = hops_for(beer, alpha, used, litres(21.0)).unwrap();
        assert!((in_kilograms(back) - 0.042).abs() < 1e-15);
    }

    #[test]
    fn impossible_demands_are_refused() {
        let alpha = AlphaAcids::from_percent(5.0).unwrap();
        let none = Share::from_percent(0.0).unwrap();
        let beer = Bitterness::from_ibu(20.0).unwrap();
        assert!(hops_for(beer, alpha, none, litres(20.0)).is_err());
        assert!(bitterness(kilograms(0.1), alpha, none, litres(0.0)).is_err());
        assert!(bitterness(kilograms(-0.1), alpha, none, litres(1.0)).is_err());
    }
}
