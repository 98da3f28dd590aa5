//! Ageing of hops in store.
//!
//! Source: Nickerson & Likens, J. Am. Soc. Brew. Chem. 1979, 37, 184 (loss from the hop storage index);
//! Garetz, BrewingTechniques 2(1), 1994 (loss from time, temperature and package).
//! Range: the index counts alpha- *and* beta-acids, and fresh hops of different varieties differ by about 0.10, that
//! is 15 % points of apparent loss. Garetz' temperature factor is not defined above 20 °C.

use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{Share, Temperature, Time, json};
use crate::science::within::within;
use serde::{Deserialize, Serialize, Serializer};
use uom::si::time::day;

/// Per cent lost for each tenfold of the index: the common form. Nickerson & Likens (1979) found 101.8 (crop 1969),
/// 111.3 (1975), 114.5 (1976) and 114.6 (1977).
const LOST_PER_TENFOLD: f64 = 1.10;

/// Index of fresh hops in the common form.
const FRESH_INDEX: f64 = 0.25;

/// Temperature at which hops are graded by what they lose in six months, °C (Garetz 1994).
const GRADED_AT_C: f64 = 20.0;

/// Fall of temperature that halves the rate of loss, K (Garetz 1994).
const HALVING_K: f64 = 15.0;

/// Days in the six months of the grade (Garetz 1994).
const GRADED_DAYS: f64 = 180.0;

/// Hop storage index: absorbance at 275 nm over that at 325 nm (ASBC Hops-6 and -12, EBC 7.13).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct StorageIndex(f64);

/// How hops are packed; the factors multiply the rate of loss. That of no protection is Garetz 1994, the others are
/// from memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum HopPackaging {
    /// No protection: factor 1.
    Open,
    /// A sealed barrier with air inside: factor 0.75.
    SealedWithAir,
    /// A sealed barrier, evacuated or filled with inert gas: factor 0.5.
    VacuumOrInertGas,
}

impl StorageIndex {
    /// An index.
    ///
    /// # Errors
    ///
    /// `OutOfRange` unless from 0.1 to 3.
    pub fn from_ratio(ratio: f64) -> Result<Self, Error> {
        within("a hop storage index", ratio, 0.1..=3.0, "A275/A325").map(Self)
    }

    /// The index.
    pub const fn ratio(self) -> f64 {
        self.0
    }
}

impl Serialize for StorageIndex {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json::number(self.0, serializer)
    }
}

#[cfg(feature = "schema")]
crate::quantity::schema::numbers!(StorageIndex);

impl HopPackaging {
    /// Factor on the rate of loss.
    const fn factor(self) -> f64 {
        match self {
            Self::Open => 1.0,
            Self::SealedWithAir => 0.75,
            Self::VacuumOrInertGas => 0.5,
        }
    }
}

/// Share of the alpha- and beta-acids that hops have lost: 1.10 · log10(index / 0.25).
///
/// An index below that of fresh hops means no loss.
///
/// # Source
///
/// Nickerson & Likens 1979, with the slope of the common form.
///
/// ```
/// use wortwright::science::bitterness::{StorageIndex, lost_by_storage_index};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let lost = lost_by_storage_index(StorageIndex::from_ratio(0.31)?);
/// assert!((lost.percent() - 10.28).abs() < 0.005);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub fn lost_by_storage_index(index: StorageIndex) -> Share {
    Share::clamped(lost_share(index.0, LOST_PER_TENFOLD))
}

fn lost_share(index: f64, lost_per_tenfold: f64) -> f64 {
    lost_per_tenfold * (index / FRESH_INDEX).log10()
}

/// Hops in a store.
///
/// ```
/// use wortwright::quantity::{Share, Temperature, Time};
/// use wortwright::quantity::uom::si::time::day;
/// use wortwright::science::bitterness::{HopPackaging, HopStore};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let store = HopStore {
///     lost_in_six_months: Share::from_percent(15.0)?,
///     temperature: Temperature::from_celsius(5.0)?,
///     packaging: HopPackaging::SealedWithAir,
/// };
/// // By hand: exp(ln 0.85 · 2^(-15/15) · 0.75 · 180/180).
/// assert!((store.kept_after(Time::new::<day>(180.0))?.fraction() - 0.9409).abs() < 5e-5);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HopStore {
    /// The grade of the variety: what it loses of its alpha acids in 180 days at 20 °C without protection.
    pub lost_in_six_months: Share,
    /// The store's; at most 20 °C.
    pub temperature: Temperature,
    /// What protects the hops from air.
    pub packaging: HopPackaging,
}

impl HopStore {
    /// Share of the alpha acids that is left after a time.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a time below zero or above a hundred years, or a grade above 99 %; `OutOfModel` above 20 °C.
    ///
    /// # Source
    ///
    /// Garetz 1994: exp(-k · 2^((T-20)/15) · package · days). The line printed there as "100 × % lost" is a misprint for
    /// 100 - % lost.
    pub fn kept_after(&self, time: Time) -> Result<Share, Error> {
        let lost = within(
            "a loss in six months",
            self.lost_in_six_months.fraction(),
            0.0..=0.99,
            "kg/kg",
        )?;
        let days = within("a time in store", time.get::<day>(), 0.0..=36525.0, "days")?;
        let temperature_c = self.temperature.celsius();
        if temperature_c > GRADED_AT_C {
            return Err(Error::new(
                ErrorKind::OutOfModel,
                format!(
                    "expected a store of hops at up to {GRADED_AT_C} °C, found {temperature_c} °C"
                ),
            ));
        }
        let rate_per_day = -(1.0 - lost).ln() / GRADED_DAYS;
        let temperature_factor = ((temperature_c - GRADED_AT_C) / HALVING_K).exp2();
        let exponent = rate_per_day * temperature_factor * self.packaging.factor() * days;
        Ok(Share::clamped((-exponent).exp()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_slopes_of_other_crops_give_the_tabulated_losses() {
        // Index, loss with slope 101.8 (crop 1969), with slope 114.6 (crop 1977).
        for (index, crop_1969, crop_1977) in [
            (0.25, 0.0, 0.0),
            (0.31, 9.51, 10.71),
            (0.50, 30.64, 34.50),
            (1.00, 61.29, 69.00),
        ] {
            assert!((100.0 * lost_share(index, 1.018) - crop_1969).abs() < 0.0051);
            assert!((100.0 * lost_share(index, 1.146) - crop_1977).abs() < 0.0051);
        }
    }

    #[test]
    fn fresh_hops_have_lost_nothing_and_no_more_than_all_is_lost() {
        let lost = |ratio| lost_by_storage_index(StorageIndex::from_ratio(ratio).unwrap());
        assert_eq!(lost(0.2).fraction(), 0.0);
        assert_eq!(lost(3.0).fraction(), 1.0);
    }

    #[test]
    fn a_warm_store_and_an_impossible_grade_are_refused() {
        let store = |lost, celsius| HopStore {
            lost_in_six_months: Share::from_percent(lost).unwrap(),
            temperature: Temperature::from_celsius(celsius).unwrap(),
            packaging: HopPackaging::Open,
        };
        let days = Time::new::<day>(100.0);
        let error = store(30.0, 25.0).kept_after(days).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfModel);
        assert!(store(100.0, 2.0).kept_after(days).is_err());
        assert!(store(30.0, 2.0).kept_after(-days).is_err());
    }
}
