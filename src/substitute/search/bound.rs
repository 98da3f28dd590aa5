//! What the distance would be at least, if amounts were free.
//!
//! Without bounds on the amounts, and with a slack of any size at no price, the least distance of a support has a closed
//! form. Take from each column the share of the target that it stands for by the first equality, so that the target
//! itself becomes nothing: `v = f − t a/a₀`, and from its second equality what belongs to that share. Then the distance
//! is the square of `Σ x v` under `Σ x a = a₀` and `Σ x c = 0`. With `K` the matrix of products of the `v`, and
//! `M = (a c)ᵀ K⁻¹ (a c)`, it is `a₀² / (M₁₁ − M₁₂² / M₂₂)`. A member more changes `K⁻¹`, and so `M`, by one product of a
//! vector with itself (Schur's complement): this is what makes a sweep over all third members cheap. For the few triples
//! that pass, a sharper bound asks who may lead.
//!
//! Amounts are counted in their largest values. A trifle on the diagonal of `K` keeps twins apart; what it adds to the
//! distance within the bounds is taken off again. A trifle on the diagonal of `M` lets the equalities slip, which only lowers
//! the bound.

use super::Problem;
use super::table::product;

/// On the diagonal of `K`, as a share of its mean.
const APART: f64 = 1e-7;
/// On the diagonal of `M`, as a share of it. Rounding in `M` is about 1e-16/`APART` of it.
const SLIP: f64 = 1e-8;
/// The second equality slips by this, as a share of the largest column: below it there is only rounding.
const NOISE: f64 = 1e-12;
/// The largest number of members, the slack among them: each adds at most `APART` of the mean to a distance.
const MEMBERS: f64 = 4.0;

/// Rows of the two equalities and their products with the inverse of `K`.
#[derive(Debug, Clone, Copy, Default)]
struct Moments {
    first: f64,
    mixed: f64,
    second: f64,
}

impl Moments {
    fn and(self, [a, c]: [f64; 2], over: f64) -> Self {
        Self {
            first: self.first + a * a / over,
            mixed: self.mixed + a * c / over,
            second: self.second + c * c / over,
        }
    }
}

/// The candidates without what the slack can mend, in the order of the table.
pub(super) struct Free {
    count: usize,
    /// `K` without its trifles.
    products: Vec<f64>,
    /// Its diagonal with them.
    diagonal: Vec<f64>,
    first: Vec<f64>,
    second: Vec<f64>,
    /// The first equality before the slack's share was taken off.
    brings: Vec<f64>,
    /// Of the slack alone.
    moments: Moments,
    /// `a₀` and its square.
    right: f64,
    wanted: f64,
    /// What the trifles may have added.
    lost: f64,
}

/// One or two members that are to be extended.
pub(super) struct Extension<'a> {
    rows: [&'a [f64]; 2],
    /// Inverse of their part of `K`: two on the diagonal, one beside it.
    inverse: [f64; 3],
    /// The inverse times each equality.
    first: [f64; 2],
    second: [f64; 2],
    moments: Moments,
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    let ([a0, a1, a2], [b0, b1, b2]) = (a, b);
    a0 * b0 + a1 * b1 + a2 * b2
}

/// A column counted in its largest amount, its share of the target taken off.
struct Scaled {
    off: Vec<f64>,
    rows: [f64; 2],
}

fn scaled(problem: &Problem, features: &[f64], brings: [f64; 2], most: f64) -> Scaled {
    let ([a, c], [wanted, with_it]) = (brings, problem.right);
    // What need not be met exactly is left out.
    let (c, with_it) = match problem.band {
        Some(_) => (0.0, 0.0),
        None => (c, with_it),
    };
    let share = a / wanted;
    Scaled {
        off: features
            .iter()
            .zip(&problem.target)
            .map(|(f, t)| most * (f - t * share))
            .collect(),
        rows: [most * a, most * (c - with_it * share)],
    }
}

