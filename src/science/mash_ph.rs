//! Mash pH by a balance of charge: what malts, water, hardness and acids give and take adds up to nothing.
//!
//! - A malt takes up `mass × buffering × (pH - its pH in distilled water)` of alkali.
//! - The water gives its alkalinity, as far as that is used up at the pH of the mash ([`water`](super::water)).
//! - Calcium sets free a proton for each 3.5 of its equivalents, magnesium for each 7 (Kolbach 1953), in full.
//! - An acid gives up its protons ([`acid`](super::acid)).
//!
//! Source: charge balance of deLange, MBAA TQ 2015, 52(1) 3, with its linear term only; pH and buffering of malts after
//! Troester 2009.
//! Range: pH 3 to 8 at room temperature (a hot mash reads about 0.3 lower, from memory). Units: kg, L, mEq.
//!
//! The calcium term is linear, and measurements are not. Taylor's figures (as quoted by Briggs and others) fall from
//! 5.74 without calcium to 5.48, 5.39 and 5.28 at 100, 200 and 300 mg/L: by 0.26, 0.09 and 0.11. At 3 L/kg and
//! 40 mEq/(kg pH) this model gives 0.107 for each, so the first step comes out 0.15 too small and the whole 0.14.
//! Published buffering differs twofold between authors (21 against 30 to 50 mEq/(kg pH)), and so does every shift.

use super::acid::Acid;
use super::water::{CarbonateWater, Ion, Ions};
use super::within::within;
use crate::diagnostic::Error;
use crate::numeric::{Bracket, root};
use crate::quantity::{Buffering, Mass, Ph, Volume, in_kilograms, in_litres};
use serde::Serialize;
use uom::si::amount_of_substance::millimole;
use uom::si::f64::AmountOfSubstance;

/// How far tables of malt pH may be trusted (the catalogue's figures are rounded from memory of Troester 2009, ± 0.1).
const BASE_UNCERTAINTY: f64 = 0.1;
/// What malts of one class differ by in distilled water, pH (spread within the classes of the catalogue's own table).
const CLASS_UNCERTAINTY: f64 = 0.2;
/// Share by which buffering is uncertain (± 20 %, the catalogue's figures).
const BUFFERING_UNCERTAINTY: f64 = 0.2;
/// Between these a mash is looked for.
const SEARCHED: Bracket = Bracket {
    low: 1.0,
    high: 13.0,
};

/// A malt or grain in the mash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BufferingGrain {
    /// How much is mashed, as is.
    pub mass: Mass,
    /// pH of its mash in distilled water.
    pub ph: Ph,
    /// Alkali that a kilogram takes up per unit of pH.
    pub buffering: Buffering,
    /// Where pH and buffering come from.
    pub known: GrainKnown,
}

/// Whether a grain's figures are its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GrainKnown {
    /// Measured on such a malt.
    Itself,
    /// Taken from its class.
    ByClass,
}

/// The liquor of the mash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashWater {
    /// How much.
    pub volume: Volume,
    /// Its ions, salts included.
    pub ions: Ions,
    /// What takes up acid on the way to the pH of the mash.
    pub carbonate: CarbonateWater,
}

impl MashWater {
    /// A water whose carbonate is described by its ions and its pH.
    ///
    /// # Errors
    ///
    /// As [`CarbonateWater::new`].
    ///
    /// ```
    /// use wortwright::quantity::{Concentration, Ph, Volume};
    /// use wortwright::quantity::uom::si::volume::liter;
    /// use wortwright::science::mash_ph::MashWater;
    /// use wortwright::science::water::{Ion, Ions};
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let ions = Ions::default().with(Ion::Alkalinity, Concentration::from_grams_per_litre(0.100086)?); // 2 mEq/L
    /// let water = MashWater::new(Volume::new::<liter>(15.0), ions, Ph::from_value(7.5)?)?;
    /// let used = water.carbonate.acid_down_to(Ph::from_value(5.4)?);
    /// assert!((used.milliequivalents_per_litre() - 1.7602).abs() < 5e-5);
    /// # Ok(())
    /// # }
    /// ```
    pub fn new(volume: Volume, ions: Ions, ph: Ph) -> Result<Self, Error> {
        Ok(Self {
            volume,
            ions,
            carbonate: CarbonateWater::new(Ion::Alkalinity.equivalents(ions.alkalinity), ph)?,
        })
    }
}

/// An acid stirred into the mash, the malt's own aside.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MashAcid {
    /// By its constants.
    pub acid: Acid,
    /// How much of it, released or not.
    pub amount: AmountOfSubstance,
}

/// A predicted mash pH.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MashPh {
    /// At room temperature.
    #[serde(rename = "mash_ph")]
    pub ph: Ph,
    /// It may be off by this much either way.
    #[serde(rename = "mash_ph_uncertainty")]
    pub uncertainty: Ph,
}

impl MashPh {
    /// A pH and how far it may be off.
    pub(crate) const fn of(ph: Ph, uncertainty: Ph) -> Self {
        Self { ph, uncertainty }
    }
}

