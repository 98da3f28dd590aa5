//! How much of an extract ferments: by what the extract is, by the rests of its mash, by the yeast.

use super::assumption::Assumption;
use super::formula::{Formula, PerItem, RestOf, Stage, fermentables};
use super::material::Sugars;
use super::plant::Plant;
use super::wort::{Grist, Lautered};
use super::yeast_use::YeastUse;
use crate::diagnostic::Place;
use crate::recipe::Heating;
use crate::science::fermentability::{COOLEST_LAST_C, MashHold, RISE_C_PER_MIN, factor_and_spread};
use crate::science::souring;
use crate::speech::Noted;

/// How far what a mash made ferments.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct MashFactor {
    /// Of starch, for the temperatures and times of the rests.
    pub(crate) rests: f64,
    /// One sigma of that.
    rests_sigma: f64,
    /// Of all that a mash made, the maker of malt extract's included: what a printed final gravity wants beyond the estimate.
    pub(crate) fit: f64,
}

impl MashFactor {
    /// The estimate for a formula mashed on a plant.
    pub(crate) fn estimated(formula: &Formula, plant: &Plant) -> Self {
        Self::risen(formula, plant, RISE_C_PER_MIN)
    }

    /// The same for a mash that is heated so fast.
    pub(crate) fn risen(formula: &Formula, plant: &Plant, rise_c_per_min: f64) -> Self {
        let holds: Vec<_> = (formula.rests.iter())
            .map(|rest| MashHold {
                heated: rest.by.unwrap_or(plant.heating) == Heating::Direct,
                ..rest.hold
            })
            .collect();
        let (rests, rests_sigma) = factor_and_spread(&holds, rise_c_per_min);
        let of_mash = Self {
            rests,
            rests_sigma,
            fit: 1.0,
        };
        of_mash.for_yeast(&formula.yeast_use)
    }

    /// The same with another yeast: where that takes dextrins, what the mash left is broken down later.
    pub(crate) fn for_yeast(self, yeast: &YeastUse) -> Self {
        let rests = if yeast.takes_dextrins() {
            1.0
        } else {
            self.rests
        };
        Self { rests, ..self }
    }

    /// The same of a mash with so many litres per kilogram. Sources contradict each other on what thickness does: no term, and a
    /// wider spread outside of 2.5 to 4 L/kg (fermentability reference: Muller 1991 against Troester, Narziss, Briggs).
    pub(crate) fn mashed_with(self, l_per_kg: f64) -> Self {
        let is_usual = (2.5..=4.0).contains(&l_per_kg);
        Self {
            rests_sigma: self.rests_sigma + if is_usual { 0.0 } else { 0.02 },
            ..self
        }
    }

    /// Whether something printed decides it.
    #[allow(clippy::float_cmp, reason = "nothing fits to exactly the estimate")]
    pub(crate) fn is_fitted(self) -> bool {
        self.fit != 1.0
    }

    /// One sigma of what its rests do, as a part of that.
    pub(crate) fn rests_sigma(self) -> f64 {
        self.rests_sigma / self.rests.max(f64::MIN_POSITIVE)
    }

    /// The same with another factor on all that a mash made.
    pub(crate) const fn fitted(self, fit: f64) -> Self {
        Self { fit, ..self }
    }

    /// What ferments of an extract of which the yeast takes this share.
    pub(crate) fn ferments(self, taken: f64, sugars: Sugars) -> f64 {
        (taken * self.most(sugars)).min(1.0)
    }

    fn most(self, sugars: Sugars) -> f64 {
        match sugars {
            Sugars::Starch => self.rests * self.fit,
            Sugars::Kilned | Sugars::MaltExtract => self.fit,
            Sugars::StarchSyrup { .. } | Sugars::Simple => 1.0,
        }
    }
}

/// Fermentable extract in the wort at the end of the boil: each grain's share of the run-off, and the sugars' own.
pub(crate) fn wort_fermentable_kg(
    formula: &Formula,
    amounts: &PerItem<f64>,
    (grist, run): (Grist, &Lautered),
    factor: MashFactor,
) -> f64 {
    let fermentable_kg: f64 = in_wort(formula, amounts, (grist, run))
        .map(|(sugars, extract_kg, taken)| extract_kg * factor.ferments(taken, sugars))
        .sum();
    (fermentable_kg - lactic_acid_kg(formula, amounts, (grist, run))).max(0.0)
}

