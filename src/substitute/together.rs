//! Several missing lines under one stock.

use super::case::{Case, Measure, SlackUse};
use super::options::SubstituteOptions;
use super::profile::Means;
use super::proposal::{Proposal, rounded};
use super::propose::{Choice, cases, proposal, swap};
use super::search::{Found, Keep, Table};
use super::setting::{Held, KindGroup, Need, Setting, group};
use crate::catalogue::{Catalogue, folded};
use crate::diagnostic::Error;
use crate::process::Figures;
use crate::recipe::{Brewhouse, Recipe, Stock, Swap};
use crate::scale::{ScaleOptions, WeighOut, scale};
use serde::Serialize;
use std::collections::BTreeMap;

/// Supports of each line that are combined.
const SUPPORTS: usize = 200;
/// Combinations that are looked at before the search stops and says so.
const MOST_STEPS: usize = 2_000_000;
/// Base malt gives way within this share of itself, for all lines together.
const SLACK_SHARE: f64 = 0.1;

/// What may stand for several missing lines at once.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Together {
    /// The combinations, the nearest first; none where the lots do not suffice for all lines.
    pub combinations: Vec<Joint>,
    /// No combination that was left out has a smaller distance than this; absent where none was left out.
    #[serde(skip_serializing_if = "Option::is_none", serialize_with = "maybe")]
    pub left_out_from: Option<f64>,
}

/// A substitute for each of several lines, with lots that suffice for all of them.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Joint {
    /// One for each line, in the order of the recipe; each predicted as if it alone were made.
    pub proposals: Vec<Proposal>,
    /// The sum of their distances.
    #[serde(serialize_with = "rounded")]
    pub distance: f64,
    /// The whole recipe on the target with all of them in it.
    pub predicted: Figures,
}

#[allow(clippy::ref_option, reason = "serde passes fields by reference")]
fn maybe<S: serde::Serializer>(value: &Option<f64>, serializer: S) -> Result<S::Ok, S::Error> {
    match value {
        Some(value) => rounded(value, serializer),
        None => serializer.serialize_none(),
    }
}

/// What one support takes of the lots, and of the base malt's slack.
struct Pick {
    choice: Choice,
    uses: Vec<(usize, f64)>,
    slack_share: f64,
}

/// Substitutes for all missing lines at once, from lots that suffice for all of them and within a tenth of the base
/// malt: the best combinations of the best 200 supports of each line, amounts as each line alone would have them.
///
/// Usual upper shares and the power to convert are checked for each line alone; the prediction is of all together.
///
/// # Errors
///
/// Those of [`propose`](super::propose).
pub fn propose_together(
    recipe: &Recipe,
    source: Option<&Brewhouse>,
    target: &Brewhouse,
    missing: &[&str],
    stock: &Stock,
    catalogue: &Catalogue,
    options: &SubstituteOptions,
) -> Result<Together, Error> {
    let setting = Setting::new(recipe, source, target, stock, catalogue, options)?;
    let needs = setting.needs(missing)?;
    let gone: Vec<usize> = needs.iter().map(|need| need.index).collect();
    let means = Means::of(catalogue);
    let laid_out: Vec<(&Need, Vec<Case>)> = needs
        .iter()
        .map(|need| (need, cases(&setting, need, &gone, &means)))
        .filter(|(_, cases)| !cases.is_empty())
        .collect();
    let mut lots = Lots::default();
    let mut lines: Vec<Vec<Pick>> = Vec::new();
    let mut last_kept: Vec<Option<f64>> = Vec::new();
    for (_, cases) in &laid_out {
        let (options, last) = supports(&setting, cases, &gone, &mut lots);
        lines.push(options);
        last_kept.push(last);
    }
    let mut search = Search {
        lines: &lines,
        best_of_rest: rest(&lines),
        left: lots.left.clone(),
        taken: Vec::new(),
        kept: Vec::new(),
        limit: options.limit,
        steps: 0,
    };
    if !lines.is_empty() && lines.iter().all(|line| !line.is_empty()) {
        search.deeper(0.0, 0.0);
    }
    let all_best: f64 = lines
        .iter()
        .filter_map(|line| line.first())
        .map(|option| option.choice.found.value)
        .sum();
    let left_out = lines
        .iter()
        .zip(&last_kept)
        .filter_map(|(line, last)| Some(all_best - line.first()?.choice.found.value + (*last)?))
        .reduce(f64::min);
    let stopped = search.steps >= MOST_STEPS;
    let kept = std::mem::take(&mut search.kept);
    let mut combinations = Vec::new();
    for (distance, picks) in kept {
        let mut proposals = Vec::new();
        let mut swaps: Vec<Swap> = Vec::new();
        for ((need, cases), (line, pick)) in laid_out.iter().zip(lines.iter().zip(picks)) {
            let Some(choice) = line.get(pick).map(|option| option.choice) else {
                continue;
            };
            if let Some(case) = cases.get(choice.case) {
                swaps.push(swap(&setting, need, case, &choice.found)?);
                proposals.push(proposal(&setting, need, case, &choice)?);
            }
        }
        let exact = ScaleOptions::default()
            .with_source(source.cloned())
            .with_stock(stock.clone())
            .with_weigh_out(WeighOut::Exact);
        let plan = scale(&recipe.with_swaps(&swaps)?, target, catalogue, &exact)?;
        combinations.push(Joint {
            proposals,
            distance,
            predicted: plan.predicted,
        });
    }
    Ok(Together {
        combinations,
        left_out_from: if stopped { Some(all_best) } else { left_out },
    })
}

