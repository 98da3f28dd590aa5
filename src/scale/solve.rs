//! The inverse: amounts for a plant that meet the source's figures.

use super::options::WeighOut;
use super::plan::{Drift, Plan, PlannedAddition};
use super::{Change, Outcome, ScaleOptions, Stop, scaled, stocked, water, weigh};
use crate::catalogue::{Catalogue, EntryRef};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Aim, Amounts, Assumption, Brewed, Design, Dosing, Figures, Formula, GravityProfile, Item,
    Limit, Material, Notes, Plant, Reach, Rule, Side, SourceBrew, Stage, SugarShare, Volumes,
    Warning, before_boil_hot_l, brew, brew_with, compare_colour, dilution, kettle_sugars, reach,
    read_recipe, remarks, utilisation, what_is_as_stated, wort_of,
};
use crate::quantity::{
    Attenuation, Bitterness, BrewhouseYield, Concentration, DiastaticPower, Extract,
    LaboratoryExtract, MaltColour, Share, Time, Written, in_litres, kilograms, litres, minutes,
};
use crate::recipe::{At, BatchPoint, Brewhouse, Recipe};
use crate::remedy::{Extracts, Remedy, for_gravity, for_kettle};
use crate::science::yeast::{Cells, cells_to_pitch};

/// A grist below this may not convert itself, WK (common practice, no source).
const CONVERTS_FROM_WK: f64 = 100.0;
/// Headspace of a fermenter as a share of what is in it (rule of the crate).
const HEADSPACE: f64 = 0.25;
/// Pitching rate where neither recipe nor catalogue says one, million per mL and °P (Fix, as quoted in trade texts).
const PITCH_RATE: f64 = 0.75;
/// Bitterness this near to the aim needs no remark, IBU.
const BITTERNESS_NEAR: f64 = 0.5;

/// Works `recipe` out for `brewhouse`.
///
/// Strength, colour and bitterness of the beer are kept: grain keeps its ratios, kettle sugars their share of the
/// extract, late hops and botanicals their mass per litre of cold wort, later additions their share of what is in the
/// vessel, and the first bittering hop closes the gap in bitterness. What the plant cannot reach stands in
/// [`Plan::outcomes`] with remedies; the plan then holds the nearest that it can brew.
///
/// # Errors
///
/// `PlantIncomplete` when the plant has no batch; `Incomplete` or `Contradiction` when the recipe cannot be read, with
/// the place and what to write.
pub fn scale(
    recipe: &Recipe,
    brewhouse: &Brewhouse,
    catalogue: &Catalogue,
    options: &ScaleOptions,
) -> Result<Plan, Error> {
    let batch = brewhouse.batch.as_ref().ok_or_else(|| {
        Error::new(
            ErrorKind::PlantIncomplete,
            format!("the plant `{}` has no batch size", brewhouse.name),
        )
        .with_help("add a line such as `batch 8 L into fermenter` to it")
    })?;
    let mut notes = Notes::default();
    let (source_formula, source_plant, source) =
        read_recipe(recipe, options.source.as_ref(), catalogue, &mut notes)?;
    remarks(
        &source_formula,
        &source.brewed,
        &source_plant,
        &mut notes.warnings,
    );
    let (stocked_recipe, mut changes, mut outcomes) = stocked::with_lots(recipe, &options.stock);
    let mut target_notes = Vec::new();
    let mut formula = Formula::of(&stocked_recipe, catalogue, &mut target_notes)?;
    let plant = Plant::settle(brewhouse, Side::Target, None, &mut notes.assumptions);
    for note in target_notes {
        if !notes.assumptions.contains(&note) {
            notes.assumptions.push(note);
        }
    }
    keep_doses(&mut formula, &source);
    let job = Job {
        formula: &formula,
        plant: &plant,
        source: &source,
    };
    let found = job.solve(in_litres(batch.volume.value()), batch.at)?;
    let extracts = helpers(catalogue);
    outcomes.extend(job.outcomes(&found, extracts));
    let weighed = match options.weigh_out {
        WeighOut::Rounded => weigh::weighed(&formula, &found.amounts, &brewhouse.weighing),
        WeighOut::Exact => found.amounts.clone(),
    };
    let brewed = brew(&formula, &weighed, &plant, source.nature);
    remarks(&formula, &brewed, &plant, &mut notes.warnings);
    let predicted = Figures::predicted(&brewed);
    compare_colour(
        &recipe.targets,
        &Figures::predicted(&source.brewed),
        &mut notes.warnings,
    );
    job.warn(&found, &brewed, &mut notes.warnings);
    what_is_as_stated(recipe, &source_formula, &mut notes.assumptions);
    if let Some(known) = plant.known_yield
        && brewhouse.lauter.is_some()
        && brewhouse.extract_yield.is_some()
    {
        notes.assumptions.push(Assumption::YieldOverridesLauter {
            side: Side::Target,
            reached: BrewhouseYield::clamped(known.value),
        });
    }
    changes.extend(job.changes(recipe, brewhouse, &weighed, &brewed));
    let cells = job.cells(&brewed, &mut notes.assumptions);
    let additions = job.additions(&weighed, &brewed);
    let volumes = Volumes::of(&brewed, &weighed, &formula, &plant);
    let shopping = stocked::shopping(&additions, &stocked_recipe, &options.stock);
    Ok(Plan {
        recipe: scaled::recipe(
            &stocked_recipe,
            &formula,
            &weighed,
            brewhouse,
            batch,
            predicted
                .original
                .unwrap_or(Extract::clamped(100.0 * found.reach.strength)),
        ),
        brewhouse: brewhouse.clone(),
        drift: drift(&Figures::predicted(&found.brewed), &predicted),
        water: water::plan(
            recipe,
            brewhouse,
            &plant,
            brewed.grist.mass_kg,
            brewed.grist.moisture_kg,
            volumes.mash_water,
        ),
        predicted,
        published: Figures::published(&recipe.targets),
        source: Figures::predicted(&source.brewed),
        volumes,
        additions,
        cells,
        changes,
        assumptions: notes.assumptions,
        warnings: notes.warnings,
        outcomes,
        shopping,
    })
}

