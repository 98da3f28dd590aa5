//! The exact search: of all supports of one to three candidates, those of least distance.
//!
//! Each support is a small quadratic program in closed form (`table`). Most are spared by a bound from below (`bound`):
//! what the distance would be if amounts were free, below zero as well. It takes some twenty multiplications, so that all
//! triples that extend a pair are bounded in one sweep. Fixed costs alone rule out whole pairs before that. No bound drops
//! a support that belongs among the best (`ranking`): it must be worse than the worst of the kept ones, and no better than
//! what each member that may lead it has already.

mod bound;
mod ranking;
mod table;

pub(super) use ranking::{Keep, Ranking};
pub(super) use table::{Table, product};

use bound::{Extension, Free};
use ranking::Worth;
use table::lowest_first;

/// The most parts of a blend.
pub(super) const MOST_PARTS: usize = 3;
/// Blends are sought among so many candidates, those that come nearest alone, so that time and memory have an end; all are
/// looked at alone.
pub(super) const MOST_BLENDED: usize = 1500;
/// Triples that are tried early for each leader, so that the limits fall soon.
const EARLY: usize = 3;

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
    /// At most zero; zero where a unit has a price.
    pub(super) low: f64,
    /// At least zero.
    pub(super) high: f64,
    /// Cost of a unit; not below zero.
    pub(super) price: f64,
    /// What its use costs, where it is used only by supports that cannot do without.
    pub(super) if_needed: Option<f64>,
}

/// How far the second equality may be missed, on either side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Band {
    /// Below zero.
    pub(super) low: Side,
    /// Above zero.
    pub(super) high: Side,
}

/// A side of a band: free at first, costed from there to its end. All have the sign of the side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Side {
    pub(super) free: f64,
    pub(super) end: f64,
    /// What a miss of one more costs.
    pub(super) price: f64,
}

impl Band {
    /// What missing the equality by so much costs, within the band.
    pub(super) fn cost(&self, off: f64) -> f64 {
        let side = self.side(off);
        (side.price * (off - side.free)).max(0.0)
    }

    /// The side of a miss.
    const fn side(&self, off: f64) -> Side {
        if off < 0.0 { self.low } else { self.high }
    }
}

/// What is to be matched, and with what.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Problem {
    pub(super) columns: Vec<Column>,
    pub(super) slack: Option<Slack>,
    pub(super) target: Vec<f64>,
    pub(super) right: [f64; 2],
    /// Of the second equality, where it need not be met exactly.
    pub(super) band: Option<Band>,
    pub(super) part_cost: f64,
    pub(super) most_parts: usize,
}

impl Problem {
    /// One candidate for what is replaced, as much as there is of it. Each has its features and its own cost.
    pub(super) fn one_for_one(
        candidates: impl IntoIterator<Item = (Vec<f64>, f64)>,
        target: Vec<f64>,
    ) -> Self {
        let column = |(features, cost)| Column {
            features,
            brings: [1.0, 0.0],
            low: 1.0,
            high: 1.0,
            cost,
            is_slack: false,
        };
        Self {
            columns: candidates.into_iter().map(column).collect(),
            slack: None,
            target,
            right: [1.0, 0.0],
            band: None,
            part_cost: 0.0,
            most_parts: 1,
        }
    }
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

/// A search as it stands.
struct Run<'a> {
    table: &'a Table<'a>,
    effort: Effort,
    admits: &'a dyn Fn(&Found) -> bool,
    ranking: Ranking,
    worth: Worth,
}

impl Table<'_> {
    /// The best supports of up to three candidates. `admits` turns down a solved support for reasons of its own.
    pub(super) fn search(
        &self,
        keep: Keep,
        effort: Effort,
        admits: &dyn Fn(&Found) -> bool,
    ) -> Ranking {
        let mut run = Run {
            table: self,
            effort,
            admits,
            ranking: Ranking::default(),
            worth: Worth::new(keep, (0..self.count()).map(|place| self.can_lead(place))),
        };
        match effort {
            Effort::Bounded => run.bounded(),
            Effort::Exhaustive => run.exhaustive(),
        }
        run.ranking
    }
}

