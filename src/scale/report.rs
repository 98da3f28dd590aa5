//! What is told about a plan: warnings, changes with their reasons, the list of additions.

use super::order::Brewing;
use super::plan::PlannedAddition;
use super::solve::{BitternessGap, bittering};
use super::state::Brews;
use super::{Change, Order, Outcome};
use crate::catalogue::Kind;
use crate::diagnostic::Place;
use crate::inverse::{Notes, dilution};
use crate::process::{
    Amounts, Assumption, CoolingHistory, Filled, Formula, GravityProfile, HEADSPACE, Headroom,
    Item, Material, PerItem, Plant, STRONG_PITCH, Side, Stage, Warning, Worked, cap_l, into_kettle,
    is_steep, preserved_juice, unusual_temperatures, wants_more_yeast,
};
use crate::quantity::agreement::is_above;
use crate::quantity::{
    AlphaAcids, Bitterness, BrewhouseYield, Concentration, DiastaticPower, Extract, MaltColour,
    PackCount, Ph, PitchRate, Proportion, Share, Temperature, Written, kilograms, litres, minutes,
};
use crate::recipe::{At, BitternessModel, Brewhouse, HotStep, Recipe};
use crate::remedy::{for_bitterness, reliefs};
use crate::science::yeast::{Cells, cells_to_pitch};
use crate::speech::Noted;
use std::sync::Arc;

/// A grist below this may not convert itself, WK (common practice, no source).
const CONVERTS_FROM_WK: f64 = 100.0;
/// Grain that brings no more of a wort's extract than this is steeped for its colour and flavour (common practice, no source).
const STEEPED_SHARE: f64 = 0.2;
/// Sparge water above this draws tannin and starch from the grain, °C (Kunze, quoted; maltsters and makers keep below).
const SPARGE_MOST_C: f64 = 80.0;
/// Bitterness that is noticed: 2 IBU or a fifth (thresholds of the ingredients reference, derived from a handed-down 5 IBU and the ratio of 1.25
/// of Camacho et al. 2015). What is less is told, and no reason to change the day.
const NOTICED_IBU: f64 = 2.0;
const NOTICED_SHARE: f64 = 0.2;
/// What the marks of a fermenter can show, as a share of what it holds (common practice, no source).
const MARKS: f64 = 0.005;
/// Sparge water above this pH draws tannin (home texts and a forum, no measurement).
const SPARGE_PH: f64 = 5.8;
/// Pitching rate where neither recipe nor catalogue says one, million per mL and °P (Fix, as quoted in trade texts).
const PITCH_RATE: f64 = 0.75;

/// Whether a drinker notices that a beer has another bitterness than is wanted.
fn is_noticed(aim_ibu: f64, beer_ibu: f64) -> bool {
    (aim_ibu - beer_ibu).abs() > NOTICED_IBU.max(NOTICED_SHARE * aim_ibu)
}

