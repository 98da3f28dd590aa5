//! Which salts, and how much of each, bring a water to wanted ions.
//!
//! Salts only add, and each brings two ions at once, so most wishes can be met in part only: what is left is reported
//! ion by ion. Misfits count as charge (mEq/L), squared, all named ions alike (rule of the crate).
//!
//! Range: doses that dissolve; gypsum stops near 2.4 g/L. Units: g/L.

use super::ions::{Ion, Ions, NamedIons};
use crate::diagnostic::Error;
use crate::numeric::{NonNegativeFit, non_negative_least_squares};
use crate::quantity::Concentration;
use serde::Serialize;

/// A cap outweighs a wish by this factor: it is passed by a millionth of what a wish would gain.
const CAP_WEIGHT: f64 = 1000.0;
/// A salt is left out when the misfit grows by no more than this, (mEq/L)²: 0.02 mg/L of calcium.
const AS_GOOD_MEQ2_L2: f64 = 1e-6;
/// Doses below this are none, g/L: what rounding leaves.
const LEAST_G_L: f64 = 1e-6;
/// Misfits below this are not reported, mEq/L: less than a milligram of any ion.
const MET_WITHIN_MEQ_L: f64 = 0.01;

/// Salts for a litre of water.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct SaltSolution {
    /// Dose of each salt, in the order in which the salts were given.
    #[serde(rename = "doses_g_l")]
    pub doses: Vec<Concentration>,
    /// The water with all doses in it.
    pub reached: Ions,
    /// Wanted ions that are not met, and caps that the water itself is above.
    pub missed: Vec<MissedIon>,
    /// Whether no other doses would come nearer.
    pub settled: Settled,
}

/// A wanted ion that salts do not meet.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct MissedIon {
    /// One of the wanted ions, or one with a cap.
    pub ion: Ion,
    /// The wish, or the cap.
    #[serde(rename = "wanted_g_l")]
    pub wanted: Concentration,
    /// Reached. Above the wish: only dilution with softer water, or acid for alkalinity, brings it down.
    #[serde(rename = "reached_g_l")]
    pub reached: Concentration,
}

/// How good an answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Settled {
    /// Nothing comes nearer.
    Nearest,
    /// Rounding stopped the search: usable, perhaps not the nearest. Leave out one of two salts that are nearly alike.
    IterationLimit,
}

/// A water to be brought to wanted ions.
///
/// ```
/// use wortwright::quantity::Concentration;
/// use wortwright::science::water::{Ion, Ions, NamedIons, WaterTreatment};
/// # fn main() -> Result<(), wortwright::diagnostic::Error> {
/// let mg = |mg: f64| Concentration::from_grams_per_litre(mg / 1000.0);
/// let gypsum = Ions::default().with(Ion::Calcium, mg(232.8)?).with(Ion::Sulphate, mg(557.9)?);
/// let treatment = WaterTreatment {
///     start: Ions::default(),
///     wanted: NamedIons::default().with(Ion::Sulphate, mg(100.0)?),
///     caps: NamedIons::default(),
/// };
/// let salts = treatment.by_salts(&[gypsum])?;
/// // By hand: 100/557.9 g/L, which brings 41.7 mg/L of calcium.
/// assert!((salts.doses[0].grams_per_litre() - 0.17924).abs() < 5e-6);
/// assert!((salts.reached.calcium.grams_per_litre() - 0.04173).abs() < 5e-6);
/// assert!(salts.missed.is_empty());
/// # Ok(())
/// # }
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterTreatment {
    /// The water as it comes.
    pub start: Ions,
    /// What it shall hold; an ion that is not named is free.
    pub wanted: NamedIons,
    /// What free ions are kept below, unless the water is above it to begin with.
    pub caps: NamedIons,
}