/// The lots that bind, and what is left of each.
#[derive(Debug, Default)]
struct Lots {
    places: BTreeMap<(KindGroup, String), usize>,
    left: Vec<f64>,
}

impl Lots {
    /// The place of a lot that binds; what the recipe needs elsewhere is taken off.
    fn place(
        &mut self,
        setting: &Setting<'_>,
        name: &str,
        kinds: KindGroup,
        gone: &[usize],
    ) -> Option<usize> {
        let key = (kinds, folded(name));
        if let Some(place) = self.places.get(&key) {
            return Some(*place);
        }
        let Held::Amount { kg, l } = setting.holding(name, kinds)?.supply else {
            return None;
        };
        let (used_kg, used_l) = setting.used(name, kinds, gone);
        let left = match kinds {
            KindGroup::Juice => l - used_l,
            _ => kg - used_kg,
        };
        self.left.push(left.max(0.0));
        let place = self.left.len() - 1;
        self.places.insert(key, place);
        Some(place)
    }
}

/// The best supports of a line over all its ways, and the value from which more were left out.
fn supports(
    setting: &Setting<'_>,
    cases: &[Case],
    gone: &[usize],
    lots: &mut Lots,
) -> (Vec<Pick>, Option<f64>) {
    let keep = Keep {
        supports: SUPPORTS,
        leaders: 0,
    };
    let mut all: Vec<(usize, Found)> = cases
        .iter()
        .enumerate()
        .flat_map(|(at, case)| {
            Table::new(&case.problem)
                .search(keep, setting.options.effort, &|found| case.admits(found))
                .supports
                .into_iter()
                .map(move |found| (at, found))
        })
        .collect();
    all.sort_by(|a, b| a.1.value.total_cmp(&b.1.value).then(a.0.cmp(&b.0)));
    let last = (all.len() >= SUPPORTS)
        .then(|| all.get(SUPPORTS - 1).map(|(_, found)| found.value))
        .flatten();
    all.truncate(SUPPORTS);
    let options = all
        .into_iter()
        .filter_map(|(at, found)| {
            let case = cases.get(at)?;
            let uses = found
                .parts()
                .filter_map(|(member, amount)| {
                    let offer = case.offers.get(member)?;
                    let ingredient = &offer.ingredient;
                    let place = lots.place(
                        setting,
                        ingredient.catalogue_name(),
                        group(ingredient.kind),
                        gone,
                    )?;
                    let (Measure::Kilograms(used) | Measure::Litres(used)) =
                        offer.measure.times(amount);
                    Some((place, used))
                })
                .collect();
            let slack_share = match case.slack {
                SlackUse::BaseMalt { kg, of_kg, .. } => found.slack * kg / of_kg,
                _ => 0.0,
            };
            Some(Pick {
                choice: Choice {
                    case: at,
                    found,
                    feasible: true,
                    variants: 0,
                },
                uses,
                slack_share,
            })
        })
        .collect();
    (options, last)
}

/// For each line the least that it and all lines after it can add.
fn rest(lines: &[Vec<Pick>]) -> Vec<f64> {
    let mut rest = vec![0.0; lines.len() + 1];
    let mut sum = 0.0;
    for (line, place) in lines.iter().zip(rest.iter_mut()).rev() {
        sum += line.first().map_or(0.0, |option| option.choice.found.value);
        *place = sum;
    }
    rest
}

/// A depth-first search over one support for each line, bounded by the best of the lines to come.
struct Search<'a> {
    lines: &'a [Vec<Pick>],
    best_of_rest: Vec<f64>,
    left: Vec<f64>,
    taken: Vec<usize>,
    kept: Vec<(f64, Vec<usize>)>,
    limit: usize,
    steps: usize,
}

impl Search<'_> {
    fn worth(&self) -> f64 {
        if self.kept.len() == self.limit {
            self.kept
                .last()
                .map_or(f64::NEG_INFINITY, |(value, _)| *value)
        } else {
            f64::INFINITY
        }
    }

    fn deeper(&mut self, value: f64, slack_share: f64) {
        let depth = self.taken.len();
        let lines = self.lines;
        let Some(line) = lines.get(depth) else {
            if slack_share.abs() > SLACK_SHARE * (1.0 + 1e-9) {
                return;
            }
            let place = self.kept.partition_point(|(kept, _)| *kept <= value);
            self.kept.insert(place, (value, self.taken.clone()));
            self.kept.truncate(self.limit);
            return;
        };
        let to_come = self.best_of_rest.get(depth + 1).copied().unwrap_or(0.0);
        for (pick, option) in line.iter().enumerate() {
            self.steps += 1;
            let so_far = value + option.choice.found.value;
            if so_far + to_come >= self.worth() || self.steps >= MOST_STEPS {
                break;
            }
            let slack = slack_share + option.slack_share;
            let suffices = option.uses.iter().all(|(lot, used)| {
                self.left
                    .get(*lot)
                    .is_none_or(|left| *used <= left * (1.0 + 1e-9))
            });
            if !suffices {
                continue;
            }
            self.take(option, -1.0);
            self.taken.push(pick);
            self.deeper(so_far, slack);
            self.taken.pop();
            self.take(option, 1.0);
        }
    }

    fn take(&mut self, option: &Pick, sign: f64) {
        for (lot, used) in &option.uses {
            if let Some(left) = self.left.get_mut(*lot) {
                *left += sign * used;
            }
        }
    }
}
