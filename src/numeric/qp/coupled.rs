//! Larger convex programs: the dual method of Goldfarb and Idnani (Mathematical Programming 27, 1983; from memory).
//!
//! It starts from the least value without any constraint and takes in one violated constraint after another, dropping
//! those whose multiplier would turn negative. Each step solves the small system of the active constraints anew: there
//! are never more than some twenty. A parabola that is flat somewhere is made round by a trifle about the last result, in a
//! few rounds (the proximal point method), so that what is found is the least value of the program itself.

use crate::numeric::elimination::eliminated;
use crate::numeric::order;

/// What a point must satisfy: `normal · x` is at least `least`, or equal to it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Constraint {
    pub(crate) normal: Vec<f64>,
    pub(crate) least: f64,
    pub(crate) is_equality: bool,
}

/// Minimise x'Gx − 2h'x over low ≤ x ≤ high under constraints. G is positive semidefinite.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Coupled {
    pub(crate) gram: Vec<Vec<f64>>,
    pub(crate) linear: Vec<f64>,
    pub(crate) low: Vec<f64>,
    pub(crate) high: Vec<f64>,
    pub(crate) constraints: Vec<Constraint>,
}

/// The trifle, as a share of the mean of G's diagonal.
const ROUND: f64 = 1e-6;
const ROUNDS: usize = 4;
/// A constraint of unit length is met within this.
const MET: f64 = 1e-10;
/// What is found holds its constraints within this, or is no result.
const HELD: f64 = 1e-9;
/// A normal whose part beside the active ones is shorter than this, squared, depends on them.
const DEPENDENT: f64 = 1e-9;
/// Steps for each constraint, before rounding is held to go in circles.
const STEPS: usize = 20;

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Constraints in which a step is taken, with their multipliers.
#[derive(Default)]
struct Active {
    normals: Vec<Vec<f64>>,
    leasts: Vec<f64>,
    /// The normals times the inverse of G.
    turned: Vec<Vec<f64>>,
    places: Vec<usize>,
    fixed: Vec<bool>,
    multipliers: Vec<f64>,
}

impl Active {
    /// How the multipliers answer to a normal more.
    fn answer(&self, normal: &[f64]) -> Option<Vec<f64>> {
        let rows = self
            .normals
            .iter()
            .zip(&self.turned)
            .map(|(n, turned)| {
                self.turned
                    .iter()
                    .map(|other| dot(n, other))
                    .chain([dot(turned, normal)])
                    .collect()
            })
            .collect();
        Some(eliminated(rows, 0.0)?.into_iter().flatten().collect())
    }

    /// Takes off what rounding has left of the active constraints.
    fn mend(&self, x: &mut [f64]) -> Option<()> {
        let rows = self.normals.iter().zip(&self.leasts).map(|(n, least)| {
            let lack = least - dot(n, x);
            self.turned
                .iter()
                .map(|other| dot(n, other))
                .chain([lack])
                .collect()
        });
        let steps = eliminated(rows.collect(), 0.0)?;
        for (step, turned) in steps.iter().flatten().zip(&self.turned) {
            for (entry, other) in x.iter_mut().zip(turned) {
                *entry += step * other;
            }
        }
        Some(())
    }

    fn drop(&mut self, at: usize) {
        self.normals.remove(at);
        self.leasts.remove(at);
        self.turned.remove(at);
        self.places.remove(at);
        self.fixed.remove(at);
        self.multipliers.remove(at);
    }
}

