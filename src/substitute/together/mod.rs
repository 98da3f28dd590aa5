//! Several missing lines under one stock.
//!
//! Each line's best 200 supports, of those that would convert if it alone were replaced, are combined (`search`). Where the amounts that each line alone would have ask too much
//! of what they share (`limits`), the amounts of all lines are fitted anew, together (`refit`): the sum of the
//! separate distances bounds that from below, so that only combinations that may be among the best are fitted.

mod limits;
mod refit;
mod search;

use super::case::{Case, Gate};
use super::consequences::{proposal, swap};
use super::options::SubstituteOptions;
use super::profile::Means;
use super::proposal::Proposal;
use super::propose::{cases, exact};
use super::setting::{Need, Setting};
use crate::catalogue::Catalogue;
use crate::diagnostic::Error;
use crate::process::{Figures, ItemIndex};
use crate::quantity::json;
use crate::recipe::{Brewhouse, Recipe, Shelf, Stock, Swap};
use crate::scale::Order;
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
}

#[allow(clippy::ref_option, reason = "serde passes fields by reference")]
fn maybe<S: serde::Serializer>(value: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => json::number(*value, serializer),
        None => serializer.serialize_none(),
    }
}

/// Substitutes for all missing lines at once, from lots that suffice for all of them and within a tenth of the base
/// malt: the best combinations of the best 200 supports of each line.
///
/// Lots, usual upper shares, base malt and the power to convert are shared by all lines, and the prediction is of all
/// together. Where the amounts that each line alone would have do not fit together, they are fitted anew so that the sum
/// of the distances is least.
///
/// # Errors
///
/// Those of [`propose`](super::propose).
///
/// ```
/// use wortwright::catalogue::Catalogue;
/// use wortwright::diagnostic::Source;
/// use wortwright::notation::read;
/// use wortwright::substitute::{Candidates, SubstituteOptions, propose_together};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let text = "recipe Plain\nbrewed on Works\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n  \
///     80 % pilsner malt\n  10 % caramel malt 150 EBC\n  10 % flaked oats\n  rest 66 C for 60 min\n\
///     brewhouse Works\n  extract yield 92 %\nbrewhouse Pot\n  batch 10 L into fermenter\n";
/// let reading = read(&[Source::new("plain", text)]);
/// let recipe = reading.recipe.ok_or("no recipe")?;
/// let plants = &reading.brewhouses;
/// let options = SubstituteOptions::default().with_candidates(Candidates::Catalogue).with_limit(1);
/// let found = propose_together(
///     &recipe, Some(&plants[0]), &plants[1], &["caramel malt 150 EBC", "flaked oats"],
///     &Default::default(), &Catalogue::builtin(), &options,
/// )?;
/// let best = &found.combinations[0];
/// assert_eq!(best.proposals.len(), 2);
/// // With both in it the beer still has its 12 °P.
/// assert!((best.predicted.original.ok_or("no gravity")?.plato() - 12.0).abs() < 1e-6);
/// # Ok(())
/// # }
/// ```
pub fn propose_together(
    recipe: &Recipe,
    source: Option<&Brewhouse>,
    target: &Brewhouse,
    missing: &[&str],
    stock: &Stock,
    catalogue: &Catalogue,
    options: &SubstituteOptions,
) -> Result<Together, Error> {
    let exact = exact(source, stock);
    let order = Order {
        recipe,
        brewhouse: target,
        catalogue,
        options: &exact,
        shelf: &Shelf::of(&exact.stock),
    };
    let setting = Setting::new(order, order.read()?, options)?;
    let needs = setting.needs(missing)?;
    let gone: Vec<ItemIndex> = needs.iter().map(|need| need.index).collect();
    let means = Means::of(catalogue);
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
        for choice in choices {
            swaps.push(swap(&setting, &choice)?);
            proposals.push(proposal(&setting, &choice)?);
        }
        let predicted = setting.predicted(&recipe.with_swaps(&swaps)?)?;
        combinations.push(Joint {
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
