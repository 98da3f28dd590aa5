//! Solves the quadratic programs that the library's own tests write out, and writes `tests/reference/general_solver.csv`.
//! How to call it stands in `src/numeric/tests/general_solver.rs`.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::print_stdout
)]

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver as _, NonnegativeConeT, SolverStatus, ZeroConeT,
};
use std::collections::BTreeMap;
use std::fs;

const HEADER: &str = "\
# What the interior-point solver clarabel 0.11 finds for the random convex programs of the library's own tests
# (src/numeric/qp, src/substitute/search, src/substitute/together): minimise z'Gz - 2h'z under equalities and bounds.
# Made by tests/long/general_solver.rs with tolerances of 1e-12, where that is out of reach 1e-10 or 1e-8.
# name: FNV-1a of the program's figures; verdict: least, impossible (proved) or unsure (no proof); value: the least value.
name,verdict,value
";

/// minimise z'Gz − 2h'z under rows and bounds.
struct Program {
    gram: Vec<Vec<f64>>,
    linear: Vec<f64>,
    rows: Vec<Vec<f64>>,
    right: Vec<f64>,
    low: Vec<f64>,
    high: Vec<f64>,
}

fn main() {
    let path = std::env::args().nth(1).unwrap();
    let found: BTreeMap<String, String> = fs::read_to_string(path)
        .unwrap()
        .lines()
        .map(|line| {
            let (name, program) = read(line);
            (name, verdict(&program))
        })
        .collect();
    let table = concat!(env!("CARGO_MANIFEST_DIR"), "/reference/general_solver.csv");
    let lines: Vec<_> = found
        .iter()
        .map(|(name, said)| format!("{name},{said}\n"))
        .collect();
    fs::write(table, HEADER.to_owned() + &lines.concat()).unwrap();
    println!("{} programs", found.len());
}

/// A line is a name, how many rows there are, and lists of figures: gram, rows, linear, right, low, high.
fn read(line: &str) -> (String, Program) {
    let (head, lists) = line.split_once(';').unwrap();
    let (name, rows) = head.split_once(' ').unwrap();
    let rows: usize = rows.parse().unwrap();
    let mut lists: Vec<Vec<f64>> = lists
        .split(';')
        .map(|list| {
            list.split_whitespace()
                .map(|v| v.parse().unwrap())
                .collect()
        })
        .collect();
    let mut last = || lists.pop().unwrap();
    let (high, low, right, linear) = (last(), last(), last(), last());
    let rows = lists.split_off(lists.len() - rows);
    let program = Program {
        gram: lists,
        linear,
        rows,
        right,
        low,
        high,
    };
    (name.to_owned(), program)
}

fn verdict(program: &Program) -> String {
    let n = program.linear.len();
    let upper: Vec<Vec<f64>> = program
        .gram
        .iter()
        .enumerate()
        .map(|(i, row)| {
            (0..n)
                .map(|j| if j >= i { 2.0 * row[j] } else { 0.0 })
                .collect()
        })
        .collect();
    let mut rows = program.rows.clone();
    let mut right = program.right.clone();
    for i in 0..n {
        for (sign, bound) in [(1.0, program.high[i]), (-1.0, program.low[i])] {
            rows.push((0..n).map(|j| if i == j { sign } else { 0.0 }).collect());
            right.push(sign * bound);
        }
    }
    let linear: Vec<f64> = program.linear.iter().map(|h| -2.0 * h).collect();
    let cones = [ZeroConeT(program.rows.len()), NonnegativeConeT(2 * n)];
    // The tightest tolerance is out of reach now and then, above all where no point satisfies the program.
    for tolerance in [1e-12, 1e-10, 1e-8] {
        let settings = DefaultSettingsBuilder::default()
            .verbose(false)
            .tol_gap_abs(tolerance)
            .tol_gap_rel(tolerance)
            .tol_feas(tolerance)
            .build()
            .unwrap();
        let (upper, rows) = (sparse(&upper, n), sparse(&rows, n));
        let mut solver =
            DefaultSolver::new(&upper, &linear, &rows, &right, &cones, settings).unwrap();
        solver.solve();
        match solver.solution.status {
            SolverStatus::PrimalInfeasible => return "impossible,".to_owned(),
            SolverStatus::Solved => return format!("least,{:.12e}", solver.solution.obj_val),
            _ => {}
        }
    }
    "unsure,".to_owned()
}

fn sparse(rows: &[Vec<f64>], columns: usize) -> CscMatrix<f64> {
    let (mut starts, mut places, mut entries) = (vec![0], Vec::new(), Vec::new());
    for column in 0..columns {
        for (row, values) in rows.iter().enumerate() {
            if values[column] != 0.0 {
                places.push(row);
                entries.push(values[column]);
            }
        }
        starts.push(entries.len());
    }
    CscMatrix::new(rows.len(), columns, starts, places, entries)
}