/// A mash as what gives and takes protons in it.
///
/// ```
/// use wortwright::quantity::{Buffering, Mass, Ph};
/// use wortwright::quantity::uom::si::{amount_of_substance::millimole, mass::kilogram};
/// use wortwright::science::mash_ph::{BufferedMash, BufferingGrain, GrainKnown};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let grain = |kg, ph, buffering| -> Result<_, wortwright::diagnostic::Error> {
///     Ok(BufferingGrain {
///         mass: Mass::new::<kilogram>(kg),
///         ph: Ph::from_value(ph)?,
///         buffering: Buffering::from_milliequivalents_per_kilogram_ph(buffering)?,
///         known: GrainKnown::Itself,
///     })
/// };
/// // By hand: (4 · 40 · 5.6 + 1 · 45 · 4.8)/205 in distilled water.
/// let grist = [grain(4.0, 5.6, 40.0)?, grain(1.0, 4.8, 45.0)?];
/// let mash = BufferedMash::new(&grist, None, &[])?;
/// assert!((mash.ph()?.ph.value() - 5.424).abs() < 5e-4);
/// // Five kilograms that buffer 21 mEq/(kg pH), from 5.6 to 5.4: deLange's worked example.
/// let mash = BufferedMash::new(&[grain(5.0, 5.6, 21.0)?], None, &[])?;
/// assert!((mash.acid_for(Ph::from_value(5.4)?).get::<millimole>() - 21.0).abs() < 1e-9);
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy)]
pub struct BufferedMash<'a> {
    /// Sum of mass times buffering, mEq/pH.
    buffering_meq: f64,
    /// Mean of the grains' own pH, weighed by their buffering.
    own_ph: f64,
    /// Share of the buffering that is taken from classes.
    by_class: f64,
    water: Option<SettingFree<'a>>,
    acids: &'a [MashAcid],
}

/// The water of a mash by what it does to the charges.
#[derive(Debug, Clone, Copy)]
struct SettingFree<'a> {
    litres: f64,
    /// Protons that its hardness sets free, mEq.
    hardness_meq: f64,
    carbonate: &'a CarbonateWater,
}

impl<'a> BufferedMash<'a> {
    /// A mash of grist, water and acids; without water, as in distilled water.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for no grain or masses outside of sense.
    pub fn new(
        grist: &[BufferingGrain],
        water: Option<&'a MashWater>,
        acids: &'a [MashAcid],
    ) -> Result<Self, Error> {
        let (mut buffering_meq, mut moment, mut by_class) = (0.0, 0.0, 0.0);
        for grain in grist {
            let kg = within("a grain", in_kilograms(grain.mass), 0.0..=1e7, "kg")?;
            let meq = kg * grain.buffering.milliequivalents_per_kilogram_ph();
            buffering_meq += meq;
            moment += meq * grain.ph.value();
            if grain.known == GrainKnown::ByClass {
                by_class += meq;
            }
        }
        let buffering_meq = within(
            "the buffering of a grist",
            buffering_meq,
            1e-9..=1e10,
            "mEq/pH",
        )?;
        let water = match water {
            Some(water) => {
                let litres = within("mash water", in_litres(water.volume), 0.0..=1e7, "L")?;
                Some(SettingFree {
                    litres,
                    hardness_meq: litres * water.ions.hardness_effect_meq_l(),
                    carbonate: &water.carbonate,
                })
            }
            None => None,
        };
        for acid in acids {
            within("an acid", acid.amount.get::<millimole>(), 0.0..=1e9, "mmol")?;
        }
        Ok(Self {
            buffering_meq,
            own_ph: moment / buffering_meq,
            by_class: by_class / buffering_meq,
            water,
            acids,
        })
    }

    /// Its pH at room temperature.
    ///
    /// The uncertainty is 0.1 for the malts' own figures, up to 0.2 more where they are taken from the class, and a fifth
    /// of the shift from the grist's own pH.
    ///
    /// # Errors
    ///
    /// `NoRoot` where no pH from 1 to 13 balances the charges.
    ///
    /// # Source
    ///
    /// deLange, MBAA TQ 2015, 52(1) 3; Kolbach 1953.
    pub fn ph(&self) -> Result<MashPh, Error> {
        let ph = root(|ph| self.alkali_wanting_meq(ph), SEARCHED, 1e-14)?;
        Ok(MashPh {
            ph: Ph::clamped(ph),
            uncertainty: Ph::clamped(self.uncertainty(ph)),
        })
    }

    /// Acid that brings it to `target`, in protons given up at that pH; negative where alkali is wanted.
    #[must_use]
    pub fn acid_for(&self, target: Ph) -> AmountOfSubstance {
        AmountOfSubstance::new::<millimole>(-self.alkali_wanting_meq(target.value()))
    }

    /// Alkali still wanting at a pH, mEq; it rises with the pH and is nothing at that of the mash.
    fn alkali_wanting_meq(&self, ph: f64) -> f64 {
        let malt = self.buffering_meq * (ph - self.own_ph);
        let water = self.water.map_or(0.0, |water| {
            water.hardness_meq - water.litres * water.carbonate.acid_meq_l(ph)
        });
        let acids: f64 = self
            .acids
            .iter()
            .map(|acid| acid.amount.get::<millimole>() * acid.acid.protons(ph))
            .sum();
        malt + water + acids
    }

    fn uncertainty(&self, ph: f64) -> f64 {
        BASE_UNCERTAINTY
            + CLASS_UNCERTAINTY * self.by_class
            + BUFFERING_UNCERTAINTY * (ph - self.own_ph).abs()
    }
}