impl Coupled {
    /// The point of the least value; none where no point satisfies the program.
    pub(crate) fn minimum(&self) -> Option<Vec<f64>> {
        let n = self.linear.len();
        let scale: Vec<f64> = self
            .low
            .iter()
            .zip(&self.high)
            .map(|(low, high)| low.abs().max(high.abs()))
            .map(|size| {
                if size > 0.0 && size.is_finite() {
                    size
                } else {
                    1.0
                }
            })
            .collect();
        let scaled =
            |list: &[f64]| -> Vec<f64> { list.iter().zip(&scale).map(|(a, s)| a * s).collect() };
        let mut gram: Vec<Vec<f64>> = self
            .gram
            .iter()
            .zip(&scale)
            .map(|(row, s)| scaled(row).into_iter().map(|entry| entry * s).collect())
            .collect();
        let diagonal: f64 = gram
            .iter()
            .enumerate()
            .filter_map(|(i, row)| row.get(i))
            .sum();
        let round = (ROUND * diagonal / n.max(1) as f64).max(f64::MIN_POSITIVE.sqrt());
        for (i, row) in gram.iter_mut().enumerate() {
            if let Some(entry) = row.get_mut(i) {
                *entry += round;
            }
        }
        let unit = |i: usize, length: f64| -> Vec<f64> {
            (0..n).map(|k| if k == i { length } else { 0.0 }).collect()
        };
        let inverse = eliminated(
            gram.iter()
                .enumerate()
                .map(|(i, row)| row.iter().copied().chain(unit(i, 1.0)).collect())
                .collect(),
            0.0,
        )?;
        let mut constraints: Vec<Constraint> = self
            .constraints
            .iter()
            .map(|constraint| Constraint {
                normal: scaled(&constraint.normal),
                ..*constraint
            })
            .collect();
        for (i, ((low, high), scale)) in self.low.iter().zip(&self.high).zip(&scale).enumerate() {
            for (sign, bound) in [(1.0, *low), (-1.0, *high)] {
                let (normal, least) = (unit(i, sign), sign * bound / scale);
                constraints.push(Constraint {
                    normal,
                    least,
                    is_equality: false,
                });
            }
        }
        // Equalities first: they are never dropped again.
        order::sort_by_key(&mut constraints, |constraint| !constraint.is_equality);
        for constraint in &mut constraints {
            let length = dot(&constraint.normal, &constraint.normal).sqrt();
            if length > 0.0 {
                constraint
                    .normal
                    .iter_mut()
                    .for_each(|entry| *entry /= length);
                constraint.least /= length;
            } else if constraint.least > 0.0 || (constraint.is_equality && constraint.least != 0.0)
            {
                return None;
            }
        }
        let linear = scaled(&self.linear);
        let mut at = vec![0.0; n];
        for turn in 0..ROUNDS {
            let pulled: Vec<f64> = linear
                .iter()
                .zip(&at)
                .map(|(h, x)| h + if turn > 0 { round * x } else { 0.0 })
                .collect();
            at = nearest(&inverse, &pulled, &constraints)?;
        }
        Some(at.iter().zip(&scale).map(|(x, s)| x * s).collect())
    }
}

