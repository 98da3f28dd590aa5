//! The nearest to a program that no point satisfies.

use super::{Equality, Miss, Program, SLIP, Vector, at, dot};

impl Program {
    /// The point within the bounds that misses the first equality least, and among those the second.
    pub(crate) fn nearest(&self) -> Miss {
        let [first, second] = &self.rows;
        let [right_first, right_second] = self.right;
        let corner = |sign: f64| -> Vector {
            std::array::from_fn(|i| {
                if i >= self.size {
                    0.0
                } else if sign * at(first, i) > 0.0 {
                    at(&self.high, i)
                } else {
                    at(&self.low, i)
                }
            })
        };
        let missed = |z: Vector, equality: Equality| {
            let nearest = self.within(z);
            let by = match equality {
                Equality::First => dot(&self.in_use(first), &nearest.at) - right_first,
                Equality::Second => dot(&self.in_use(second), &nearest.at) - right_second,
            };
            Miss {
                nearest,
                equality,
                by,
            }
        };
        let (least, most) = (corner(-1.0), corner(1.0));
        let slip = SLIP * right_first.abs();
        if dot(&self.in_use(first), &most) < right_first - slip {
            return missed(most, Equality::First);
        }
        if dot(&self.in_use(first), &least) > right_first + slip {
            return missed(least, Equality::First);
        }
        // The first equality can be met: the second is nearest at a corner of what it leaves.
        let mut best: Option<(f64, Vector)> = None;
        for free in (0..self.size).filter(|i| at(first, *i) != 0.0) {
            for pattern in 0..(1_usize << self.size) {
                if pattern & (1 << free) != 0 {
                    continue;
                }
                let mut z: Vector = std::array::from_fn(|i| {
                    if i >= self.size || i == free {
                        0.0
                    } else if pattern & (1 << i) != 0 {
                        at(&self.high, i)
                    } else {
                        at(&self.low, i)
                    }
                });
                let left = (right_first - dot(&self.in_use(first), &z)) / at(first, free);
                if let Some(place) = z.get_mut(free) {
                    *place = left;
                }
                if !self.allows(&z) {
                    continue;
                }
                let off = (dot(&self.in_use(second), &z) - right_second).abs();
                if best.is_none_or(|(least, _)| off < least) {
                    best = Some((off, z));
                }
            }
        }
        missed(best.map_or(most, |(_, z)| z), Equality::Second)
    }
}
