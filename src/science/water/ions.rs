//! Ions of a water: their equivalents, the residual alkalinity, and whether a report can be true.
//!
//! Source: equivalent masses from the IUPAC abridged atomic weights (2021); residual alkalinity Kolbach 1953.
//! Range: natural and treated waters. Units: g/L, mEq/L.

use super::equivalents::{CARBONATE_MG_PER_MEQ, EquivalentConcentration};
use crate::quantity::Concentration;
use serde::Serialize;

/// Share of its equivalents by which calcium lowers the residual alkalinity (Kolbach 1953).
pub(crate) const CALCIUM_EFFECT: f64 = 1.0 / 3.5;
/// The same of magnesium (Kolbach 1953).
pub(crate) const MAGNESIUM_EFFECT: f64 = 1.0 / 7.0;
/// Sums of ions that differ by no more than this share of both count as balanced: what rounding to a milligram and
/// the ions that a report leaves out come to (common practice, no source).
const BALANCED_WITHIN: f64 = 0.05;

/// What a brewer counts in a water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Ion {
    /// Calcium.
    Calcium,
    /// Magnesium.
    Magnesium,
    /// Sodium.
    Sodium,
    /// Potassium.
    Potassium,
    /// Sulphate.
    Sulphate,
    /// Chloride.
    Chloride,
    /// Total alkalinity, as calcium carbonate; mostly bicarbonate.
    Alkalinity,
}

impl Ion {
    /// All of them, in the customary order.
    pub const ALL: [Self; 7] = [
        Self::Calcium,
        Self::Magnesium,
        Self::Sodium,
        Self::Potassium,
        Self::Sulphate,
        Self::Chloride,
        Self::Alkalinity,
    ];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Calcium => "calcium",
            Self::Magnesium => "magnesium",
            Self::Sodium => "sodium",
            Self::Potassium => "potassium",
            Self::Sulphate => "sulphate",
            Self::Chloride => "chloride",
            Self::Alkalinity => "alkalinity",
        }
    }

    /// Whether its charge is positive.
    pub(super) const fn is_cation(self) -> bool {
        matches!(
            self,
            Self::Calcium | Self::Magnesium | Self::Sodium | Self::Potassium
        )
    }

    /// Mass of a milliequivalent, mg (IUPAC abridged atomic weights 2021, divided by the charge).
    const fn mg_per_meq(self) -> f64 {
        match self {
            Self::Calcium => 20.039,
            Self::Magnesium => 12.1525,
            Self::Sodium => 22.990,
            Self::Potassium => 39.098,
            Self::Sulphate => 48.028,
            Self::Chloride => 35.45,
            Self::Alkalinity => CARBONATE_MG_PER_MEQ,
        }
    }

    /// A concentration of this ion counted as charge, without its sign.
    ///
    /// ```
    /// use wortwright::quantity::Concentration;
    /// use wortwright::science::water::Ion;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let calcium = Concentration::from_grams_per_litre(0.118)?;
    /// let charge = Ion::Calcium.equivalents(calcium).milliequivalents_per_litre();
    /// assert!((charge - 5.8885).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn equivalents(self, concentration: Concentration) -> EquivalentConcentration {
        EquivalentConcentration::of(concentration.grams_per_litre() * 1000.0 / self.mg_per_meq())
    }
}

/// The ions of a water; what is not set is none.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Ions {
    /// Calcium.
    #[serde(rename = "calcium_g_l")]
    pub calcium: Concentration,
    /// Magnesium.
    #[serde(rename = "magnesium_g_l")]
    pub magnesium: Concentration,
    /// Sodium.
    #[serde(rename = "sodium_g_l")]
    pub sodium: Concentration,
    /// Potassium.
    #[serde(rename = "potassium_g_l")]
    pub potassium: Concentration,
    /// Sulphate.
    #[serde(rename = "sulphate_g_l")]
    pub sulphate: Concentration,
    /// Chloride.
    #[serde(rename = "chloride_g_l")]
    pub chloride: Concentration,
    /// Total alkalinity, as calcium carbonate.
    #[serde(rename = "alkalinity_as_caco3_g_l")]
    pub alkalinity: Concentration,
}

impl Default for Ions {
    fn default() -> Self {
        let none = Concentration::clamped(0.0);
        Self {
            calcium: none,
            magnesium: none,
            sodium: none,
            potassium: none,
            sulphate: none,
            chloride: none,
            alkalinity: none,
        }
    }
}

impl Ions {
    /// The same water with this much of an ion.
    #[must_use]
    pub const fn with(mut self, ion: Ion, concentration: Concentration) -> Self {
        *self.place(ion) = concentration;
        self
    }

