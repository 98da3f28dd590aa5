//! What two equalities leave: a point, a line, a plane, or more where they depend on each other.

use super::{MOST, Program, SLIP, Vector, at};

/// Two rows whose determinant is below this, each of largest entry one, depend on each other.
const DEPENDENT: f64 = 1e-11;

/// The points that satisfy the equalities: `base` plus any sum of `ways`.
pub(super) struct Plane {
    pub(super) base: Vector,
    pub(super) ways: [Vector; MOST],
    pub(super) dimensions: usize,
}

/// Whether anything satisfies the equalities.
pub(super) enum Rank {
    Plane(Plane),
    /// The equalities contradict each other.
    Contradiction,
}

fn largest(vector: &Vector, size: usize) -> f64 {
    vector
        .iter()
        .take(size)
        .fold(0.0, |most, entry| entry.abs().max(most))
}

impl Program {
    /// What the equalities leave, with each row brought to a largest entry of one.
    pub(super) fn plane(&self) -> Rank {
        let [first, second] = &self.rows;
        let (most_first, most_second) = (largest(first, self.size), largest(second, self.size));
        let [right_first, right_second] = self.right;
        if most_first <= 0.0 {
            // Only a program whose first row states nothing: the second takes its place.
            return if right_first.abs() > SLIP || most_second <= 0.0 {
                Rank::Contradiction
            } else {
                self.one_row(second, right_second)
            };
        }
        if most_second <= 0.0 {
            return if right_second.abs() > SLIP {
                Rank::Contradiction
            } else {
                self.one_row(first, right_first)
            };
        }
        let mut pivots = (0, 0);
        let mut best: f64 = 0.0;
        for p in 0..self.size {
            for q in p + 1..self.size {
                let det = at(first, p) * at(second, q) - at(second, p) * at(first, q);
                if det.abs() > best.abs() {
                    (best, pivots) = (det, (p, q));
                }
            }
        }
        if best.abs() <= DEPENDENT * most_first * most_second {
            // The second row is the first times a factor.
            let place = (0..self.size)
                .find(|i| at(first, *i).abs() >= most_first)
                .unwrap_or(0);
            let factor = at(second, place) / at(first, place);
            let size = right_second.abs().max((factor * right_first).abs());
            return if (right_second - factor * right_first).abs() > SLIP * size {
                Rank::Contradiction
            } else {
                self.one_row(first, right_first)
            };
        }
        let (p, q) = pivots;
        let solved = |a: f64, b: f64| {
            (
                (a * at(second, q) - b * at(first, q)) / best,
                (at(first, p) * b - at(second, p) * a) / best,
            )
        };
        let (base_p, base_q) = solved(right_first, right_second);
        let mut ways = [[0.0; MOST]; MOST];
        let mut dimensions = 0;
        for free in (0..self.size).filter(|i| *i != p && *i != q) {
            let (to_p, to_q) = solved(at(first, free), at(second, free));
            if let Some(way) = ways.get_mut(dimensions) {
                *way = std::array::from_fn(|i| match i {
                    _ if i == p => -to_p,
                    _ if i == q => -to_q,
                    _ if i == free => 1.0,
                    _ => 0.0,
                });
            }
            dimensions += 1;
        }
        Rank::Plane(Plane {
            base: std::array::from_fn(|i| match i {
                _ if i == p => base_p,
                _ if i == q => base_q,
                _ => 0.0,
            }),
            ways,
            dimensions,
        })
    }

    fn one_row(&self, row: &Vector, right: f64) -> Rank {
        let most = largest(row, self.size);
        let p = (0..self.size)
            .find(|i| at(row, *i).abs() >= most)
            .unwrap_or(0);
        let pivot = at(row, p);
        let mut ways = [[0.0; MOST]; MOST];
        let mut dimensions = 0;
        for free in (0..self.size).filter(|i| *i != p) {
            if let Some(way) = ways.get_mut(dimensions) {
                *way = std::array::from_fn(|i| match i {
                    _ if i == p => -at(row, free) / pivot,
                    _ if i == free => 1.0,
                    _ => 0.0,
                });
            }
            dimensions += 1;
        }
        Rank::Plane(Plane {
            base: std::array::from_fn(|i| if i == p { right / pivot } else { 0.0 }),
            ways,
            dimensions,
        })
    }
}
