//! The exact search: of all supports of one to three candidates, those of least distance.
//!
//! Each support is a small quadratic program in closed form. Three bounds spare most of them, and none drops a support
//! that belongs among the best:
//!
//! 1. fixed costs alone: a distance is never below zero;
//! 2. for the pair that a triple extends, the least value without bounds and its multipliers: since the distance is
//!    convex, a third part can lower it by no more than its reduced cost times its largest amount;
//! 3. within a program, its least value without bounds.
//!
//! A support is worth its while below the worst of the kept ones, or below what a member that may lead it has already.

use crate::numeric::{Program, Vector};

/// The most parts of a blend.
pub(super) const MOST_PARTS: usize = 3;
/// A bound must beat the worst kept value by this, so that rounding drops nothing.
const MARGIN: f64 = 1e-9;
/// Rounding of a bound, as a share of its terms.
const ROUNDING: f64 = 1e-11;

/// A candidate: what one unit (kilogram or litre) of it brings.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Column {
    /// Weighted features; the distance is the sum of their squares.
    pub(super) features: Vec<f64>,
    /// What it brings to the two equalities.
    pub(super) brings: [f64; 2],
    pub(super) low: f64,
    pub(super) high: f64,
    /// Its own fixed cost.
    pub(super) cost: f64,
    /// Whether a slack of the same stuff is meaningless beside it.
    pub(super) is_slack: bool,
}

/// What may be changed beside the support: the base malt, or sugar or water that tops up.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Slack {
    pub(super) features: Vec<f64>,
    pub(super) brings: [f64; 2],
    /// At most zero.
    pub(super) low: f64,
    /// At least zero.
    pub(super) high: f64,
    /// Fixed cost of a unit, up or down.
    pub(super) price: f64,
}

/// What is to be matched, and with what.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Problem {
    pub(super) columns: Vec<Column>,
    pub(super) slack: Option<Slack>,
    pub(super) target: Vec<f64>,
    pub(super) right: [f64; 2],
    pub(super) part_cost: f64,
    pub(super) most_parts: usize,
}

/// A support with its best amounts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Found {
    pub(super) members: [usize; MOST_PARTS],
    pub(super) count: usize,
    pub(super) amounts: [f64; MOST_PARTS],
    pub(super) slack: f64,
    /// Squared distance without fixed costs.
    pub(super) distance: f64,
    /// Distance and fixed costs.
    pub(super) value: f64,
}

impl Found {
    /// The candidates and their amounts.
    pub(super) fn parts(&self) -> impl Iterator<Item = (usize, f64)> {
        self.members.into_iter().zip(self.amounts).take(self.count)
    }

    fn sorts_before(&self, other: &Self) -> bool {
        self.value
            .total_cmp(&other.value)
            .then(self.count.cmp(&other.count))
            .then(self.members.cmp(&other.members))
            .is_lt()
    }
}

/// How many to keep.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Keep {
    /// Supports, whoever leads them.
    pub(super) supports: usize,
    /// Leaders, each with its best support.
    pub(super) leaders: usize,
}

/// How hard to look.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Effort {
    /// Supports that cannot be among the best are passed over: the same result in less time.
    #[default]
    Bounded,
    /// Every support is solved: for checking.
    Exhaustive,
}

/// The best supports, and the best of each leader; both in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Ranking {
    pub(super) supports: Vec<Found>,
    pub(super) leaders: Vec<(usize, Found)>,
    /// How many programs were solved.
    pub(super) solved: usize,
}

impl Ranking {
    fn offer(&mut self, found: Found, leader: usize, keep: Keep) {
        if keep.supports > 0 {
            let place = self
                .supports
                .partition_point(|kept| kept.sorts_before(&found));
            if place < keep.supports {
                self.supports.insert(place, found);
                self.supports.truncate(keep.supports);
            }
        }
        if let Some(at) = self.leaders.iter().position(|(name, _)| *name == leader) {
            if self
                .leaders
                .get(at)
                .is_some_and(|(_, kept)| kept.sorts_before(&found))
            {
                return;
            }
            self.leaders.remove(at);
        }
        let place = self
            .leaders
            .partition_point(|(_, kept)| kept.sorts_before(&found));
        if place < keep.leaders {
            self.leaders.insert(place, (leader, found));
            self.leaders.truncate(keep.leaders);
        }
    }

    /// A support of this value or more is not kept, whoever leads it.
    fn worth_as_support(&self, keep: Keep) -> f64 {
        let last = self.supports.last().map(|found| found.value);
        worth(keep.supports, self.supports.len(), last)
    }

