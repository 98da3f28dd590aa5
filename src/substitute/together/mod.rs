//! Several missing lines under one stock.
//!
//! Each line's best 200 supports, of those that would convert if it alone were replaced, are combined (`search`). Where the amounts that each line alone would have ask too much
//! of what they share (`limits`), the amounts of all lines are fitted anew, together (`refit`): the sum of the
//! separate distances bounds that from below, so that only combinations that may be among the best are fitted.

mod limits;
mod refit;
mod search;

use super::case::{Case, Gate};
use super::choice::Choice;
use super::consequences::{proposal, swap};
use super::needs::Need;
use super::noticed::{Noticed, summary};
use super::options::SubstituteOptions;
use super::part::Origin;
use super::profile::Means;
use super::proposal::Proposal;
use super::propose::cases;
use super::sensed::{Changed, noticed};
use super::setting::Setting;
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::process::{Figures, ItemIndex};
use crate::quantity::json;
use crate::recipe::Swap;
use crate::scale::{Order, SourceRead};
use limits::Limits;
use search::{Search, Sought};
use serde::Serialize;

/// Supports of each line that are combined.
const SUPPORTS: usize = 200;

/// What may stand for several missing lines at once.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Together {
    /// The combinations, the nearest first; none where what the lines share does not suffice for all of them.
    pub combinations: Vec<Joint>,
    /// No combination beyond the best 200 supports of each line has a smaller distance than this; absent where none was left out.
    /// Blends that would not convert if their line alone were replaced are not counted, though another line's may convert them.
    #[serde(skip_serializing_if = "Option::is_none", serialize_with = "maybe")]
    pub left_out_from: Option<f64>,
    /// Combinations whose separate amounts asked too much of what the lines share, and for which no amounts suffice.
    pub impossible: usize,
    /// Combinations whose separate amounts asked too much, and which were fitted anew.
    pub fitted_anew: usize,
    /// The least distance that a combination may have that was not fitted anew, since too many wanted it; absent where
    /// none was passed over.
    #[serde(skip_serializing_if = "Option::is_none", serialize_with = "maybe")]
    pub passed_over_from: Option<f64>,
}

impl Together {
    /// Lines that are combined at most: their amounts are fitted in one program (rule of the crate).
    pub const MOST_LINES: usize = 24;
}

/// A substitute for each of several lines, with lots that suffice for all of them.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Joint {
    /// One for each line that adds an amount on this plant, in the order of the recipe; each predicted as if it alone were made.
    pub proposals: Vec<Proposal>,
    /// The sum of their distances.
    #[serde(serialize_with = "crate::quantity::json::rounded")]
    pub distance: f64,
    /// The whole recipe on the target with all of them in it.
    pub predicted: Figures,
    /// What a drinker notices of all of them together.
    pub noticed: Vec<Noticed>,
    /// One line that a brewer reads.
    pub summary: String,
}

#[allow(clippy::ref_option, reason = "serde passes fields by reference")]
fn maybe<S: serde::Serializer>(value: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => json::number(*value, serializer),
        None => serializer.serialize_none(),
    }
}

/// Substitutes for all missing lines at once, from lots that suffice for all of them and within 3 % of the base
/// malt: the best combinations of the best 200 supports of each line. `order` asks for exact amounts, of the source that is
/// read for it.
///
/// Lots, usual upper shares, base malt and the power to convert are shared by all lines, and the prediction is of all
/// together. Where the amounts that each line alone would have do not fit together, they are fitted anew so that the sum
/// of the distances is least.
pub(crate) fn together(
    order: Order<'_>,
    read: SourceRead,
    options: &SubstituteOptions,
    said: &[(Place, String)],
) -> Result<Together, Error> {
    let setting = Setting::new(order, read, options, said)?;
    let needs = setting.needs(&options.missing)?;
    if needs.len() > Together::MOST_LINES {
        let message = format!(
            "sets are sought for {} lines at most, and {} lines are missing",
            Together::MOST_LINES,
            needs.len()
        );
        let error = Error::new(ErrorKind::OutOfRange, message);
        return Err(error.with_help("name fewer of them"));
    }
    let gone: Vec<ItemIndex> = needs.iter().map(|need| need.index).collect();
    let means = Means::of(order.catalogue);
    let laid_out: Vec<(&Need, Vec<Case>)> = needs
        .iter()
        .map(|need| (need, cases(&setting, need, &gone, &means)))
        .filter(|(_, cases)| !cases.is_empty())
        .collect();
    let power_to_spare = laid_out
        .iter()
        .flat_map(|(_, cases)| cases)
        .find_map(|case| case.gate.as_ref().map(Gate::power_to_spare));
    let mut limits = Limits::new(power_to_spare);
    let lines: Vec<Sought<'_>> = laid_out
        .iter()
        .map(|(need, cases)| search::supports(&setting, need, cases, &gone, &mut limits))
        .collect();
    let outcome = Search::new(&lines, limits.left(), options.limit).run();
    let all_best: f64 = lines.iter().filter_map(Sought::best).sum();
    let left_out = lines
        .iter()
        .filter_map(|line| Some(all_best - line.best()? + line.left_out_from?))
        .reduce(f64::min);
    let mut combinations = Vec::new();
    for (distance, choices) in outcome.kept {
        let mut proposals = Vec::new();
        let mut swaps: Vec<Swap> = Vec::new();
        for choice in &choices {
            swaps.push(swap(&setting, choice)?);
            proposals.push(proposal(&setting, choice)?);
        }
        let predicted = setting.predicted(&order.recipe.with_swaps(&swaps)?)?;
        let changed: Vec<Changed<'_>> = choices
            .iter()
            .map(|Choice { case, found, .. }| Changed { case, found })
            .collect();
        let noticed = noticed(&changed, [&setting.before, &predicted]);
        let tastes_alike = changed.iter().all(|one| one.case.tastes_alike(one.found));
        let parts = proposals.iter().flat_map(|proposal| &proposal.parts);
        let origins: Vec<Origin> = parts.filter_map(|part| part.from).collect();
        combinations.push(Joint {
            summary: summary(&noticed, &origins, tastes_alike),
            noticed,
            proposals,
            distance,
            predicted,
        });
    }
    Ok(Together {
        combinations,
        left_out_from: if outcome.stopped {
            Some(all_best)
        } else {
            left_out
        },
        impossible: outcome.impossible,
        fitted_anew: outcome.fitted_anew,
        passed_over_from: outcome
            .passed_over_from
            .is_finite()
            .then_some(outcome.passed_over_from),
    })
}
