mod exhaustive;

use super::*;
use crate::numeric::tests::{General, SeededNumbers, Verdict};

/// A random problem in the manner of a grist: malts of some extract and colour, with or without slack.
pub(in crate::substitute) fn random(
    numbers: &mut SeededNumbers,
    count: usize,
    slack: bool,
) -> Problem {
    let features = 6;
    let feature = |numbers: &mut SeededNumbers, size: f64| -> Vec<f64> {
        (0..features)
            .map(|_| {
                if numbers.below(2) == 0 {
                    numbers.between(0.0, size)
                } else {
                    0.0
                }
            })
            .collect()
    };
    let columns = (0..count)
        .map(|_| {
            let dark = numbers.below(3) == 0;
            Column {
                features: feature(numbers, 1.0),
                brings: [
                    numbers.between(0.5, 0.95),
                    if dark {
                        numbers.between(20.0, 900.0)
                    } else {
                        numbers.between(2.0, 20.0)
                    },
                ],
                low: numbers.between(0.02, 0.1),
                high: numbers.between(0.3, 1.6),
                cost: 0.02 * numbers.below(4) as f64,
                is_slack: slack && numbers.below(12) == 0,
            }
        })
        .collect();
    let right = [
        numbers.between(0.5, 0.8),
        if numbers.below(2) == 0 {
            numbers.between(4.0, 12.0)
        } else {
            numbers.between(30.0, 300.0)
        },
    ];
    // Base malt where nothing can be met without, or sugar that tops up.
    let base = numbers.below(3) > 0;
    Problem {
        columns,
        slack: slack.then(|| Slack {
            features: feature(numbers, 0.4),
            brings: [0.72, 6.0],
            low: if base {
                -numbers.between(0.1, 1.0)
            } else {
                0.0
            },
            high: numbers.between(0.1, 1.0),
            price: if base { 0.0 } else { 0.02 },
            if_needed: base.then_some(0.02),
        }),
        target: feature(numbers, 1.0),
        right,
        band: (numbers.below(2) == 0).then(|| {
            let low = -right[1] * numbers.between(0.05, 0.4);
            let high = right[1] * numbers.between(0.05, 0.4);
            let cost = numbers.between(0.01, 0.2);
            // Of one side so much is free as the other is of both.
            let side = |end: f64, other: f64| {
                let free = end * other.abs() / (high - low);
                Side {
                    free,
                    end,
                    price: cost / (end - free),
                }
            };
            Band {
                low: side(low, high),
                high: side(high, low),
            }
        }),
        part_cost: 0.02,
        most_parts: 3,
    }
}

fn supports(count: usize) -> Vec<Vec<usize>> {
    let mut all = Vec::new();
    for i in 0..count {
        all.push(vec![i]);
        for j in i + 1..count {
            all.push(vec![i, j]);
            for l in j + 1..count {
                all.push(vec![i, j, l]);
            }
        }
    }
    all
}

/// What a general solver says of a support: first without a slack that is used only where it is needed, then with it.
fn general(problem: &Problem, members: &[usize]) -> Verdict {
    let needed = problem.slack.as_ref().and_then(|slack| slack.if_needed);
    let excluded = members.iter().any(|m| problem.columns[*m].is_slack);
    match needed.filter(|_| !excluded) {
        Some(cost) => {
            let with = general_with(problem, members, true);
            match (general_with(problem, members, false), with) {
                (Verdict::Impossible, Verdict::Least(value)) => Verdict::Least(value + cost),
                (Verdict::Impossible, other) | (other, _) => other,
            }
        }
        None => general_with(problem, members, !excluded),
    }
}