/// Turns the amounts of later additions into doses of what was in the source's vessel, so that they travel.
fn keep_doses(formula: &mut Formula, source: &SourceBrew) {
    let vessels = &source.brewed.cellar.vessel_l;
    let amounts = source.amounts.of.iter().zip(vessels);
    for (item, (amount, vessel_l)) in formula.items.iter_mut().zip(amounts) {
        if item.place.stage != Stage::Ferment || *vessel_l <= 0.0 {
            continue;
        }
        item.rule = match item.rule {
            Rule::Kilograms(_) => Rule::GramsPerLitre(1000.0 * amount / vessel_l),
            Rule::Litres(_) => Rule::LitresPerLitre(amount / vessel_l),
            kept => kept,
        };
    }
}

/// Extract per kilogram of what a remedy dissolves in the kettle.
fn helpers(catalogue: &Catalogue) -> Extracts {
    let of = |name: &str, otherwise: f64| match catalogue.find(name).map(|found| found.entry) {
        Some(EntryRef::Fermentable(known)) => known
            .extract_as_is()
            .map_or(otherwise, LaboratoryExtract::fraction),
        _ => otherwise,
    };
    // The figures beside the names are those of the built-in catalogue, for a host that hides its entries.
    Extracts {
        dried_malt: of("dried malt extract pale", 0.955),
        sugar: of("sucrose", 1.0).min(1.0),
    }
}

/// What is to be solved: the source's figures on a target plant.
struct Job<'a> {
    formula: &'a Formula,
    plant: &'a Plant,
    source: &'a SourceBrew,
}

/// What was found for the target plant, before weighing out.
struct Found {
    design: Design,
    aim: Aim,
    reach: Reach,
    amounts: Amounts,
    brewed: Brewed,
    /// Wanted from the bittering hop and the aim, where none could give it.
    bitterness: BitternessGap,
}

