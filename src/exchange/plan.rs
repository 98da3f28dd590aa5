//! `predict`, `scale` and `sheet`: what a recipe gives, and what it takes on another plant.

use super::fault::Fault;
use super::finding::{Finding, Findings, Place};
use super::material::{Material, Sent};
use super::request::Request;
use super::said::{Said, SaidOutcome, said, said_outcomes};
use super::substitutes::with_taken;
use super::{refuse, reply};
use crate::caution::Caution;
use crate::process::{Assumption, Figures, Volumes, Warning, predict_by};
use crate::recipe::{Brewhouse, Recipe};
use crate::scale::{
    Change, Drift, GasPlan, Plan, PlannedAddition, Purchase, ScaleOptions, WaterPlan,
};
use crate::science::yeast::Cells;
use crate::sheet::SheetOptions;
use crate::wording::Style;
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Prediction {
    predicted: Figures,
    published: Figures,
    volumes: Volumes,
    assumptions: Vec<Said<Assumption>>,
    warnings: Vec<Said<Warning>>,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Sheet {
    text: String,
}

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Scaled {
    predicted: Figures,
    published: Figures,
    source: Figures,
    volumes: Volumes,
    water: WaterPlan,
    additions: Vec<PlannedAddition>,
    #[serde(skip_serializing_if = "Option::is_none")]
    yeast_billion_cells: Option<Cells>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gas: Option<GasPlan>,
    changes: Vec<Said<Change>>,
    assumptions: Vec<Said<Assumption>>,
    warnings: Vec<Said<Warning>>,
    outcomes: Vec<SaidOutcome>,
    cautions: Vec<Caution>,
    drift: Vec<Said<Drift>>,
    shopping: Vec<Purchase>,
    text: String,
}

pub(super) fn predict(text: &str, mut request: Request, id: Option<&str>) -> String {
    let sent = Sent::taken_from(&mut request);
    let material = match Material::of(text, &request, sent) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match predicted(&material, &request) {
        Ok(result) => reply(id, &material.findings, result),
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

pub(super) fn scale(text: &str, mut request: Request, id: Option<&str>) -> String {
    let sent = Sent::taken_from(&mut request);
    let material = match Material::of(text, &request, sent) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match scaled(&material, &request) {
        Ok(result) => reply(id, &material.findings, result),
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

pub(super) fn sheet(text: &str, mut request: Request, id: Option<&str>) -> String {
    let sent = Sent::taken_from(&mut request);
    let material = match Material::of(text, &request, sent) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match worked_out(&material, &request) {
        Ok((plan, style)) => {
            let options = SheetOptions::default().with_style(style);
            let text = plan.sheet(&options);
            reply(id, &material.findings, Sheet { text })
        }
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

fn predicted(material: &Material<'_>, request: &Request) -> Result<Prediction, Findings> {
    let recipe = material.recipe()?;
    let moved;
    let (recipe, plant) = match &request.to {
        Some(to) => {
            let plant = named(to, material)?;
            moved = Recipe {
                brewed_on: Some(plant.name.clone()),
                ..recipe.clone()
            };
            (&moved, Some(plant))
        }
        None => (recipe, brewed_on(recipe, material)?),
    };
    let prediction = predict_by(
        recipe,
        plant,
        &material.catalogue,
        request.bitterness_model(),
    )
    .map_err(|error| material.refusal(&error, plant))?;
    let style = request.style(plant);
    Ok(Prediction {
        predicted: prediction.predicted,
        published: prediction.published,
        volumes: prediction.volumes,
        assumptions: said(prediction.assumptions, style),
        warnings: said(prediction.warnings, style),
    })
}

fn scaled(material: &Material<'_>, request: &Request) -> Result<Scaled, Findings> {
    let (plan, style) = worked_out(material, request)?;
    Ok(Scaled {
        text: plan
            .to_document()
            .followed_by(material.own_ingredients())
            .to_string(),
        cautions: plan.cautions(),
        predicted: plan.predicted,
        published: plan.published,
        source: plan.source,
        volumes: plan.volumes,
        water: plan.water,
        additions: plan.additions,
        yeast_billion_cells: plan.cells,
        gas: plan.gas,
        changes: said(plan.changes, style),
        assumptions: said(plan.assumptions, style),
        warnings: said(plan.warnings, style),
        outcomes: said_outcomes(plan.outcomes, style),
        drift: said(plan.drift, style),
        shopping: plan.shopping,
    })
}

/// The plan for the plant that the request names, and the units it is said in.
pub(super) fn worked_out(
    material: &Material<'_>,
    request: &Request,
) -> Result<(Plan, Style), Findings> {
    let recipe = material.recipe()?;
    let (source, target) = plants(recipe, material, request)?;
    let taken;
    let recipe = match &request.take {
        Some(take) => {
            taken = with_taken(recipe, take, material)?;
            &taken
        }
        None => recipe,
    };
    let mut options = ScaleOptions::default()
        .with_source(source.cloned())
        .with_stock(material.stock.clone());
    options.bitterness = request.bitterness_model();
    let plan = crate::scale::scale(recipe, target, &material.catalogue, &options)
        .map_err(|error| material.refusal(&error, Some(target)))?;
    Ok((plan, request.style(Some(target))))
}

/// The plant that a recipe was brewed on, if any is known, and the one to brew it on.
pub(super) fn plants<'a>(
    recipe: &Recipe,
    material: &'a Material<'_>,
    request: &Request,
) -> Result<(Option<&'a Brewhouse>, &'a Brewhouse), Findings> {
    let source = brewed_on(recipe, material)?;
    let target = match &request.to {
        Some(to) => named(to, material)?,
        None => only_target(source, material)?,
    };
    Ok((source, target))
}

/// The plant of that name.
fn named<'a>(to: &str, material: &'a Material<'_>) -> Result<&'a Brewhouse, Findings> {
    Brewhouse::named(to, &material.brewhouses).map_err(|error| {
        let place = Place::at_value(material.request, &["to"]);
        vec![Finding::refusal(&error, place)]
    })
}

/// The plant that the recipe was brewed on; none means a commercial one.
fn brewed_on<'a>(
    recipe: &Recipe,
    material: &'a Material<'_>,
) -> Result<Option<&'a Brewhouse>, Findings> {
    recipe
        .plant_among(&material.brewhouses)
        .map_err(|error| material.refusal(&error, None))
}

/// The only plant with a batch beside the one that the recipe was brewed on.
fn only_target<'a>(
    source: Option<&Brewhouse>,
    material: &'a Material<'_>,
) -> Result<&'a Brewhouse, Findings> {
    let mut targets = material
        .brewhouses
        .iter()
        .filter(|plant| plant.batch.is_some() && source != Some(*plant));
    if let (Some(only), None) = (targets.next(), targets.next()) {
        return Ok(only);
    }
    let names: Vec<_> = material
        .brewhouses
        .iter()
        .map(|plant| plant.name.as_str())
        .collect();
    let message = "expected `to`, the name of the plant to brew on, found none".to_owned();
    let help = if names.is_empty() {
        "write a `brewhouse` block with a `batch` line and name it in `to`".to_owned()
    } else {
        format!("the plants are `{}`", names.join("`, `"))
    };
    let finding = Fault::MissingField.at(material.request, 0..1, message);
    Err(vec![finding.with_help(Some(help))])
}