    /// A support of this value or more brings in no new leader.
    fn worth_as_leader(&self, keep: Keep) -> f64 {
        let last = self.leaders.last().map(|(_, found)| found.value);
        worth(keep.leaders, self.leaders.len(), last)
    }
}

/// From which value on nothing enters a list of at most `most`.
fn worth(most: usize, kept: usize, last: Option<f64>) -> f64 {
    match last {
        _ if most == 0 => f64::NEG_INFINITY,
        Some(value) if kept == most => with_margin(value),
        _ => f64::INFINITY,
    }
}

fn with_margin(value: f64) -> f64 {
    value + MARGIN * (1.0 + value.abs())
}

/// From which value on a support changes nothing. It must be among the best supports, or better than what its own
/// leader has: most blends of good candidates are led by one that has a better blend already.
struct Worth {
    keep: Keep,
    supports: f64,
    /// For each candidate by its place in the table: below this it changes something as a leader.
    leads: Vec<f64>,
    /// The largest of `leads` from a place on.
    leads_from: Vec<f64>,
}

impl Worth {
    /// Candidates that can lead no support are at minus infinity from the start.
    fn new(table: &Table<'_>, keep: Keep) -> Self {
        let first = if keep.leaders == 0 {
            f64::NEG_INFINITY
        } else {
            f64::INFINITY
        };
        let leads = (0..table.count())
            .map(|place| {
                if table.can_lead(place) {
                    first
                } else {
                    f64::NEG_INFINITY
                }
            })
            .collect();
        let mut worth = Self {
            keep,
            supports: worth(keep.supports, 0, None),
            leads,
            leads_from: Vec::new(),
        };
        worth.sum_up();
        worth
    }

    /// A support was offered with this leader, and perhaps kept.
    fn lower(&mut self, ranking: &Ranking, leader_place: usize, value: f64) {
        self.supports = ranking.worth_as_support(self.keep);
        let leaders = ranking.worth_as_leader(self.keep);
        for (place, worth) in self.leads.iter_mut().enumerate() {
            let own = if place == leader_place {
                with_margin(value)
            } else {
                f64::INFINITY
            };
            *worth = worth.min(leaders).min(own);
        }
        self.sum_up();
    }

    fn sum_up(&mut self) {
        self.leads_from.clone_from(&self.leads);
        let mut most = f64::NEG_INFINITY;
        for worth in self.leads_from.iter_mut().rev() {
            most = most.max(*worth);
            *worth = most;
        }
    }

    fn leads(&self, place: usize) -> f64 {
        self.leads.get(place).copied().unwrap_or(f64::NEG_INFINITY)
    }

    fn of(&self, members: &[usize]) -> f64 {
        members
            .iter()
            .fold(self.supports, |most, member| most.max(self.leads(*member)))
    }

    /// For a pair with any third from a place on.
    fn of_any(&self, pair: [usize; 2], from: usize) -> f64 {
        let third = self.leads_from.get(from).copied();
        self.of(&pair).max(third.unwrap_or(f64::NEG_INFINITY))
    }
}

/// The problem with all scalar products taken, its candidates in the order in which they are looked at.
pub(super) struct Table<'a> {
    problem: &'a Problem,
    /// The place of each in the problem.
    order: Vec<usize>,
    gram: Vec<f64>,
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

