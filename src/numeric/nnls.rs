//! Least squares with unknowns that may not be negative.

use crate::diagnostic::{Error, ErrorKind};

/// A column counts as a combination of others when less than this share of its length stands out of them.
const DEPENDENT: f64 = 1e-10;
/// A residual counts as at right angles to a column below this cosine.
const PERPENDICULAR: f64 = 1e-11;
/// A residual counts as none below this share of the right-hand side.
const NO_RESIDUAL: f64 = 1e-14;

/// What the method came to.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum NonNegativeFit {
    /// The minimum, one value a column.
    Minimum(Vec<f64>),
    /// Rounding kept the method from settling; the best found, feasible but perhaps not least. Scale the columns to
    /// like lengths, or leave out one of two that are nearly alike.
    IterationLimit(Vec<f64>),
}

impl NonNegativeFit {
    /// The values, whether they are the minimum or the best found.
    pub(crate) fn values(&self) -> &[f64] {
        match self {
            Self::Minimum(values) | Self::IterationLimit(values) => values,
        }
    }
}

/// The `x ≥ 0` that minimises `|Σ x_j column_j - target|`.
///
/// The active-set method of Lawson and Hanson (Solving Least Squares Problems, 1974, chapter 23), with an orthogonal
/// factorisation of the free columns at each step. Of columns that depend on one another the one that pulls hardest is
/// taken, the first of equals; so the same input always gives the same output.
///
/// # Errors
///
/// `OutOfRange` when a column is not as long as the target or holds a value that is not finite.
pub(crate) fn non_negative_least_squares(
    columns: &[Vec<f64>],
    target: &[f64],
) -> Result<NonNegativeFit, Error> {
    let finite = |values: &[f64]| values.iter().all(|v| v.is_finite());
    if !finite(target)
        || columns
            .iter()
            .any(|c| c.len() != target.len() || !finite(c))
    {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!(
                "expected columns of {} finite figures and a finite target",
                target.len()
            ),
        ));
    }
    let mut x = vec![0.0; columns.len()];
    let mut free: Vec<usize> = Vec::new();
    let mut refused: Vec<usize> = Vec::new();
    let target_length = dot(target, target).sqrt();
    for _ in 0..30 * columns.len().max(1) {
        let residual = residual(columns, target, &x);
        let Some(entering) = strongest(columns, &residual, target_length, &free, &refused) else {
            return Ok(NonNegativeFit::Minimum(x));
        };
        free.push(entering);
        let fitted = least_squares(columns, &free, target);
        match fitted {
            Some(values) if values.last().is_some_and(|v| *v > 0.0) => {
                refused.clear();
                settle(columns, target, &mut free, &mut x, values);
            }
            _ => {
                free.pop();
                refused.push(entering);
            }
        }
    }
    Ok(NonNegativeFit::IterationLimit(x))
}

/// The column outside of `free` and `refused` that the residual pulls at hardest.
fn strongest(
    columns: &[Vec<f64>],
    residual: &[f64],
    target_length: f64,
    free: &[usize],
    refused: &[usize],
) -> Option<usize> {
    let residual_length = dot(residual, residual).sqrt();
    if residual_length <= NO_RESIDUAL * target_length {
        return None;
    }
    let mut best: Option<(usize, f64)> = None;
    for (index, column) in columns.iter().enumerate() {
        let length = dot(column, column).sqrt();
        if length == 0.0 || free.contains(&index) || refused.contains(&index) {
            continue;
        }
        let cosine = dot(column, residual) / (length * residual_length);
        if cosine > PERPENDICULAR && best.is_none_or(|(_, most)| cosine > most) {
            best = Some((index, cosine));
        }
    }
    best.map(|(index, _)| index)
}

/// Moves `x` towards `fitted` as far as no value turns negative, sets free the rest, and fits again.
fn settle(
    columns: &[Vec<f64>],
    target: &[f64],
    free: &mut Vec<usize>,
    x: &mut [f64],
    mut fitted: Vec<f64>,
) {
    while fitted.iter().any(|v| *v <= 0.0) {
        let mut stride = 1.0;
        let mut first_to_vanish = None;
        for (index, goal) in free.iter().zip(&fitted) {
            let now = value(x, *index);
            if *goal <= 0.0 && (first_to_vanish.is_none() || now / (now - goal) < stride) {
                stride = if now > *goal { now / (now - goal) } else { 0.0 };
                first_to_vanish = Some(*index);
            }
        }
        for (index, goal) in free.iter().zip(&fitted) {
            if let Some(now) = x.get_mut(*index) {
                *now = (*now + stride * (goal - *now)).max(0.0);
                if Some(*index) == first_to_vanish {
                    *now = 0.0;
                }
            }
        }
        free.retain(|index| value(x, *index) > 0.0);
        // A subset of independent columns is independent, so the fit always exists.
        fitted = least_squares(columns, free, target).unwrap_or_default();
    }
    for (index, goal) in free.iter().zip(&fitted) {
        if let Some(now) = x.get_mut(*index) {
            *now = *goal;
        }
    }
}

