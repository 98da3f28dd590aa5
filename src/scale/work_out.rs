//! A recipe worked out for a plant: the source read, the amounts found, weighed out and predicted, and all that is told of it.

use super::options::WeighOut;
use super::plan::Plan;
use super::solve::Job;
use super::{ScaleOptions, gas, liquor, report, scaled, stocked, water, weigh};
use crate::catalogue::{Catalogue, EntryRef};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Assumption, DRIED_MALT_EXTRACT, Figures, Formula, History, Notes, Plant, Rule, Side,
    SourceBrew, Stage, Volumes, brew, carbonation_is_as_stated, check_yield, note_defaults,
    read_swapped, remarks, source_mash_ph, what_is_as_stated,
};
use crate::quantity::{BrewhouseYield, Extract, LaboratoryExtract, Written, in_litres, minutes};
use crate::recipe::{Brewhouse, Recipe};
use crate::remedy::Extracts;

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
            )
            | (Assumption::OwnFigures { name, .. }, Assumption::OwnFigures { name: again, .. }) => {
                name == again
            }
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