impl Brewing<'_> {
    /// A bitterness that no boiled hop brings, with the ways to it that hops in a stand leave.
    pub(super) fn bitterness(&self) -> Option<Noted<Outcome>> {
        if !self.is_not_bitter_enough_of_stands() {
            return None;
        }
        let (setup, found) = (&self.brews.target.setup, &self.found);
        let aim_ibu = self.brews.source.aim_ibu;
        let style = self.order.brewhouse.style();
        let outcome = Outcome::BitternessNotMet {
            wanted: Bitterness::clamped(aim_ibu),
            predicted: Bitterness::clamped(found.brewed.wort_ibu() * dilution(&found.brewed)),
            remedies: for_bitterness(setup, &found.amounts, aim_ibu, style),
        };
        Some(Noted::at(Place::recipe("targets.bitterness_ibu"), outcome))
    }

    /// Whether hops that only stand give another bitterness than is wanted, by what is noticed.
    fn is_not_bitter_enough_of_stands(&self) -> bool {
        let mut items = self.brews.target.setup.formula.items.values();
        let aim_ibu = self.brews.source.aim_ibu;
        let beer_ibu = self.found.brewed.wort_ibu() * dilution(&self.found.brewed);
        self.found.bitterness == BitternessGap::NoHop
            && items.any(|item| item.is_hot_hop() && item.place.stage == Stage::Stand)
            && is_noticed(aim_ibu, beer_ibu)
    }

    pub(super) fn warn(&mut self) {
        let filled = self.filled();
        let is_stood = self.is_not_bitter_enough_of_stands();
        let Self {
            order,
            brews: Brews { source, target, .. },
            found,
            notes: Notes { warnings, .. },
            ..
        } = self;
        let beer_ibu = found.brewed.wort_ibu() * dilution(&found.brewed);
        let (aim, predicted) = (
            Bitterness::clamped(source.aim_ibu),
            Bitterness::clamped(beer_ibu),
        );
        let headline = Place::recipe("targets.bitterness_ibu");
        match found.bitterness {
            BitternessGap::Closed => {}
            BitternessGap::TooBitter => {
                let too_bitter = Warning::TooBitterWithoutBittering { aim, predicted };
                warnings.push(Noted::at(headline, too_bitter));
            }
            // With hops in a stand there are ways to it, which its outcome names.
            BitternessGap::NoHop if is_stood || !is_noticed(source.aim_ibu, beer_ibu) => {}
            BitternessGap::NoHop => {
                let no_hop = Warning::NoBitteringHop { aim, predicted };
                warnings.push(Noted::at(headline, no_hop));
            }
        }
        let plant = &target.setup.plant;
        warnings.extend(nearly_full(plant, filled));
        let into_l = target.brewed.into_fermenter_l;
        let filled_l = (target.brewed.cellar.after_additions_l + cap_l(target)).max(into_l);
        let needed_l = filled_l * (1.0 + HEADSPACE);
        if let Some(capacity_l) = target.setup.plant.fermenter_l
            && needed_l > capacity_l * (1.0 + MARKS)
        {
            // What goes in later is dosed by the litre.
            let small = Warning::FermenterSmall {
                filled: litres(filled_l),
                largest_batch: Some(litres(into_l * capacity_l / needed_l)),
                needed: litres(needed_l),
                capacity: litres(capacity_l),
            };
            let fermenter = Place::plant(&target.setup.plant.name, "fermenter_l");
            warnings.push(Noted::at(fermenter, small));
        }
        let report = order.brewhouse.water.as_ref();
        let ph = report.and_then(|report| report.ph.as_ref());
        if let Some(ph) = ph.map(Written::value)
            && target.amounts.liquor.sparge_l > 0.0
            && ph.value() > SPARGE_PH
        {
            let limit = Ph::clamped(SPARGE_PH);
            let water = Place::plant(&target.setup.plant.name, "water.ph");
            warnings.push(Noted::at(water, Warning::SpargeWaterPh { ph, limit }));
        }
        let sparge = order.recipe.mash.sparge.as_ref();
        let printed = sparge.and_then(|sparge| sparge.temperature.as_ref());
        if let Some(at) = printed.map(Written::value)
            && target.amounts.liquor.sparge_l > 0.0
            && at.celsius() > SPARGE_MOST_C
        {
            let limit = Temperature::clamped(SPARGE_MOST_C);
            let place = Place::recipe("mash.sparge.temperature_c");
            warnings.push(Noted::at(place, Warning::SpargeHot { at, limit }));
        }
        let brewed = &target.brewed;
        let is_steeped = brewed.run.wort.extract_kg < STEEPED_SHARE * brewed.boiled.wort.extract_kg;
        if let Some(power) = brewed.diastatic_wk
            && power < CONVERTS_FROM_WK
            && !is_steeped
        {
            let power = DiastaticPower::clamped(power);
            warnings.push(Noted::at(
                Place::recipe("mash.additions"),
                Warning::DiastaticPowerLow { power },
            ));
        }
        warnings.extend(preserved_juice(target));
        warnings.extend(unusual_temperatures(
            self.order.recipe,
            &target.setup.formula,
        ));
    }

    pub(super) fn changes(&self) -> Vec<Noted<Change>> {
        let Order {
            recipe, brewhouse, ..
        } = self.order;
        let (source, target) = (&self.brews.source.worked, &self.brews.target);
        let formula = &target.setup.formula;
        let (there_l, here_l) = (
            source.brewed.into_fermenter_l,
            target.brewed.into_fermenter_l,
        );
        let mut changes = Vec::new();
        if is_above((there_l / here_l - 1.0).abs(), MARKS) {
            let batch = Change::Batch {
                source: litres(there_l),
                target: litres(here_l),
            };
            let place = Place::plant(&target.setup.plant.name, "batch");
            changes.push(Noted::at(place, batch));
        }
        if let (Some(there), Some(here)) = (source.brewed.mash_yield, target.brewed.mash_yield)
            && !is_steep(target)
        {
            let grist = Change::GristFollowsYield {
                source: BrewhouseYield::clamped(there),
                target: BrewhouseYield::clamped(here),
            };
            changes.push(Noted::at(Place::recipe("mash.additions"), grist));
        }
        for swap in recipe.swaps.iter().flat_map(|swaps| &swaps.made) {
            let parts = swap.parts.iter().map(|part| part.ingredient.name.clone());
            let base = swap.base_malt.as_ref();
            let replaced = Change::Replaced {
                name: swap.replaced.name.clone(),
                with: parts.collect(),
                base_malt: base.map(|base| base.line.name.clone()),
                factor: base.map(|base| base.factor),
            };
            changes.push(replaced.into());
        }
        let there = weight_shares(formula, &source.amounts);
        let here = weight_shares(formula, &target.amounts);
        let bittering = bittering(formula);
        let reliefs = reliefs(&source.setup.formula, self.order.taken);
        let by_remedy: Vec<_> = reliefs.iter().map(|(index, _)| *index).collect();
        for (index, item) in formula.items.iter() {
            let name = || item.ingredient.name.clone();
            let amount_line = || item.place.place().field("amount");
            let source_amount = source.amounts.of.at(index);
            if by_remedy.contains(&index) {
                continue;
            }
            if item.is_kettle_sugar() {
                let sugar = Change::SugarKeepsExtractShare {
                    name: name(),
                    extract_share: Share::clamped(self.brews.source.extract_share.at(index)),
                    source_weight: Share::clamped(there.at(index)),
                    target_weight: Share::clamped(here.at(index)),
                };
                changes.push(Noted::at(amount_line(), sugar));
            } else if bittering.contains(&index) {
                let closes = Change::BitteringClosesGap {
                    name: name(),
                    source: Bitterness::clamped(source.brewed.ibu.at(index)),
                    target: Bitterness::clamped(target.brewed.ibu.at(index)),
                    aim: Bitterness::clamped(self.brews.source.aim_ibu),
                };
                changes.push(Noted::at(amount_line(), closes));
            } else if matches!(item.place.stage, Stage::Boil | Stage::Stand) && item.is_by_mass() {
                let dose = 1000.0 * source_amount / source.brewed.boiled.volume_l;
                let kept = Change::KeepsDose {
                    name: name(),
                    dose: Concentration::clamped(dose),
                };
                changes.push(Noted::at(amount_line(), kept));
            } else if item.place.stage == Stage::Ferment && item.is_by_volume() {
                let vessel_l = if item.is_top_up() {
                    source.brewed.into_fermenter_l
                } else {
                    source.brewed.cellar.vessel_l.at(index)
                };
                let kept = Change::KeepsShareOfVessel {
                    name: name(),
                    share: Proportion::clamped(source_amount / vessel_l.max(f64::MIN_POSITIVE)),
                };
                changes.push(Noted::at(amount_line(), kept));
            }
        }
        let sparge_l = target.amounts.liquor.sparge_l;
        if let Some(printed) = &recipe.mash.sparge
            && (printed.volume.is_some() || sparge_l <= 0.0)
        {
            let follows = Change::SpargeFollowsPlant {
                source: printed.volume.as_ref().map(Written::value),
                target: litres(sparge_l),
            };
            let field = match printed.volume {
                Some(_) => "mash.sparge.volume_l",
                None => "mash.sparge.temperature_c",
            };
            changes.push(Noted::at(Place::recipe(field), follows));
        }
        let (mut bare_stand, mut first) = (minutes(0.0), None);
        for (index, step) in recipe.hot_side.iter().enumerate() {
            if let HotStep::Stand(stand) = step
                && stand.additions.is_empty()
            {
                bare_stand += stand.time.value();
                first.get_or_insert(index);
            }
        }
        if bare_stand > minutes(0.0) && brewhouse.stand.is_none() {
            let left_out = Change::StandLeftOut {
                time: bare_stand,
                worth: worth_of_bare_stands(source),
            };
            changes.push(Noted::at(first.map(Place::stand), left_out));
        }
        changes
    }

    pub(super) fn cells(&mut self) -> Option<Cells> {
        let brewed = &self.brews.target.brewed;
        let yeast = self.brews.target.setup.formula.yeast()?;
        let more = wants_more_yeast(&self.brews.target);
        let rate = yeast.pitch_rate.unwrap_or(PITCH_RATE) * if more { STRONG_PITCH } else { 1.0 };
        if !yeast.stated_pitch_rate {
            let yeast = Place::pitch().part("content.single");
            let place = yeast.field("facts.pitch_rate_million_per_ml_plato");
            let assumed = Assumption::PitchRate {
                million_per_ml_plato: rate,
            };
            self.notes.assumptions.push(Noted::at(place, assumed));
        }
        cells_to_pitch(
            PitchRate::clamped(rate),
            litres(brewed.into_fermenter_l),
            brewed.original().real_extract(),
        )
        .ok()
    }

    pub(super) fn additions(&self) -> Vec<PlannedAddition> {
        let Order {
            recipe, brewhouse, ..
        } = self.order;
        let Worked {
            setup,
            amounts,
            brewed,
        } = &self.brews.target;
        let formula = &setup.formula;
        let shares = weight_shares(formula, amounts);
        let run_off = brewed.mash_yield.unwrap_or(0.0);
        formula
            .items
            .iter()
            .map(|(index, item)| {
                let amount = amounts.of.at(index);
                let is_yeast = matches!(item.material, Material::Yeast(_)) && amount <= 0.0;
                let is_by = |it_is: bool| it_is && !is_yeast;
                let source_amount = self.brews.source.worked.amounts.of.at(index);
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
                    .then(|| minutes(item.time_left_min(formula.boil_min)));
                let timing = &item.timing;
                let met = brewed.cellar.met.at(index);
                let blend = item.place.part.map(|_| item.place.index + 1);
                PlannedAddition {
                    stage: item.place.stage,
                    stand: (item.place.stage == Stage::Stand)
                        .then(|| stand_number(recipe, brewhouse, item.place.stand)),
                    blend,
                    name: item.ingredient.name.clone(),
                    kind: item.ingredient.kind,
                    mass: is_by(item.is_by_mass()).then(|| kilograms(amount)),
                    volume: is_by(item.is_by_volume()).then(|| litres(amount)),
                    pack_count: is_by(item.is_by_packs()).then(|| PackCount::clamped(amount)),
                    share: if wort_side {
                        Some(Share::clamped(shares.at(index)))
                    } else {
                        blend.map(|_| share_of_blend(formula, amounts, item, amount))
                    },
                    extract,
                    bitterness: item
                        .is_hot_hop()
                        .then(|| Bitterness::clamped(brewed.ibu.at(index))),
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
                    source_mass: is_by(item.is_by_mass()).then(|| kilograms(source_amount)),
                    colour,
                    alpha: match item.material {
                        Material::Hop { alpha } => alpha.map(AlphaAcids::clamped),
                        _ => None,
                    },
                    form: item.ingredient.hop_form(),
                    brix,
                    ingredient: Arc::clone(&item.ingredient),
                }
            })
            .collect()
    }
}

