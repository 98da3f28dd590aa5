//! The least value of a convex parabola of up to four variables under two equalities and bounds, in closed form.
//!
//! The equalities leave a point, a segment or a polygon (a box or more where they depend on each other). On a segment
//! a parabola is minimised and clipped. In a polygon the free minimum is tried first; where it lies outside, the least
//! value lies on an edge whose bound the free minimum breaks, since the way from the least allowed point to the free
//! minimum runs downhill and so must be barred there. Each such edge is a segment again.

mod coupled;
mod nearest;
mod plane;

pub(crate) use coupled::{Constraint, Coupled};

use super::elimination::eliminated;
use plane::{Plane, Rank};

/// The most variables that a program has.
pub(crate) const MOST: usize = 4;
/// Bounds and dependent equalities are met within this share of the size of their terms.
const SLIP: f64 = 1e-10;
/// A parabola whose curvature across is below this share of that along it counts as flat.
const FLAT: f64 = 1e-12;
/// A value is known to this share of the size of its terms: the roundings of some thirty operations.
const ROUNDING: f64 = 32.0 * f64::EPSILON;

/// One figure for each variable.
pub(crate) type Vector = [f64; MOST];

/// Minimise z'Gz − 2h'z + c over low ≤ z ≤ high with two equalities, each a row times z. G is positive semidefinite.
/// A row of zeros with zero on its right states nothing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Program {
    /// How many variables are in use; the figures of the rest are not read.
    pub(crate) size: usize,
    pub(crate) gram: [Vector; MOST],
    pub(crate) linear: Vector,
    pub(crate) constant: f64,
    pub(crate) rows: [Vector; 2],
    pub(crate) right: [f64; 2],
    pub(crate) low: Vector,
    pub(crate) high: Vector,
}

/// A point and the value of the parabola there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Minimum {
    pub(crate) at: Vector,
    pub(crate) value: f64,
}

/// Which equality cannot be met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Equality {
    First,
    Second,
}

/// The nearest to a program that no point satisfies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Miss {
    pub(crate) nearest: Minimum,
    pub(crate) equality: Equality,
    /// Row times point less right side.
    pub(crate) by: f64,
}

fn at(vector: &Vector, index: usize) -> f64 {
    vector.get(index).copied().unwrap_or(0.0)
}

/// The scalar product.
pub(crate) fn dot(a: &Vector, b: &Vector) -> f64 {
    let [a0, a1, a2, a3] = a;
    let [b0, b1, b2, b3] = b;
    a0 * b0 + a1 * b1 + a2 * b2 + a3 * b3
}

/// `a + factor × b`.
fn along(a: &Vector, factor: f64, b: &Vector) -> Vector {
    let [a0, a1, a2, a3] = a;
    let [b0, b1, b2, b3] = b;
    [
        a0 + factor * b0,
        a1 + factor * b1,
        a2 + factor * b2,
        a3 + factor * b3,
    ]
}

impl Program {
    /// The least value, if a point satisfies the program and the value may lie below `worth`; a program whose free
    /// minimum is no better than `worth` is given up early.
    pub(crate) fn minimum(&self, worth: f64) -> Option<Minimum> {
        match self.plane() {
            Rank::Plane(plane) => self.on_plane(&plane, worth),
            Rank::Contradiction => None,
        }
    }

    /// The least value, or the nearest point and what it misses: the first equality is kept before the second.
    #[cfg(test)]
    fn solve(&self) -> Result<Minimum, Miss> {
        self.minimum(f64::INFINITY).ok_or_else(|| self.nearest())
    }

    /// Value of the parabola.
    pub(crate) fn value(&self, z: &Vector) -> f64 {
        let z = self.in_use(z);
        dot(&z, &self.times(&z)) - 2.0 * dot(&self.linear, &z) + self.constant
    }

    /// Whether a free minimum at `z` is below `worth`, for all that rounding leaves of its value: where the parabola is
    /// nearly flat, `z` lies far away and its terms cancel.
    fn may_be_worth(&self, z: &Vector, worth: f64) -> bool {
        let value = self.value(z);
        value < worth || {
            let z = self.in_use(z).map(f64::abs);
            let bent = self.gram.map(|row| dot(&row.map(f64::abs), &z));
            let terms =
                dot(&z, &bent) + 2.0 * dot(&self.linear.map(f64::abs), &z) + self.constant.abs();
            value - ROUNDING * terms < worth
        }
    }