impl Free {
    /// `order` tells the place of each candidate in the problem.
    pub(super) fn new(problem: &Problem, order: &[usize]) -> Self {
        let [wanted, _] = problem.right;
        let columns: Vec<Scaled> = order
            .iter()
            .filter_map(|at| problem.columns.get(*at))
            .map(|column| scaled(problem, &column.features, column.brings, column.high))
            .collect();
        let count = columns.len();
        let slack = problem.slack.as_ref().map(|slack| {
            let most = slack.high.max(-slack.low);
            scaled(problem, &slack.features, slack.brings, most)
        });
        let squares: f64 = columns.iter().map(|c| product(&c.off, &c.off)).sum();
        let mean = squares / (count.max(1) as f64) + f64::MIN_POSITIVE.sqrt();
        let apart = APART * mean;
        let largest = columns
            .iter()
            .fold(0.0, |most: f64, column| column.rows[1].abs().max(most));
        let mut free = Self {
            count,
            products: vec![0.0; count * count],
            diagonal: Vec::with_capacity(count),
            first: Vec::with_capacity(count),
            second: Vec::with_capacity(count),
            // Where the second equality states nothing, anything above zero keeps it out of the fraction.
            moments: Moments {
                second: if largest > 0.0 {
                    (NOISE * largest).powi(2) / mean
                } else {
                    1.0 / mean
                },
                ..Moments::default()
            },
            brings: columns.iter().map(|column| column.rows[0]).collect(),
            right: wanted,
            wanted: wanted * wanted,
            lost: MEMBERS * apart,
        };
        let mut with_slack = vec![0.0; count];
        let mut slack_square = 1.0;
        let mut slack_rows = [0.0; 2];
        if let Some(slack) = slack {
            slack_square = product(&slack.off, &slack.off) + apart;
            slack_rows = slack.rows;
            free.moments = free.moments.and(slack_rows, slack_square);
            for (with_slack, column) in with_slack.iter_mut().zip(&columns) {
                *with_slack = product(&column.off, &slack.off);
            }
        }
        for (i, (column, own)) in columns.iter().zip(&with_slack).enumerate() {
            let mended = own / slack_square;
            let [first, second] = column.rows;
            free.first.push(first - mended * slack_rows[0]);
            free.second.push(second - mended * slack_rows[1]);
            for (j, (other, its)) in columns.iter().zip(&with_slack).enumerate().take(i + 1) {
                let value = product(&column.off, &other.off) - mended * its;
                for place in [i * count + j, j * count + i] {
                    if let Some(entry) = free.products.get_mut(place) {
                        *entry = value;
                    }
                }
                if i == j {
                    free.diagonal.push(value.max(0.0) + apart);
                }
            }
        }
        free
    }

    pub(super) const fn count(&self) -> usize {
        self.count
    }

    fn row(&self, at: usize) -> &[f64] {
        self.products
            .get(at * self.count..(at + 1) * self.count)
            .unwrap_or_default()
    }

    fn figures(&self, at: usize) -> [f64; 3] {
        let of = |list: &[f64]| list.get(at).copied().unwrap_or(1.0);
        [of(&self.diagonal), of(&self.first), of(&self.second)]
    }