/// Vessels that hold what goes in, and have too little room for its foam or for stirring it.
fn nearly_full(plant: &Plant, filled: Filled) -> Vec<Noted<Warning>> {
    let room = Headroom::of(plant);
    let over = |most_l: Option<f64>, capacity_l: Option<f64>, filled_l: f64| {
        let (most_l, capacity_l) = (most_l?, capacity_l?);
        let is_over = Headroom::is_over(most_l, filled_l) && filled_l <= capacity_l;
        is_over.then(|| [filled_l, capacity_l, filled_l - most_l].map(litres))
    };
    let kettle = over(room.kettle_l, plant.kettle_l, filled.kettle_l);
    let kettle = kettle.map(|[filled, capacity, hold_back]| {
        let nearly = Warning::KettleNearlyFull {
            filled,
            capacity,
            hold_back,
        };
        Noted::at(Place::plant(&plant.name, "kettle_l"), nearly)
    });
    let mash = over(room.mash_l, plant.mash_vessel_l(), filled.mash_l);
    let mash = mash.map(|[filled, capacity, hold_back]| {
        let vessel = match plant.mash_tun_l {
            Some(_) => "mash_tun_l",
            None => "kettle_l",
        };
        let nearly = Warning::MashNearlyFull {
            filled,
            capacity,
            hold_back,
        };
        Noted::at(Place::plant(&plant.name, vessel), nearly)
    });
    kettle.into_iter().chain(mash).collect()
}

