//! Colour of a blend: absorbances add by volume.
//!
//! Source: Bouguer-Lambert-Beer law; Viggiano 2006 finds that it holds for beer.
//! Range: bright liquids; turbidity breaks it. Volumes are taken as additive.

use crate::diagnostic::Error;
use crate::quantity::{BeerColour, Volume, in_litres};
use crate::science::within::within;

/// Colour of a blend of bright liquids: the mean colour by volume. Water has colour 0.
///
/// # Errors
///
/// `OutOfRange` for a volume below zero or beyond 10⁷ L, or for a blend of less than a microlitre.
///
/// # Source
///
/// Bouguer-Lambert-Beer law.
///
/// ```
/// use wortwright::quantity::{BeerColour, Volume};
/// use wortwright::quantity::uom::si::volume::liter;
/// use wortwright::science::colour::mixed_colour;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let litres = Volume::new::<liter>;
/// let blend = mixed_colour(&[
///     (litres(8.0), BeerColour::from_ebc(20.0)?),
///     (litres(2.0), BeerColour::from_ebc(0.0)?),
/// ])?;
/// assert!((blend.ebc() - 16.0).abs() < 1e-12);
/// # Ok(())
/// # }
/// ```
pub fn mixed_colour(parts: &[(Volume, BeerColour)]) -> Result<BeerColour, Error> {
    let mut whole_l = 0.0;
    let mut ebc_litres = 0.0;
    for (volume, colour) in parts {
        let volume_l = within("a volume", in_litres(*volume), 0.0..=1e7, "L")?;
        whole_l += volume_l;
        ebc_litres += volume_l * colour.ebc();
    }
    let whole_l = within("a blend", whole_l, 1e-6..=1e10, "L")?;
    BeerColour::from_ebc(ebc_litres / whole_l)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::litres;

    #[test]
    fn nothing_has_no_colour_and_negative_volumes_are_refused() {
        let dark = BeerColour::from_ebc(80.0).unwrap();
        assert!(mixed_colour(&[]).is_err());
        assert!(mixed_colour(&[(litres(0.0), dark)]).is_err());
        assert!(mixed_colour(&[(litres(2.0), dark), (litres(-1.0), dark)]).is_err());
        assert_eq!(mixed_colour(&[(litres(3.0), dark)]).unwrap(), dark);
    }
}