impl WaterTreatment {
    /// Doses of salts that bring the water nearest to the wanted ions.
    ///
    /// `salts` holds, for each, the ions that 1 g/L of it gives, the preferred ones first: a salt that those before it
    /// make up for is left out.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for figures that are not finite, which checked quantities never are.
    pub fn by_salts(&self, salts: &[Ions]) -> Result<SaltSolution, Error> {
        let wish = |is_cap| move |(ion, much)| Wish { ion, much, is_cap };
        let free = self
            .caps
            .iter()
            .filter(|(ion, _)| self.wanted.of(*ion).is_none());
        let wishes: Vec<_> = self
            .wanted
            .iter()
            .map(wish(false))
            .chain(free.map(wish(true)))
            .collect();
        let mut in_use = salts.to_vec();
        let (mut fit, mut misfit) = nearest(&self.start, &wishes, &in_use)?;
        for salt in (0..salts.len()).rev() {
            let mut fewer = in_use.clone();
            if let Some(left_out) = fewer.get_mut(salt) {
                *left_out = Ions::default();
            }
            let (with_fewer, as_good) = nearest(&self.start, &wishes, &fewer)?;
            if as_good <= misfit + AS_GOOD_MEQ2_L2 {
                (in_use, fit, misfit) = (fewer, with_fewer, as_good);
            }
        }
        let doses: Vec<_> = fit
            .values()
            .iter()
            .take(salts.len())
            .map(|dose| Concentration::clamped(if *dose < LEAST_G_L { 0.0 } else { *dose }))
            .collect();
        let reached = salts
            .iter()
            .zip(&doses)
            .fold(self.start, |water, (yields, dose)| {
                water.with_dose(yields, *dose)
            });
        let missed = wishes
            .iter()
            .filter(|wish| wish.misfit_meq_l(&reached) > MET_WITHIN_MEQ_L)
            .map(|wish| MissedIon {
                ion: wish.ion,
                wanted: wish.much,
                reached: reached.of(wish.ion),
            })
            .collect();
        Ok(SaltSolution {
            reached,
            missed,
            settled: match fit {
                NonNegativeFit::Minimum(_) => Settled::Nearest,
                NonNegativeFit::IterationLimit(_) => Settled::IterationLimit,
            },
            doses,
        })
    }
}

/// A salt and its dose.
pub(crate) struct Dosed<S> {
    pub(crate) salt: S,
    pub(crate) dose: Concentration,
}

/// As [`WaterTreatment::by_salts`], for salts that are more than their ions; each comes back with its dose, beside what
/// they miss.
pub(crate) fn doses_for<S>(
    treatment: &WaterTreatment,
    salts: Vec<S>,
    yields: impl Fn(&S) -> Ions,
) -> Result<(Vec<Dosed<S>>, Vec<MissedIon>), Error> {
    let yields: Vec<_> = salts.iter().map(yields).collect();
    let found = treatment.by_salts(&yields)?;
    let doses = salts.into_iter().zip(found.doses);
    let doses = doses.map(|(salt, dose)| Dosed { salt, dose }).collect();
    Ok((doses, found.missed))
}

/// An ion to be brought to a figure, or kept below it.
#[derive(Debug, Clone, Copy)]
struct Wish {
    ion: Ion,
    much: Concentration,
    is_cap: bool,
}

impl Wish {
    /// What a water lacks of it, mEq/L; below zero where it has more.
    fn gap_meq_l(&self, water: &Ions) -> f64 {
        let wanted = self.ion.equivalents(self.much);
        wanted.milliequivalents_per_litre() - water.meq_per_l(self.ion)
    }

    /// How far a water is off: below a cap it is not.
    fn misfit_meq_l(&self, water: &Ions) -> f64 {
        let gap_meq_l = self.gap_meq_l(water);
        if self.is_cap {
            -gap_meq_l
        } else {
            gap_meq_l.abs()
        }
    }

    const fn weight(&self) -> f64 {
        if self.is_cap { CAP_WEIGHT } else { 1.0 }
    }
}

