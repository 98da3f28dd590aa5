//! `substitute`: what may stand for what is missing; and taking what was proposed.

use super::diagnostics::{AnswerDiagnostic, Diagnostics, Location};
use super::entries::{Code, Entry, no_substitute, proposals};
use super::fault::{Fault, clipped};
use super::json_text;
use super::material::{Material, Sent};
use super::request::{Request, Taken};
use super::{refuse, reply};
use crate::catalogue::{Kind, folded};
use crate::diagnostic::ErrorKind;
use crate::job::Brew;
use crate::recipe::{Recipe, RecipeLine};
use crate::substitute::{NoSubstitute, Proposal, SubstituteOptions, Weights};
use serde::Serialize;

/// More proposals than this help nobody.
const MOST: usize = 50;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Substitutes {
    missing: Vec<Missing>,
}

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
}

pub(super) fn answer(text: &str, mut request: Request, id: Option<&str>) -> String {
    let options = match options(text, &request) {
        Ok(options) => options,
        Err(findings) => return refuse(id, &findings),
    };
    let sent = Sent::taken_from(&mut request);
    let material = match Material::of(text, &request, sent) {
        Ok(material) => material,
        Err(findings) => return refuse(id, &findings),
    };
    match proposed(&material, &request, &options) {
        Ok(result) => reply(id, &material.findings, result),
        Err(findings) => refuse(id, &material.refused(findings)),
    }
}

fn options(text: &str, request: &Request) -> Result<SubstituteOptions, Diagnostics> {
    let stated = request.options.clone().unwrap_or_default();
    let names = request.missing.iter().flatten().cloned();
    let mut options = SubstituteOptions::default().with_missing(names);
    let refused =
        |path: &[&str], message| Err(vec![Fault::WrongValue.at_value(text, path, message)]);
    if let Some(candidates) = stated.candidates {
        options.candidates = candidates;
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

fn proposed(
    material: &Material<'_>,
    request: &Request,
    options: &SubstituteOptions,
) -> Result<Substitutes, Diagnostics> {
    let brew = material.brew(request)?;
    let plant = Some(brew.brewhouse());
    let found = brew.substitutes_with(options).map_err(|error| {
        if error.kind() == ErrorKind::UnknownName && !options.missing.is_empty() {
            let place = Location::at_value(material.request, &["missing"]);
            vec![AnswerDiagnostic::refusal(&error, place)]
        } else {
            material.refusal(&error, plant)
        }
    })?;
    let style = request.style(plant);
    let missing = found.missing.into_iter().map(|found| Missing {
        name: found.name,
        line: found.line,
        kind: found.kind,
        candidates: found.candidates,
        proposals: proposals(&found.proposals, style),
        no_substitute: found
            .no_substitute
            .map(|reason| no_substitute(reason, style)),
    });
    Ok(Substitutes {
        missing: missing.collect(),
    })
}

/// The brew with the proposals that a host takes.
pub(super) fn with_taken(brew: &Brew, take: &[Taken], text: &str) -> Result<Brew, Diagnostics> {
    let unfit = |place: Location, message: String| {
        let help = "ask for substitutes again, with this recipe";
        AnswerDiagnostic::error(Fault::ProposalDoesNotFit.code(), message, place)
            .with_help(Some(help.to_owned()))
    };
    let at = |place: usize| match json_text::element(text, &["take"], place) {
        Some(bytes) => Location::in_request(text, bytes),
        None => Location::at_key(text, &["take"]),
    };
    let mut findings: Diagnostics = take
        .iter()
        .enumerate()
        .filter_map(|(place, taken)| {
            let message = misfit(brew.recipe(), taken)?;
            Some(unfit(at(place), message))
        })
        .collect();
    if findings.is_empty() {
        match brew.taking(take.iter().map(|taken| taken.proposal.swap.clone())) {
            Ok(taken) => return Ok(taken),
            Err(error) => findings.push(unfit(
                Location::at_key(text, &["take"]),
                error.message().to_owned(),
            )),
        }
    }
    Err(findings)
}

/// Why a proposal does not fit by itself.
fn misfit(recipe: &Recipe, taken: &Taken) -> Option<String> {
    let swap = &taken.proposal.swap;
    if folded(&taken.missing) != folded(&swap.replaced.name) {
        return Some(format!(
            "expected a proposal for `{}`, found one for `{}`",
            clipped(&taken.missing),
            clipped(&swap.replaced.name)
        ));
    }
    if swap.parts.is_empty() {
        return Some("expected a proposal with parts, found none".to_owned());
    }
    recipe
        .with_swaps(std::slice::from_ref(swap))
        .err()
        .as_ref()
        .map(|error| error.message().to_owned())
}
