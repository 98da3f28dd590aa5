//! What is told about a plan: warnings, changes with their reasons, the list of additions, what weighing moved.

use super::plan::{Drift, PlannedAddition};
use super::solve::{BitternessGap, Found, Job};
use super::{Change, scaled};
use crate::catalogue::Kind;
use crate::process::{
    Amounts, Assumption, Brewed, Figures, Formula, GravityProfile, History, Item, Material, Side,
    Stage, Warning, dilution, hop_bitterness, kettle_sugars, preserved_juice,
};
use crate::quantity::{
    AlphaAcids, Bitterness, BrewhouseYield, Concentration, DiastaticPower, Extract, MaltColour,
    PitchRate, Proportion, Share, Time, Written, kilograms, litres, minutes,
};
use crate::recipe::{At, BitternessModel, Brewhouse, HotStep, Recipe};
use crate::science::yeast::{Cells, cells_to_pitch};

/// A grist below this may not convert itself, WK (common practice, no source).
const CONVERTS_FROM_WK: f64 = 100.0;
/// Headspace of a fermenter as a share of what is in it (rule of the crate).
const HEADSPACE: f64 = 0.25;
/// Pitching rate where neither recipe nor catalogue says one, million per mL and °P (Fix, as quoted in trade texts).
const PITCH_RATE: f64 = 0.75;

