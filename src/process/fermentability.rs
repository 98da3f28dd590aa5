//! How much of an extract ferments: by what the extract is, by the rests of its mash, by the yeast.

use super::assumption::Assumption;
use super::formula::{Formula, PerItem, Stage, fermentables};
use super::material::Yeast;
use super::plant::Plant;
use super::wort::{Grist, Lautered};
use crate::catalogue::{
    Fermentable as CatalogueFermentable, FermentableClass, Kind, MaltotrioseUse, StrainTrait,
};
use crate::diagnostic::Place;
use crate::quantity::Quantity as _;
use crate::recipe::Heating;
use crate::science::fermentability::{COOLEST_LAST_C, MashHold, RISE_C_PER_MIN, factor_and_spread};
use crate::science::liquid::Liquid;
use crate::science::souring;
use crate::speech::Noted;

/// What an extract is to yeast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sugars {
    /// Starch that a mash makes sugar of.
    Starch,
    /// Of caramel and roast grain: made in the kiln, the same whatever the mash.
    Kilned,
    /// Of malt extract: made in its maker's mash.
    MaltExtract,
    /// Of a starch syrup or maltodextrin, with this share of maltotriose.
    StarchSyrup { maltotriose: f64 },
    /// Sugars that all yeasts take or all leave: its own share.
    Simple,
}

impl Sugars {
    /// What an ingredient's extract is, by its kind and by its row in the catalogue.
    pub(crate) fn of(kind: Kind, known: Option<&CatalogueFermentable>) -> Self {
        if let Some(maltotriose) = known.and_then(|known| known.maltotriose) {
            return Self::StarchSyrup {
                maltotriose: maltotriose.in_base(),
            };
        }
        match known.and_then(|known| known.class) {
            Some(
                FermentableClass::CaramelMalt
                | FermentableClass::RoastedMalt
                | FermentableClass::RoastedGrain,
            ) => Self::Kilned,
            Some(FermentableClass::MaltExtract) => Self::MaltExtract,
            _ if matches!(kind, Kind::Malt | Kind::Grain) => Self::Starch,
            _ => Self::Simple,
        }
    }

    /// Whether it is fitted to a printed final gravity: what a mash made.
    pub(crate) const fn is_of_a_mash(self) -> bool {
        matches!(self, Self::Starch | Self::Kilned | Self::MaltExtract)
    }
}

/// Share of the extract of an all-malt wort that ferments, as the catalogue has it for pale malt: the wort of 12 °P that a yeast's
/// attenuation is of.
const ALL_MALT: f64 = 0.66;
/// Strength of that wort, a fraction.
const ALL_MALT_STRENGTH: f64 = 0.12;
/// A yeast that ferments less than this part of a malt wort leaves maltose (only maltose-negative ones do, at 8 to 25 %).
const LEAVES_MALTOSE: f64 = 0.5;

/// What a yeast takes of extracts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct YeastUse {
    /// Of what of an all-malt wort can ferment.
    malt: f64,
    /// The same with an attenuation higher by one sigma.
    malt_and_sigma: f64,
    /// Of maltotriose.
    maltotriose: f64,
    /// Of dextrins, in weeks.
    dextrins: f64,
}

impl YeastUse {
    /// A yeast of which nothing is known takes all that can ferment.
    const UNKNOWN: Self = Self {
        malt: 1.0,
        // The spread of families below, 0.035 apparent, as a part of the fermentable share of malt wort.
        malt_and_sigma: 1.0 + 0.045,
        maltotriose: 1.0,
        dextrins: 0.0,
    };

    /// One sigma of an attenuation that a line states, and of that of a family (ingredients reference: a known yeast between
    /// brews 2.0 points, between strains 3.5; both soft).
    const STATED_SIGMA: f64 = 0.020;
    const FAMILY_SIGMA: f64 = 0.035;

    pub(crate) fn of(yeast: Option<&Yeast>) -> Self {
        let Some(yeast) = yeast else {
            return Self::UNKNOWN;
        };
        let (attenuation, sigma) = match (yeast.stated_attenuation, yeast.usual_attenuation) {
            (Some(stated), _) => (Some(stated), Self::STATED_SIGMA),
            (None, usual) => (usual, Self::FAMILY_SIGMA),
        };
        let taken = |attenuation: f64| fermented_of_all_malt(attenuation) / ALL_MALT;
        let dextrins = match yeast.diastatic {
            // What it ferments beyond the sugars of a wort is of the rest.
            Some(StrainTrait::Yes) => attenuation.map_or(0.0, |attenuation| {
                ((fermented_of_all_malt(attenuation) - ALL_MALT) / (1.0 - ALL_MALT)).max(0.0)
            }),
            _ => 0.0,
        };
        Self {
            malt: attenuation.map_or(Self::UNKNOWN.malt, taken),
            malt_and_sigma: attenuation.map_or(Self::UNKNOWN.malt_and_sigma, |a| taken(a + sigma)),
            maltotriose: match yeast.maltotriose {
                Some(MaltotrioseUse::No) => 0.0,
                // Between none and all of it, and nobody says where.
                Some(MaltotrioseUse::Partly | MaltotrioseUse::Variable) => 0.5,
                Some(MaltotrioseUse::Yes | MaltotrioseUse::Slow) | None => 1.0,
            },
            dextrins,
        }
    }

