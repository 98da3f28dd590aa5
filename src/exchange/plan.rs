//! `predict`, `scale` and `sheet`: what a recipe gives, and what it takes on another plant.

use super::AnswerJson;
use super::diagnostics::Diagnostics;
use super::entries::{Entry, entries, noted, outcomes};
use super::material::Material;
use super::request::Request;
use super::spread::{Spreads, spreads};
use super::write::json;
use crate::caution::Caution;
use crate::process::{Assumption, Figures, GasPlan, Spread, Volumes, Warning};
use crate::remedy::Remedy;
use crate::scale::{Change, Drift, Outcome, Plan, PlannedAddition, Purchase, WaterPlan};
use crate::science::yeast::Cells;
use crate::speech::Style;
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Prediction {
    predicted: Figures,
    #[serde(skip_serializing_if = "Option::is_none")]
    spread: Option<Spreads>,
    published: Figures,
    volumes: Volumes,
    #[serde(skip_serializing_if = "Option::is_none")]
    gas: Option<GasPlan>,
    assumptions: Vec<Entry<Assumption>>,
    warnings: Vec<Entry<Warning>>,
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
    #[serde(skip_serializing_if = "Option::is_none")]
    spread: Option<Spreads>,
    #[serde(skip_serializing_if = "Option::is_none")]
    spread_of_difference: Option<Spreads>,
    published: Figures,
    source: Figures,
    volumes: Volumes,
    water: WaterPlan,
    additions: Vec<PlannedAddition>,
    #[serde(skip_serializing_if = "Option::is_none")]
    yeast_billion_cells: Option<Cells>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gas: Option<GasPlan>,
    changes: Vec<Entry<Change>>,
    assumptions: Vec<Entry<Assumption>>,
    warnings: Vec<Entry<Warning>>,
    outcomes: Vec<Entry<Outcome>>,
    cautions: Vec<Caution>,
    #[serde(skip_serializing_if = "Option::is_none")]
    remedy: Option<Entry<Remedy>>,
    drift: Vec<Entry<Drift>>,
    shopping: Vec<Purchase>,
    text: String,
}

pub(super) fn sheet(material: &Material<'_>, request: &Request) -> Result<AnswerJson, Diagnostics> {
    let (plan, style) = worked_out(material, request)?;
    let text = plan.sheet(&request.sheet(style));
    Ok(json(&Sheet { text }))
}

pub(super) fn predict(
    material: &Material<'_>,
    request: &Request,
) -> Result<AnswerJson, Diagnostics> {
    let (prediction, plant) = if request.to.is_some() {
        let brew = material.brew(request)?;
        (brew.predict(), Some(brew.brewhouse().clone()))
    } else {
        material.recipe()?;
        let predicted = match request.bitterness_model() {
            Some(model) => material.job.as_written_by(model),
            None => material.job.as_written(),
        };
        (predicted, material.job.printed_on().cloned())
    };
    let plant = plant.as_ref();
    let prediction = prediction.map_err(|error| material.refusal(&error, plant))?;
    let style = request.style(plant);
    let spread = |spread: Option<&Spread>| {
        let wanted = spread.filter(|_| request.wants_spread());
        wanted.map(|spread| spreads(spread, style))
    };
    Ok(json(&Prediction {
        spread: spread(prediction.spread.as_ref()),
        predicted: prediction.predicted,
        published: prediction.published,
        volumes: prediction.volumes,
        gas: prediction.gas,
        assumptions: noted(&prediction.assumptions, style),
        warnings: noted(&prediction.warnings, style),
    }))
}

pub(super) fn scale(material: &Material<'_>, request: &Request) -> Result<AnswerJson, Diagnostics> {
    let (plan, style) = worked_out(material, request)?;
    let spread = |spread: Option<&Spread>| spread.map(|spread| spreads(spread, style));
    Ok(json(&Scaled {
        text: plan
            .to_document()
            .followed_by(material.own_ingredients())
            .to_string(),
        cautions: plan.cautions(),
        spread: spread(plan.spread.as_ref()),
        spread_of_difference: spread(plan.spread_of_difference.as_ref()),
        predicted: plan.predicted,
        published: plan.published,
        source: plan.source,
        volumes: plan.volumes,
        water: plan.water,
        additions: plan.additions,
        yeast_billion_cells: plan.cells,
        gas: plan.gas,
        changes: noted(&plan.changes, style),
        assumptions: noted(&plan.assumptions, style),
        warnings: noted(&plan.warnings, style),
        outcomes: outcomes(&plan.outcomes, style),
        remedy: entries(plan.remedy.as_slice(), style).pop(),
        drift: entries(&plan.drift, style),
        shopping: plan.shopping,
    }))
}

/// The plan for the plant that the request names, and the units it is said in.
pub(super) fn worked_out(
    material: &Material<'_>,
    request: &Request,
) -> Result<(Plan, Style), Diagnostics> {
    let brew = material.brew(request)?;
    let plant = Some(brew.brewhouse());
    let plan = brew.plan();
    let plan = plan.map_err(|error| material.refusal(&error, plant))?;
    Ok((plan, request.style(plant)))
}