/// The slack is a variable, and so is what the second equality is missed by: where that is free, and beyond on
/// either side at a price.
fn general_with(problem: &Problem, members: &[usize], with_slack: bool) -> Verdict {
    let mut features: Vec<Vec<f64>> = Vec::new();
    let (mut brings, mut low, mut high, mut price) = (vec![], vec![], vec![], vec![]);
    for m in members {
        let column = &problem.columns[*m];
        features.push(column.features.clone());
        brings.push(column.brings);
        low.push(column.low);
        high.push(column.high);
        price.push(0.0);
    }
    if let Some(slack) = problem.slack.as_ref().filter(|_| with_slack) {
        features.push(slack.features.clone());
        brings.push(slack.brings);
        low.push(slack.low);
        high.push(slack.high);
        price.push(slack.price);
    }
    if let Some(band) = &problem.band {
        let Band {
            low: down,
            high: up,
        } = band;
        for (sign, least, most, rate) in [
            (1.0, down.free, up.free, 0.0),
            (1.0, 0.0, up.end - up.free, up.price),
            (-1.0, 0.0, down.free - down.end, -down.price),
        ] {
            features.push(vec![0.0; problem.target.len()]);
            brings.push([0.0, -sign]);
            low.push(least);
            high.push(most);
            price.push(rate);
        }
    }
    // Rows of like size are easier on the general solver.
    let row = |r: usize| -> (Vec<f64>, f64) {
        let most = brings
            .iter()
            .map(|b: &[f64; 2]| b[r].abs())
            .fold(0.0, f64::max);
        (
            brings.iter().map(|b| b[r] / most).collect(),
            problem.right[r] / most,
        )
    };
    let (first, second) = (row(0), row(1));
    General {
        gram: features
            .iter()
            .map(|a| features.iter().map(|b| product(a, b)).collect())
            .collect(),
        linear: features
            .iter()
            .zip(&price)
            .map(|(a, p)| product(a, &problem.target) - 0.5 * p)
            .collect(),
        rows: vec![first.0, second.0],
        right: vec![first.1, second.1],
        low,
        high,
    }
    .solve()
}

const KEEP: Keep = Keep {
    supports: 10,
    leaders: 5,
};

#[test]
fn the_best_ten_are_those_of_a_general_solver() {
    let mut numbers = SeededNumbers(2024);
    let (mut impossible, mut unsure) = (0, 0);
    let cases: Vec<_> = (0..30)
        .map(|case| {
            let count = 7 + numbers.below(4);
            let problem = random(&mut numbers, count, case % 3 != 0);
            let verdicts: Vec<_> = supports(count)
                .into_iter()
                .map(|members| (general(&problem, &members), members))
                .collect();
            (problem, verdicts)
        })
        .collect();
    for (case, (problem, verdicts)) in cases.into_iter().enumerate() {
        let table = Table::new(&problem);
        let ours = table.search(KEEP, Effort::Bounded, &|_| true);
        let mut theirs: Vec<(f64, Vec<usize>)> = Vec::new();
        let constant = product(&problem.target, &problem.target);
        for (verdict, members) in verdicts {
            let alone = table.solved(&members);
            match verdict {
                Verdict::Least(value) => {
                    let own: f64 = members.iter().map(|m| problem.columns[*m].cost).sum();
                    let value =
                        value + constant + own + problem.part_cost * (members.len() - 1) as f64;
                    theirs.push((value, members.clone()));
                    if let Some(found) = alone {
                        assert!(
                            (found.value - value).abs() <= 1e-6 * value.abs().max(0.1),
                            "case {case} {members:?}: {} against {value}",
                            found.value
                        );
                    }
                }
                Verdict::Impossible => {
                    impossible += 1;
                    assert!(alone.is_none(), "case {case}: {members:?} is impossible");
                }
                Verdict::Unsure => unsure += 1,
            }
        }
        theirs.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(ours.supports.len(), theirs.len().min(10), "case {case}");
        for (found, (value, members)) in ours.supports.iter().zip(&theirs) {
            assert!(
                (found.value - value).abs() <= 1e-6 * value.abs().max(0.1),
                "case {case}: {} against {value}",
                found.value
            );
            // Two supports may tie to within the general solver's tolerance.
            let same = found.members[..found.count] == members[..];
            assert!(
                same || theirs
                    .iter()
                    .any(|(v, m)| m[..] == found.members[..found.count]
                        && (v - value).abs() <= 1e-6 * value.abs().max(0.1)),
                "case {case}: {found:?} against {members:?}"
            );
            let [gravity, colour] = problem.residuals(found);
            let [wanted, middle] = problem.right;
            assert!(gravity.abs() < 1e-8 * wanted, "case {case}: {gravity}");
            let (low, high) = problem
                .band
                .map_or((0.0, 0.0), |band| (band.low.end, band.high.end));
            let slip = 1e-8 * middle;
            assert!(
                colour > low - slip && colour < high + slip,
                "case {case}: {colour}"
            );
        }
    }
    assert!(impossible > 100, "{impossible}");
    assert!(unsure < 40, "{unsure}");
}