    /// What it takes and a yeast that goes in later: that one finds what the first leaves. One of unknown attenuation takes no more.
    pub(crate) fn and(self, later: &Yeast) -> Self {
        if later
            .stated_attenuation
            .or(later.usual_attenuation)
            .is_none()
        {
            return self;
        }
        let later = Self::of(Some(later));
        let driest = if later.malt > self.malt { later } else { self };
        Self {
            maltotriose: self.maltotriose.max(later.maltotriose),
            dextrins: self.dextrins.max(later.dextrins),
            ..driest
        }
    }

    /// What it ferments of an extract that has this share of what can ferment.
    pub(crate) fn ferments(&self, share: f64, sugars: Sugars) -> f64 {
        let leaves_maltose = self.malt < LEAVES_MALTOSE;
        match sugars {
            Sugars::Starch | Sugars::MaltExtract => (share * self.malt).min(1.0),
            Sugars::Kilned | Sugars::StarchSyrup { .. } if leaves_maltose => share * self.malt,
            Sugars::StarchSyrup { maltotriose } => {
                let taken = (share - maltotriose * (1.0 - self.maltotriose)).max(0.0);
                taken + self.dextrins * (1.0 - share)
            }
            // A diastatic yeast takes the dextrins of caramel malt too; what the kiln made dark is counted with them, on the side
            // on which bottles hold.
            Sugars::Kilned => share + self.dextrins * (1.0 - share),
            Sugars::Simple => share,
        }
    }

    /// Whether it breaks down what a mash left.
    fn takes_dextrins(&self) -> bool {
        self.dextrins > 0.0
    }

    /// One sigma of what it takes of a malt wort, as a part of that.
    pub(crate) fn sigma(&self) -> f64 {
        self.malt_and_sigma / self.malt.max(f64::MIN_POSITIVE) - 1.0
    }

    /// The apparent attenuation of an all-malt wort of 12 °P of which `times` as much ferments as this yeast takes.
    pub(crate) fn attenuation(&self, times: f64) -> f64 {
        let wort = Liquid::wort_of(1.0, ALL_MALT_STRENGTH);
        let share = (self.malt * ALL_MALT * times).min(1.0);
        let end = wort.fermented_kg(wort.extract_kg * share).apparent_plato();
        1.0 - end / wort.apparent_plato()
    }
}

/// Share of the extract, by mass, that has fermented when an all-malt wort of 12 °P shows this apparent attenuation.
fn fermented_of_all_malt(attenuation: f64) -> f64 {
    let wort = Liquid::wort_of(1.0, ALL_MALT_STRENGTH);
    let end_plato = wort.apparent_plato() * (1.0 - attenuation);
    match wort.falls_to_kg(end_plato, wort.extract_kg) {
        Ok(consumed_kg) => consumed_kg / wort.extract_kg,
        Err(_) if attenuation > 0.5 => 1.0,
        Err(_) => 0.0,
    }
}

/// A rest of the mash: what it is held at, how long, and how it is reached where the recipe says.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct RestOf {
    pub(crate) hold: MashHold,
    pub(crate) by: Option<Heating>,
}

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

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: half of the 60 % that a caramel malt leaves, on top of its 40 %; sugar that yeast leaves stays.
    #[test]
    fn a_diastatic_yeast_takes_dextrins_of_caramel_malt_too() {
        let diastatic = YeastUse {
            malt: 1.1,
            malt_and_sigma: 1.15,
            maltotriose: 1.0,
            dextrins: 0.5,
        };
        assert!((diastatic.ferments(0.4, Sugars::Kilned) - 0.7).abs() < 1e-12);
        assert!((diastatic.ferments(0.0, Sugars::Simple)).abs() < 1e-12);
        let usual = YeastUse {
            dextrins: 0.0,
            ..diastatic
        };
        assert!((usual.ferments(0.4, Sugars::Kilned) - 0.4).abs() < 1e-12);
    }
}
