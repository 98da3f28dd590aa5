//! Concentrations counted as charge, mEq/L: alkalinity, residual alkalinity, sums of ions.
//!
//! Source: 1 mEq/L of alkalinity is half a millimole of calcium carbonate, 50.043 mg/L (IUPAC atomic weights), and
//! 1 °dH is 17.848 mg/L as calcium carbonate (definition: 10 mg/L of calcium oxide).
//! Range: -10⁵ to 10⁵ mEq/L. Units: mEq/L, g/L as calcium carbonate, °dH.

use crate::diagnostic::Error;
use crate::quantity::{Concentration, json};
use crate::science::within::within;
use serde::{Serialize, Serializer};

/// Calcium carbonate that holds a milliequivalent, mg (IUPAC abridged atomic weights 2021: 100.086/2).
pub(crate) const CARBONATE_MG_PER_MEQ: f64 = 50.043;
/// German degrees in a milliequivalent per litre (10 mg/L of calcium oxide, 56.077 g/mol, are a degree).
const GERMAN_DEGREES_PER_MEQ: f64 = 2.804;

/// A concentration of charge in mEq/L; negative where acid outweighs alkali.
///
/// ```
/// use wortwright::science::water::EquivalentConcentration;
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let alkalinity = EquivalentConcentration::from_milliequivalents_per_litre(2.0)?;
/// assert!((alkalinity.as_calcium_carbonate().grams_per_litre() - 0.100086).abs() < 1e-9);
/// assert!((alkalinity.german_degrees() - 5.608).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct EquivalentConcentration(f64);

impl EquivalentConcentration {
    /// A concentration in mEq/L.
    ///
    /// # Errors
    ///
    /// `OutOfRange` unless a number from -10⁵ to 10⁵.
    pub fn from_milliequivalents_per_litre(value: f64) -> Result<Self, Error> {
        within("a charge", value, -1e5..=1e5, "mEq/L").map(Self)
    }

    /// A computed value of sensible size.
    pub(crate) const fn of(milliequivalents_per_litre: f64) -> Self {
        Self(milliequivalents_per_litre)
    }

    /// The value in mEq/L.
    pub const fn milliequivalents_per_litre(self) -> f64 {
        self.0
    }

    /// The same as calcium carbonate; nothing where the value is negative.
    pub fn as_calcium_carbonate(self) -> Concentration {
        Concentration::clamped(self.0 * CARBONATE_MG_PER_MEQ / 1000.0)
    }

    /// The same in German degrees, °dH.
    pub fn german_degrees(self) -> f64 {
        self.0 * GERMAN_DEGREES_PER_MEQ
    }
}

impl Serialize for EquivalentConcentration {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        json::number(self.0, serializer)
    }
}

#[cfg(feature = "schema")]
crate::quantity::schema::numbers!(EquivalentConcentration);