fn value(x: &[f64], index: usize) -> f64 {
    x.get(index).copied().unwrap_or(0.0)
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn residual(columns: &[Vec<f64>], target: &[f64], x: &[f64]) -> Vec<f64> {
    let mut residual = target.to_vec();
    for (column, x) in columns.iter().zip(x) {
        subtract(&mut residual, *x, column);
    }
    residual
}

fn subtract(from: &mut [f64], times: f64, what: &[f64]) {
    for (from, what) in from.iter_mut().zip(what) {
        *from -= times * what;
    }
}

/// Unbounded least squares on the named columns; none if they depend on one another.
///
/// Gram-Schmidt, each column made perpendicular twice, which keeps the basis perpendicular to rounding.
fn least_squares(columns: &[Vec<f64>], which: &[usize], target: &[f64]) -> Option<Vec<f64>> {
    let mut basis: Vec<Vec<f64>> = Vec::with_capacity(which.len());
    // For each column its parts along the basis so far, then what stands out.
    let mut parts: Vec<Vec<f64>> = Vec::with_capacity(which.len());
    for index in which {
        let column = columns.get(*index)?;
        let mut rest = column.clone();
        let mut along = vec![0.0; basis.len()];
        for _ in 0..2 {
            for (direction, along) in basis.iter().zip(&mut along) {
                let part = dot(direction, &rest);
                subtract(&mut rest, part, direction);
                *along += part;
            }
        }
        let standing_out = dot(&rest, &rest).sqrt();
        if standing_out <= DEPENDENT * dot(column, column).sqrt() {
            return None;
        }
        for part in &mut rest {
            *part /= standing_out;
        }
        along.push(standing_out);
        parts.push(along);
        basis.push(rest);
    }
    let mut rest = target.to_vec();
    let mut heights: Vec<f64> = basis
        .iter()
        .map(|direction| {
            let part = dot(direction, &rest);
            subtract(&mut rest, part, direction);
            part
        })
        .collect();
    let mut fitted = vec![0.0; which.len()];
    for (along, fitted) in parts.iter().zip(&mut fitted).rev() {
        let (standing_out, along) = along.split_last()?;
        *fitted = heights.pop()? / standing_out;
        subtract(&mut heights, *fitted, along);
    }
    Some(fitted)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numeric::tests::SeededNumbers;

    /// Half the square of the misfit, and its slope in each direction.
    fn misfit(columns: &[Vec<f64>], target: &[f64], x: &[f64]) -> (f64, Vec<f64>) {
        let residual = residual(columns, target, x);
        let slopes = columns.iter().map(|c| -dot(c, &residual)).collect();
        (0.5 * dot(&residual, &residual), slopes)
    }

    /// The least misfit over every choice of columns: each choice is fitted without bounds, by elimination on the
    /// normal equations, and counts if no value is negative. Nothing of the method under test is in it.
    fn by_trying_everything(columns: &[Vec<f64>], target: &[f64]) -> f64 {
        let n = columns.len();
        let mut least = f64::INFINITY;
        for choice in 0..1u32 << n {
            let chosen: Vec<usize> = (0..n).filter(|i| choice >> i & 1 == 1).collect();
            // More columns than rows depend on one another; fewer of them do as well.
            if chosen.len() > target.len() {
                continue;
            }
            let Some(fitted) = by_elimination(columns, &chosen, target) else {
                continue;
            };
            if fitted.iter().all(|v| *v >= -1e-9) {
                let mut x = vec![0.0; n];
                for (index, v) in chosen.iter().zip(fitted) {
                    x[*index] = v.max(0.0);
                }
                least = least.min(misfit(columns, target, &x).0);
            }
        }
        least
    }

    /// Gauss with pivots on the normal equations.
    fn by_elimination(columns: &[Vec<f64>], chosen: &[usize], target: &[f64]) -> Option<Vec<f64>> {
        let n = chosen.len();
        let mut table: Vec<Vec<f64>> = chosen
            .iter()
            .map(|i| {
                let squares = chosen.iter().map(|j| dot(&columns[*i], &columns[*j]));
                squares.chain([dot(&columns[*i], target)]).collect()
            })
            .collect();
        for k in 0..n {
            let pivot = (k..n).max_by(|a, b| table[*a][k].abs().total_cmp(&table[*b][k].abs()))?;
            table.swap(k, pivot);
            if table[k][k].abs() < 1e-9 {
                return None;
            }
            let row = table[k].clone();
            for (i, other) in table.iter_mut().enumerate() {
                if i != k {
                    let times = other[k] / row[k];
                    subtract(other, times, &row);
                }
            }
        }
        Some((0..n).map(|k| table[k][n] / table[k][k]).collect())
    }

    /// Columns and target of 1 to 12 rows with figures from -1 to 2.
    fn problem(numbers: &mut SeededNumbers) -> (Vec<Vec<f64>>, Vec<f64>) {
        let rows = 1 + numbers.below(12);
        let figures =
            |numbers: &mut SeededNumbers| numbers.list(rows, rows, |n| n.between(-1.0, 2.0));
        (numbers.list(1, 9, figures), figures(numbers))
    }

    /// Conditions of Karush, Kuhn and Tucker: no way down is open, and no value in use has a slope.
    fn assert_least(columns: &[Vec<f64>], target: &[f64], x: &[f64]) -> f64 {
        let (misfit, slopes) = misfit(columns, target, x);
        for (x, slope) in x.iter().zip(&slopes) {
            assert!(*x >= 0.0);
            assert!(*slope > -1e-9, "{slope}");
            assert!(*x == 0.0 || slope.abs() < 1e-9, "{x} {slope}");
        }
        misfit
    }

    fn fitted(columns: &[Vec<f64>], target: &[f64]) -> Vec<f64> {
        let fit = non_negative_least_squares(columns, target).unwrap();
        let NonNegativeFit::Minimum(x) = fit else {
            panic!("no minimum was found: {fit:?}");
        };
        x
    }

    #[test]
    fn the_minimum_is_that_of_trying_every_choice() {
        let mut numbers = SeededNumbers(0x2545_f491_4f6c_dd1d);
        for _ in 0..256 {
            let (columns, target) = problem(&mut numbers);
            let ours = assert_least(&columns, &target, &fitted(&columns, &target));
            let theirs = by_trying_everything(&columns, &target);
            // Normal equations lose half of the digits where columns are nearly alike.
            assert!((ours - theirs).abs() < 1e-7, "{ours} against {theirs}");
        }
    }

    #[test]
    fn twins_reach_no_further_than_one_of_them() {
        let mut numbers = SeededNumbers(0x5bd1_e995_9d1c_4f2b);
        for _ in 0..100 {
            let (columns, target) = problem(&mut numbers);
            // Each twice, and each again at half its strength, as a hydrate is to its anhydrous salt.
            let mut twins = [&columns[..], &columns].concat();
            twins.extend(columns.iter().map(|c| c.iter().map(|v| v / 2.0).collect()));
            let one = assert_least(&columns, &target, &fitted(&columns, &target));
            let two = assert_least(&twins, &target, &fitted(&twins, &target));
            assert!((one - two).abs() < 1e-9, "{one} {two}");
        }
    }

    #[test]
    fn a_bound_is_kept() {
        // Without the bound x would be (2, -1).
        let columns = [vec![1.0, 0.0], vec![1.0, 1.0]];
        assert_eq!(fitted(&columns, &[1.0, -1.0]), [1.0, 0.0]);
    }

    #[test]
    fn columns_that_are_multiples_of_one_another_do_no_harm() {
        // Two hydrates of one salt: the first does all of it.
        let hydrates = [vec![2.0, 1.0], vec![4.0, 2.0], vec![0.0, 0.0]];
        let fit = non_negative_least_squares(&hydrates, &[6.0, 3.0]).unwrap();
        assert_eq!(fit, NonNegativeFit::Minimum(vec![3.0, 0.0, 0.0]));
    }

    #[test]
    fn a_worked_example() {
        // By hand: without the bound x = (-2/3, 4/3). With the first at nothing the second is (1 + 1)/2 = 1; the
        // residual is then (-1, 0, 0), so the first would only make it worse.
        let columns = [vec![1.0, 0.0, 1.0], vec![0.0, 1.0, 1.0]];
        let fit = non_negative_least_squares(&columns, &[-1.0, 1.0, 1.0]).unwrap();
        assert!(
            matches!(&fit, NonNegativeFit::Minimum(x) if x[0] == 0.0 && (x[1] - 1.0).abs() < 1e-15)
        );
    }

    #[test]
    fn a_step_ends_where_the_first_value_vanishes() {
        // By hand: from (1, 0.2) towards (-1, -0.1) the first value vanishes half-way, the second would at two thirds.
        // There the second is 0.05, and alone it is fitted with 0.8: 0.9 × 1 of the first column less 0.1 of its own.
        let columns = [vec![1.0, 0.0], vec![-0.9, 0.19_f64.sqrt()]];
        let target = [-1.0 + 0.09, -0.1 * 0.19_f64.sqrt()];
        // In either order: the choice depends on the stride, not on the place.
        for order in [[0, 1], [1, 0]] {
            let mut free = order.to_vec();
            let mut x = [1.0, 0.2];
            let goals = order.map(|index| [-1.0, -0.1][index]).to_vec();
            settle(&columns, &target, &mut free, &mut x, goals);
            assert_eq!(free, [1]);
            assert_eq!(x[0], 0.0);
            assert!((x[1] - 0.8).abs() < 1e-15, "{}", x[1]);
        }
    }

    #[test]
    fn what_is_no_problem_is_refused() {
        assert!(non_negative_least_squares(&[vec![1.0]], &[1.0, 2.0]).is_err());
        assert!(non_negative_least_squares(&[vec![f64::NAN]], &[1.0]).is_err());
        let none = non_negative_least_squares(&[], &[1.0]).unwrap();
        assert_eq!(none, NonNegativeFit::Minimum(Vec::new()));
    }
}