#[derive(Clone, Copy, PartialEq)]
enum BitternessGap {
    Closed,
    /// The rest is more bitter than the aim.
    TooBitter,
    /// There is no hop that could close it.
    NoHop,
}

impl Job<'_> {
    /// Amounts for a batch of `batch_l` counted at `point`.
    fn solve(&self, batch_l: f64, point: BatchPoint) -> Result<Found, Error> {
        if batch_l <= 0.0 {
            return Err(Error::new(
                ErrorKind::PlantIncomplete,
                format!("the batch of the plant `{}` is zero", self.plant.name),
            ));
        }
        match point {
            BatchPoint::EndOfBoil => Ok(self.lay_out(batch_l)),
            BatchPoint::IntoFermenter => Ok(self.lay_out(self.plant.post_boil_l(batch_l))),
            BatchPoint::Packaged => {
                // Everything but the fixed losses is proportional to the wort.
                let mut post_boil_l = self.plant.post_boil_l(batch_l);
                let mut found = self.lay_out(post_boil_l);
                for _ in 0..50 {
                    let missing_l = batch_l - found.brewed.cellar.packaged_l;
                    if missing_l.abs() < 1e-12 * batch_l {
                        break;
                    }
                    post_boil_l += missing_l;
                    found = self.lay_out(post_boil_l);
                }
                Ok(found)
            }
        }
    }

    fn lay_out(&self, post_boil_l: f64) -> Found {
        let design = self.design();
        let aim = Aim {
            volume_l: post_boil_l,
            strength: self.source.strength,
        };
        let reach = reach(&design, aim, self.plant);
        let mut amounts = Amounts {
            of: self.proportional(post_boil_l, &reach),
            liquor: reach.liquor,
        };
        let unhopped = brew_with(
            self.formula,
            &mut amounts,
            self.plant,
            self.source.nature,
            Dosing::ByRule,
        );
        let bitterness = self.close_bitterness(&mut amounts, &unhopped);
        self.package(&mut amounts, &unhopped);
        let brewed = brew(self.formula, &amounts, self.plant, self.source.nature);
        Found {
            design,
            aim,
            reach,
            amounts,
            brewed,
            bitterness,
        }
    }

    /// The source's grist with the target's own lots, and its sugars by their share of the extract.
    fn design(&self) -> Design {
        let sugars = self
            .formula
            .items
            .iter()
            .zip(&self.source.extract_share)
            .filter_map(|(item, share)| match item.material {
                Material::Fermentable(part) if item.is_kettle_sugar() && *share > 0.0 => {
                    Some(SugarShare {
                        share: *share,
                        water_per_extract: part.water / part.extract,
                        time_left_min: item.time_left_min(self.formula.boil_min),
                    })
                }
                _ => None,
            })
            .collect();
        Design {
            unit: crate::process::grist(self.formula, &self.source.amounts.of),
            sugars,
            boil_min: self.formula.boil_min,
            mash_c: self.formula.mash_rest_c,
        }
    }

    /// Everything that keeps a proportion: to the grist, to the extract, or to the wort.
    fn proportional(&self, post_boil_l: f64, reach: &Reach) -> Vec<f64> {
        let extract_kg = wort_of(post_boil_l, reach.strength).extract_kg;
        let source = self.source;
        let by_wort = post_boil_l / source.brewed.boiled.volume_l.max(f64::MIN_POSITIVE);
        let by_water = reach.liquor.mash_l / source.amounts.liquor.mash_l.max(f64::MIN_POSITIVE);
        self.formula
            .items
            .iter()
            .zip(source.amounts.of.iter().zip(&source.extract_share))
            .map(|(item, (amount, share))| match item.material {
                Material::Fermentable(_) if item.is_mashed() => amount * reach.factor,
                Material::Fermentable(part) if item.is_kettle_sugar() => {
                    let kg = share * extract_kg / part.extract.max(f64::MIN_POSITIVE);
                    if item.is_by_volume() {
                        kg / part.density_kg_l
                    } else {
                        kg
                    }
                }
                _ => match item.place.stage {
                    Stage::Mash
                        if matches!(
                            item.ingredient.kind,
                            crate::catalogue::Kind::Salt | crate::catalogue::Kind::Acid
                        ) =>
                    {
                        amount * by_water
                    }
                    Stage::Mash => amount * reach.factor,
                    Stage::Boil | Stage::Stand => amount * by_wort,
                    Stage::Ferment | Stage::Package => *amount,
                },
            })
            .collect()
    }

    /// Additions at packaging keep their amount per litre of beer.
    fn package(&self, amounts: &mut Amounts, brewed: &Brewed) {
        let by_beer =
            brewed.cellar.packaged_l / self.source.brewed.cellar.packaged_l.max(f64::MIN_POSITIVE);
        let source = &self.source.amounts.of;
        for ((item, amount), source) in self.formula.items.iter().zip(&mut amounts.of).zip(source) {
            if item.place.stage == Stage::Package {
                *amount = match item.rule {
                    Rule::GramsPerLitre(dose) => dose * brewed.cellar.packaged_l / 1000.0,
                    Rule::LitresPerLitre(dose) => dose * brewed.cellar.packaged_l,
                    _ => source * by_beer,
                };
            }
        }
    }

    /// The item that closes the gap in bitterness: the hop that boils longest.
    fn bittering(&self) -> Option<(usize, &Item)> {
        let boil_min = self.formula.boil_min;
        self.formula
            .items
            .iter()
            .enumerate()
            .filter(|(_, item)| item.is_hot_hop() && item.place.stage == Stage::Boil)
            .filter(|(_, item)| item.time_left_min(boil_min) > 0.0)
            .max_by(|(i, a), (j, b)| {
                a.time_left_min(boil_min)
                    .total_cmp(&b.time_left_min(boil_min))
                    .then(j.cmp(i))
            })
    }

    /// Sets the bittering hop so that the beer is as bitter as the source's.
    fn close_bitterness(&self, amounts: &mut Amounts, unhopped: &Brewed) -> BitternessGap {
        let dilution = dilution(unhopped);
        let aim_ibu = self.source.aim_ibu / dilution;
        let Some((index, item)) = self.bittering() else {
            let off = (unhopped.wort_ibu() - aim_ibu).abs() * dilution;
            return if off > BITTERNESS_NEAR {
                BitternessGap::NoHop
            } else {
                BitternessGap::Closed
            };
        };
        let others: f64 = unhopped
            .ibu
            .iter()
            .enumerate()
            .filter(|(i, _)| *i != index)
            .map(|(_, ibu)| ibu)
            .sum();
        let sugars = kettle_sugars(self.formula, &amounts.of);
        let profile = GravityProfile::of(
            &unhopped.run,
            &sugars,
            &unhopped.boiled,
            self.formula.boil_min,
        );
        let Material::Hop { alpha } = item.material else {
            return BitternessGap::NoHop;
        };
        let gap_ibu = aim_ibu - others;
        let per_kg =
            utilisation(item, self.formula, &profile) * alpha * 1e6 / unhopped.boiled.volume_l;
        if per_kg <= 0.0 {
            return BitternessGap::NoHop;
        }
        if let Some(amount) = amounts.of.get_mut(index) {
            *amount = gap_ibu.max(0.0) / per_kg;
        }
        if gap_ibu * dilution < -BITTERNESS_NEAR {
            BitternessGap::TooBitter
        } else {
            BitternessGap::Closed
        }
    }

    fn outcomes(&self, found: &Found, extracts: Extracts) -> Vec<Outcome> {
        let mut outcomes = Vec::new();
        if let Some(limit) = found.reach.stopped {
            outcomes.push(Outcome::GravityOutOfReach {
                wanted: Extract::clamped(100.0 * found.aim.strength),
                highest: Extract::clamped(100.0 * found.reach.strength),
                because: match limit {
                    Limit::Thickness => Stop::TooThick,
                    Limit::MashVessel => Stop::VesselFull,
                    Limit::NoMash => Stop::NoMash,
                },
                remedies: for_gravity(&found.design, found.aim, self.plant, &found.reach, extracts),
            });
        }
        let hot_l = before_boil_hot_l(&found.design, found.aim, self.plant);
        if let Some(capacity_l) = self.plant.kettle_l
            && hot_l > capacity_l
        {
            let remedies = for_kettle(&found.design, found.aim, self.plant);
            let largest_batch = remedies.iter().find_map(|remedy| match remedy {
                Remedy::SmallerBatch { batch, .. } => Some(*batch),
                _ => None,
            });
            outcomes.push(Outcome::KettleOverflows {
                needed: litres(hot_l),
                capacity: litres(capacity_l),
                largest_batch,
                remedies,
            });
        }
        outcomes
    }

    fn warn(&self, found: &Found, brewed: &Brewed, warnings: &mut Vec<Warning>) {
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
    }

    fn changes(
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
                    share: Attenuation::clamped(
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
            changes.push(Change::StandLeftOut { time: bare_stand });
        }
        changes
    }

    fn cells(&self, brewed: &Brewed, assumptions: &mut Vec<Assumption>) -> Option<Cells> {
        let (_, yeast) = self.formula.yeast()?;
        let rate = yeast.pitch_rate.unwrap_or(PITCH_RATE);
        if !yeast.stated_pitch_rate {
            assumptions.push(Assumption::PitchRate {
                million_per_ml_plato: rate,
            });
        }
        cells_to_pitch(
            crate::quantity::PitchRate::clamped(rate),
            litres(brewed.into_fermenter_l),
            Extract::clamped(100.0 * brewed.boiled.strength()),
        )
        .ok()
    }

    fn additions(&self, amounts: &Amounts, brewed: &Brewed) -> Vec<PlannedAddition> {
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
                let (extract, colour, brix) = match item.material {
                    Material::Fermentable(part) => {
                        let kg = if by_volume {
                            amount * part.density_kg_l
                        } else {
                            amount
                        };
                        let yielded = if item.is_mashed() { run_off } else { 1.0 };
                        let is_juice = item.ingredient.kind == crate::catalogue::Kind::Juice;
                        (
                            Some(kilograms(kg * part.extract * yielded)),
                            part.colour_ebc
                                .filter(|_| !is_juice)
                                .map(MaltColour::clamped),
                            is_juice.then(|| Extract::clamped(100.0 * part.extract)),
                        )
                    }
                    _ => (None, None, None),
                };
                let wort_side = item.is_mashed() || item.is_kettle_sugar();
                let time_left = (item.place.stage == Stage::Boil)
                    .then(|| minutes(item.time_left_min(self.formula.boil_min)));
                let timing = &item.timing;
                PlannedAddition {
                    stage: item.place.stage,
                    name: item.ingredient.name.clone(),
                    kind: item.ingredient.kind,
                    mass: (!by_volume && !is_yeast).then(|| kilograms(amount)),
                    volume: (by_volume && !is_yeast).then(|| litres(amount)),
                    share: wort_side.then(|| Share::clamped(at(&shares))),
                    extract,
                    bitterness: item
                        .is_hot_hop()
                        .then(|| Bitterness::clamped(at(&brewed.ibu))),
                    time_left,
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
                    source_mass: (!by_volume && !is_yeast)
                        .then(|| kilograms(at(&self.source.amounts.of))),
                    colour,
                    alpha: match item.material {
                        Material::Hop { alpha } => {
                            Some(crate::quantity::AlphaAcids::clamped(alpha))
                        }
                        _ => None,
                    },
                    brix,
                }
            })
            .collect()
    }
}

/// Shares by weight of the wort's fermentables.
fn weight_shares(formula: &Formula, amounts: &Amounts) -> Vec<f64> {
    let kg = |item: &Item, amount: f64| match item.material {
        Material::Fermentable(part) if item.is_mashed() || item.is_kettle_sugar() => {
            if item.is_by_volume() {
                amount * part.density_kg_l
            } else {
                amount
            }
        }
        _ => 0.0,
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
fn drift(exact: &Figures, weighed: &Figures) -> Vec<Drift> {
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
