//! One support for each line, in depth, bounded by the best of the lines to come.

use super::super::case::Case;
use super::super::propose::Choice;
use super::super::search::{Found, Keep, Table};
use super::super::setting::{Need, Setting};
use super::SUPPORTS;
use super::limits::{Limits, Use, amounts};
use super::refit::{Part, refit};
use crate::process::{ItemIndex, Stage};

/// Combinations that are looked at before the search stops and says so.
const MOST_STEPS: usize = 2_000_000;
/// Combinations that are fitted anew: some tenths of a millisecond each.
const MOST_FITTED: usize = 2_000;
/// A limit is overdrawn beyond this, in its own measure (kg, L, a share, kg times WK): rounding of sums.
const SLIP: f64 = 1e-9;

/// A support of a line and what it takes of the limits.
pub(super) struct Pick {
    pub(super) choice: Choice,
    pub(super) uses: Vec<Use>,
}

/// The best supports of a line over all its ways, and the value from which more were left out.
pub(super) fn supports(
    setting: &Setting<'_>,
    need: &Need,
    cases: &[Case],
    gone: &[ItemIndex],
    limits: &mut Limits,
) -> (Vec<Pick>, Option<f64>) {
    let in_wort = setting
        .item(need.index)
        .is_some_and(|item| item.place.stage < Stage::Ferment);
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
    let picks = all
        .into_iter()
        .filter_map(|(at, found)| {
            let uses = limits.uses(setting, cases.get(at)?, &found, in_wort, gone);
            let choice = Choice {
                case: at,
                found,
                feasible: true,
                variants: 0,
            };
            Some(Pick { choice, uses })
        })
        .collect();
    (picks, last)
}

/// For each line the least that it and all lines after it can add.
fn rest(lines: &[Vec<Pick>]) -> Vec<f64> {
    let mut rest = vec![0.0; lines.len() + 1];
    let mut sum = 0.0;
    for (line, place) in lines.iter().zip(rest.iter_mut()).rev() {
        sum += line.first().map_or(0.0, |pick| pick.choice.found.value);
        *place = sum;
    }
    rest
}

pub(super) struct Search<'a> {
    lines: &'a [Vec<Pick>],
    cases: &'a [&'a [Case]],
    best_of_rest: Vec<f64>,
    left: Vec<f64>,
    taken: Vec<usize>,
    limit: usize,
    steps: usize,
    outcome: Outcome,
}

/// What was found, the nearest first, and what was not.
pub(super) struct Outcome {
    pub(super) kept: Vec<(f64, Vec<Choice>)>,
    pub(super) impossible: usize,
    pub(super) fitted_anew: usize,
    /// Infinite where none was passed over.
    pub(super) passed_over_from: f64,
    pub(super) stopped: bool,
}

impl<'a> Search<'a> {
    pub(super) fn new(
        lines: &'a [Vec<Pick>],
        cases: &'a [&'a [Case]],
        left: Vec<f64>,
        limit: usize,
    ) -> Self {
        Self {
            best_of_rest: rest(lines),
            lines,
            cases,
            left,
            taken: Vec::new(),
            limit,
            steps: 0,
            outcome: Outcome {
                kept: Vec::new(),
                impossible: 0,
                fitted_anew: 0,
                passed_over_from: f64::INFINITY,
                stopped: false,
            },
        }
    }

    pub(super) fn run(mut self) -> Outcome {
        if !self.lines.is_empty() && self.lines.iter().all(|line| !line.is_empty()) {
            self.deeper(0.0);
        }
        self.outcome
    }

    fn worth(&self) -> f64 {
        if self.outcome.kept.len() == self.limit {
            self.outcome
                .kept
                .last()
                .map_or(f64::NEG_INFINITY, |(value, _)| *value)
        } else {
            f64::INFINITY
        }
    }

    fn deeper(&mut self, value: f64) {
        let depth = self.taken.len();
        let lines = self.lines;
        let Some(line) = lines.get(depth) else {
            self.combined(value);
            return;
        };
        let to_come = self.best_of_rest.get(depth + 1).copied().unwrap_or(0.0);
        for (at, pick) in line.iter().enumerate() {
            self.steps += 1;
            self.outcome.stopped |= self.steps >= MOST_STEPS;
            let so_far = value + pick.choice.found.value;
            if so_far + to_come >= self.worth() || self.outcome.stopped {
                break;
            }
            self.taken.push(at);
            self.deeper(so_far);
            self.taken.pop();
        }
    }

    /// One support for each line: as it is, or with other amounts.
    fn combined(&mut self, value: f64) {
        let lines = self.lines;
        let picks: Vec<&Pick> = lines
            .iter()
            .zip(&self.taken)
            .filter_map(|(line, at)| line.get(*at))
            .collect();
        let mut left = self.left.clone();
        for pick in &picks {
            let amounts = amounts(&pick.choice.found);
            for taken in &pick.uses {
                if let Some(left) = left.get_mut(taken.limit) {
                    *left -= taken.of(&amounts);
                }
            }
        }
        if left.iter().all(|left| *left >= -SLIP) {
            let choices = picks.iter().map(|pick| pick.choice).collect();
            self.keep(value, choices);
            return;
        }
        if self.outcome.fitted_anew >= MOST_FITTED {
            self.outcome.passed_over_from = self.outcome.passed_over_from.min(value);
            return;
        }
        let parts: Vec<Part<'_>> = picks
            .iter()
            .zip(self.cases)
            .filter_map(|(pick, cases)| {
                Some(Part {
                    problem: &cases.get(pick.choice.case)?.problem,
                    found: &pick.choice.found,
                    uses: &pick.uses,
                })
            })
            .collect();
        self.outcome.fitted_anew += 1;
        let Some(found) = refit(&parts, &self.left) else {
            self.outcome.impossible += 1;
            return;
        };
        let value = found.iter().map(|found| found.value).sum();
        let choices = picks
            .iter()
            .zip(found)
            .map(|(pick, found)| Choice {
                found,
                ..pick.choice
            })
            .collect();
        self.keep(value, choices);
    }

    fn keep(&mut self, value: f64, choices: Vec<Choice>) {
        let kept = &mut self.outcome.kept;
        let place = kept.partition_point(|(known, _)| *known <= value);
        kept.insert(place, (value, choices));
        kept.truncate(self.limit);
    }
}