/// What the source's stands without additions are worth in its beer, by isomerisation.
fn worth_of_bare_stands(source: &Worked) -> Bitterness {
    let (formula, brewed) = (&source.setup.formula, &source.brewed);
    let mut without = source.setup.plant.clone();
    without.side = Side::Target;
    without.stand_min = None;
    let cooling = CoolingHistory::of(formula, &without);
    // Nothing else of the brew hangs on them.
    let of = &source.amounts.of;
    let sugars = into_kettle(formula, of);
    let profile = GravityProfile::of(&brewed.run, &sugars, &brewed.boiled, formula.boil_min);
    let kinetic = BitternessModel::Kinetic;
    let bare = profile.bitterness(formula, of, &cooling, kinetic);
    let worth_ibu = brewed.wort_ibu_by(kinetic) - bare.values().sum::<f64>();
    Bitterness::clamped(worth_ibu * dilution(brewed))
}

/// Which of the plan's stands a step of the recipe's hot side is, counted from 1.
fn stand_number(recipe: &Recipe, brewhouse: &Brewhouse, step: usize) -> usize {
    let mut own = brewhouse.stand.is_some();
    let done = |step: &&HotStep| match step {
        HotStep::Stand(stand) => !stand.additions.is_empty() || std::mem::take(&mut own),
        HotStep::Cool(_) => false,
    };
    recipe.hot_side.iter().take(step + 1).filter(done).count()
}

/// The share of `item` in the blend it is a part of.
fn share_of_blend(formula: &Formula, amounts: &Amounts, item: &Item, amount: f64) -> Share {
    let whole: f64 = formula
        .items
        .with(&amounts.of)
        .filter(|(other, _)| other.same_addition(item))
        .map(|(_, amount)| amount)
        .sum();
    Share::clamped(amount / whole.max(f64::MIN_POSITIVE))
}

/// Shares by weight of the wort's fermentables.
fn weight_shares(formula: &Formula, amounts: &Amounts) -> PerItem<f64> {
    let weights = formula.items.map(|index, item| {
        let part = item.fermentable(amounts.of.at(index));
        let part = part.filter(|_| item.is_mashed() || item.is_kettle_sugar());
        part.map_or(0.0, |(_, kg)| kg)
    });
    let total: f64 = weights.values().sum();
    weights.map(|_, weight| weight / total.max(f64::MIN_POSITIVE))
}