/// The least of a round parabola under constraints of unit length.
fn nearest(inverse: &[Vec<f64>], linear: &[f64], constraints: &[Constraint]) -> Option<Vec<f64>> {
    let times = |v: &[f64]| -> Vec<f64> { inverse.iter().map(|row| dot(row, v)).collect() };
    let mut x = times(linear);
    let mut active = Active::default();
    let mut settled = vec![false; constraints.len()];
    for _ in 0..STEPS * constraints.len().max(1) {
        let violated = |at: usize| {
            let constraint = constraints.get(at)?;
            let off = dot(&constraint.normal, &x) - constraint.least;
            let off = if constraint.is_equality {
                -off.abs()
            } else {
                off
            };
            (off < -MET).then_some(off)
        };
        // Equalities in turn, then whatever is violated most.
        let equality = (0..constraints.len()).find(|at| {
            constraints.get(*at).is_some_and(|c| c.is_equality) && settled.get(*at) == Some(&false)
        });
        let next = equality.or_else(|| {
            (0..constraints.len())
                .filter(|at| !active.places.contains(at))
                .filter_map(|at| Some((at, violated(at)?)))
                .min_by(|a, b| a.1.total_cmp(&b.1))
                .map(|(at, _)| at)
        });
        let Some(place) = next else {
            active.mend(&mut x)?;
            // Constraints that all but contradict each other are "met" by steps that are nothing but rounding.
            let holds = |constraint: &Constraint| {
                let off = dot(&constraint.normal, &x) - constraint.least;
                off > -HELD && (!constraint.is_equality || off < HELD)
            };
            return constraints.iter().all(holds).then_some(x);
        };
        let constraint = constraints.get(place)?;
        let off = dot(&constraint.normal, &x) - constraint.least;
        if let Some(settled) = settled.get_mut(place) {
            *settled = true;
        }
        let sign = if constraint.is_equality && off > 0.0 {
            -1.0
        } else {
            1.0
        };
        let normal: Vec<f64> = constraint.normal.iter().map(|entry| sign * entry).collect();
        let least = sign * constraint.least;
        let turned = times(&normal);
        let mut multiplier = 0.0;
        loop {
            let answer = active.answer(&normal)?;
            let mut step = turned.clone();
            for (factor, turned) in answer.iter().zip(&active.turned) {
                for (entry, other) in step.iter_mut().zip(turned) {
                    *entry -= factor * other;
                }
            }
            let lack = least - dot(&normal, &x);
            let slope = dot(&step, &normal);
            let full = if slope > DEPENDENT * dot(&turned, &normal) {
                (lack / slope).max(0.0)
            } else if lack <= MET {
                // It follows from the others.
                break;
            } else {
                f64::INFINITY
            };
            let blocking = active
                .multipliers
                .iter()
                .zip(&answer)
                .zip(&active.fixed)
                .enumerate()
                .filter(|(_, ((_, answer), fixed))| !**fixed && **answer > 0.0)
                .map(|(at, ((multiplier, answer), _))| (at, multiplier / answer))
                .min_by(|a, b| a.1.total_cmp(&b.1));
            let length = blocking.map_or(full, |(_, length)| length.min(full));
            if !length.is_finite() {
                return None;
            }
            for (multiplier, answer) in active.multipliers.iter_mut().zip(&answer) {
                *multiplier -= length * answer;
            }
            multiplier += length;
            if full.is_finite() {
                for (entry, step) in x.iter_mut().zip(&step) {
                    *entry += length * step;
                }
            }
            match blocking {
                Some((at, blocked)) if blocked < full => active.drop(at),
                _ => {
                    active.normals.push(normal);
                    active.leasts.push(least);
                    active.turned.push(turned);
                    active.places.push(place);
                    active.fixed.push(constraint.is_equality);
                    active.multipliers.push(multiplier);
                    break;
                }
            }
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::tests::{General, SeededNumbers, Verdict};

    /// Two or three blends, each with two equalities of its own, and one or two lots for all of them.
    fn random(numbers: &mut SeededNumbers) -> Coupled {
        let blends = 2 + numbers.below(2);
        let n = 4 * blends;
        let features: Vec<Vec<f64>> = (0..n)
            .map(|_| (0..5).map(|_| numbers.between(-0.2, 1.0)).collect())
            .collect();
        let mut program = Coupled::default();
        for i in 0..n {
            program.gram.push(
                (0..n)
                    .map(|j| {
                        if i / 4 == j / 4 {
                            dot(&features[i], &features[j])
                        } else {
                            0.0
                        }
                    })
                    .collect(),
            );
            program.linear.push(numbers.between(0.2, 1.5));
            program.low.push(numbers.between(0.0, 0.05));
            program.high.push(numbers.between(0.3, 1.5));
        }
        // What a point within the bounds brings, so that most programs can be met but for their lots.
        let point: Vec<f64> = program
            .low
            .iter()
            .zip(&program.high)
            .map(|(low, high)| numbers.between(*low, *high))
            .collect();
        for blend in 0..blends {
            for (from, to) in [(0.5, 1.0), (2.0, 20.0)] {
                let normal: Vec<f64> = (0..n)
                    .map(|i| {
                        if i / 4 == blend {
                            numbers.between(from, to)
                        } else {
                            0.0
                        }
                    })
                    .collect();
                let least = dot(&normal, &point);
                program.constraints.push(Constraint {
                    normal,
                    least,
                    is_equality: true,
                });
            }
        }
        for _ in 0..=numbers.below(2) {
            let normal: Vec<f64> = (0..n)
                .map(|_| if numbers.below(3) == 0 { -1.0 } else { 0.0 })
                .collect();
            let least = dot(&normal, &point) * numbers.between(0.4, 1.2);
            program.constraints.push(Constraint {
                normal,
                least,
                is_equality: false,
            });
        }
        program
    }

    fn general(program: &Coupled) -> General {
        let n = program.linear.len();
        // A variable more for each inequality: what is left over.
        let lots: Vec<&Constraint> = program
            .constraints
            .iter()
            .filter(|c| !c.is_equality)
            .collect();
        let wide = |row: &[f64]| -> Vec<f64> {
            row.iter()
                .copied()
                .chain(lots.iter().map(|_| 0.0))
                .collect()
        };
        let mut gram: Vec<Vec<f64>> = program.gram.iter().map(|row| wide(row)).collect();
        gram.extend(lots.iter().map(|_| vec![0.0; n + lots.len()]));
        let mut over = 0;
        let rows = program.constraints.iter().map(|constraint| {
            let mut row = wide(&constraint.normal);
            if !constraint.is_equality {
                row[n + over] = -1.0;
                over += 1;
            }
            row
        });
        General {
            rows: rows.collect(),
            right: program.constraints.iter().map(|c| c.least).collect(),
            gram,
            linear: wide(&program.linear),
            low: wide(&program.low),
            high: program
                .high
                .iter()
                .copied()
                .chain(lots.iter().map(|_| 100.0))
                .collect(),
        }
    }

    #[test]
    fn coupled_blends_agree_with_a_general_solver() {
        let mut numbers = SeededNumbers(77);
        let (mut met, mut bound, mut impossible, mut unsure) = (0, 0, 0, 0);
        for case in 0..300 {
            let program = random(&mut numbers);
            let ours = program.minimum();
            match (ours, general(&program).solve()) {
                (Some(x), Verdict::Least(value)) => {
                    let bent: Vec<f64> = program.gram.iter().map(|row| dot(row, &x)).collect();
                    let own = dot(&x, &bent) - 2.0 * dot(&program.linear, &x);
                    // The general solver's own tolerance is 1e-8 where it has trouble.
                    assert!(
                        (own - value).abs() < 1e-6 * value.abs().max(1.0),
                        "case {case}: {own} against {value}"
                    );
                    for constraint in &program.constraints {
                        let off = dot(&constraint.normal, &x) - constraint.least;
                        assert!(
                            off > -1e-7 && (!constraint.is_equality || off < 1e-7),
                            "case {case}: {off}"
                        );
                        bound += usize::from(!constraint.is_equality && off.abs() < 1e-7);
                    }
                    for ((x, low), high) in x.iter().zip(&program.low).zip(&program.high) {
                        assert!(*x > low - 1e-7 && *x < high + 1e-7, "case {case}");
                    }
                    met += 1;
                }
                (None, Verdict::Impossible) => impossible += 1,
                (_, Verdict::Unsure) => unsure += 1,
                (ours, theirs) => panic!("case {case}: {ours:?} against {theirs:?}"),
            }
        }
        assert!(
            met > 100 && bound > 50 && impossible > 25,
            "{met}, {bound}, {impossible}"
        );
        assert!(unsure < 6, "{unsure}");
    }

    #[test]
    fn a_shared_lot_is_divided_by_hand() {
        // Two amounts that would each be 1, from a lot of 1.2: the second matters four times as much, so that of the
        // 0.8 that are lacking it bears a fifth: 0.36 and 0.84.
        let program = Coupled {
            gram: vec![vec![1.0, 0.0], vec![0.0, 4.0]],
            linear: vec![1.0, 4.0],
            low: vec![0.0; 2],
            high: vec![2.0; 2],
            constraints: vec![Constraint {
                normal: vec![-1.0, -1.0],
                least: -1.2,
                is_equality: false,
            }],
        };
        let x = program.minimum().unwrap();
        assert!(
            (x[0] - 0.36).abs() < 1e-9 && (x[1] - 0.84).abs() < 1e-9,
            "{x:?}"
        );
    }
}