    const fn place(&mut self, ion: Ion) -> &mut Concentration {
        match ion {
            Ion::Calcium => &mut self.calcium,
            Ion::Magnesium => &mut self.magnesium,
            Ion::Sodium => &mut self.sodium,
            Ion::Potassium => &mut self.potassium,
            Ion::Sulphate => &mut self.sulphate,
            Ion::Chloride => &mut self.chloride,
            Ion::Alkalinity => &mut self.alkalinity,
        }
    }

    /// How much of an ion there is.
    pub const fn of(&self, ion: Ion) -> Concentration {
        match ion {
            Ion::Calcium => self.calcium,
            Ion::Magnesium => self.magnesium,
            Ion::Sodium => self.sodium,
            Ion::Potassium => self.potassium,
            Ion::Sulphate => self.sulphate,
            Ion::Chloride => self.chloride,
            Ion::Alkalinity => self.alkalinity,
        }
    }

    /// An ion's charge, mEq/L.
    pub(crate) fn meq_per_l(&self, ion: Ion) -> f64 {
        ion.equivalents(self.of(ion)).milliequivalents_per_litre()
    }

    /// The ions with so many grams per litre of something that gives `yields` for each gram per litre.
    #[must_use]
    pub(crate) fn with_dose(self, yields: &Self, dose: Concentration) -> Self {
        Ion::ALL.into_iter().fold(self, |water, ion| {
            let added = yields.of(ion).grams_per_litre() * dose.grams_per_litre();
            let now = water.of(ion).grams_per_litre();
            water.with(ion, Concentration::clamped(now + added))
        })
    }

    /// Residual alkalinity: alkalinity less 1/3.5 of the calcium and 1/7 of the magnesium, as charge.
    ///
    /// It tells waters apart by what they do to the pH of a wort. It is no mash pH: that follows from the grist too,
    /// see [`mash_ph`](crate::science::mash_ph).
    ///
    /// # Source
    ///
    /// Kolbach 1953, as quoted in the trade's analysis methods.
    ///
    /// ```
    /// use wortwright::quantity::Concentration;
    /// use wortwright::science::water::{Ion, Ions};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let g_l = Concentration::from_grams_per_litre;
    /// let hard = Ions::default()
    ///     .with(Ion::Calcium, g_l(0.118)?)
    ///     .with(Ion::Magnesium, g_l(0.004)?)
    ///     .with(Ion::Alkalinity, g_l(0.2602236)?); // 5.2 mEq/L
    /// let residual = hard.residual_alkalinity();
    /// assert!((residual.milliequivalents_per_litre() - 3.4705).abs() < 5e-5);
    /// assert!((residual.german_degrees() - 9.731).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn residual_alkalinity(&self) -> EquivalentConcentration {
        EquivalentConcentration::of(self.meq_per_l(Ion::Alkalinity) - self.hardness_effect_meq_l())
    }

    /// Protons that calcium and magnesium set free from the malt's phosphates, by Kolbach's shares, mEq/L.
    pub(crate) fn hardness_effect_meq_l(&self) -> f64 {
        CALCIUM_EFFECT * self.meq_per_l(Ion::Calcium)
            + MAGNESIUM_EFFECT * self.meq_per_l(Ion::Magnesium)
    }

    /// Whether the charges of a complete report add up. Every ion counts as stated, none as open.
    #[must_use]
    pub fn balance(&self) -> Balance {
        let all: NamedIons = Ion::ALL
            .into_iter()
            .map(|ion| (ion, self.of(ion)))
            .collect();
        all.balance()
    }
}

/// Ions as a sheet or a report names them; one that is not named is open.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct NamedIons([Option<Concentration>; Ion::ALL.len()]);

impl FromIterator<(Ion, Concentration)> for NamedIons {
    fn from_iter<I: IntoIterator<Item = (Ion, Concentration)>>(ions: I) -> Self {
        let ions = ions.into_iter();
        ions.fold(Self::default(), |named, (ion, much)| named.with(ion, much))
    }
}

impl NamedIons {
    /// The same with this much of an ion.
    #[must_use]
    pub fn with(mut self, ion: Ion, concentration: Concentration) -> Self {
        if let Some(place) = self.0.get_mut(ion as usize) {
            *place = Some(concentration);
        }
        self
    }

    /// How much of an ion is named.
    pub fn of(&self, ion: Ion) -> Option<Concentration> {
        self.0.get(ion as usize).copied().flatten()
    }

