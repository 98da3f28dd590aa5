//! The candidates in the order in which they are looked at, and the closed form of one support.

use super::{Band, Column, Found, MOST_PARTS, Problem, Side, Slack};
use crate::numeric::{Minimum, Program, Vector, dot};
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

    /// The program of a support, with a slack or without.
    fn program(&self, members: &[usize], slack: Option<&Slack>) -> Program {
        let k = members.len();
        let member = |i: usize| members.get(i).copied();
        let each = |list: &[f64], slack: f64| -> Vector {
            std::array::from_fn(|i| match member(i) {
                Some(m) => of(list, m),
                None if i == k => slack,
                None => 0.0,
            })
        };
        let [slack_first, slack_second] = slack.map_or([0.0; 2], |s| s.brings);
        let price = slack.map_or(0.0, |s| s.price);
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
            linear: each(&self.linear, self.slack_linear - 0.5 * price),
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

    /// The slack that a support may use: never beside the same stuff.
    fn slack(&self, members: &[usize]) -> Option<&'a Slack> {
        let slack = self.problem.slack.as_ref();
        slack.filter(|_| !self.excludes_slack(members))
    }

    fn excludes_slack(&self, members: &[usize]) -> bool {
        let is_slack = |m: &usize| self.columns.get(*m).is_some_and(|column| column.is_slack);
        members.iter().any(is_slack)
    }

    pub(super) fn costs(&self, members: &[usize]) -> f64 {
        let own: f64 = members.iter().map(|m| of(&self.cost, *m)).sum();
        own + self.problem.part_cost * (members.len().saturating_sub(1)) as f64
    }

    /// The best amounts of a support, if they can be worth it.
    pub(super) fn solve(&self, members: &[usize], worth: f64) -> Option<Found> {
        let fixed = self.costs(members);
        let slack = self.slack(members);
        match slack.and_then(|slack| Some((slack, slack.if_needed?))) {
            Some(_) if self.can_meet(members, None) => self.least(members, None, fixed, worth),
            Some((slack, cost)) if self.can_meet(members, Some(slack)) => {
                self.least(members, Some(slack), fixed + cost, worth)
            }
            Some(_) => None,
            None => self.least(members, slack, fixed, worth),
        }
    }

    /// Whether amounts within their bounds meet both equalities, the second within its band. By the first, everything
    /// that brings something is exchanged one for another: the second is largest and least where what brings most of it for
    /// its share of the first is used up first.
    fn can_meet(&self, members: &[usize], slack: Option<&Slack>) -> bool {
        let [wanted, second] = self.problem.right;
        let band = self
            .problem
            .band
            .map_or([0.0; 2], |band| [band.low.end, band.high.end]);
        let mut stuff = [(0.0, 0.0, 1.0); MOST_PARTS + 1];
        let mut left = wanted;
        let mut at_least = 0.0;
        let each = members
            .iter()
            .map(|m| {
                let brings = [of(&self.first, *m), of(&self.second, *m)];
                (brings, of(&self.low, *m), of(&self.high, *m))
            })
            .chain(slack.map(|s| (s.brings, s.low, s.high)));
        for (entry, ([first, second], low, high)) in stuff.iter_mut().zip(each) {
            left -= first * low;
            at_least += second * low;
            *entry = (second / first, first * (high - low), first);
        }
        if stuff.iter().any(|(.., first)| *first <= 0.0) {
            // It cannot be told in this way.
            return true;
        }
        let slip = 1e-9 * wanted.abs();
        let room: f64 = stuff.iter().map(|(_, room, _)| room).sum();
        if left < -slip || left > room + slip {
            return false;
        }
        stuff.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let filled = |mut left: f64, (rate, room, _): &(f64, f64, f64)| {
            let part = left.min(*room).max(0.0);
            left -= part;
            (left, if part > 0.0 { rate * part } else { 0.0 })
        };
        let (mut low, mut high) = (at_least, at_least);
        let (mut from_low, mut from_high) = (left, left);
        for (cheap, dear) in stuff.iter().zip(stuff.iter().rev()) {
            let (rest, brings) = filled(from_low, cheap);
            (from_low, low) = (rest, low + brings);
            let (rest, brings) = filled(from_high, dear);
            (from_high, high) = (rest, high + brings);
        }
        let [down, up] = band;
        let slip = 1e-9 * (second.abs() + high.abs());
        low <= second + up + slip && high >= second + down - slip
    }

    /// The best amounts with a slack or without, if they can be worth it.
    fn least(
        &self,
        members: &[usize],
        slack: Option<&Slack>,
        fixed: f64,
        worth: f64,
    ) -> Option<Found> {
        let program = self.program(members, slack);
        let (least, off_band) = match &self.problem.band {
            Some(band) => within(band, &program, worth - fixed)?,
            None => (program.minimum(worth - fixed)?, 0.0),
        };
        let amount = slack.map_or(0.0, |_| of(&least.at, members.len()));
        let price = slack.map_or(0.0, |s| s.price * amount);
        let distance = least.value - price - off_band;
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
        let second = second + self.problem.band.map_or(0.0, |band| band.high.end);
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
        let slack = self.slack(&members);
        let program = self.program(&members, slack);
        let miss = program.nearest();
        let amount = slack.map_or(0.0, |_| of(&miss.nearest.at, members.len()));
        let price = slack.map_or(0.0, |s| s.price * amount);
        let using = slack.and_then(|s| s.if_needed).unwrap_or(0.0);
        Some(self.found(
            &members,
            &miss.nearest.at,
            amount,
            miss.nearest.value - price,
            miss.nearest.value + using + self.costs(&members),
        ))
    }
}

/// The least value of a program whose second equality has a band, with what the band costs there. The least value for a
/// given miss is convex in the miss, and so is the cost: where the free least lies where a miss is free nothing lies below;
/// else the best miss lies on its side, and a tilt finds it or tells at which end of what is costed it is.
fn within(band: &Band, program: &Program, worth: f64) -> Option<(Minimum, f64)> {
    let [first, second] = program.rows;
    let [wanted, middle] = program.right;
    let off = |least: &Minimum| dot(&second, &least.at) - middle;
    let free = Program {
        rows: [first, [0.0; 4]],
        right: [wanted, 0.0],
        ..*program
    };
    let least = free.minimum(worth)?;
    let Side {
        free: from,
        end,
        price,
    } = band.side(off(&least));
    if off(&least).abs() <= from.abs() {
        return Some((least, 0.0));
    }
    let tilted = Program {
        linear: std::array::from_fn(|i| of(&free.linear, i) - 0.5 * price * of(&second, i)),
        constant: free.constant - price * (middle + from),
        ..free
    };
    let best = off(&tilted.minimum(worth)?);
    let (low, high) = (from.min(end), from.max(end));
    let miss = best.max(low).min(high);
    let cost = price * (miss - from);
    let held = Program {
        right: [wanted, middle + miss],
        ..*program
    };
    let least = held.minimum(worth - cost)?;
    Some((
        Minimum {
            value: least.value + cost,
            ..least
        },
        cost,
    ))
}