/// Sugar that bacteria made acid of before the boil, kg: the acid stays in the wort's extract, and no yeast takes it.
pub(crate) fn lactic_acid_kg(
    formula: &Formula,
    amounts: &PerItem<f64>,
    wort: (Grist, &Lautered),
) -> f64 {
    let Some(souring) = formula.souring else {
        return 0.0;
    };
    souring.acid_kg_per_kg * malt_extract_kg(formula, amounts, wort)
}

/// Lactic acid that brings the wort into the range of the bacteria before they go in, L of 88 %.
pub(crate) fn acid_before_l(
    formula: &Formula,
    amounts: &PerItem<f64>,
    wort: (Grist, &Lautered),
) -> f64 {
    formula.souring.map_or(0.0, |souring| {
        let to = souring.acidified.unwrap_or(souring::SAFE_PH);
        souring::acid_before_l(malt_extract_kg(formula, amounts, wort), (souring.wort, to))
    })
}

/// What of the wort's extract a mash made, its maker's included, kg.
fn malt_extract_kg(formula: &Formula, amounts: &PerItem<f64>, wort: (Grist, &Lautered)) -> f64 {
    let of_a_mash = in_wort(formula, amounts, wort).filter(|(sugars, ..)| sugars.is_of_a_mash());
    of_a_mash.map(|(_, extract_kg, _)| extract_kg).sum()
}

/// What of the wort's extract is what, kg, and the share of it that the yeast takes.
fn in_wort<'a>(
    formula: &'a Formula,
    amounts: &'a PerItem<f64>,
    (grist, run): (Grist, &Lautered),
) -> impl Iterator<Item = (Sugars, f64, f64)> + 'a {
    let mean = mean_fermentability(formula, amounts);
    let run_off = run.wort.extract_kg / grist.laboratory_extract_kg.max(f64::MIN_POSITIVE);
    fermentables(formula, amounts)
        .filter(|(item, ..)| item.place.stage < Stage::Ferment)
        .map(move |(item, part, kg)| {
            let reaches = if item.is_mashed() { run_off } else { 1.0 };
            let unknown = || mean.map(|mean| formula.yeast_use.ferments(mean, part.sugars));
            let taken = part.ferments.or_else(unknown).unwrap_or(0.0);
            (part.sugars, kg * part.extract * reaches, taken)
        })
}

/// What goes in after the boil of what is what, kg, and the share of it that the yeast takes.
fn later<'a>(
    formula: &'a Formula,
    amounts: &'a PerItem<f64>,
) -> impl Iterator<Item = (Sugars, f64, f64)> + 'a {
    fermentables(formula, amounts)
        .filter(|(item, ..)| item.place.stage >= Stage::Ferment)
        .map(|(_, part, kg)| {
            let taken = part.ferments.unwrap_or(1.0);
            (part.sugars, kg * part.extract, taken)
        })
}

/// Fermentable extract that goes in after the boil and was made in a mash, as that of malt extract is.
pub(crate) fn later_of_mash_kg(formula: &Formula, amounts: &PerItem<f64>, fit: f64) -> f64 {
    later(formula, amounts)
        .filter(|(sugars, ..)| sugars.is_of_a_mash())
        .map(|(_, extract_kg, taken)| extract_kg * (taken * fit).min(1.0))
        .sum()
}

/// Mean fermentability, by extract, of the mashed grain whose figure is known.
pub(crate) fn mean_fermentability(formula: &Formula, amounts: &PerItem<f64>) -> Option<f64> {
    let (mut extract_kg, mut fermentable_kg) = (0.0, 0.0);
    for (item, part, kg) in fermentables(formula, amounts) {
        if let (true, Some(share)) = (item.is_mashed(), part.fermentability) {
            extract_kg += kg * part.extract;
            fermentable_kg += kg * part.extract * share;
        }
    }
    (extract_kg > 0.0).then(|| fermentable_kg / extract_kg)
}

