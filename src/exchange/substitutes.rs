//! `substitute`: what may stand for what is missing.

use super::AnswerJson;
use super::diagnostics::{AnswerDiagnostic, Diagnostics, Location};
use super::entries::{Code, Entry, coded, proposals};
use super::fault::Fault;
use super::material::Material;
use super::request::Request;
use super::write::json;
use crate::catalogue::Kind;
use crate::diagnostic::ErrorKind;
use crate::process::Figures;
use crate::recipe::RecipeLine;
use crate::substitute::{
    NoSubstitute, Noticed, Proposal, SubstituteOptions, Together, Weights, WithoutIt,
};
use serde::Serialize;

/// More proposals than this help nobody.
const MOST: usize = 50;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Substitutes {
    missing: Vec<Missing>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    sets: Vec<Set>,
}

/// A substitute for each of several lines.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Set {
    proposals: Vec<Entry<Proposal>>,
    distance: f64,
    predicted: Figures,
    noticed: Vec<Noticed>,
    summary: String,
}

/// Sets that are answered: each holds a whole proposal for each line.
const MOST_SETS: usize = 3;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Missing {
    name: String,
    line: RecipeLine,
    kind: Kind,
    candidates: usize,
    proposals: Vec<Entry<Proposal>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    no_substitute: Option<Entry<Code<NoSubstitute>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    without: Option<Entry<Code<WithoutIt>>>,
}

fn options(text: &str, request: &Request) -> Result<SubstituteOptions, Diagnostics> {
    let stated = request.options.clone().unwrap_or_default();
    let names = request.missing.iter().flatten().cloned();
    let mut options = SubstituteOptions::default().with_missing(names);
    let refused =
        |path: &[&str], message| Err(vec![Fault::WrongValue.at_value(text, path, message)]);
    if request.from_stock == Some(true) {
        options = options.from_stock();
    }
    if let Some(candidates) = stated.candidates {
        options.candidates = candidates;
    }
    if let Some(colour_match) = stated.colour_match {
        options.colour_match = colour_match;
    }
    if let Some(limit) = stated.limit {
        if !(1..=MOST).contains(&limit) {
            let message = format!("expected a limit from 1 to {MOST}, found {limit}");
            return refused(&["options", "limit"], message);
        }
        options.limit = limit;
    }
    if let Some(weights) = stated.weights {
        if let Some((name, weight)) = weights.out_of_range() {
            let message = format!(
                "expected a weight from 0 to {}, found {weight}",
                Weights::HEAVIEST
            );
            return refused(&["options", "weights", name], message);
        }
        options.weights = weights;
    }
    Ok(options)
}

pub(super) fn answer(
    material: &Material<'_>,
    request: &Request,
) -> Result<AnswerJson, Diagnostics> {
    let options = options(material.request, request)?;
    let brew = material.brew(request)?;
    let plant = Some(brew.brewhouse());
    let found = brew.substitutes_with(&options).map_err(|error| {
        if error.kind() == ErrorKind::UnknownName && !options.missing.is_empty() {
            let place = Location::at_value(material.request, &["missing"]);
            vec![AnswerDiagnostic::refusal(&error, place)]
        } else {
            material.refusal(&error, plant)
        }
    })?;
    let style = request.style(plant);
    let sets = if (2..=Together::MOST_LINES).contains(&found.missing.len()) {
        let sets = brew.sets_with(&options.clone().with_limit(options.limit.min(MOST_SETS)));
        sets.map_err(|error| material.refusal(&error, plant))?
            .combinations
    } else {
        Vec::new()
    };
    let sets = sets.into_iter().map(|set| Set {
        proposals: proposals(&set.proposals, style),
        distance: set.distance,
        predicted: set.predicted,
        noticed: set.noticed,
        summary: set.summary,
    });
    let missing = found.missing.into_iter().map(|found| Missing {
        name: found.name,
        line: found.line,
        kind: found.kind,
        candidates: found.candidates,
        proposals: proposals(&found.proposals, style),
        no_substitute: found.no_substitute.map(|reason| coded(reason, style)),
        without: found.without.map(|outcome| coded(outcome, style)),
    });
    Ok(json(&Substitutes {
        missing: missing.collect(),
        sets: sets.collect(),
    }))
}
