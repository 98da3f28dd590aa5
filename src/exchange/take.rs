//! Taking what was proposed.

use super::diagnostics::{AnswerDiagnostic, Diagnostics, Location};
use super::fault::{Fault, clipped};
use super::json_text;
use super::request::Taken;
use crate::catalogue::folded;
use crate::job::{Brew, Take};
use crate::recipe::Recipe;

/// The brew with the proposals that a host takes.
pub(super) fn with_taken(brew: &Brew, take: &[Taken], text: &str) -> Result<Brew, Diagnostics> {
    let refused = |fault: Fault, place: Location, message: String, help: &str| {
        AnswerDiagnostic::error(fault.code(), message, place).with_help(Some(help.to_owned()))
    };
    let unfit = |place: Location, message: String| {
        let help = "ask for substitutes again, with this recipe";
        refused(Fault::ProposalDoesNotFit, place, message, help)
    };
    let at = |place: usize| match json_text::element(text, &["take"], place) {
        Some(bytes) => Location::in_request(text, bytes),
        None => Location::at_key(text, &["take"]),
    };
    let mut findings: Diagnostics = take
        .iter()
        .enumerate()
        .filter_map(|(place, taken)| {
            if let Some(fault) = incomplete(taken) {
                let message = "expected `missing` and `proposal`, or `remedy`".to_owned();
                let help = "send one as `substitute` or `outcomes` answered it";
                return Some(refused(fault, at(place), message, help));
            }
            let message = misfit(brew.recipe(), taken)?;
            Some(unfit(at(place), message))
        })
        .collect();
    if findings.is_empty() {
        match brew.taking(take.iter().filter_map(to_take)) {
            Ok(taken) => return Ok(taken),
            Err(error) => findings.push(unfit(
                Location::at_key(text, &["take"]),
                error.message().to_owned(),
            )),
        }
    }
    Err(findings)
}

/// What is taken of what a host names.
fn to_take(taken: &Taken) -> Option<Take> {
    let proposal = taken.proposal.as_ref();
    let swap = proposal.map(|proposal| proposal.swap.clone().into());
    swap.or_else(|| taken.remedy.as_ref().map(Take::from))
}

/// What is wrong with something that is neither a proposal for what is missing nor a remedy.
const fn incomplete(taken: &Taken) -> Option<Fault> {
    match (&taken.missing, &taken.proposal, &taken.remedy) {
        (Some(_), Some(_), None) | (None, None, Some(_)) => None,
        (_, _, None) => Some(Fault::MissingField),
        _ => Some(Fault::ConflictingFields),
    }
}

/// Why a proposal does not fit by itself.
fn misfit(recipe: &Recipe, taken: &Taken) -> Option<String> {
    let (Some(missing), Some(proposal)) = (&taken.missing, &taken.proposal) else {
        return None;
    };
    let swap = &proposal.swap;
    if folded(missing) != folded(&swap.replaced.name) {
        return Some(format!(
            "expected a proposal for `{}`, found one for `{}`",
            clipped(missing),
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
