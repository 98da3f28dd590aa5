//! `learn`: a plant's figures from its brewing days.

use super::AnswerJson;
use super::diagnostics::{AnswerDiagnostic, Diagnostics, Location};
use super::entries::{Entry, learnt as told, learnt_days, noted};
use super::fault::Fault;
use super::material::Material;
use super::plan::worked_out;
use super::request::Request;
use super::write::json;
use crate::diagnostic::Error;
use crate::learn::{
    BrewDay, LearnRemark, Learnt, LearntDay, LearntFigure, NextDay, learn, learn_from,
};
use crate::recipe::Brewhouse;
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Learning {
    brewhouse: Brewhouse,
    text: String,
    figures: Vec<Entry<LearntFigure>>,
    days: Vec<Entry<LearntDay>>,
    next_day: Vec<Entry<NextDay>>,
    not_told_apart: Vec<[String; 2]>,
    remarks: Vec<Entry<LearnRemark>>,
}

pub(super) fn answer(
    material: &Material<'_>,
    request: &Request,
) -> Result<AnswerJson, Diagnostics> {
    let learnt = match &request.days {
        Some(days) => of_days(material, request, days)?,
        None => of_logs(material, request)?,
    };
    let style = learnt.brewhouse.style();
    Ok(json(&Learning {
        text: learnt.lines(),
        figures: told(&learnt.figures, style),
        days: learnt_days(&learnt.days, style),
        next_day: told(&learnt.next_day, style),
        not_told_apart: learnt.not_told_apart,
        remarks: noted(&learnt.remarks, style),
        brewhouse: learnt.brewhouse,
    }))
}

/// All logs are of the recipe on the plant.
fn of_logs(material: &Material<'_>, request: &Request) -> Result<Learnt, Diagnostics> {
    let logs = material.job.logs();
    if logs.is_empty() {
        let message = "expected a log of a brewing day, found none".to_owned();
        let help = "send a text with a recipe, its brewhouse and a `log` block for each day";
        let finding = AnswerDiagnostic::error(Fault::NoLog.code(), message, material.whole());
        return Err(vec![finding.with_help(Some(help.to_owned()))]);
    }
    let plant = material.brew(request)?.brewhouse().clone();
    let (plan, _) = worked_out(material, request)?;
    let brewed = &plan.brews().target;
    let brews: Vec<_> = logs.iter().map(|log| (brewed, log)).collect();
    learn_from(&plant, &brews).map_err(|error| material.refusal(&error, Some(&plant)))
}

/// Each day has its own plan.
fn of_days(
    material: &Material<'_>,
    request: &Request,
    days: &[BrewDay],
) -> Result<Learnt, Diagnostics> {
    let text = material.request;
    let beside = [
        ("recipe", material.job.recipe().is_some()),
        ("logs", !material.job.logs().is_empty()),
    ];
    if let Some((word, _)) = beside.iter().find(|(_, is_there)| *is_there) {
        let message =
            format!("`days` bring their own plans and logs: the {word} beside them has no effect");
        return Err(vec![Fault::ConflictingFields.at_key(
            text,
            &["days"],
            message,
        )]);
    }
    let plants = material.job.brewhouses();
    let refused = |error: Error, field: &str| {
        vec![AnswerDiagnostic::refusal(
            &error,
            Location::at_key(text, &[field]),
        )]
    };
    let plant = match (&request.to, plants) {
        (Some(to), _) => Brewhouse::find(to, plants).map_err(|error| refused(error, "to"))?,
        (None, [only]) => only,
        (None, _) => {
            let message = "expected `to`, the name of the plant that learns, found none".to_owned();
            return Err(vec![Fault::MissingField.at(text, 0..1, message)]);
        }
    };
    learn(plant, days).map_err(|error| refused(error, "days"))
}