    fn in_use(&self, z: &Vector) -> Vector {
        std::array::from_fn(|i| if i < self.size { at(z, i) } else { 0.0 })
    }

    fn times(&self, z: &Vector) -> Vector {
        let [g0, g1, g2, g3] = &self.gram;
        [dot(g0, z), dot(g1, z), dot(g2, z), dot(g3, z)]
    }

    /// Curvature along `way` and the slope of the descent from `from`.
    fn bend(&self, from: &Vector, way: &Vector) -> (f64, f64) {
        let bent = self.times(way);
        (dot(way, &bent), dot(way, &self.linear) - dot(from, &bent))
    }

    fn on_plane(&self, plane: &Plane, worth: f64) -> Option<Minimum> {
        let [first, second, ..] = &plane.ways;
        match plane.dimensions {
            0 => self
                .allows(&plane.base)
                .then(|| self.within(plane.base))
                .filter(|least| least.value < worth),
            1 => self.on_segment(&plane.base, first, worth),
            2 => self.in_polygon(&plane.base, first, second, worth),
            _ => self.in_solid(plane, worth),
        }
    }

    fn slip(&self, i: usize) -> f64 {
        SLIP * (at(&self.low, i).abs() + at(&self.high, i).abs())
    }

    fn allows(&self, z: &Vector) -> bool {
        (0..self.size).all(|i| {
            let (z, slip) = (at(z, i), self.slip(i));
            z >= at(&self.low, i) - slip && z <= at(&self.high, i) + slip
        })
    }

    /// The point, brought within the bounds that it meets but for rounding.
    fn within(&self, z: Vector) -> Minimum {
        let at = std::array::from_fn(|i| {
            if i < self.size {
                at(&z, i).max(at(&self.low, i)).min(at(&self.high, i))
            } else {
                0.0
            }
        });
        Minimum {
            at,
            value: self.value(&at),
        }
    }

    /// The least value on `base + t way`.
    fn on_segment(&self, base: &Vector, way: &Vector, worth: f64) -> Option<Minimum> {
        let (bend, slope) = self.bend(base, way);
        if bend > 0.0
            && worth < f64::INFINITY
            && !self.may_be_worth(&along(base, slope / bend, way), worth)
        {
            return None;
        }
        let (mut from, mut to) = (f64::NEG_INFINITY, f64::INFINITY);
        let (mut from_slip, mut to_slip) = (0.0, 0.0);
        for i in 0..self.size {
            let (z, step) = (at(base, i), at(way, i));
            let (low, high, slip) = (at(&self.low, i), at(&self.high, i), self.slip(i));
            if step.abs() <= f64::EPSILON {
                if z < low - slip || z > high + slip {
                    return None;
                }
                continue;
            }
            let (a, b) = ((low - z) / step, (high - z) / step);
            let (a, b) = if step > 0.0 { (a, b) } else { (b, a) };
            if a > from {
                (from, from_slip) = (a, slip / step.abs());
            }
            if b < to {
                (to, to_slip) = (b, slip / step.abs());
            }
        }
        if from > to {
            if from - to > from_slip + to_slip {
                return None;
            }
            let middle = f64::midpoint(from, to);
            (from, to) = (middle, middle);
        }
        let t = if bend > 0.0 {
            (slope / bend).max(from).min(to)
        } else if slope > 0.0 {
            to
        } else {
            from
        };
        t.is_finite()
            .then(|| self.within(along(base, t, way)))
            .filter(|least| least.value < worth)
    }