fn product(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn of(list: &[f64], at: usize) -> f64 {
    list.get(at).copied().unwrap_or(0.0)
}

impl<'a> Table<'a> {
    pub(super) fn new(problem: &'a Problem) -> Self {
        let constant = product(&problem.target, &problem.target);
        // The worst candidates first: what a bad pair can still become is bounded best.
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
        order.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let columns: Vec<&Column> = order
            .iter()
            .filter_map(|(_, at)| problem.columns.get(*at))
            .collect();
        let list = |get: &dyn Fn(&Column) -> f64| columns.iter().map(|c| get(c)).collect();
        let slack = problem.slack.as_ref();
        Self {
            gram: columns
                .iter()
                .flat_map(|a| columns.iter().map(|b| product(&a.features, &b.features)))
                .collect(),
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
            problem,
            constant,
        }
    }

    fn count(&self) -> usize {
        self.order.len()
    }

    fn row(&self, at: usize) -> &[f64] {
        let n = self.count();
        self.gram.get(at * n..(at + 1) * n).unwrap_or(&[])
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
                Some(m) => each(self.row(m), of(&self.with_slack, m)),
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
        members.iter().any(|m| {
            self.order
                .get(*m)
                .and_then(|at| self.problem.columns.get(*at))
                .is_some_and(|column| column.is_slack)
        })
    }

    fn costs(&self, members: &[usize]) -> f64 {
        let own: f64 = members.iter().map(|m| of(&self.cost, *m)).sum();
        own + self.problem.part_cost * (members.len().saturating_sub(1)) as f64
    }

    /// The programs of a support: one for each direction of the slack, with its price.
    fn programs(&self, members: &[usize]) -> ([Program; 2], usize) {
        let k = members.len();
        let mut program = self.program(members);
        let Some(slack) = &self.problem.slack else {
            return ([program; 2], 1);
        };
        if self.excludes_slack(members) {
            program.size = k;
            return ([program; 2], 1);
        }
        let half = |low: f64, high: f64, price: f64| {
            let mut half = program;
            set(&mut half.low, k, low);
            set(&mut half.high, k, high);
            let linear = half.linear.get(k).copied().unwrap_or(0.0);
            set(&mut half.linear, k, linear - 0.5 * price);
            half
        };
        let (down, up) = (
            half(slack.low, 0.0, -slack.price),
            half(0.0, slack.high, slack.price),
        );
        if slack.low < 0.0 {
            ([up, down], 2)
        } else {
            ([up, down], 1)
        }
    }

    /// The best amounts of a support, if they can be worth it.
    fn solve(&self, members: &[usize], worth: f64) -> Option<Found> {
        let fixed = self.costs(members);
        let (programs, halves) = self.programs(members);
        let k = members.len();
        let mut best: Option<(Vector, f64)> = None;
        for program in programs.iter().take(halves) {
            let worth = best.map_or(worth - fixed, |(_, value)| value.min(worth - fixed));
            if let Some(least) = program.minimum(worth) {
                best = Some((least.at, least.value));
            }
        }
        let (at, value) = best?;
        let slack = if self.problem.slack.is_some() && !self.excludes_slack(members) {
            at.get(k).copied().unwrap_or(0.0)
        } else {
            0.0
        };
        let price = self
            .problem
            .slack
            .as_ref()
            .map_or(0.0, |s| s.price * slack.abs());
        Some(self.found(members, &at, slack, value - price, value + fixed))
    }

    fn found(
        &self,
        members: &[usize],
        at: &Vector,
        slack: f64,
        distance: f64,
        value: f64,
    ) -> Found {
        let mut parts: Vec<(usize, f64)> = members
            .iter()
            .zip(at)
            .filter_map(|(m, amount)| Some((*self.order.get(*m)?, *amount)))
            .collect();
        parts.sort_unstable_by_key(|(member, _)| *member);
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
    fn can_lead(&self, place: usize) -> bool {
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

    /// The least value of a pair without bounds, and what each candidate can still lower it by a unit.
    fn pair_bound(&self, i: usize, j: usize) -> Option<PairBound> {
        let relaxed = self.program(&[i, j]).relaxed()?;
        let [a, b, s, _] = relaxed.at;
        Some(PairBound {
            value: relaxed.value,
            amounts: [a, b, s],
            multipliers: relaxed.multipliers,
        })
    }

    /// The best supports of up to three candidates. `admits` turns down a solved support for reasons of its own.
    pub(super) fn search(
        &self,
        keep: Keep,
        effort: Effort,
        admits: &dyn Fn(&Found) -> bool,
    ) -> Ranking {
        let mut ranking = Ranking::default();
        let mut worth = Worth::new(self, keep);
        let n = self.count();
        let consider = |ranking: &mut Ranking, worth: &mut Worth, members: &[usize]| {
            let least = match effort {
                Effort::Bounded => worth.of(members),
                Effort::Exhaustive => f64::INFINITY,
            };
            if effort == Effort::Bounded && self.costs(members) >= least {
                return;
            }
            ranking.solved += 1;
            if let Some(found) = self.solve(members, least)
                && admits(&found)
            {
                let leader = self.leader(&found);
                let value = found.value;
                ranking.offer(found, leader, keep);
                if effort == Effort::Bounded && value < least {
                    let place = members
                        .iter()
                        .copied()
                        .find(|place| self.order.get(*place) == Some(&leader));
                    worth.lower(ranking, place.unwrap_or(n), value);
                }
            }
        };
        for i in (0..n).rev() {
            consider(&mut ranking, &mut worth, &[i]);
        }
        if self.problem.most_parts < 2 {
            return ranking;
        }
        for i in (0..n).rev() {
            for j in (i + 1..n).rev() {
                consider(&mut ranking, &mut worth, &[i, j]);
            }
        }
        if self.problem.most_parts < 3 {
            return ranking;
        }
        let cheapest = self.cost.iter().copied().fold(f64::INFINITY, f64::min);
        let mut bounds = vec![0.0; n];
        for i in (0..n).rev() {
            for j in (i + 1..n).rev() {
                if effort == Effort::Exhaustive {
                    for l in j + 1..n {
                        consider(&mut ranking, &mut worth, &[i, j, l]);
                    }
                    continue;
                }
                let pair_cost = self.costs(&[i, j]) + self.problem.part_cost;
                if pair_cost + cheapest >= worth.of_any([i, j], j + 1) {
                    continue;
                }
                let after = bounds.get_mut(j + 1..).unwrap_or(&mut []);
                self.bound_third(self.pair_bound(i, j), [i, j], pair_cost, after);
                let mut pair_worth = worth.of(&[i, j]);
                for l in j + 1..n {
                    if of(&bounds, l) < pair_worth.max(worth.leads(l)) {
                        consider(&mut ranking, &mut worth, &[i, j, l]);
                        pair_worth = worth.of(&[i, j]);
                    }
                }
            }
        }
        ranking
    }

    /// A bound on the value of each triple that extends a pair by a candidate after it.
    fn bound_third(
        &self,
        pair: Option<PairBound>,
        [i, j]: [usize; 2],
        pair_cost: f64,
        bounds: &mut [f64],
    ) {
        let from = j + 1;
        let cost = self.cost.get(from..).unwrap_or(&[]);
        let Some(pair) = pair else {
            for (bound, cost) in bounds.iter_mut().zip(cost) {
                *bound = pair_cost + cost;
            }
            return;
        };
        let [a, b, s] = pair.amounts;
        let [nu, mu] = pair.multipliers;
        let columns = self
            .row(i)
            .iter()
            .zip(self.row(j))
            .zip(&self.with_slack)
            .zip(&self.linear)
            .zip(self.first.iter().zip(&self.second))
            .zip(self.low.iter().zip(&self.high))
            .skip(from);
        for ((bound, cost), (((((gi, gj), gs), h), (e, c)), (low, high))) in
            bounds.iter_mut().zip(cost).zip(columns)
        {
            let slope = gi * a + gj * b + gs * s - h + nu * e + mu * c;
            let reach = (slope * low).min(slope * high);
            // Far from the target both terms are large and their difference is rounded.
            let rounding = ROUNDING * (pair.value.abs() + reach.abs());
            *bound = (pair.value + 2.0 * reach - rounding).max(0.0) + pair_cost + cost;
        }
    }

    /// The member that brings most to the first equality.
    fn leader(&self, found: &Found) -> usize {
        let brings = |member: usize| {
            self.problem
                .columns
                .get(member)
                .map_or(0.0, |column| column.brings[0])
        };
        found
            .parts()
            .map(|(member, amount)| (member, amount * brings(member)))
            .reduce(|most, next| if next.1 > most.1 { next } else { most })
            .map_or(0, |(member, _)| member)
    }

    fn places(&self, members_in_problem: &[usize]) -> Vec<usize> {
        members_in_problem
            .iter()
            .filter_map(|wanted| self.order.iter().position(|at| at == wanted))
            .collect()
    }

    /// The best amounts of one support, members as the problem counts them.
    pub(super) fn solved(&self, members_in_problem: &[usize]) -> Option<Found> {
        self.solve(&self.places(members_in_problem), f64::INFINITY)
    }

    /// The point of a support that misses least, for what cannot be met; the first equality goes before the second.
    /// None where both can be met.
    pub(super) fn nearest(&self, members_in_problem: &[usize]) -> Option<Found> {
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

/// What a pair gives without bounds.
#[derive(Debug, Clone, Copy)]
struct PairBound {
    value: f64,
    amounts: [f64; 3],
    multipliers: [f64; 2],
}

fn set(vector: &mut Vector, at: usize, value: f64) {
    if let Some(place) = vector.get_mut(at) {
        *place = value;
    }
}

impl Problem {
    /// What a found support misses of the two equalities: brought less wanted.
    pub(super) fn residuals(&self, found: &Found) -> [f64; 2] {
        let slack = self.slack.as_ref().map_or([0.0; 2], |s| s.brings);
        let [first, second] = found
            .parts()
            .filter_map(|(member, amount)| Some((self.columns.get(member)?.brings, amount)))
            .chain([(slack, found.slack)])
            .fold([0.0; 2], |[first, second], ([a, b], amount)| {
                [first + a * amount, second + b * amount]
            });
        let [wanted_first, wanted_second] = self.right;
        [first - wanted_first, second - wanted_second]
    }
}

#[cfg(test)]
mod tests;
