//! The amounts of several lines under what they share: one program over all of them.

use super::super::search::{Found, Problem, Side, Slack, product};
use super::limits::{DOWN, UP, Use, VARIABLES};
use crate::numeric::{Constraint, Coupled};

/// A line's support with what it takes of the limits.
pub(super) struct Part<'a, T> {
    /// What it is to be known by.
    pub(super) of: T,
    pub(super) problem: &'a Problem,
    pub(super) found: &'a Found,
    pub(super) uses: &'a [Use],
}

/// A variable of a line: its place among the line's, and what one of it brings.
struct Variable {
    place: usize,
    features: Vec<f64>,
    brings: [f64; 2],
    low: f64,
    high: f64,
    price: f64,
}

impl<T> Part<'_, T> {
    /// The slack that the support may use: what is used only where nothing can be met without, as it was used alone.
    fn slack(&self) -> Option<&Slack> {
        let mut members = self.found.parts();
        let excluded =
            members.any(|(at, _)| self.problem.columns.get(at).is_some_and(|c| c.is_slack));
        let slack = self.problem.slack.as_ref().filter(|_| !excluded);
        slack.filter(|slack| slack.if_needed.is_none() || self.found.slack != 0.0)
    }

    /// By how much the second equality is missed beyond what is free, on either side.
    fn misses(&self) -> impl Iterator<Item = Variable> {
        let none = self.problem.target.iter().map(|_| 0.0);
        let none: Vec<f64> = none.collect();
        let miss = move |place: usize, sign: f64, high: f64, price: f64| Variable {
            place: VARIABLES + place,
            features: none.clone(),
            brings: [0.0, -sign],
            low: 0.0,
            high,
            price,
        };
        self.problem.band.into_iter().flat_map(move |band| {
            let missed = |place, sign: f64, side: Side| {
                miss(
                    place,
                    sign,
                    sign * (side.end - side.free),
                    sign * side.price,
                )
            };
            [missed(0, 1.0, band.high), missed(1, -1.0, band.low)]
        })
    }

    /// What a support costs beside its distance: its slack, and what it misses.
    fn priced(&self, found: &Found) -> f64 {
        let price = self.problem.slack.as_ref().map_or(0.0, |own| own.price);
        let [_, off] = self.problem.residuals(found);
        price * found.slack + self.problem.band.map_or(0.0, |band| band.cost(off))
    }

    /// The variables that are in use.
    fn variables(&self) -> Vec<Variable> {
        let members = self
            .found
            .parts()
            .enumerate()
            .filter_map(|(place, (member, _))| {
                let column = self.problem.columns.get(member)?;
                Some(Variable {
                    place,
                    features: column.features.clone(),
                    brings: column.brings,
                    low: column.low,
                    high: column.high,
                    price: 0.0,
                })
            });
        let slack = self.slack();
        let ways = slack.into_iter().flat_map(|slack| {
            [(UP, 1.0, slack.high), (DOWN, -1.0, -slack.low)].map(|(place, sign, high)| Variable {
                place,
                features: slack.features.iter().map(|f| sign * f).collect(),
                brings: slack.brings.map(|b| sign * b),
                low: 0.0,
                high: high.max(0.0),
                price: slack.price,
            })
        });
        // What has no room is left out: its two bounds would be one.
        let ways = ways.filter(|way| way.high > 0.0);
        members.chain(ways).chain(self.misses()).collect()
    }

    /// The same support with other amounts.
    fn with(&self, amounts: &[f64; VARIABLES]) -> Found {
        let [a, b, c, up, down] = *amounts;
        let slack = up - down;
        let mut found = Found {
            amounts: [a, b, c],
            slack,
            ..*self.found
        };
        let off = self.problem.off(&found);
        // What the support costs whatever its amounts stays as it is.
        let fixed = self.found.value - self.found.distance - self.priced(self.found);
        found.distance = product(&off, &off);
        found.value = found.distance + self.priced(&found) + fixed;
        found
    }
}

/// A line with the amounts that it comes to.
struct Line<'p, 'a, T> {
    part: &'p Part<'a, T>,
    amounts: [f64; VARIABLES],
}

/// A support with other amounts.
pub(super) struct Fitted<T> {
    pub(super) of: T,
    pub(super) found: Found,
}