impl Job<'_> {
    pub(super) fn warn(
        &self,
        found: &Found,
        (weighed, brewed): (&Amounts, &Brewed),
        warnings: &mut Vec<Warning>,
    ) {
        let beer_ibu = found.brewed.wort_ibu() * dilution(&found.brewed);
        let (aim, predicted) = (
            Bitterness::clamped(self.source.aim_ibu),
            Bitterness::clamped(beer_ibu),
        );
        match found.bitterness {
            BitternessGap::Closed => {}
            BitternessGap::TooBitter => {
                warnings.push(Warning::TooBitterWithoutBittering { aim, predicted });
            }
            BitternessGap::NoHop => warnings.push(Warning::NoBitteringHop { aim, predicted }),
        }
        let needed_l = brewed.cellar.after_additions_l * (1.0 + HEADSPACE);
        if let Some(capacity_l) = self.plant.fermenter_l
            && needed_l > capacity_l
        {
            warnings.push(Warning::FermenterSmall {
                needed: litres(needed_l),
                capacity: litres(capacity_l),
            });
        }
        if let Some(power) = brewed.diastatic_wk
            && power < CONVERTS_FROM_WK
        {
            warnings.push(Warning::DiastaticPowerLow {
                power: DiastaticPower::clamped(power),
            });
        }
        warnings.extend(preserved_juice(self.formula, weighed, brewed));
    }

    pub(super) fn changes(
        &self,
        recipe: &Recipe,
        brewhouse: &Brewhouse,
        weighed: &Amounts,
        brewed: &Brewed,
    ) -> Vec<Change> {
        let source = self.source;
        let mut changes = vec![Change::Batch {
            source: litres(source.brewed.into_fermenter_l),
            target: litres(brewed.into_fermenter_l),
        }];
        if let (Some(there), Some(here)) = (source.brewed.mash_yield, brewed.mash_yield) {
            changes.push(Change::GristFollowsYield {
                source: BrewhouseYield::clamped(there),
                target: BrewhouseYield::clamped(here),
            });
        }
        for swap in recipe.swaps.iter().flat_map(|swaps| &swaps.made) {
            let parts = swap.parts.iter().map(|part| part.ingredient.name.clone());
            let base = swap.base_malt.as_ref();
            changes.push(Change::Replaced {
                name: swap.replaced.name.clone(),
                with: parts.collect(),
                base_malt: base.map(|base| base.line.name.clone()),
                factor: base.map(|base| base.factor),
            });
        }
        let there = weight_shares(self.formula, &source.amounts);
        let here = weight_shares(self.formula, weighed);
        let bittering = self.bittering().map(|(index, _)| index);
        for (index, item) in self.formula.items.iter().enumerate() {
            let name = || item.ingredient.name.clone();
            let at = |list: &[f64]| list.get(index).copied().unwrap_or_default();
            if item.is_kettle_sugar() {
                changes.push(Change::SugarKeepsExtractShare {
                    name: name(),
                    extract_share: Share::clamped(at(&source.extract_share)),
                    source_weight: Share::clamped(at(&there)),
                    target_weight: Share::clamped(at(&here)),
                });
            } else if bittering == Some(index) {
                changes.push(Change::BitteringClosesGap {
                    name: name(),
                    source: Bitterness::clamped(at(&source.brewed.ibu)),
                    target: Bitterness::clamped(at(&brewed.ibu)),
                    aim: Bitterness::clamped(source.aim_ibu),
                });
            } else if matches!(item.place.stage, Stage::Boil | Stage::Stand) && !item.is_by_volume()
            {
                let dose = 1000.0 * at(&source.amounts.of) / source.brewed.boiled.volume_l;
                changes.push(Change::KeepsDose {
                    name: name(),
                    dose: Concentration::clamped(dose),
                });
            } else if item.place.stage == Stage::Ferment && item.is_by_volume() {
                let vessel_l = at(&source.brewed.cellar.vessel_l);
                changes.push(Change::KeepsShareOfVessel {
                    name: name(),
                    share: Proportion::clamped(
                        at(&source.amounts.of) / vessel_l.max(f64::MIN_POSITIVE),
                    ),
                });
            }
        }
        let bare_stand: Time = recipe
            .stands()
            .filter(|stand| stand.additions.is_empty())
            .map(|stand| stand.time.value())
            .fold(minutes(0.0), |sum, time| sum + time);
        if bare_stand > minutes(0.0) && brewhouse.stand.is_none() {
            changes.push(Change::StandLeftOut {
                time: bare_stand,
                worth: self.worth_of_bare_stands(),
            });
        }
        changes
    }

    /// What the source's stands without additions are worth in its beer, by isomerisation.
    fn worth_of_bare_stands(&self) -> Bitterness {
        let mut without = self.source_plant.clone();
        without.side = Side::Target;
        without.stand_min = None;
        without.history = History::of(self.source_formula, &without);
        // Nothing else of the brew hangs on them.
        let (formula, source) = (self.source_formula, &self.source.brewed);
        let of = &self.source.amounts.of;
        let sugars = kettle_sugars(formula, of);
        let profile = GravityProfile::of(&source.run, &sugars, &source.boiled, formula.boil_min);
        let kinetic = BitternessModel::Kinetic;
        let volume_l = source.boiled.volume_l;
        let bare = hop_bitterness(formula, of, &profile, volume_l, &without, kinetic);
        let worth_ibu = source.wort_ibu_by(kinetic) - bare.iter().sum::<f64>();
        Bitterness::clamped(worth_ibu * dilution(source))
    }

    pub(super) fn cells(
        &self,
        brewed: &Brewed,
        assumptions: &mut Vec<Assumption>,
    ) -> Option<Cells> {
        let (_, yeast) = self.formula.yeast()?;
        let rate = yeast.pitch_rate.unwrap_or(PITCH_RATE);
        if !yeast.stated_pitch_rate {
            assumptions.push(Assumption::PitchRate {
                million_per_ml_plato: rate,
            });
        }
        cells_to_pitch(
            PitchRate::clamped(rate),
            litres(brewed.into_fermenter_l),
            Extract::clamped(100.0 * brewed.boiled.strength()),
        )
        .ok()
    }

    pub(super) fn additions(
        &self,
        recipe: &Recipe,
        brewhouse: &Brewhouse,
        amounts: &Amounts,
        brewed: &Brewed,
    ) -> Vec<PlannedAddition> {
        let shares = weight_shares(self.formula, amounts);
        let run_off = brewed.mash_yield.unwrap_or(0.0);
        self.formula
            .items
            .iter()
            .enumerate()
            .map(|(index, item)| {
                let at = |list: &[f64]| list.get(index).copied().unwrap_or_default();
                let amount = at(&amounts.of);
                let is_yeast = matches!(item.material, Material::Yeast(_)) && amount <= 0.0;
                let by_volume = item.is_by_volume();
                let (extract, colour, brix) = match item.fermentable(amount) {
                    Some((part, kg)) => {
                        let yielded = if item.is_mashed() { run_off } else { 1.0 };
                        let is_juice = item.ingredient.kind == Kind::Juice;
                        (
                            Some(kilograms(kg * part.extract * yielded)),
                            part.colour_ebc
                                .filter(|_| !is_juice)
                                .map(MaltColour::clamped),
                            is_juice.then(|| Extract::clamped(100.0 * part.extract)),
                        )
                    }
                    None => (None, None, None),
                };
                let wort_side = item.is_mashed() || item.is_kettle_sugar();
                let time_left = (item.place.stage == Stage::Boil)
                    .then(|| minutes(item.time_left_min(self.formula.boil_min)));
                let timing = &item.timing;
                let met = brewed.cellar.met.get(index).copied().flatten();
                let blend = item.place.part.map(|_| item.place.index + 1);
                PlannedAddition {
                    stage: item.place.stage,
                    stand: (item.place.stage == Stage::Stand)
                        .then(|| stand_number(recipe, brewhouse, item.place.stand)),
                    blend,
                    name: item.ingredient.name.clone(),
                    kind: item.ingredient.kind,
                    mass: (!by_volume && !is_yeast).then(|| kilograms(amount)),
                    volume: (by_volume && !is_yeast).then(|| litres(amount)),
                    share: if wort_side {
                        Some(Share::clamped(at(&shares)))
                    } else {
                        blend.map(|_| share_of_blend(self.formula, amounts, item, amount))
                    },
                    extract,
                    bitterness: item
                        .is_hot_hop()
                        .then(|| Bitterness::clamped(at(&brewed.ibu))),
                    time_left,
                    first_wort: timing.at == Some(At::FirstWort),
                    contact: timing.contact.as_ref().map(Written::value),
                    temperature: match &timing.at {
                        Some(At::Temperature(t)) => Some(t.value()),
                        _ => None,
                    },
                    on_day: match &timing.at {
                        Some(At::AfterPitching(time)) => Some(time.value()),
                        _ => None,
                    },
                    when: match &timing.at {
                        Some(At::Gravity(plato)) => Some(plato.value()),
                        _ => None,
                    },
                    before: met.map(|met| Extract::clamped(met.before_plato)),
                    after: met.map(|met| Extract::clamped(met.after_plato)),
                    source_mass: (!by_volume && !is_yeast)
                        .then(|| kilograms(at(&self.source.amounts.of))),
                    colour,
                    alpha: match item.material {
                        Material::Hop { alpha } => alpha.map(AlphaAcids::clamped),
                        _ => None,
                    },
                    form: item.ingredient.facts.form,
                    brix,
                }
            })
            .collect()
    }
}

