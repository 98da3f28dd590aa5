//! Yeast cells to pitch, and what holds them: dry yeast by mass, packs by number.
//!
//! Source: cells = rate × millilitres × °P, the trade's convention (0.75 million for ale and 1.5 million for lager are
//! attributed to Fix, An Analysis of Brewing Techniques). Dry yeast: producers state at least 6·10⁹ cells/g, a
//! magazine counted 14·10⁹ living cells/g; the figures differ two- to threefold, so the caller says which.
//! Range: any wort. Cells are living ones; [`viability_after`] is a rule of the trade for those who cannot count.

use super::within::within;
use crate::diagnostic::Error;
use crate::quantity::{
    Extract, Mass, PitchRate, Share, Time, Volume, in_litres, in_minutes, json, kilograms, litres,
};
use serde::{Serialize, Serializer};

/// Share of what lives that is lost in thirty days in the cold (common practice, no source: 20 to 25 %).
const LOST_A_MONTH: f64 = 0.225;
/// Share of the first number lost per day, the careful end (common practice, no source).
const LOST_A_DAY_CAREFUL: f64 = 0.01;
/// Share of the first number lost per day in a count of seven slurries over a month (one small test).
const LOST_A_DAY_COUNTED: f64 = 0.002;
/// Growth in one starter (from memory: three- to five-fold).
const GROWTH_A_STEP: f64 = 4.0;
/// Cells at the end of a starter that stands, in thousand millions a litre (common practice, no source).
const MOST_BILLION_PER_L: f64 = 100.0;

/// Living cells in a gram of dry yeast, the least and the most that was read, in thousand millions: producers state at
/// least 6, a magazine counted 14.
pub(crate) const DRY_YEAST_BILLION_PER_G: (f64, f64) = (6.0, 14.0);
/// Cells in a fresh pack of liquid yeast, thousand millions (common practice, no source).
pub(crate) const LIQUID_PACK_BILLION: f64 = 100.0;

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

#[cfg(feature = "schema")]
crate::quantity::schema::numbers!(Cells, CellDensity);

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

/// Nobody opens another pack for a tenth of the cells: they are counted no better (common practice, no source).
pub(crate) const ENOUGH: f64 = 0.9;

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

/// Share of the cells that live after a time in the cold by the rule of the trade, and how far counts lie from that.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Viability {
    /// The rule: 22.5 % of what lives is lost in 30 days.
    #[serde(rename = "expected_pct", with = "crate::quantity::json::percent")]
    pub expected: Share,
    /// The careful end of the trade's rule.
    #[serde(rename = "least_pct", with = "crate::quantity::json::percent")]
    pub least: Share,
    /// What well-kept yeast was counted at.
    #[serde(rename = "most_pct", with = "crate::quantity::json::percent")]
    pub most: Share,
}

/// Share of liquid yeast that lives after so long in the cold. A count of your own is worth more than this.
///
/// # Errors
///
/// `OutOfRange` unless from 0 to 1000 days.
///
/// # Source
///
/// Common practice, no source: 20 to 25 % are lost per month; 22.5 % of what is left, and 1 % of the first number per day at the
/// least. One small count of seven slurries over a month found 0.2 % a day in the mean, which is the most given here: the sources
/// disagree four-fold.
///
/// ```
/// use wortwright::quantity::{Time, uom::si::time::day};
/// use wortwright::science::yeast::viability_after;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let pack = viability_after(Time::new::<day>(60.0))?;
/// assert!((pack.expected.percent() - 60.06).abs() < 0.01);
/// assert!((pack.most.percent() - 88.0).abs() < 0.01);
/// # Ok(())
/// # }
/// ```
pub fn viability_after(age: Time) -> Result<Viability, Error> {
    let days = within(
        "the age of yeast",
        in_minutes(age) / 1440.0,
        0.0..=1000.0,
        "days",
    )?;
    Ok(Viability {
        expected: Share::clamped((1.0 - LOST_A_MONTH).powf(days / 30.0)),
        least: Share::clamped(1.0 - LOST_A_DAY_CAREFUL * days),
        most: Share::clamped(1.0 - LOST_A_DAY_COUNTED * days),
    })
}

