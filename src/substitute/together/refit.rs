//! The amounts of several lines under what they share: one program over all of them.

use super::super::search::{Found, Problem};
use super::limits::{DOWN, UP, Use, VARIABLES};
use crate::numeric::{Constraint, Coupled};

/// A line's support with what it takes of the limits.
pub(super) struct Part<'a> {
    pub(super) problem: &'a Problem,
    pub(super) found: &'a Found,
    pub(super) uses: &'a [Use],
}

fn product(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

impl Part<'_> {
    /// Whether the support has a slack: never beside the same stuff.
    fn has_slack(&self) -> bool {
        let mut members = self.found.parts();
        self.problem.slack.is_some()
            && !members.any(|(at, _)| self.problem.columns.get(at).is_some_and(|c| c.is_slack))
    }

    /// Features, share in the equalities, bounds and price of each variable that is in use.
    fn variables(&self) -> Vec<(usize, Vec<f64>, [f64; 2], [f64; 2], f64)> {
        let members = self
            .found
            .parts()
            .enumerate()
            .filter_map(|(at, (member, _))| {
                let column = self.problem.columns.get(member)?;
                let features = column.features.clone();
                Some((at, features, column.brings, [column.low, column.high], 0.0))
            });
        let slack = self.problem.slack.as_ref().filter(|_| self.has_slack());
        let ways = slack.into_iter().flat_map(|slack| {
            [(UP, 1.0, slack.high), (DOWN, -1.0, -slack.low)]
                .into_iter()
                .map(move |(at, sign, high)| {
                    let features = slack.features.iter().map(|f| sign * f).collect();
                    let brings = slack.brings.map(|b| sign * b);
                    (at, features, brings, [0.0, high.max(0.0)], slack.price)
                })
        });
        members.chain(ways).collect()
    }

    /// The same support with other amounts.
    fn with(&self, amounts: &[f64; VARIABLES]) -> Found {
        let [a, b, c, up, down] = *amounts;
        let slack = up - down;
        let mut off: Vec<f64> = self.problem.target.iter().map(|t| -t).collect();
        let mut add = |features: &[f64], amount: f64| {
            for (off, feature) in off.iter_mut().zip(features) {
                *off += amount * feature;
            }
        };
        let mut found = Found {
            amounts: [a, b, c],
            slack,
            ..*self.found
        };
        for (member, amount) in found.parts() {
            if let Some(column) = self.problem.columns.get(member) {
                add(&column.features, amount);
            }
        }
        let mut price = 0.0;
        if let Some(own) = &self.problem.slack {
            add(&own.features, slack);
            price = own.price;
        }
        // What the support costs beside its distance and its slack stays as it is.
        let fixed = self.found.value - self.found.distance - price * self.found.slack.abs();
        found.distance = product(&off, &off);
        found.value = found.distance + price * slack.abs() + fixed;
        found
    }
}