/// Doses with the room left below each cap, and the squared misfit.
fn nearest(start: &Ions, wishes: &[Wish], salts: &[Ions]) -> Result<(NonNegativeFit, f64), Error> {
    let brought = |yields: &Ions| {
        let brings = |wish: &Wish| wish.weight() * yields.meq_per_l(wish.ion);
        wishes.iter().map(brings).collect()
    };
    let mut columns: Vec<Vec<f64>> = salts.iter().map(brought).collect();
    // The room that is left below each cap is an unknown of its own.
    let is_cap = |place: &usize| wishes.get(*place).is_some_and(|wish| wish.is_cap);
    for place in (0..wishes.len()).filter(is_cap) {
        let at_cap = |row: usize| if row == place { CAP_WEIGHT } else { 0.0 };
        columns.push((0..wishes.len()).map(at_cap).collect());
    }
    let wanted = |wish: &Wish| {
        let gap_meq_l = wish.gap_meq_l(start);
        if wish.is_cap {
            CAP_WEIGHT * gap_meq_l.max(0.0)
        } else {
            gap_meq_l
        }
    };
    let wishes: Vec<f64> = wishes.iter().map(wanted).collect();
    let fit = non_negative_least_squares(&columns, &wishes)?;
    let mut rest = wishes;
    for (column, dose) in columns.iter().zip(fit.values()) {
        for (rest, part) in rest.iter_mut().zip(column) {
            *rest -= dose * part;
        }
    }
    let misfit = rest.iter().map(|rest| rest * rest).sum();
    Ok((fit, misfit))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::tests::SeededNumbers;

    fn salts_for(
        start: Ions,
        wanted: NamedIons,
        salts: &[Ions],
        caps: NamedIons,
    ) -> Result<SaltSolution, Error> {
        WaterTreatment {
            start,
            wanted,
            caps,
        }
        .by_salts(salts)
    }

    /// Milligrams per litre of each.
    fn named<const N: usize>(ions: [(Ion, f64); N]) -> NamedIons {
        ions.map(|(ion, much)| (ion, mg(much)))
            .into_iter()
            .collect()
    }

    fn mg(value: f64) -> Concentration {
        Concentration::from_grams_per_litre(value / 1000.0).unwrap()
    }

    /// Yields in mg/g computed from IUPAC atomic weights (2021): gypsum, calcium chloride dihydrate, magnesium
    /// sulphate heptahydrate, sodium chloride, sodium bicarbonate (11.904 mEq/g).
    fn cupboard() -> [Ions; 5] {
        let salt = |ions: [(Ion, f64); 2]| {
            ions.into_iter()
                .fold(Ions::default(), |salt, (ion, yields)| {
                    salt.with(ion, mg(yields))
                })
        };
        [
            salt([(Ion::Calcium, 232.8), (Ion::Sulphate, 557.9)]),
            salt([(Ion::Calcium, 272.6), (Ion::Chloride, 482.3)]),
            salt([(Ion::Magnesium, 98.6), (Ion::Sulphate, 389.7)]),
            salt([(Ion::Sodium, 393.4), (Ion::Chloride, 606.6)]),
            salt([(Ion::Sodium, 273.7), (Ion::Alkalinity, 595.7)]),
        ]
    }

    #[test]
    fn two_salts_meet_two_wishes_exactly() {
        // By hand: 70/557.9 = 0.12547 g/L gypsum, 45/482.3 = 0.09330 g/L calcium chloride.
        let wanted = named([(Ion::Sulphate, 70.0), (Ion::Chloride, 45.0)]);
        let found = salts_for(
            Ions::default(),
            wanted,
            &cupboard()[..2],
            NamedIons::default(),
        )
        .unwrap();
        assert!((found.doses[0].grams_per_litre() - 0.12547).abs() < 5e-6);
        assert!((found.doses[1].grams_per_litre() - 0.09330).abs() < 5e-6);
        assert_eq!(found.missed, []);
        assert_eq!(found.settled, Settled::Nearest);
    }

    #[test]
    fn what_the_water_has_too_much_of_is_said() {
        let hard = Ions::default().with(Ion::Alkalinity, mg(200.0));
        let wanted = named([(Ion::Alkalinity, 50.0), (Ion::Chloride, 40.0)]);
        let found = salts_for(hard, wanted, &cupboard(), NamedIons::default()).unwrap();
        let [missed] = found.missed[..] else {
            panic!("{:?}", found.missed);
        };
        assert_eq!((missed.ion, missed.reached), (Ion::Alkalinity, mg(200.0)));
        assert!((found.reached.chloride.grams_per_litre() - 0.04).abs() < 1e-9);
    }

    #[test]
    fn salts_that_serve_no_wish_are_left_out() {
        let wanted = named([(Ion::Sulphate, 400.0), (Ion::Magnesium, 10.0)]);
        let caps = named([
            (Ion::Calcium, 120.0),
            (Ion::Sodium, 100.0),
            (Ion::Chloride, 150.0),
        ]);
        let found = salts_for(Ions::default(), wanted, &cupboard(), caps).unwrap();
        let [gypsum, calcium_chloride, _, sodium_chloride, bicarbonate] = found.doses[..] else {
            panic!("a dose for each of five salts");
        };
        // Gypsum stops at the cap: 120/232.8 g/L.
        assert!(
            (gypsum.grams_per_litre() - 0.51546).abs() < 1e-4,
            "{gypsum}"
        );
        for idle in [calcium_chloride, sodium_chloride, bicarbonate] {
            assert_eq!(idle.grams_per_litre(), 0.0);
        }
    }

    #[test]
    fn a_cap_on_a_free_ion_holds() {
        let wanted = named([(Ion::Alkalinity, 200.0)]);
        let free = salts_for(Ions::default(), wanted, &cupboard(), NamedIons::default()).unwrap();
        assert!((free.reached.sodium.grams_per_litre() - 0.0919).abs() < 5e-5);
        let cap = named([(Ion::Sodium, 50.0)]);
        let capped = salts_for(Ions::default(), wanted, &cupboard(), cap).unwrap();
        assert!((capped.reached.sodium.grams_per_litre() - 0.05).abs() < 1e-5);
        assert_eq!(capped.missed.len(), 1);
        // A water above the cap gets no more of it.
        let salty = Ions::default().with(Ion::Sodium, mg(80.0));
        let none = salts_for(salty, wanted, &cupboard(), cap).unwrap();
        assert!((none.reached.sodium.grams_per_litre() - 0.08).abs() < 1e-5);
        assert!(none.missed.iter().any(|missed| missed.ion == Ion::Sodium));
    }

    #[test]
    fn no_other_dose_comes_nearer() {
        let mut numbers = SeededNumbers(0x9e37_79b9_7f4a_7c15);
        for _ in 0..256 {
            let water = Ion::ALL.into_iter().fold(Ions::default(), |water, ion| {
                water.with(ion, mg(numbers.between(0.0, 100.0)))
            });
            let wanted: Vec<_> = Ion::ALL.into_iter().filter(|_| numbers.coin()).collect();
            let wanted: NamedIons = wanted
                .into_iter()
                .map(|ion| (ion, mg(numbers.between(0.0, 300.0))))
                .collect();
            let found = salts_for(water, wanted, &cupboard(), NamedIons::default()).unwrap();
            let misfit = |reached: &Ions| -> f64 {
                wanted
                    .iter()
                    .map(|(ion, much)| {
                        let wish = ion.equivalents(much).milliequivalents_per_litre();
                        (reached.meq_per_l(ion) - wish).powi(2)
                    })
                    .sum()
            };
            let elsewhere = cupboard().iter().fold(water, |water, salt| {
                water.with_dose(salt, Concentration::clamped(numbers.between(0.0, 0.5)))
            });
            // Each of five salts may be left out at a cost of 1e-6.
            assert!(misfit(&found.reached) <= misfit(&elsewhere) + 5.1e-6);
            // Salts are neutral: they leave the balance as it is.
            let excess = |water: &Ions| -> f64 {
                let signed = |ion: &Ion| {
                    let charge = water.meq_per_l(*ion);
                    if ion.is_cation() { charge } else { -charge }
                };
                Ion::ALL.iter().map(signed).sum()
            };
            assert!((excess(&found.reached) - excess(&water)).abs() < 0.05);
        }
    }
}