    /// The ions that are named, in the customary order.
    pub fn iter(&self) -> impl Iterator<Item = (Ion, Concentration)> {
        let named = |ion| self.of(ion).map(|concentration| (ion, concentration));
        Ion::ALL.iter().filter_map(move |ion| named(*ion))
    }

    /// Whether none is named.
    pub fn is_empty(&self) -> bool {
        self.iter().next().is_none()
    }

    /// Whether they can stand together in one water.
    ///
    /// ```
    /// use wortwright::quantity::Concentration;
    /// use wortwright::science::water::{Balance, Ion, NamedIons};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let g_l = Concentration::from_grams_per_litre;
    /// // 3.12 mEq/L of sulphate, and no word of any positive ion.
    /// let named = NamedIons::default().with(Ion::Sulphate, g_l(0.150)?);
    /// let Balance::OpenCations { rest } = named.balance() else { unreachable!("sulphate comes with something") };
    /// assert!((rest.milliequivalents_per_litre() - 3.123).abs() < 5e-4);
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn balance(&self) -> Balance {
        let sum = |cations: bool| -> f64 {
            self.iter()
                .filter(|(ion, _)| ion.is_cation() == cations)
                .map(|(ion, much)| ion.equivalents(much).milliequivalents_per_litre())
                .sum()
        };
        let (cations, anions) = (sum(true), sum(false));
        let excess = cations - anions;
        if excess.abs() <= BALANCED_WITHIN * (cations + anions) {
            return Balance::Balanced;
        }
        let open = |cations: bool| {
            let mut side = Ion::ALL.iter().filter(|ion| ion.is_cation() == cations);
            side.any(|ion| self.of(*ion).is_none())
        };
        if excess < 0.0 && open(true) {
            Balance::OpenCations {
                rest: EquivalentConcentration::of(-excess),
            }
        } else if excess > 0.0 && open(false) {
            Balance::OpenAnions {
                rest: EquivalentConcentration::of(excess),
            }
        } else {
            Balance::Impossible {
                excess: EquivalentConcentration::of(excess),
            }
        }
    }
}

/// Whether ions can stand together in one water.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "kind", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Balance {
    /// The charges agree within 5 % of their sum; nothing is to be done.
    Balanced,
    /// Negative ions prevail; a positive ion that is not named must carry the rest.
    OpenCations {
        /// What it carries.
        #[serde(rename = "rest_meq_l")]
        rest: EquivalentConcentration,
    },
    /// Positive ions prevail; a negative ion that is not named must carry the rest.
    OpenAnions {
        /// What it carries.
        #[serde(rename = "rest_meq_l")]
        rest: EquivalentConcentration,
    },
    /// No water has these ions: one side prevails and every ion of the other side is named. Check the report, or name
    /// fewer ions.
    Impossible {
        /// Positive less negative charge.
        #[serde(rename = "excess_meq_l")]
        excess: EquivalentConcentration,
    },
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mg(value: f64) -> Concentration {
        Concentration::from_grams_per_litre(value / 1000.0).unwrap()
    }

    #[test]
    fn a_report_that_no_water_can_have_says_how_far_it_is_off() {
        // By hand: 100/20.039 + 50/22.990 = 7.165; 50/48.028 + 20/35.45 + 30/50.043 = 2.205.
        let report = Ions::default()
            .with(Ion::Calcium, mg(100.0))
            .with(Ion::Sodium, mg(50.0))
            .with(Ion::Sulphate, mg(50.0))
            .with(Ion::Chloride, mg(20.0))
            .with(Ion::Alkalinity, mg(30.0));
        let Balance::Impossible { excess } = report.balance() else {
            panic!("{:?}", report.balance());
        };
        assert!((excess.milliequivalents_per_litre() - 4.9605).abs() < 5e-4);
        // The same ions from a sheet that says nothing of chloride.
        let named = NamedIons::default()
            .with(Ion::Calcium, mg(100.0))
            .with(Ion::Sulphate, mg(50.0));
        assert!(matches!(named.balance(), Balance::OpenAnions { .. }));
        assert_eq!(NamedIons::default().balance(), Balance::Balanced);
    }

    #[test]
    fn a_gypsum_solution_is_balanced() {
        let gypsum = Ions::default()
            .with(Ion::Calcium, mg(232.8))
            .with(Ion::Sulphate, mg(557.9));
        assert_eq!(gypsum.balance(), Balance::Balanced);
        let twice = Ions::default().with_dose(&gypsum, Concentration::clamped(2.0));
        assert!((twice.calcium.grams_per_litre() - 0.4656).abs() < 1e-12);
    }
}