    /// One member, to be extended to a pair.
    pub(super) fn single(&self, i: usize) -> Extension<'_> {
        let [square, first, second] = self.figures(i);
        Extension {
            rows: [self.row(i); 2],
            inverse: [1.0 / square, 0.0, 0.0],
            first: [first / square, 0.0],
            second: [second / square, 0.0],
            moments: self.moments.and([first, second], square),
        }
    }

    /// Two members, to be extended to a triple.
    pub(super) fn pair(&self, i: usize, j: usize) -> Extension<'_> {
        let [square_i, first_i, second_i] = self.figures(i);
        let [square_j, first_j, second_j] = self.figures(j);
        let both = self.row(i).get(j).copied().unwrap_or(0.0);
        // The second member without what the first has in common with it.
        let common = both / square_i;
        let left = square_j - common * both;
        let inverse = [
            1.0 / square_i + common * common / left,
            -common / left,
            1.0 / left,
        ];
        let [ii, ij, jj] = inverse;
        Extension {
            rows: [self.row(i), self.row(j)],
            inverse,
            first: [ii * first_i + ij * first_j, ij * first_i + jj * first_j],
            second: [ii * second_i + ij * second_j, ij * second_i + jj * second_j],
            moments: self.moments.and([first_i, second_i], square_i).and(
                [first_j - common * first_i, second_j - common * second_i],
                left,
            ),
        }
    }

    /// For each candidate from the first on: above zero where the support with it may be worth less than `worth`, or
    /// than what it is worth with the candidate as its leader. `fixed` is what the members and the part more cost.
    pub(super) fn excess(
        &self,
        extension: &Extension<'_>,
        costs: &[f64],
        (fixed, worth): (f64, f64),
        leads: &[f64],
        excess: &mut [f64],
    ) {
        let off = self.lost - fixed;
        let [rows_i, rows_j] = extension.rows;
        let figures = rows_i.iter().zip(rows_j).zip(&self.diagonal);
        let figures = figures.zip(&self.first).zip(&self.second);
        for (excess, (((((a, b), square), first), second), (cost, leads))) in
            excess.iter_mut().zip(figures.zip(costs.iter().zip(leads)))
        {
            let (over, under) = extension.fraction(*a, *b, [*square, *first, *second]);
            let limit = worth.max(*leads) - cost + off;
            *excess = limit * under - self.wanted * over;
        }
    }

    /// The bounds for a triple, without fixed costs, if its first, second or third member leads it: brings as much of
    /// the first equality as each of the others. Where the free amounts do not, the distance grows with the square of what
    /// they lack, over the spread that the equalities leave to it.
    pub(super) fn led(&self, pair: &Extension<'_>, members: [usize; 3]) -> [f64; 3] {
        let [.., l] = members;
        let [row_i, row_j] = pair.rows;
        let of = |list: &[f64], at: usize| list.get(at).copied().unwrap_or(0.0);
        let (a, b) = (of(row_i, l), of(row_j, l));
        let [ii, ij, jj] = pair.inverse;
        let (from_i, from_j) = (ii * a + ij * b, ij * a + jj * b);
        let left = of(&self.diagonal, l) - a * from_i - b * from_j;
        let inverse = [
            [
                ii + from_i * from_i / left,
                ij + from_i * from_j / left,
                -from_i / left,
            ],
            [
                ij + from_i * from_j / left,
                jj + from_j * from_j / left,
                -from_j / left,
            ],
            [-from_i / left, -from_j / left, 1.0 / left],
        ];
        let first = members.map(|at| of(&self.first, at));
        let second = members.map(|at| of(&self.second, at));
        let brings = members.map(|at| of(&self.brings, at));
        let u = inverse.map(|row| dot(row, first));
        let v = inverse.map(|row| dot(row, second));
        let m11 = (1.0 + SLIP) * (self.moments.first + dot(u, first));
        let m12 = self.moments.mixed + dot(u, second);
        let m22 = (1.0 + SLIP) * (self.moments.second + dot(v, second));
        let det = m11 * m22 - m12 * m12;
        let least = self.wanted * m22 / det - self.lost;
        // What each member brings at the free least.
        let [p, q, r] = std::array::from_fn(|at| {
            let [u, v] = [u, v].map(|list| list.get(at).copied().unwrap_or(0.0));
            let brings = brings.get(at).copied().unwrap_or(0.0);
            self.right * brings * (u * m22 - v * m12) / det
        });
        let further = |lead: [f64; 3], lacks: f64| {
            if lacks <= 0.0 {
                return 0.0;
            }
            let turned = dot(lead, inverse.map(|row| dot(row, lead)));
            let (x, y) = (dot(lead, u), dot(lead, v));
            let held = (x * x * m22 - 2.0 * x * y * m12 + y * y * m11) / det;
            // Rounding may make a small spread smaller yet; a larger one only lowers the bound.
            (1.0 - SLIP) * lacks * lacks / ((turned - held).max(0.0) + SLIP * turned)
        };
        let [x, y, z] = brings;
        let (i_j, j_i) = (further([x, -y, 0.0], q - p), further([-x, y, 0.0], p - q));
        let (i_l, l_i) = (further([x, 0.0, -z], r - p), further([-x, 0.0, z], p - r));
        let (j_l, l_j) = (further([0.0, y, -z], r - q), further([0.0, -y, z], q - r));
        [i_j.max(i_l), j_i.max(j_l), l_i.max(l_j)].map(|further| least + further)
    }

    /// The bound for one candidate, without fixed costs.
    pub(super) fn bound(&self, extension: &Extension<'_>, at: usize) -> f64 {
        let [row_i, row_j] = extension.rows;
        let of = |row: &[f64]| row.get(at).copied().unwrap_or(0.0);
        let (over, under) = extension.fraction(of(row_i), of(row_j), self.figures(at));
        self.wanted * over / under - self.lost
    }
}

impl Extension<'_> {
    /// The least distance over the square of what is wanted, as a fraction.
    #[inline]
    fn fraction(&self, a: f64, b: f64, [square, first, second]: [f64; 3]) -> (f64, f64) {
        let [ii, ij, jj] = self.inverse;
        let left = square - a * (ii * a + ij * b) - b * (ij * a + jj * b);
        let first = first - a * self.first[0] - b * self.first[1];
        let second = second - a * self.second[0] - b * self.second[1];
        let m11 = (1.0 + SLIP) * (self.moments.first * left + first * first);
        let m12 = self.moments.mixed * left + first * second;
        let m22 = (1.0 + SLIP) * (self.moments.second * left + second * second);
        (left * m22, m11 * m22 - m12 * m12)
    }
}