    /// The least value on `base + u first + v second`.
    fn in_polygon(
        &self,
        base: &Vector,
        first: &Vector,
        second: &Vector,
        worth: f64,
    ) -> Option<Minimum> {
        let (bent_first, bent_second) = (self.times(first), self.times(second));
        let (g11, g12, g22) = (
            dot(first, &bent_first),
            dot(first, &bent_second),
            dot(second, &bent_second),
        );
        let down = (
            dot(first, &self.linear) - dot(base, &bent_first),
            dot(second, &self.linear) - dot(base, &bent_second),
        );
        let det = g11 * g22 - g12 * g12;
        // On a flat parabola every edge is looked at: along the flat way a bound is always met.
        let free = (det > FLAT * g11 * g22).then(|| {
            let u = (down.0 * g22 - down.1 * g12) / det;
            let v = (g11 * down.1 - g12 * down.0) / det;
            along(&along(base, u, first), v, second)
        });
        if let Some(z) = &free {
            if !self.may_be_worth(z, worth) {
                return None;
            }
            if self.allows(z) {
                return Some(self.within(*z)).filter(|least| least.value < worth);
            }
        }
        let mut best: Option<Minimum> = None;
        for i in 0..self.size {
            let (a, b) = (at(first, i), at(second, i));
            let size = a * a + b * b;
            if size <= f64::EPSILON {
                continue;
            }
            let way: Vector = std::array::from_fn(|k| b * at(first, k) - a * at(second, k));
            for (bound, sign) in [(at(&self.low, i), -1.0), (at(&self.high, i), 1.0)] {
                if let Some(z) = &free
                    && sign * (at(z, i) - bound) <= 0.0
                {
                    continue;
                }
                let reach = (bound - at(base, i)) / size;
                let start = along(&along(base, reach * a, first), reach * b, second);
                let worth = best.map_or(worth, |best| best.value.min(worth));
                best = self.on_segment(&start, &way, worth).or(best);
            }
        }
        best
    }

    /// More than two free variables: the free minimum, else the best of the programs with one variable at a bound.
    fn in_solid(&self, plane: &Plane, worth: f64) -> Option<Minimum> {
        if let Some(z) = self.free_minimum(plane)
            && self.allows(&z)
        {
            return Some(self.within(z)).filter(|least| least.value < worth);
        }
        let mut best: Option<Minimum> = None;
        for i in 0..self.size {
            for bound in [at(&self.low, i), at(&self.high, i)] {
                let worth = best.map_or(worth, |best| best.value.min(worth));
                let least = self.fixed(i, bound).minimum(worth).map(|least| {
                    self.within(std::array::from_fn(|k| match k {
                        _ if k < i => at(&least.at, k),
                        _ if k == i => bound,
                        _ => at(&least.at, k - 1),
                    }))
                });
                best = least.or(best);
            }
        }
        best
    }

    /// The point of a plane where the parabola is least, by elimination; none where it is flat.
    fn free_minimum(&self, plane: &Plane) -> Option<Vector> {
        let d = plane.dimensions.min(MOST);
        let ways = plane.ways.iter().take(d);
        let system: Vec<Vec<f64>> = ways
            .clone()
            .map(|way| {
                let bent = self.times(way);
                ways.clone()
                    .map(|other| dot(other, &bent))
                    .chain([dot(way, &self.linear) - dot(&plane.base, &bent)])
                    .collect()
            })
            .collect();
        let most = system
            .iter()
            .flatten()
            .fold(0.0, |most: f64, entry| most.max(entry.abs()));
        let steps = eliminated(system, FLAT * most)?;
        let mut z = plane.base;
        for (step, way) in steps.iter().flatten().zip(ways) {
            z = along(&z, *step, way);
        }
        Some(z)
    }

    /// The same program with variable `i` held at `value`.
    fn fixed(&self, i: usize, value: f64) -> Self {
        let without = |vector: &Vector| -> Vector {
            std::array::from_fn(|k| at(vector, if k < i { k } else { k + 1 }))
        };
        let column = self.gram.get(i).copied().unwrap_or_default();
        let linear = along(&self.linear, -value, &column);
        let gram = std::array::from_fn(|k| {
            self.gram
                .get(if k < i { k } else { k + 1 })
                .map_or([0.0; MOST], without)
        });
        let [first, second] = &self.rows;
        let [right_first, right_second] = self.right;
        Self {
            size: self.size.saturating_sub(1),
            gram,
            linear: without(&linear),
            constant: self.constant - 2.0 * at(&self.linear, i) * value
                + at(&column, i) * value * value,
            rows: [without(first), without(second)],
            right: [
                right_first - at(first, i) * value,
                right_second - at(second, i) * value,
            ],
            low: without(&self.low),
            high: without(&self.high),
        }
    }
}

#[cfg(test)]
mod tests;
