//! The inverse: amounts for a plant that meet the source's figures.

use super::options::WeighOut;
use super::plan::Plan;
use super::{Outcome, ScaleOptions, Stop, gas, liquor, report, scaled, stocked, water, weigh};
use crate::catalogue::{Catalogue, EntryRef, Kind};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Aim, Amounts, Assumption, Brewed, DRIED_MALT_EXTRACT, Design, Dosing, Figures, Formula,
    GravityProfile, History, Item, Limit, Material, Notes, Plant, Reach, Rule, Side, SourceBrew,
    Stage, SugarShare, Volumes, before_boil_hot_l, brew, brew_with, carbonation_is_as_stated,
    check_yield, dilution, kettle_sugars, note_defaults, reach, read_swapped, remarks,
    source_mash_ph, utilisation, what_is_as_stated, wort_for_packaged, wort_of,
};
use crate::quantity::{
    BrewhouseYield, Extract, LaboratoryExtract, Written, in_litres, litres, minutes,
};
use crate::recipe::{BatchPoint, Brewhouse, Recipe};
use crate::remedy::{Extracts, Remedy, for_gravity, for_kettle};

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
    scale_swapped(recipe, brewhouse, catalogue, options, None)
}

/// As [`scale`], where the mash factor of the printed recipe is known already.
pub(crate) fn scale_swapped(
    recipe: &Recipe,
    brewhouse: &Brewhouse,
    catalogue: &Catalogue,
    options: &ScaleOptions,
    printed_mash_factor: Option<f64>,
) -> Result<Plan, Error> {
    let batch = brewhouse.batch.as_ref().ok_or_else(|| {
        Error::new(
            ErrorKind::PlantIncomplete,
            format!("the plant `{}` has no batch size", brewhouse.name),
        )
        .with_help("add a line such as `batch 8 L into fermenter` to it")
    })?;
    let source_model = options.source.as_ref().and_then(|plant| plant.bitterness);
    let model = options
        .bitterness
        .or(brewhouse.bitterness)
        .or(source_model)
        .unwrap_or_default();
    let mut notes = Notes::default();
    let (source_formula, source_plant, source) = read_swapped(
        recipe,
        options.source.as_ref(),
        catalogue,
        Some(model),
        (printed_mash_factor, &mut notes),
    )?;
    remarks(
        &source_formula,
        &source.brewed,
        &source_plant,
        &mut notes.warnings,
    );
    let shelf = stocked::Shelf::of(&options.stock);
    let (stocked_recipe, lot_changes, mut outcomes) = stocked::with_lots(recipe, &shelf);
    let mut target_notes = Vec::new();
    let mut formula = source_formula.with_lots(&stocked_recipe, catalogue, &mut target_notes)?;
    let mut plant = Plant::settle(brewhouse, Side::Target, None, &mut notes.assumptions);
    plant.bitterness = model;
    plant.history = History::of(&formula, &plant);
    note_defaults(brewhouse, &formula, &plant, &mut notes.assumptions);
    for note in target_notes {
        // What the source's line left to the catalogue is said once, lots or no lots.
        let said = |known: &Assumption| match (known, &note) {
            (
                Assumption::CatalogueFigures { name, .. },
                Assumption::CatalogueFigures { name: again, .. },
            ) => name == again,
            _ => *known == note,
        };
        if !notes.assumptions.iter().any(said) {
            notes.assumptions.push(note);
        }
    }
    keep_doses(&mut formula, &source);
    let job = Job {
        formula: &formula,
        plant: &plant,
        source: &source,
        source_formula: &source_formula,
        source_plant: &source_plant,
    };
    let found = job.solve(in_litres(batch.volume.value()), batch.at)?;
    check_yield(&plant, &found.brewed)?;
    let extracts = helpers(catalogue);
    outcomes.extend(job.outcomes(&found, extracts));
    let source_figures = Figures::predicted(&source.brewed);
    outcomes.extend(job.colour(recipe, &source_figures, &found, catalogue));
    let weighed = match options.weigh_out {
        WeighOut::Rounded => weigh::weighed(&formula, &found.amounts, &brewhouse.weighing),
        WeighOut::Exact => found.amounts.clone(),
    };
    let brewed = brew(&formula, &weighed, &plant, source.nature);
    remarks(&formula, &brewed, &plant, &mut notes.warnings);
    let mut water_changes = Vec::new();
    let treated = liquor::Bench {
        recipe,
        brewhouse,
        formula: &formula,
        amounts: &weighed,
        catalogue,
        options,
        shelf: &shelf,
    }
    .treat(&mut notes, (&mut water_changes, &mut outcomes));
    let gas = gas::plan(
        (&stocked_recipe, &formula),
        &weighed.of,
        &brewed,
        &gas::Measured::default(),
        &mut notes.warnings,
    );
    let predicted = Figures::predicted(&brewed)
        .with_mash_ph(treated.mash_ph)
        .with_carbonation(gas.as_ref().map(gas::GasPlan::reached));
    let source_ph = source_mash_ph(
        recipe,
        options.source.as_ref(),
        (&source_formula, &source.amounts),
        catalogue,
        &mut notes.assumptions,
    );
    job.warn(&found, (&weighed, &brewed), &mut notes.warnings);
    if gas.is_none() {
        carbonation_is_as_stated(recipe, &mut notes.assumptions);
    }
    what_is_as_stated(&source_formula, &source_plant, &mut notes.assumptions);
    if let Some(known) = plant.known_yield
        && brewhouse.lauter.is_some()
        && brewhouse.extract_yield.is_some()
    {
        notes.assumptions.push(Assumption::YieldOverridesLauter {
            side: Side::Target,
            reached: BrewhouseYield::clamped(known.value),
        });
    }
    let mut changes = job.changes(recipe, brewhouse, &weighed, &brewed);
    changes.extend(lot_changes);
    changes.extend(water_changes);
    let cells = job.cells(&brewed, &mut notes.assumptions);
    let additions = job.additions(recipe, brewhouse, &weighed, &brewed);
    let volumes = Volumes::of(&brewed, &weighed, &formula, &plant);
    let mut water = water::plan(
        recipe,
        brewhouse,
        &plant,
        (&brewed, &volumes),
        (&mut notes.assumptions, &mut outcomes),
    );
    water.reached = treated.reached;
    water.balance = treated.balance;
    water.additions = treated.additions;
    let shopping = stocked::shopping(&additions, &water.additions, &stocked_recipe, &shelf);
    Ok(Plan {
        recipe: scaled::recipe(
            stocked_recipe,
            &formula,
            &weighed,
            brewhouse,
            batch,
            predicted
                .original
                .unwrap_or(Extract::clamped(100.0 * found.reach.strength)),
            match options.weigh_out {
                WeighOut::Rounded => scaled::Digits::Four,
                WeighOut::Exact => scaled::Digits::All,
            },
        ),
        brewhouse: brewhouse.clone(),
        drift: report::drift(&Figures::predicted(&found.brewed), &predicted),
        water,
        predicted,
        published: Figures::published(&recipe.targets)
            .with_printed_mash_ph(recipe.mash.ph.as_ref().map(Written::value)),
        source: source_figures.with_mash_ph(source_ph),
        volumes,
        boil: minutes(formula.boil_min),
        additions,
        cells,
        gas,
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
        dried_malt: of("dried malt extract pale", DRIED_MALT_EXTRACT),
        sugar: of("sucrose", 1.0).min(1.0),
    }
}

/// What is to be solved: the source's figures on a target plant.
pub(super) struct Job<'a> {
    pub(super) formula: &'a Formula,
    pub(super) plant: &'a Plant,
    pub(super) source: &'a SourceBrew,
    pub(super) source_formula: &'a Formula,
    pub(super) source_plant: &'a Plant,
}

