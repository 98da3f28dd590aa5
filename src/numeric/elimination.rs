//! Systems of linear equations by elimination (Gauss and Jordan), with the largest entry of a column as its pivot.

/// The solutions of a square system, a row for each unknown; each row of the system holds its right sides behind its
/// entries. None where a pivot is no larger than `least_pivot`: there the rows depend on one another.
pub(super) fn eliminated(mut rows: Vec<Vec<f64>>, least_pivot: f64) -> Option<Vec<Vec<f64>>> {
    let n = rows.len();
    for column in 0..n {
        let size = |row: &[f64]| row.get(column).map_or(0.0, |entry| entry.abs());
        let pivot = (column..n).max_by(|a, b| {
            let of = |at: &usize| rows.get(*at).map_or(0.0, |row| size(row));
            of(a).total_cmp(&of(b))
        })?;
        rows.swap(column, pivot);
        let mut lead = rows.get(column)?.clone();
        let head = *lead.get(column)?;
        if head.abs() <= least_pivot || !head.is_finite() {
            return None;
        }
        for entry in &mut lead {
            *entry /= head;
        }
        for (at, row) in rows.iter_mut().enumerate() {
            if at == column {
                row.clone_from(&lead);
            } else if let Some(factor) = row.get(column).copied() {
                for (entry, above) in row.iter_mut().zip(&lead) {
                    *entry -= factor * above;
                }
            }
        }
    }
    Some(
        rows.into_iter()
            .map(|row| row.into_iter().skip(n).collect())
            .collect(),
    )
}

/// The inverse of a square matrix; none where its rows depend on one another.
pub(crate) fn inverse(rows: &[Vec<f64>]) -> Option<Vec<Vec<f64>>> {
    let unit = |at: usize| (0..rows.len()).map(move |column| f64::from(u8::from(at == column)));
    let beside = rows.iter().enumerate();
    let beside = beside.map(|(at, row)| row.iter().copied().chain(unit(at)).collect());
    eliminated(beside.collect(), 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_equations_with_two_right_sides_by_hand() {
        // 2y = 4 and x + y = 5 give (3, 2); with 2 and 2 on the right they give (1, 1).
        let system = vec![vec![0.0, 2.0, 4.0, 2.0], vec![1.0, 1.0, 5.0, 2.0]];
        let found = eliminated(system, 0.0).unwrap();
        assert_eq!(found, [[3.0, 1.0], [2.0, 1.0]]);
    }

    /// By hand: the determinant of (4 1; 2 3) is 10, so that its inverse is (0.3 -0.1; -0.2 0.4).
    #[test]
    fn an_inverse_by_hand() {
        let found = inverse(&[vec![4.0, 1.0], vec![2.0, 3.0]]).unwrap();
        let by_hand = [[0.3, -0.1], [-0.2, 0.4]];
        for (row, right) in found.iter().zip(by_hand) {
            for (entry, right) in row.iter().zip(right) {
                assert!((entry - right).abs() < 1e-12);
            }
        }
        assert_eq!(inverse(&[vec![1.0, 2.0], vec![2.0, 4.0]]), None);
    }

    #[test]
    fn rows_that_depend_on_one_another_have_no_solution() {
        let system = vec![vec![1.0, 2.0, 1.0], vec![2.0, 4.0, 2.0]];
        assert_eq!(eliminated(system, 1e-12), None);
        assert_eq!(eliminated(Vec::new(), 0.0), Some(Vec::new()));
    }
}