/// Which of the plan's stands a step of the recipe's hot side is, counted from 1.
fn stand_number(recipe: &Recipe, brewhouse: &Brewhouse, step: usize) -> usize {
    let is_done =
        |step: &&HotStep| scaled::is_done(step, brewhouse) && matches!(step, HotStep::Stand(_));
    recipe
        .hot_side
        .iter()
        .take(step + 1)
        .filter(is_done)
        .count()
}

/// The share of `item` in the blend it is a part of.
fn share_of_blend(formula: &Formula, amounts: &Amounts, item: &Item, amount: f64) -> Share {
    let whole: f64 = formula
        .items
        .iter()
        .zip(&amounts.of)
        .filter(|(other, _)| other.same_addition(item))
        .map(|(_, amount)| amount)
        .sum();
    Share::clamped(amount / whole.max(f64::MIN_POSITIVE))
}

/// Shares by weight of the wort's fermentables.
fn weight_shares(formula: &Formula, amounts: &Amounts) -> Vec<f64> {
    let kg = |item: &Item, amount: f64| {
        let part = item.fermentable(amount);
        let part = part.filter(|_| item.is_mashed() || item.is_kettle_sugar());
        part.map_or(0.0, |(_, kg)| kg)
    };
    let weights: Vec<_> = formula
        .items
        .iter()
        .zip(&amounts.of)
        .map(|(item, amount)| kg(item, *amount))
        .collect();
    let total: f64 = weights.iter().sum();
    weights
        .into_iter()
        .map(|w| w / total.max(f64::MIN_POSITIVE))
        .collect()
}

/// What weighing out moved, where it can be seen.
pub(super) fn drift(exact: &Figures, weighed: &Figures) -> Vec<Drift> {
    let mut drift = Vec::new();
    if let (Some(exact), Some(weighed)) = (exact.original, weighed.original)
        && (exact.plato() - weighed.plato()).abs() >= 0.005
    {
        drift.push(Drift::Original { exact, weighed });
    }
    if let (Some(exact), Some(weighed)) = (exact.bitterness, weighed.bitterness)
        && (exact.ibu() - weighed.ibu()).abs() >= 0.05
    {
        drift.push(Drift::Bitterness { exact, weighed });
    }
    drift
}