/// What was found for the target plant, before weighing out.
pub(super) struct Found {
    design: Design,
    aim: Aim,
    reach: Reach,
    pub(super) amounts: Amounts,
    pub(super) brewed: Brewed,
    /// Wanted from the bittering hop and the aim, where none could give it.
    pub(super) bitterness: BitternessGap,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum BitternessGap {
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
        self.plant.check(batch_l, point, self.formula.boil_min)?;
        match point {
            BatchPoint::EndOfBoil => Ok(self.lay_out(batch_l)),
            BatchPoint::IntoFermenter => Ok(self.lay_out(self.plant.post_boil_l(batch_l))),
            BatchPoint::Packaged => {
                let post_boil_l = wort_for_packaged(batch_l, self.plant, |post_boil_l| {
                    self.lay_out(post_boil_l).brewed.cellar.packaged_l
                })?;
                Ok(self.lay_out(post_boil_l))
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
                    Stage::Mash if matches!(item.ingredient.kind, Kind::Salt | Kind::Acid) => {
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
    pub(super) fn bittering(&self) -> Option<(usize, &Item)> {
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
        let per_kg = utilisation(
            item,
            self.formula,
            &profile,
            self.plant,
            self.plant.bitterness,
        ) * alpha
            * 1e6
            / unhopped.boiled.volume_l;
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
                    Limit::Holdback => Stop::GrainHoldsBack,
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
}
