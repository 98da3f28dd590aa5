//! A general-purpose interior-point solver (clarabel) to hold the closed forms against, and a generator of cases.
#![cfg(test)]

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver as _, NonnegativeConeT, SolverStatus, ZeroConeT,
};

/// A quadratic program of any size: minimise z'Gz − 2h'z under rows and bounds.
pub(crate) struct General {
    pub(crate) gram: Vec<Vec<f64>>,
    pub(crate) linear: Vec<f64>,
    pub(crate) rows: Vec<Vec<f64>>,
    pub(crate) right: Vec<f64>,
    pub(crate) low: Vec<f64>,
    pub(crate) high: Vec<f64>,
}

/// What the solver says of a program.
#[derive(Debug)]
pub(crate) enum Verdict {
    /// The least value.
    Least(f64),
    /// It proves that no point satisfies the program.
    Impossible,
    /// It stops short of a proof, as it does at the border of what is possible.
    Unsure,
}

impl General {
    /// What the solver finds.
    pub(crate) fn solve(&self) -> Verdict {
        let n = self.linear.len();
        let dense = |rows: &[Vec<f64>]| -> CscMatrix<f64> {
            let (mut starts, mut places, mut entries) = (vec![0], Vec::new(), Vec::new());
            for column in 0..n {
                for (row, values) in rows.iter().enumerate() {
                    if values[column] != 0.0 {
                        places.push(row);
                        entries.push(values[column]);
                    }
                }
                starts.push(entries.len());
            }
            CscMatrix::new(rows.len(), n, starts, places, entries)
        };
        let upper: Vec<Vec<f64>> = self
            .gram
            .iter()
            .enumerate()
            .map(|(i, row)| {
                row.iter()
                    .enumerate()
                    .map(|(j, g)| if j >= i { 2.0 * g } else { 0.0 })
                    .collect()
            })
            .collect();
        let mut rows = self.rows.clone();
        let mut right = self.right.clone();
        for i in 0..n {
            for (sign, bound) in [(1.0, self.high[i]), (-1.0, self.low[i])] {
                let mut row = vec![0.0; n];
                row[i] = sign;
                rows.push(row);
                right.push(sign * bound);
            }
        }
        let q: Vec<f64> = self.linear.iter().map(|h| -2.0 * h).collect();
        let cones = [ZeroConeT(self.rows.len()), NonnegativeConeT(2 * n)];
        // The tightest tolerance is out of reach now and then, above all where no point satisfies the program.
        for tolerance in [1e-12, 1e-10, 1e-8] {
            let settings = DefaultSettingsBuilder::default()
                .verbose(false)
                .tol_gap_abs(tolerance)
                .tol_gap_rel(tolerance)
                .tol_feas(tolerance)
                .build()
                .unwrap();
            let (upper, rows) = (dense(&upper), dense(&rows));
            let mut solver =
                DefaultSolver::new(&upper, &q, &rows, &right, &cones, settings).unwrap();
            solver.solve();
            match solver.solution.status {
                SolverStatus::PrimalInfeasible => return Verdict::Impossible,
                SolverStatus::Solved => {
                    return Verdict::Least(solver.solution.obj_val);
                }
                _ => {}
            }
        }
        Verdict::Unsure
    }
}

/// Numbers that look random and are the same in every run (Marsaglia's xorshift, from memory).
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    /// The next one, from 0 to 1.
    pub(crate) fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// The next one between two bounds.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.next()
    }

    /// A whole number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        ((self.next() * count as f64) as usize).min(count - 1)
    }
}
