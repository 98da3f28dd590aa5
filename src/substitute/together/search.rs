//! One support for each line, in depth, bounded by the best of the lines to come.

use super::super::case::Case;
use super::super::choice::Choice;
use super::super::needs::Need;
use super::super::search::{Keep, Table};
use super::super::setting::Setting;
use super::SUPPORTS;
use super::limits::{Limits, Use, amounts};
use super::refit::{Fitted, Part, refit};
use crate::numeric::order;
use crate::process::{ItemIndex, Stage};

/// Combinations that are looked at before the search stops and says so.
const MOST_STEPS: usize = 2_000_000;
/// Combinations that are fitted anew: some tenths of a millisecond each.
const MOST_FITTED: usize = 2_000;
/// A limit is overdrawn beyond this, in its own measure (kg, L, a share, kg times WK): rounding of sums.
const SLIP: f64 = 1e-9;

/// A support of a line and what it takes of the limits.
pub(super) struct Pick<'a> {
    pub(super) choice: Choice<'a>,
    pub(super) uses: Vec<Use>,
}

/// A line with what may stand for it.
pub(super) struct Sought<'a> {
    /// The best first.
    pub(super) picks: Vec<Pick<'a>>,
    /// The value from which more were left out.
    pub(super) left_out_from: Option<f64>,
}

impl Sought<'_> {
    /// The least that the line can add.
    pub(super) fn best(&self) -> Option<f64> {
        self.picks.first().map(|pick| pick.choice.found.value)
    }
}

/// The best supports of a line over all its ways.
pub(super) fn supports<'a>(
    setting: &Setting<'_>,
    need: &'a Need,
    cases: &'a [Case],
    gone: &[ItemIndex],
    limits: &mut Limits,
) -> Sought<'a> {
    let in_wort = setting
        .item(need.index)
        .is_some_and(|item| item.place.stage < Stage::Ferment);
    let keep = Keep {
        supports: SUPPORTS,
        leaders: 0,
    };
    let mut all: Vec<Choice<'_>> = cases
        .iter()
        .flat_map(|case| {
            Table::new(&case.problem)
                .search(keep, setting.options.effort, &|found| case.admits(found))
                .supports
                .into_iter()
                .map(move |found| Choice {
                    need,
                    case,
                    found,
                    feasible: true,
                    variants: 0,
                })
        })
        .collect();
    // Stable: among equals the ways keep their order.
    order::sort_by(&mut all, |a, b| a.found.value.total_cmp(&b.found.value));
    let last = all.get(SUPPORTS - 1);
    let left_out_from = last.map(|choice| choice.found.value);
    all.truncate(SUPPORTS);
    let picks = all
        .into_iter()
        .map(|choice| Pick {
            uses: limits.uses(setting, choice.case, &choice.found, in_wort, gone),
            choice,
        })
        .collect();
    Sought {
        picks,
        left_out_from,
    }
}

/// For each line the least that it and all lines after it can add.
fn rest(lines: &[Sought<'_>]) -> Vec<f64> {
    let mut rest = vec![0.0; lines.len() + 1];
    let mut sum = 0.0;
    for (line, place) in lines.iter().zip(rest.iter_mut()).rev() {
        sum += line.best().unwrap_or(0.0);
        *place = sum;
    }
    rest
}

pub(super) struct Search<'a> {
    lines: &'a [Sought<'a>],
    best_of_rest: Vec<f64>,
    left: Vec<f64>,
    taken: Vec<&'a Pick<'a>>,
    limit: usize,
    steps: usize,
    outcome: Outcome<'a>,
}

/// What was found, the nearest first, and what was not.
pub(super) struct Outcome<'a> {
    pub(super) kept: Vec<(f64, Vec<Choice<'a>>)>,
    pub(super) impossible: usize,
    pub(super) fitted_anew: usize,
    /// Infinite where none was passed over.
    pub(super) passed_over_from: f64,
    pub(super) stopped: bool,
}

impl<'a> Search<'a> {
    pub(super) fn new(lines: &'a [Sought<'a>], left: Vec<f64>, limit: usize) -> Self {
        Self {
            best_of_rest: rest(lines),
            lines,
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

    pub(super) fn run(mut self) -> Outcome<'a> {
        if !self.lines.is_empty() && self.lines.iter().all(|line| !line.picks.is_empty()) {
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
        for pick in &line.picks {
            self.steps += 1;
            self.outcome.stopped |= self.steps >= MOST_STEPS;
            let so_far = value + pick.choice.found.value;
            if so_far + to_come >= self.worth() || self.outcome.stopped {
                break;
            }
            self.taken.push(pick);
            self.deeper(so_far);
            self.taken.pop();
        }
    }

    /// One support for each line: as it is, or with other amounts.
    fn combined(&mut self, value: f64) {
        let picks = &self.taken;
        let mut left = self.left.clone();
        for pick in picks {
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
        let parts: Vec<_> = picks
            .iter()
            .map(|pick| Part {
                of: pick.choice,
                problem: &pick.choice.case.problem,
                found: &pick.choice.found,
                uses: &pick.uses,
            })
            .collect();
        self.outcome.fitted_anew += 1;
        let Some(fitted) = refit(&parts, &self.left) else {
            self.outcome.impossible += 1;
            return;
        };
        let choices: Vec<_> = fitted
            .into_iter()
            .map(|Fitted { of, found }| Choice { found, ..of })
            .collect();
        let value = choices.iter().map(|choice| choice.found.value).sum();
        self.keep(value, choices);
    }

    fn keep(&mut self, value: f64, choices: Vec<Choice<'a>>) {
        let kept = &mut self.outcome.kept;
        let place = kept.partition_point(|(known, _)| *known <= value);
        kept.insert(place, (value, choices));
        kept.truncate(self.limit);
    }
}