#[test]
fn the_order_of_candidates_does_not_matter() {
    let mut numbers = SeededNumbers(5);
    for _ in 0..20 {
        let problem = random(&mut numbers, 15, true);
        let mut reversed = problem.clone();
        reversed.columns.reverse();
        let value = |problem: &Problem| -> Vec<f64> {
            Table::new(problem)
                .search(KEEP, Effort::Bounded, &|_| true)
                .supports
                .iter()
                .map(|found| found.value)
                .collect()
        };
        for (a, b) in value(&problem).iter().zip(value(&reversed)) {
            assert!((a - b).abs() < 1e-10);
        }
    }
}

#[test]
fn the_nearest_keeps_gravity_and_tells_the_colour_it_misses() {
    // One malt of 0.7 extract and colour 10 for 0.7 of extract and colour 4: exactly one unit, six too dark.
    let problem = Problem {
        columns: vec![Column {
            features: vec![1.0],
            brings: [0.7, 10.0],
            low: 0.05,
            high: 2.0,
            cost: 0.0,
            is_slack: false,
        }],
        slack: None,
        target: vec![1.0],
        right: [0.7, 4.0],
        band: None,
        part_cost: 0.1,
        most_parts: 3,
    };
    let table = Table::new(&problem);
    assert!(
        table
            .search(KEEP, Effort::Bounded, &|_| true)
            .supports
            .is_empty()
    );
    let nearest = table.nearest(&[0]).unwrap();
    assert!((nearest.amounts[0] - 1.0).abs() < 1e-12);
    let [gravity, colour] = problem.residuals(&nearest);
    assert!(gravity.abs() < 1e-12);
    assert!((colour - 6.0).abs() < 1e-12);
}

#[test]
fn a_bound_is_never_above_what_it_bounds_and_close_without_bounds_on_the_amounts() {
    let mut numbers = SeededNumbers(31);
    let (mut looked_at, mut tight, mut sharper) = (0, 0, 0);
    for case in 0..40 {
        let mut problem = random(&mut numbers, 12, case % 2 == 0);
        if case % 5 == 0 {
            // Twins, and candidates for which the second equality follows from the first.
            problem.columns[1] = problem.columns[0].clone();
            let [wanted, with_it] = problem.right;
            for column in problem.columns.iter_mut().take(4) {
                column.brings[1] = column.brings[0] * with_it / wanted;
            }
        }
        let wide = {
            let mut wide = problem.clone();
            for column in &mut wide.columns {
                (column.low, column.high) = (-1e3, 1e3);
            }
            if let Some(slack) = &mut wide.slack {
                (slack.low, slack.high, slack.price) = (-1e3, 1e3, 0.0);
                slack.if_needed = None;
            }
            wide
        };
        let (table, open) = (Table::new(&problem), Table::new(&wide));
        let order: Vec<usize> = table.order().to_vec();
        let free = Free::new(&problem, &order);
        for [i, j, l] in triples(12) {
            let bound = free.bound(&free.pair(i, j), l);
            let members = [i, j, l].map(|place| order[place]);
            let cost = problem.part_cost * 2.0
                + members
                    .iter()
                    .map(|m| problem.columns[*m].cost)
                    .sum::<f64>();
            if let Some(found) = table.solved(&members) {
                let value = found.value - cost;
                assert!(bound <= value + 1e-9, "case {case}: {bound} above {value}");
                let leader = problem
                    .leader(&found)
                    .and_then(|leader| order.iter().position(|m| *m == leader));
                let led = free.led(&free.pair(i, j), [i, j, l]);
                let at = [i, j, l].iter().position(|place| Some(*place) == leader);
                let led = led[at.unwrap()];
                assert!(led <= value + 1e-9, "case {case}: {led} above {value}");
                sharper += usize::from(led > bound + 1e-3);
                looked_at += 1;
            }
            let excluded = members.iter().any(|m| problem.columns[*m].is_slack);
            if let Some(least) = open.solved(&members)
                && case % 5 != 0
                && !excluded
                && problem.band.is_none()
                && least.amounts.iter().all(|amount| amount.abs() < 100.0)
                && least.value < 10.0
            {
                // Equalities that slip by a little lower what is far off by more; such supports are out of question.
                let value = least.value - cost;
                assert!(
                    bound > 0.999 * value - 1e-5,
                    "case {case}: {bound} far below {value}"
                );
                tight += 1;
            }
        }
    }
    assert!(looked_at > 2000 && tight > 2000, "{looked_at}, {tight}");
    assert!(sharper > 100, "{sharper}");
}

fn triples(count: usize) -> Vec<[usize; 3]> {
    supports(count)
        .into_iter()
        .filter_map(|members| members.try_into().ok())
        .collect()
}