/// The amounts whose distances add up to the least within the limits; none where no amounts suffice.
pub(super) fn refit<T: Copy>(parts: &[Part<'_, T>], left: &[f64]) -> Option<Vec<Fitted<T>>> {
    let variables: Vec<(usize, Variable)> = parts
        .iter()
        .enumerate()
        .flat_map(|(line, part)| part.variables().into_iter().map(move |v| (line, v)))
        .collect();
    let mut program = Coupled::default();
    for (line, variable) in &variables {
        let row = variables.iter().map(|(other, its)| {
            if line == other {
                product(&variable.features, &its.features)
            } else {
                0.0
            }
        });
        program.gram.push(row.collect());
        let target = &parts.get(*line)?.problem.target;
        let linear = product(&variable.features, target) - 0.5 * variable.price;
        program.linear.push(linear);
        program.low.push(variable.low);
        program.high.push(variable.high);
    }
    let row = |get: &dyn Fn(usize, &Variable) -> f64| -> Vec<f64> {
        variables.iter().map(|(line, v)| get(*line, v)).collect()
    };
    for (line, part) in parts.iter().enumerate() {
        let [first, second] = part.problem.right;
        let rows = [
            (
                row(&|l, v| if l == line { v.brings[0] } else { 0.0 }),
                first,
            ),
            (
                row(&|l, v| if l == line { v.brings[1] } else { 0.0 }),
                second,
            ),
        ];
        let [gravity, colour] = rows;
        let mut require = |(normal, least): (Vec<f64>, f64), is_equality| {
            program.constraints.push(Constraint {
                normal,
                least,
                is_equality,
            });
        };
        require(gravity, true);
        match &part.problem.band {
            None => require(colour, true),
            // What lies beyond what is free is taken off at its price.
            Some(band) => {
                let (normal, middle) = colour;
                let turned = normal.iter().map(|entry| -entry).collect();
                require((turned, -middle - band.high.free), false);
                require((normal, middle + band.low.free), false);
            }
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
        let normal = row(&|line, v| {
            let each = used(line).and_then(|taken| taken.each.get(v.place));
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
    let unset = |part| Line {
        part,
        amounts: [0.0; VARIABLES],
    };
    let mut lines: Vec<_> = parts.iter().map(unset).collect();
    // The solver's point has an entry for each variable, in their order.
    for ((line, variable), value) in variables.iter().zip(least) {
        let line = lines.get_mut(*line);
        if let Some(place) = line.and_then(|line| line.amounts.get_mut(variable.place)) {
            *place = value.max(variable.low).min(variable.high);
        }
    }
    Some(
        lines
            .iter()
            .map(|line| Fitted {
                of: line.part.of,
                found: line.part.with(&line.amounts),
            })
            .collect(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::super::search::{Band, Table, tests::random};
    use super::super::limits::amounts;
    use super::*;
    use crate::numeric::tests::{General, SeededNumbers, Verdict};

    /// What is free of a line's band, as a share of its second equality's right side.
    fn inner(part: &Part<'_, ()>, side: fn(&Band) -> f64) -> f64 {
        let [_, middle] = part.problem.right;
        part.problem.band.as_ref().map_or(0.0, side) / middle
    }

    /// The same as a general solver sees it: all variables of all lines, then what is left over of each limit.
    fn general(parts: &[Part<'_, ()>], left: &[f64]) -> General {
        let variables: Vec<_> = parts
            .iter()
            .enumerate()
            .flat_map(|(line, part)| part.variables().into_iter().map(move |v| (line, v)))
            .collect();
        let n = variables.len();
        // After the variables of the lines what is left over of each limit, and what each line misses in its inner half.
        let others = left.len() + parts.len();
        let row = |get: &dyn Fn(usize) -> f64, over: Option<usize>| -> Vec<f64> {
            let over = (0..others).map(|limit| f64::from(u8::from(over == Some(limit))));
            (0..n).map(get).chain(over).collect()
        };
        let mut gram: Vec<Vec<f64>> = variables
            .iter()
            .map(|(line, variable)| {
                let of = |i: usize| {
                    let (other, its) = &variables[i];
                    if line == other {
                        product(&variable.features, &its.features)
                    } else {
                        0.0
                    }
                };
                row(&of, None)
            })
            .collect();
        gram.extend((0..others).map(|_| vec![0.0; n + others]));
        let linear = |i: usize| {
            let (line, v) = &variables[i];
            product(&v.features, &parts[*line].problem.target) - 0.5 * v.price
        };
        let (mut rows, mut right) = (Vec::new(), Vec::new());
        for (line, part) in parts.iter().enumerate() {
            for equality in 0..2 {
                // Rows of like size are easier on the general solver.
                let most = part.problem.right[equality];
                let of = |i: usize| {
                    let (owner, v) = &variables[i];
                    if *owner == line {
                        v.brings[equality] / most
                    } else {
                        0.0
                    }
                };
                let missed = (equality == 1).then_some(left.len() + line);
                rows.push(row(&of, missed));
                right.push(1.0);
            }
        }
        for (limit, left) in left.iter().enumerate() {
            let takes = |i: usize| {
                let (line, v) = &variables[i];
                let each = parts[*line].uses[limit].each;
                each.get(v.place).copied().unwrap_or(0.0)
            };
            rows.push(row(&takes, Some(limit)));
            let always: f64 = parts.iter().map(|part| part.uses[limit].always).sum();
            right.push(left - always);
        }
        General {
            gram,
            linear: row(&linear, None),
            rows,
            right,
            low: (0..n)
                .map(|i| variables[i].1.low)
                .chain(left.iter().map(|_| 0.0))
                .chain(parts.iter().map(|part| -inner(part, |band| band.high.free)))
                .collect(),
            high: (0..n)
                .map(|i| variables[i].1.high)
                .chain(left.iter().map(|_| 10.0))
                .chain(parts.iter().map(|part| -inner(part, |band| band.low.free)))
                .collect(),
        }
    }

    #[test]
    fn amounts_under_what_is_shared_are_those_of_a_general_solver() {
        let mut numbers = SeededNumbers(4);
        let (mut met, mut impossible, mut unsure, mut disputed) = (0, 0, 0, 0);
        for case in 0..1000 {
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
            // The first part of each line is of one lot; base malt up and down, and something always, of another limit.
            let limit = |limit, always, each| Use {
                limit,
                always,
                each,
            };
            let uses = [
                limit(0, 0.0, [1.0, 0.0, 0.0, 0.0, 0.0]),
                limit(1, 0.3, [0.0, 0.0, 0.2, 1.0, -1.0]),
            ];
            let parts: Vec<Part<'_, ()>> = problems
                .iter()
                .zip(&alone)
                .map(|(problem, found)| Part {
                    of: (),
                    problem,
                    found,
                    uses: &uses,
                })
                .collect();
            let used = |taken: &Use, found: &[Found]| -> f64 {
                found.iter().map(|found| taken.of(&amounts(found))).sum()
            };
            let left = [
                used(&uses[0], &alone) * numbers.between(0.5, 0.95),
                used(&uses[1], &alone) - numbers.between(-0.1, 0.1),
            ];
            let constant: f64 = problems.iter().map(|p| product(&p.target, &p.target)).sum();
            let fixed: f64 = problems
                .iter()
                .zip(&alone)
                .map(|(p, found)| {
                    let slack = p.slack.as_ref().filter(|_| found.slack != 0.0);
                    let needed = slack.and_then(|slack| slack.if_needed).unwrap_or(0.0);
                    p.columns.iter().map(|c| c.cost).sum::<f64>() + 2.0 * p.part_cost + needed
                })
                .sum();
            let ours: Option<Vec<Found>> = refit(&parts, &left)
                .map(|fitted| fitted.into_iter().map(|line| line.found).collect());
            if let Some(found) = &ours {
                // Whatever the other says: these amounts are within the bounds, the equalities and the lot.
                for (taken, left) in uses.iter().zip(left) {
                    let used = used(taken, found);
                    assert!(used <= left + 1e-9, "case {case}: {used} of {left}");
                }
                for (problem, found) in problems.iter().zip(found) {
                    let [gravity, colour] = problem.residuals(found);
                    let [wanted, middle] = problem.right;
                    assert!(gravity.abs() < 1e-8 * wanted, "case {case}: {gravity}");
                    let (low, high) = problem.band.map_or((0.0, 0.0), |b| (b.low.end, b.high.end));
                    let slip = 1e-8 * middle;
                    assert!(colour > low - slip && colour < high + slip, "{colour}");
                    for (column, amount) in problem.columns.iter().zip(found.amounts) {
                        assert!(amount >= column.low && amount <= column.high);
                    }
                }
            }
            match (ours, general(&parts, &left).solve()) {
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
        assert!(met > 50 && impossible > 10, "{met}, {impossible}");
        let all = met + impossible;
        assert!(
            unsure * 50 < all && disputed * 50 < all,
            "{unsure}, {disputed}"
        );
    }
}
