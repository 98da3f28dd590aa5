//! The best supports and leaders so far, and from which value on a support changes neither.

use super::Found;

/// A bound must beat the worst kept value by this, so that rounding drops nothing.
const MARGIN: f64 = 1e-9;

impl Found {
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
pub(in crate::substitute) struct Keep {
    /// Supports, whoever leads them.
    pub(in crate::substitute) supports: usize,
    /// Leaders, each with its best support.
    pub(in crate::substitute) leaders: usize,
}

/// The best supports, and the best of each leader; both in order.
#[derive(Debug, Clone, PartialEq, Default)]
pub(in crate::substitute) struct Ranking {
    pub(in crate::substitute) supports: Vec<Found>,
    pub(in crate::substitute) leaders: Vec<(usize, Found)>,
    /// How many programs were solved.
    pub(in crate::substitute) solved: usize,
}

impl Ranking {
    pub(super) fn offer(&mut self, found: Found, leader: usize, keep: Keep) {
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
}

fn with_margin(value: f64) -> f64 {
    value + MARGIN * (1.0 + value.abs())
}

/// From which value on a support changes nothing. It must be among the best supports, or better than what its own
/// leader has: most blends of good candidates are led by one that has a better blend already.
pub(super) struct Worth {
    keep: Keep,
    supports: f64,
    /// The least value known of each candidate as a leader, by its place in the table.
    best: Vec<f64>,
    /// The pair that it was found with first.
    best_pair: Vec<Option<(f64, [usize; 2])>>,
    /// Below this a support changes something if the candidate leads it; minus infinity where it cannot lead.
    leads: Vec<f64>,
    /// The largest of these.
    most: f64,
    /// The value of the last leader that is kept, or infinity.
    enters: f64,
}

impl Worth {
    pub(super) fn new(keep: Keep, can_lead: impl Iterator<Item = bool>) -> Self {
        let leads: Vec<f64> = can_lead
            .map(|can| {
                if can && keep.leaders > 0 {
                    f64::INFINITY
                } else {
                    f64::NEG_INFINITY
                }
            })
            .collect();
        let most = leads.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        Self {
            keep,
            supports: if keep.supports == 0 {
                f64::NEG_INFINITY
            } else {
                f64::INFINITY
            },
            best: vec![f64::INFINITY; leads.len()],
            best_pair: vec![None; leads.len()],
            leads,
            most,
            enters: f64::INFINITY,
        }
    }

    pub(super) const fn keep(&self) -> Keep {
        self.keep
    }

    /// The ranking has taken in a support.
    pub(super) fn lower_supports(&mut self, ranking: &Ranking) {
        if self.keep.supports > 0
            && ranking.supports.len() == self.keep.supports
            && let Some(last) = ranking.supports.last()
        {
            self.supports = with_margin(last.value);
        }
    }

    /// A support of this value exists with this leader; `pair` names it if it has two parts.
    pub(super) fn note(&mut self, leader: usize, value: f64, pair: Option<[usize; 2]>) {
        if let (Some(pair), Some(best)) = (pair, self.best_pair.get_mut(leader))
            && best.is_none_or(|(known, _)| value < known)
        {
            *best = Some((value, pair));
        }
        let Some(best) = self.best.get_mut(leader).filter(|best| value < **best) else {
            return;
        };
        *best = value;
        if self.keep.leaders == 0 {
            return;
        }
        if value < self.enters {
            let mut known: Vec<f64> = self.best.clone();
            if let Some(last) = self.keep.leaders.checked_sub(1)
                && last < known.len()
            {
                let (_, last, _) = known.select_nth_unstable_by(last, f64::total_cmp);
                self.enters = *last;
            }
            let enters = with_margin(self.enters);
            for (leads, best) in self.leads.iter_mut().zip(&self.best) {
                *leads = leads.min(enters).min(with_margin(*best));
            }
            self.most = self.leads.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        }
    }

    /// The best pair of each leader that is worth extending.
    pub(super) fn best_pairs(&self) -> impl Iterator<Item = [usize; 2]> {
        self.best_pair.iter().flatten().map(|(_, pair)| *pair)
    }

    /// For each candidate as a leader.
    pub(super) fn each(&self) -> &[f64] {
        &self.leads
    }

    /// For a support of these.
    pub(super) fn of(&self, members: &[usize]) -> f64 {
        members.iter().fold(self.supports, |most, member| {
            most.max(
                self.leads
                    .get(*member)
                    .copied()
                    .unwrap_or(f64::NEG_INFINITY),
            )
        })
    }

    /// Whether a triple may change something, with the bounds on its distance for each member that may lead it.
    pub(super) fn may_enter(&self, members: [usize; 3], bounds: [f64; 3], fixed: f64) -> bool {
        members.iter().zip(bounds).any(|(member, bound)| {
            let leads = self
                .leads
                .get(*member)
                .copied()
                .unwrap_or(f64::NEG_INFINITY);
            // What cannot be told may.
            bound.is_nan() || bound + fixed < self.supports.max(leads)
        })
    }

    /// For any support that extends these.
    pub(super) fn of_any(&self, members: &[usize]) -> f64 {
        self.of(members).max(self.most)
    }
}
