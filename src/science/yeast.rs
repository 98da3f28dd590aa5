//! Yeast cells to pitch, and what holds them: dry yeast by mass, packs by number.
//!
//! Source: cells = rate × millilitres × °P, the trade's convention (0.75 million for ale and 1.5 million for lager are
//! attributed to Fix, An Analysis of Brewing Techniques). Dry yeast: producers state at least 6·10⁹ cells/g, a
//! magazine counted 14·10⁹ living cells/g; the figures differ two- to threefold, so the caller says which.
//! Range: any wort. Viability is the caller's: count living cells.

use super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{Extract, Mass, PitchRate, Volume, in_litres, json, kilograms};
use serde::{Serialize, Serializer};

/// More than any fermenter holds, L.
const MOST_L: f64 = 1e7;

/// Living yeast cells.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Cells(f64);

/// Living yeast cells in a gram of dry yeast.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct CellDensity(f64);

impl Cells {
    /// A number of cells in thousand millions (10⁹).
    ///
    /// # Errors
    ///
    /// `OutOfRange` unless from 0 to 10¹² thousand millions.
    pub fn from_billions(billions: f64) -> Result<Self, Error> {
        within("yeast cells", billions, 0.0..=1e12, "billion").map(Self)
    }

    /// The number in thousand millions (10⁹).
    pub const fn billions(self) -> f64 {
        self.0
    }
}

impl CellDensity {
    /// Cells in a gram, in thousand millions (10⁹).
    ///
    /// # Errors
    ///
    /// `OutOfRange` unless from 0.1 to 100 thousand millions a gram.
    pub fn from_billions_per_gram(billions: f64) -> Result<Self, Error> {
        within("yeast cells", billions, 0.1..=100.0, "billion/g").map(Self)
    }

    /// Cells in a gram, in thousand millions (10⁹).
    pub const fn billions_per_gram(self) -> f64 {
        self.0
    }
}

impl Serialize for Cells {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json::number(self.0, serializer)
    }
}

impl Serialize for CellDensity {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json::number(self.0, serializer)
    }
}

/// Cells for a wort: rate × volume × extract.
///
/// A wort below 0 °P asks for none.
///
/// # Errors
///
/// `OutOfRange` for a volume below zero or beyond 10⁷ L.
///
/// # Source
///
/// The trade's convention, as in Fix, An Analysis of Brewing Techniques (quoted).
///
/// ```
/// use wortwright::quantity::{Extract, PitchRate, Volume};
/// use wortwright::quantity::uom::si::volume::liter;
/// use wortwright::science::yeast::cells_to_pitch;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let rate = PitchRate::from_million_per_ml_plato(0.75)?;
/// let cells = cells_to_pitch(rate, Volume::new::<liter>(20.0), Extract::from_plato(12.0)?)?;
/// assert!((cells.billions() - 180.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
pub fn cells_to_pitch(rate: PitchRate, wort: Volume, extract: Extract) -> Result<Cells, Error> {
    let volume_l = within("a wort", in_litres(wort), 0.0..=MOST_L, "L")?;
    // A million per millilitre is a thousand million per litre.
    Ok(Cells(
        rate.million_per_ml_plato() * volume_l * extract.plato().max(0.0),
    ))
}

/// Dry yeast that holds so many cells.
///
/// ```
/// use wortwright::quantity::uom::si::mass::gram;
/// use wortwright::science::yeast::{CellDensity, Cells, dry_yeast};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let yeast = dry_yeast(Cells::from_billions(180.0)?, CellDensity::from_billions_per_gram(6.0)?);
/// assert!((yeast.get::<gram>() - 30.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn dry_yeast(cells: Cells, density: CellDensity) -> Mass {
    kilograms(cells.0 / density.0 / 1000.0)
}

/// Whole packs that hold at least so many cells, `per_pack` in each.
///
/// # Errors
///
/// `OutOfRange` when a pack holds fewer than a million cells, or when more than a million packs would be needed.
///
/// ```
/// use wortwright::science::yeast::{Cells, packs};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// assert_eq!(packs(Cells::from_billions(180.0)?, Cells::from_billions(100.0)?)?, 2);
/// # Ok(())
/// # }
/// ```
pub fn packs(cells: Cells, per_pack: Cells) -> Result<u32, Error> {
    let pack = within("cells in a pack", per_pack.0, 1e-3..=1e12, "billion")?;
    // A pack that is full to within rounding is not followed by another.
    let exact = cells.0 / pack * (1.0 - 1e-12);
    within("a number of packs", exact.ceil(), 0.0..=1e6, "packs").map(|count| count as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::litres;

    #[test]
    fn packs_are_rounded_up_but_not_for_a_rounding_error() {
        let check = |cells: f64, pack: f64, expected: u32| {
            let cells = Cells::from_billions(cells).unwrap();
            let pack = Cells::from_billions(pack).unwrap();
            assert_eq!(packs(cells, pack).unwrap(), expected);
        };
        check(200.0, 100.0, 2);
        check(200.1, 100.0, 3);
        check(0.3, 0.1, 3);
        check(0.0, 100.0, 0);
    }

    #[test]
    fn absurd_figures_are_refused() {
        let rate = PitchRate::from_million_per_ml_plato(1.0).unwrap();
        let wort = Extract::from_plato(12.0).unwrap();
        assert!(cells_to_pitch(rate, litres(-1.0), wort).is_err());
        assert!(cells_to_pitch(rate, litres(f64::NAN), wort).is_err());
        assert!(Cells::from_billions(f64::INFINITY).is_err());
        let some = Cells::from_billions(1.0).unwrap();
        assert!(packs(some, Cells::from_billions(0.0).unwrap()).is_err());
    }
}