/// What of all the extract that a mash made ferments, its maker's included; none where there is none.
pub(crate) fn fermentable_of_mash(
    formula: &Formula,
    amounts: &PerItem<f64>,
    wort: (Grist, &Lautered),
    factor: MashFactor,
) -> Option<f64> {
    let (mut extract_kg, mut fermentable_kg) = (0.0, 0.0);
    for (sugars, kg, taken) in in_wort(formula, amounts, wort).chain(later(formula, amounts)) {
        if sugars.is_of_a_mash() {
            extract_kg += kg;
            fermentable_kg += kg * factor.ferments(taken, sugars);
        }
    }
    (extract_kg > 0.0 && fermentable_kg > 0.0).then(|| fermentable_kg / extract_kg)
}

/// The factor on what a mash made beyond which all of it ferments.
pub(crate) fn fully_fermenting_fit(
    formula: &Formula,
    amounts: &PerItem<f64>,
    wort: (Grist, &Lautered),
    factor: MashFactor,
) -> f64 {
    in_wort(formula, amounts, wort)
        .chain(later(formula, amounts))
        .filter(|(sugars, kg, _)| sugars.is_of_a_mash() && *kg > 0.0)
        .map(|(sugars, _, taken)| factor.fitted(1.0).most(sugars) * taken)
        .filter(|share| *share > 0.0)
        .fold(1.0_f64, |most, share| most.max(1.0 / share))
}

/// Between lots of malt (fermentability reference).
const LOT_SIGMA: f64 = 0.03;
/// Of the share of caramel and roast grain (design of the crate).
const KILNED_SIGMA: f64 = 0.10;

/// One sigma of the estimate of what a mash made, as a part of it.
pub(crate) fn fit_sigma(
    formula: &Formula,
    amounts: &PerItem<f64>,
    wort: (Grist, &Lautered),
    factor: MashFactor,
) -> f64 {
    let (mut by_yeast, mut by_rests, mut by_kiln, mut all) = (0.0, 0.0, 0.0, 0.0);
    for (sugars, kg, taken) in in_wort(formula, amounts, wort).chain(later(formula, amounts)) {
        let fermentable_kg = kg * factor.ferments(taken, sugars);
        match sugars {
            Sugars::Starch => {
                by_yeast += fermentable_kg;
                by_rests += fermentable_kg / factor.rests;
            }
            Sugars::MaltExtract => by_yeast += fermentable_kg,
            Sugars::Kilned => by_kiln += kg,
            Sugars::StarchSyrup { .. } | Sugars::Simple => continue,
        }
        all += fermentable_kg;
    }
    let parts = [
        by_yeast * formula.yeast_use.sigma(),
        by_yeast * LOT_SIGMA,
        by_rests * factor.rests_sigma,
        by_kiln * KILNED_SIGMA,
    ];
    let sigma = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    sigma / f64::max(all, f64::MIN_POSITIVE)
}

/// Says of a last rest that is too cool for the model how it counts.
pub(crate) fn cool_last_rest(formula: &Formula) -> Option<Noted<Assumption>> {
    let index = formula.rests.len().checked_sub(1)?;
    let temperature = formula.rests.get(index)?.hold.temperature;
    let is_cool = temperature.celsius() < COOLEST_LAST_C;
    is_cool.then(|| {
        let place = Place::rest(index).field("temperature_c");
        Noted::at(place, Assumption::CoolLastRest { temperature })
    })
}

/// Says how fast a mash that is heated rises, where it does.
pub(crate) fn mash_rise(formula: &Formula, plant: &Plant) -> Option<Noted<Assumption>> {
    let celsius = |rest: &RestOf| rest.hold.temperature.celsius();
    let mut pairs = formula.rests.iter().zip(formula.rests.iter().skip(1));
    let rises = pairs.any(|(before, rest)| {
        rest.by.unwrap_or(plant.heating) == Heating::Direct && celsius(before) < celsius(rest)
    });
    // Where the power is stated, its share that arrives is told.
    (rises && plant.heat_kw.is_none()).then(|| {
        let place = Place::plant(&plant.name, "heating");
        Noted::at(place, Assumption::MashRise { side: plant.side })
    })
}