impl Run<'_> {
    fn most_parts(&self) -> usize {
        self.table.problem.most_parts
    }

    fn exhaustive(&mut self) {
        for i in 0..self.table.count() {
            self.consider(&[i]);
            for j in (0..i).take_while(|_| i < MOST_BLENDED) {
                if self.most_parts() >= 2 {
                    self.consider(&[j, i]);
                }
                for l in 0..j {
                    if self.most_parts() >= 3 {
                        self.consider(&[l, j, i]);
                    }
                }
            }
        }
    }

    fn bounded(&mut self) {
        for i in 0..self.table.count() {
            self.consider(&[i]);
        }
        if self.most_parts() < 2 {
            return;
        }
        let blended = self.table.order();
        let blended = blended.get(..MOST_BLENDED).unwrap_or(blended);
        let n = blended.len();
        let free = Free::new(self.table.problem, blended);
        let mut excess = vec![0.0; n];
        for i in 0..n {
            let single = free.single(i);
            self.extend(&free, &single, &[i], i, &mut excess);
        }
        if self.most_parts() < 3 {
            return;
        }
        self.try_early(&free);
        let cheapest = self.table.cheapest();
        for i in 0..n {
            for j in 0..i {
                let cost = self.table.costs(&[j, i]) + self.table.problem.part_cost;
                if cost + cheapest < self.worth.of_any(&[j, i]) {
                    let pair = free.pair(j, i);
                    self.extend(&free, &pair, &[j, i], j, &mut excess);
                }
            }
        }
    }

    /// Solves what extends a support by a candidate before `end` and may be worth it.
    fn extend(
        &mut self,
        free: &Free,
        extension: &Extension<'_>,
        members: &[usize],
        end: usize,
        excess: &mut [f64],
    ) {
        let cost = self.table.costs(members) + self.table.problem.part_cost;
        let worth = self.worth.of(members);
        let excess = excess.get_mut(..end).unwrap_or_default();
        free.excess(
            extension,
            self.table.own_costs(),
            (cost, worth),
            self.worth.each(),
            excess,
        );
        for (added, excess) in excess.iter().enumerate() {
            // What cannot be told is solved.
            if !(*excess > 0.0 || excess.is_nan()) {
                continue;
            }
            match *members {
                [i] => self.consider(&[added, i]),
                [j, i] => {
                    let bounds = free.led(extension, [j, i, added]);
                    let fixed = cost + self.table.costs(&[added]);
                    if self.worth.may_enter([j, i, added], bounds, fixed) {
                        self.consider(&[added, j, i]);
                    }
                }
                _ => {}
            }
        }
    }

    /// A few triples for each leader, those that extend its best pair and have the lowest bounds: only their values are
    /// noted, as limits for the search proper.
    fn try_early(&mut self, free: &Free) {
        let pairs: Vec<[usize; 2]> = self.worth.best_pairs().collect();
        for [j, i] in pairs {
            let pair = free.pair(j, i);
            let mut lowest: Vec<(f64, usize)> = (0..free.count())
                .filter(|l| *l != i && *l != j)
                .map(|l| (free.bound(&pair, l) + self.table.costs(&[l]), l))
                .collect();
            lowest.sort_unstable_by(lowest_first);
            for (_, l) in lowest.into_iter().take(EARLY) {
                let mut members = [l, j, i];
                members.sort_unstable();
                if let Some((found, _, place)) = self.solved(&members) {
                    self.worth.note(place, found.value, None);
                }
            }
        }
    }

    /// A support with its leader in the problem and in the table, if it is worth it and admitted.
    fn solved(&mut self, members: &[usize]) -> Option<(Found, usize, usize)> {
        let worth = match self.effort {
            Effort::Bounded => self.worth.of(members),
            Effort::Exhaustive => f64::INFINITY,
        };
        if self.effort == Effort::Bounded && self.table.costs(members) >= worth {
            return None;
        }
        self.ranking.solved += 1;
        let found = self.table.solve(members, worth)?;
        if !(self.admits)(&found) {
            return None;
        }
        let leader = self.table.problem.leader(&found)?;
        let place = members
            .iter()
            .copied()
            .find(|place| self.table.order().get(*place) == Some(&leader))?;
        Some((found, leader, place))
    }

    fn consider(&mut self, members: &[usize]) {
        let Some((found, leader, place)) = self.solved(members) else {
            return;
        };
        self.ranking.offer(found, leader, self.worth.keep());
        if self.effort == Effort::Bounded {
            self.worth.lower_supports(&self.ranking);
            let pair = match members {
                [j, i] => Some([*j, *i]),
                _ => None,
            };
            self.worth.note(place, found.value, pair);
        }
    }
}

impl Problem {
    /// The member that brings most to the first equality.
    pub(super) fn leader(&self, found: &Found) -> Option<usize> {
        found
            .parts()
            .filter_map(|(member, amount)| {
                let [brings, _] = self.columns.get(member)?.brings;
                Some((member, amount * brings))
            })
            .reduce(|most, next| if next.1 > most.1 { next } else { most })
            .map(|(member, _)| member)
    }

    /// How far the features of a found support are from the target's.
    pub(super) fn off(&self, found: &Found) -> Vec<f64> {
        let mut off: Vec<f64> = self.target.iter().map(|t| -t).collect();
        let columns = found
            .parts()
            .filter_map(|(member, amount)| Some((&self.columns.get(member)?.features, amount)));
        let slack = self.slack.iter().map(|s| (&s.features, found.slack));
        for (features, amount) in columns.chain(slack) {
            for (off, feature) in off.iter_mut().zip(features) {
                *off += amount * feature;
            }
        }
        off
    }

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
pub(super) mod tests;