/// The amounts whose distances add up to the least within the limits; none where no amounts suffice.
pub(super) fn refit(parts: &[Part<'_>], left: &[f64]) -> Option<Vec<Found>> {
    let mut variables = Vec::new();
    let mut owners = Vec::new();
    for (line, part) in parts.iter().enumerate() {
        for (at, features, brings, bounds, price) in part.variables() {
            owners.push((line, at));
            variables.push((features, brings, bounds, price));
        }
    }
    let mut program = Coupled::default();
    for ((line, _), (features, _, [low, high], price)) in owners.iter().zip(&variables) {
        let row = owners
            .iter()
            .zip(&variables)
            .map(|((other, _), (its, ..))| {
                if line == other {
                    product(features, its)
                } else {
                    0.0
                }
            });
        program.gram.push(row.collect());
        let target = &parts.get(*line)?.problem.target;
        program.linear.push(product(features, target) - 0.5 * price);
        program.low.push(*low);
        program.high.push(*high);
    }
    let row = |get: &dyn Fn(usize, usize, [f64; 2]) -> f64| -> Vec<f64> {
        let each = owners.iter().zip(&variables);
        each.map(|((line, at), (_, brings, ..))| get(*line, *at, *brings))
            .collect()
    };
    for (line, part) in parts.iter().enumerate() {
        let [first, second] = part.problem.right;
        let rows = [
            (row(&|l, _, [a, _]| if l == line { a } else { 0.0 }), first),
            (row(&|l, _, [_, c]| if l == line { c } else { 0.0 }), second),
        ];
        for (normal, least) in rows {
            program.constraints.push(Constraint {
                normal,
                least,
                is_equality: true,
            });
        }
    }
    for (limit, left) in left.iter().enumerate().filter(|(_, left)| left.is_finite()) {
        let used = |line: usize| {
            let part = parts.get(line)?;
            part.uses.iter().find(|taken| taken.limit == limit)
        };
        let always: f64 = (0..parts.len())
            .filter_map(used)
            .map(|taken| taken.always)
            .sum();
        let normal = row(&|line, at, _| {
            let each = used(line).and_then(|taken| taken.each.get(at));
            each.map_or(0.0, |each| -each)
        });
        if normal.iter().any(|entry| *entry != 0.0) || always > *left {
            program.constraints.push(Constraint {
                normal,
                least: always - left,
                is_equality: false,
            });
        }
    }
    let least = program.minimum()?;
    let mut amounts = vec![[0.0; VARIABLES]; parts.len()];
    for (((line, at), value), (low, high)) in owners
        .iter()
        .zip(least)
        .zip(program.low.iter().zip(&program.high))
    {
        if let Some(place) = amounts.get_mut(*line).and_then(|line| line.get_mut(*at)) {
            *place = value.max(*low).min(*high);
        }
    }
    Some(
        parts
            .iter()
            .zip(&amounts)
            .map(|(part, amounts)| part.with(amounts))
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::super::search::{Table, tests::random};
    use super::*;
    use crate::numeric::oracle::{General, Numbers, Verdict};

    /// The same as a general solver sees it: all variables of all lines, then what is left over of the lot.
    fn general(parts: &[Part<'_>], left: f64) -> General {
        let variables: Vec<_> = parts
            .iter()
            .enumerate()
            .flat_map(|(line, part)| part.variables().into_iter().map(move |v| (line, v)))
            .collect();
        let n = variables.len();
        let row = |get: &dyn Fn(usize) -> f64, over: f64| -> Vec<f64> {
            (0..n).map(get).chain([over]).collect()
        };
        let mut gram: Vec<Vec<f64>> = variables
            .iter()
            .map(|(line, (_, features, ..))| {
                let of = |i: usize| {
                    let (other, (_, its, ..)) = &variables[i];
                    if line == other {
                        product(features, its)
                    } else {
                        0.0
                    }
                };
                row(&of, 0.0)
            })
            .collect();
        gram.push(vec![0.0; n + 1]);
        let linear = |i: usize| {
            let (line, (_, features, _, _, price)) = &variables[i];
            product(features, &parts[*line].problem.target) - 0.5 * price
        };
        let (mut rows, mut right) = (Vec::new(), Vec::new());
        for (line, part) in parts.iter().enumerate() {
            for equality in 0..2 {
                // Rows of like size are easier on the general solver.
                let most = part.problem.right[equality];
                let of = |i: usize| {
                    let (owner, (_, _, brings, ..)) = &variables[i];
                    if *owner == line {
                        brings[equality] / most
                    } else {
                        0.0
                    }
                };
                rows.push(row(&of, 0.0));
                right.push(1.0);
            }
        }
        // The first part of each line is of the lot.
        rows.push(row(&|i| f64::from(u8::from(variables[i].1.0 == 0)), 1.0));
        right.push(left);
        General {
            gram,
            linear: row(&linear, 0.0),
            rows,
            right,
            low: row(&|i| variables[i].1.3[0], 0.0),
            high: row(&|i| variables[i].1.3[1], 10.0),
        }
    }

    #[test]
    fn amounts_under_a_shared_lot_are_those_of_a_general_solver() {
        let mut numbers = Numbers(4);
        let (mut met, mut impossible, mut unsure, mut disputed) = (0, 0, 0, 0);
        for case in 0..2000 {
            let problems = [
                random(&mut numbers, 3, true),
                random(&mut numbers, 3, case % 2 == 0),
            ];
            let alone: Vec<Found> = problems
                .iter()
                .filter_map(|problem| Table::new(problem).solved(&[0, 1, 2]))
                .collect();
            if alone.len() < 2 {
                continue;
            }
            let uses = [Use {
                limit: 0,
                always: 0.0,
                each: [1.0, 0.0, 0.0, 0.0, 0.0],
            }];
            let parts: Vec<Part<'_>> = problems
                .iter()
                .zip(&alone)
                .map(|(problem, found)| Part {
                    problem,
                    found,
                    uses: &uses,
                })
                .collect();
            let wanted: f64 = alone.iter().map(|found| found.amounts[0]).sum();
            let left = wanted * numbers.between(0.5, 0.95);
            let constant: f64 = problems.iter().map(|p| product(&p.target, &p.target)).sum();
            let fixed: f64 = problems
                .iter()
                .map(|p| p.columns.iter().map(|c| c.cost).sum::<f64>() + 2.0 * p.part_cost)
                .sum();
            let ours = refit(&parts, &[left]);
            if let Some(found) = &ours {
                // Whatever the other says: these amounts are within the bounds, the equalities and the lot.
                let used: f64 = found.iter().map(|found| found.amounts[0]).sum();
                assert!(used <= left + 1e-9, "case {case}: {used} of {left}");
                for (problem, found) in problems.iter().zip(found) {
                    for (off, wanted) in problem.residuals(found).iter().zip(problem.right) {
                        assert!(off.abs() < 1e-8 * wanted, "case {case}: {off}");
                    }
                    for (column, amount) in problem.columns.iter().zip(found.amounts) {
                        assert!(amount >= column.low && amount <= column.high);
                    }
                }
            }
            match (ours, general(&parts, left).solve()) {
                (Some(found), Verdict::Least(value)) => {
                    let own: f64 = found.iter().map(|found| found.value).sum();
                    let value = value + constant + fixed;
                    let off = (own - value).abs() / value.max(1.0);
                    assert!(off < 1e-6, "case {case}: {own} against {value}");
                    let separate: f64 = alone.iter().map(|found| found.value).sum();
                    assert!(own >= separate - 1e-9);
                    met += 1;
                }
                (None, Verdict::Impossible) => impossible += 1,
                (_, Verdict::Unsure) => unsure += 1,
                // At the border of what is possible the amounts above are the proof.
                (Some(_), Verdict::Impossible) => disputed += 1,
                (None, Verdict::Least(_)) => panic!("case {case}: amounts exist"),
            }
        }
        assert!(met > 100 && impossible > 20, "{met}, {impossible}");
        let all = met + impossible;
        assert!(
            unsure * 50 < all && disputed * 50 < all,
            "{unsure}, {disputed}"
        );
    }
}