/// The cells among these that live.
///
/// ```
/// use wortwright::{quantity::Share, science::yeast::{Cells, living}};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let pack = living(Cells::from_billions(100.0)?, Share::from_percent(60.0)?);
/// assert!((pack.billions() - 60.0).abs() < 1e-12);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn living(cells: Cells, viability: Share) -> Cells {
    Cells(cells.0 * viability.fraction())
}

/// A starter that grows yeast before it is pitched.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Starter {
    /// How many cells must come of one.
    pub growth: f64,
    /// Starter wort of the last step, about 10 °P.
    #[serde(rename = "volume_l", with = "crate::quantity::json::litre")]
    pub volume: Volume,
    /// How many starters one after another.
    pub steps: u32,
}

/// The starter that grows `there` to `wanted`; none where there are enough. Rough: growth depends on air and on the strain.
///
/// # Errors
///
/// `OutOfRange` when there are fewer than a million living cells, or when they would have to grow more than ten
/// thousand-fold.
///
/// # Source
///
/// Yeast grows three- to five-fold in a step (from memory), four-fold taken; a starter that stands holds about 100 million
/// cells a millilitre at its end (common practice, no source).
///
/// ```
/// use wortwright::quantity::uom::si::volume::liter;
/// use wortwright::science::yeast::{Cells, starter};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let starter = starter(Cells::from_billions(180.0)?, Cells::from_billions(60.0)?)?.expect("too few cells");
/// assert!((starter.volume.get::<liter>() - 1.8).abs() < 1e-9);
/// assert_eq!(starter.steps, 1);
/// # Ok(())
/// # }
/// ```
pub fn starter(wanted: Cells, there: Cells) -> Result<Option<Starter>, Error> {
    if there.0 >= wanted.0 {
        return Ok(None);
    }
    let there = within("living yeast cells", there.0, 1e-3..=1e12, "billion")?;
    let growth = within("a growth of yeast", wanted.0 / there, 1.0..=1e4, "fold")?;
    let steps = (growth.ln() / GROWTH_A_STEP.ln() - 1e-9).ceil().max(1.0);
    Ok(Some(Starter {
        growth,
        volume: litres(wanted.0 / MOST_BILLION_PER_L),
        steps: steps as u32,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::minutes;

    #[test]
    fn yeast_ages_between_its_two_ends() {
        let at = |days: f64| viability_after(minutes(1440.0 * days)).unwrap();
        assert_eq!(at(0.0).expected.fraction(), 1.0);
        assert!((at(30.0).expected.percent() - 77.5).abs() < 1e-9);
        assert!((at(30.0).least.percent() - 70.0).abs() < 1e-9);
        for days in 1..400 {
            let pack = at(f64::from(days));
            assert!(pack.expected < at(f64::from(days - 1)).expected);
            // Exponential and straight lines cross in the long run; within three months the rule lies between.
            assert!(days > 90 || (pack.least <= pack.expected && pack.expected <= pack.most));
        }
        assert!(viability_after(minutes(-1.0)).is_err());
    }

    #[test]
    fn a_starter_grows_what_is_missing() {
        let billions = |x| Cells::from_billions(x).unwrap();
        assert_eq!(starter(billions(100.0), billions(100.0)).unwrap(), None);
        let twice = starter(billions(400.0), billions(25.0)).unwrap().unwrap();
        assert_eq!(twice.steps, 2);
        assert!((twice.growth - 16.0).abs() < 1e-12);
        assert!(starter(billions(100.0), billions(0.0)).is_err());
        assert!(starter(billions(1e9), billions(1.0)).is_err());
    }

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
