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

/// Why something does not fit by itself.
fn misfit(recipe: &Recipe, taken: &Taken) -> Option<String> {
    let (missing, swap) = match (&taken.missing, &taken.proposal, &taken.remedy) {
        (Some(missing), Some(proposal), None) => (missing, &proposal.swap),
        (None, None, Some(_)) => return None,
        _ => {
            let expected = "expected `missing` and `proposal`, or `remedy`";
            return Some(expected.to_owned());
        }
    };
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
