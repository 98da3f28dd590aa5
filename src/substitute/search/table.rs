//! The candidates in the order in which they are looked at, and the closed form of one support.

use super::{Column, Found, MOST_PARTS, Problem, Slack};
use crate::numeric::{Program, Vector};
use std::cmp::Ordering;

/// The problem with its candidates in the order in which they are looked at.
pub(in crate::substitute) struct Table<'a> {
    pub(super) problem: &'a Problem,
    /// The place of each in the problem.
    order: Vec<usize>,
    /// And the way back.
    places: Vec<usize>,
    columns: Vec<&'a Column>,
    linear: Vec<f64>,
    with_slack: Vec<f64>,
    first: Vec<f64>,
    second: Vec<f64>,
    low: Vec<f64>,
    high: Vec<f64>,
    cost: Vec<f64>,
    slack_square: f64,
    slack_linear: f64,
    constant: f64,
}

/// The scalar product.
pub(in crate::substitute) fn product(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The order of figures with their places; those that tie stand as their places do.
pub(super) fn lowest_first(one: &(f64, usize), other: &(f64, usize)) -> Ordering {
    one.0.total_cmp(&other.0).then(one.1.cmp(&other.1))
}

fn of(list: &[f64], at: usize) -> f64 {
    list.get(at).copied().unwrap_or(0.0)
}

impl<'a> Table<'a> {
    pub(in crate::substitute) fn new(problem: &'a Problem) -> Self {
        let constant = product(&problem.target, &problem.target);
        // The best candidates first: what comes later has lower limits to beat.
        let badness = |column: &Column| {
            let [brings, _] = column.brings;
            let [wanted, _] = problem.right;
            let amount = if brings > 0.0 { wanted / brings } else { 0.0 };
            column
                .features
                .iter()
                .zip(&problem.target)
                .map(|(a, b)| (amount * a - b).powi(2))
                .sum::<f64>()
                + column.cost
        };
        let mut order: Vec<(f64, usize)> = problem
            .columns
            .iter()
            .enumerate()
            .map(|(at, column)| (badness(column), at))
            .collect();
        order.sort_unstable_by(lowest_first);
        let columns: Vec<&Column> = order
            .iter()
            .filter_map(|(_, at)| problem.columns.get(*at))
            .collect();
        let list = |get: &dyn Fn(&Column) -> f64| columns.iter().map(|c| get(c)).collect();
        let slack = problem.slack.as_ref();
        let mut places = vec![0; order.len()];
        for (place, (_, at)) in order.iter().enumerate() {
            if let Some(entry) = places.get_mut(*at) {
                *entry = place;
            }
        }
        Self {
            places,
            linear: list(&|c| product(&c.features, &problem.target)),
            with_slack: list(&|c| slack.map_or(0.0, |s| product(&c.features, &s.features))),
            first: list(&|c| c.brings[0]),
            second: list(&|c| c.brings[1]),
            low: list(&|c| c.low),
            high: list(&|c| c.high),
            cost: list(&|c| c.cost),
            slack_square: slack.map_or(0.0, |s| product(&s.features, &s.features)),
            slack_linear: slack.map_or(0.0, |s| product(&s.features, &problem.target)),
            order: order.into_iter().map(|(_, at)| at).collect(),
            columns,
            problem,
            constant,
        }
    }

    pub(super) fn count(&self) -> usize {
        self.order.len()
    }

    fn features(&self, at: usize) -> &[f64] {
        self.columns
            .get(at)
            .map_or(&[], |column| column.features.as_slice())
    }

    /// The program of a support, without its slack's bounds and price.
    fn program(&self, members: &[usize]) -> Program {
        let k = members.len();
        let member = |i: usize| members.get(i).copied();
        let each = |list: &[f64], slack: f64| -> Vector {
            std::array::from_fn(|i| match member(i) {
                Some(m) => of(list, m),
                None if i == k => slack,
                None => 0.0,
            })
        };
        let slack = self.problem.slack.as_ref();
        let [slack_first, slack_second] = slack.map_or([0.0; 2], |s| s.brings);
        Program {
            size: k + usize::from(slack.is_some()),
            gram: std::array::from_fn(|i| match member(i) {
                Some(m) => std::array::from_fn(|j| match member(j) {
                    Some(other) => product(self.features(m), self.features(other)),
                    None if j == k => of(&self.with_slack, m),
                    None => 0.0,
                }),
                None if i == k => each(&self.with_slack, self.slack_square),
                None => [0.0; 4],
            }),
            linear: each(&self.linear, self.slack_linear),
            constant: self.constant,
            rows: [
                each(&self.first, slack_first),
                each(&self.second, slack_second),
            ],
            right: self.problem.right,
            low: each(&self.low, slack.map_or(0.0, |s| s.low)),
            high: each(&self.high, slack.map_or(0.0, |s| s.high)),
        }
    }

    fn excludes_slack(&self, members: &[usize]) -> bool {
        let is_slack = |m: &usize| self.columns.get(*m).is_some_and(|column| column.is_slack);
        members.iter().any(is_slack)
    }

    pub(super) fn costs(&self, members: &[usize]) -> f64 {
        let own: f64 = members.iter().map(|m| of(&self.cost, *m)).sum();
        own + self.problem.part_cost * (members.len().saturating_sub(1)) as f64
    }

    /// The program with the slack's price, for slack of one sign.
    fn priced(program: &Program, k: usize, slack: &Slack, sign: f64) -> Program {
        let mut priced = *program;
        let linear = priced.linear.get(k).copied().unwrap_or(0.0);
        set(&mut priced.linear, k, linear - 0.5 * sign * slack.price);
        if sign > 0.0 {
            set(&mut priced.low, k, slack.low.max(0.0));
        } else {
            set(&mut priced.high, k, slack.high.min(0.0));
        }
        priced
    }

    /// The best amounts of a support, if they can be worth it.
    pub(super) fn solve(&self, members: &[usize], worth: f64) -> Option<Found> {
        let fixed = self.costs(members);
        let k = members.len();
        let mut program = self.program(members);
        let slack = self.problem.slack.as_ref();
        let Some(slack) = slack.filter(|_| !self.excludes_slack(members)) else {
            program.size = k;
            let least = program.minimum(worth - fixed)?;
            return Some(self.found(members, &least.at, 0.0, least.value, least.value + fixed));
        };
        // Without its price first. That tells on which side the slack lies: the distance is convex in it.
        let mut least = program.minimum(worth - fixed)?;
        let unpriced = least.at.get(k).copied().unwrap_or(0.0);
        if unpriced != 0.0 {
            least = Self::priced(&program, k, slack, unpriced.signum()).minimum(worth - fixed)?;
        }
        let amount = least.at.get(k).copied().unwrap_or(0.0);
        let distance = least.value - slack.price * amount.abs();
        Some(self.found(members, &least.at, amount, distance, least.value + fixed))
    }

    fn found(
        &self,
        members: &[usize],
        at: &Vector,
        slack: f64,
        distance: f64,
        value: f64,
    ) -> Found {
        let mut parts: Vec<(usize, f64)> = Vec::with_capacity(members.len());
        for (member, amount) in members.iter().zip(at) {
            let Some(member) = self.order.get(*member) else {
                continue;
            };
            let place = parts.partition_point(|(other, _)| other < member);
            parts.insert(place, (*member, *amount));
        }
        let part = |i: usize| parts.get(i).copied().unwrap_or((0, 0.0));
        Found {
            members: std::array::from_fn(|i| part(i).0),
            count: members.len(),
            amounts: std::array::from_fn(|i| part(i).1),
            slack,
            distance: distance.max(0.0),
            value,
        }
    }

    /// Whether a candidate can bring as much of the first equality as each of two others: a third of what the slack
    /// leaves. The second equality limits it too where nothing brings less than none of that.
    pub(super) fn can_lead(&self, place: usize) -> bool {
        let slack = self.problem.slack.as_ref();
        let relieved = |row: fn(&Slack) -> f64| {
            slack.map_or([0.0; 2], |s| {
                let (down, up) = (s.low * row(s), s.high * row(s));
                [down.min(up), down.max(up)]
            })
        };
        let [_, most_of_first] = relieved(|s| s.brings[0]);
        let [least_of_second, _] = relieved(|s| s.brings[1]);
        let [first, second] = self.problem.right;
        let mut most = of(&self.high, place);
        let brings = of(&self.second, place);
        let none_below_zero = self.second.iter().chain(&self.low).all(|v| *v >= 0.0);
        if none_below_zero && brings > 0.0 {
            most = most.min((second - least_of_second) / brings);
        }
        let share = (first - most_of_first) / MOST_PARTS as f64;
        most * of(&self.first, place) >= share - 1e-9 * first.abs()
    }

    pub(super) fn order(&self) -> &[usize] {
        &self.order
    }

    pub(super) fn own_costs(&self) -> &[f64] {
        &self.cost
    }

    pub(super) fn cheapest(&self) -> f64 {
        self.cost.iter().copied().fold(f64::INFINITY, f64::min)
    }

    fn places(&self, members_in_problem: &[usize]) -> Vec<usize> {
        members_in_problem
            .iter()
            .filter_map(|at| self.places.get(*at).copied())
            .collect()
    }

    /// The best amounts of one support, members as the problem counts them.
    pub(in crate::substitute) fn solved(&self, members_in_problem: &[usize]) -> Option<Found> {
        self.solve(&self.places(members_in_problem), f64::INFINITY)
    }

    /// The point of a support that misses least, for what cannot be met; the first equality goes before the second.
    /// None where both can be met.
    pub(in crate::substitute) fn nearest(&self, members_in_problem: &[usize]) -> Option<Found> {
        let members = self.places(members_in_problem);
        if self.solve(&members, f64::INFINITY).is_some() {
            return None;
        }
        let mut program = self.program(&members);
        let k = members.len();
        if self.excludes_slack(&members) {
            program.size = k;
        }
        let miss = program.nearest();
        let slack = if program.size > k {
            miss.nearest.at.get(k).copied().unwrap_or(0.0)
        } else {
            0.0
        };
        let price = self
            .problem
            .slack
            .as_ref()
            .map_or(0.0, |s| s.price * slack.abs());
        Some(self.found(
            &members,
            &miss.nearest.at,
            slack,
            miss.nearest.value,
            miss.nearest.value + price + self.costs(&members),
        ))
    }
}

fn set(vector: &mut Vector, at: usize, value: f64) {
    if let Some(place) = vector.get_mut(at) {
        *place = value;
    }
}
