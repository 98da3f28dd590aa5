//! Published tables: comma-separated files in `tests/reference`, and the comparison with them.

use crate::files::at;
use std::collections::BTreeMap;
use wortwright_tables::csv;

/// One line of a table, by the names in its heading.
#[derive(Debug)]
pub struct Row {
    place: String,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// The text in a column.
    pub fn text(&self, column: &str) -> &str {
        self.cells
            .get(column)
            .unwrap_or_else(|| panic!("{}: no column `{column}`", self.place))
    }

    /// The figure in a column.
    pub fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("{}: `{text}` in `{column}` is no number", self.place))
    }

    /// File and line, for messages.
    pub fn place(&self) -> &str {
        &self.place
    }

    /// Asserts that `computed` rounds to the printed figure, or misses that by a hundredth of its last digit.
    pub fn check(&self, column: &str, computed: f64) {
        self.check_within(column, computed, 0.0);
    }

    /// The same with so much more room, for inputs that were printed rounded.
    pub fn check_within(&self, column: &str, computed: f64, more: f64) {
        let printed = self.number(column);
        let room = 0.51 * last_digit(self.text(column)) + more;
        assert!(
            (computed - printed).abs() <= room,
            "{column}: computed {computed}, printed {printed} in {:?}",
            self.cells
        );
    }
}

/// The value of one unit of the last digit of a figure as printed.
pub fn last_digit(figure: &str) -> f64 {
    let (digits, exponent) = match figure.split_once('e') {
        Some((digits, exponent)) => (digits, exponent.parse::<i32>().unwrap()),
        None => (figure, 0),
    };
    let decimals = digits.split_once('.').map_or(0, |(_, d)| d.len());
    10.0_f64.powi(exponent - i32::try_from(decimals).unwrap())
}

/// The rows of a file in `tests/reference`.
pub fn rows(file: &str) -> Vec<Row> {
    let table = csv::read(&at(&format!("tests/reference/{file}")));
    assert!(table.rows.len() > 3, "{file} is too short");
    let row = |(line, cells)| Row {
        place: format!("{file}:{line}"),
        cells: table.columns.iter().cloned().zip(cells).collect(),
    };
    table.rows.into_iter().map(row).collect()
}

/// One figure of ours against a published one.
#[derive(Debug)]
pub struct Case {
    /// Name in the list of known deviations.
    pub name: String,
    pub ours: f64,
    pub published: f64,
    pub tolerance: f64,
}

impl Case {
    pub fn new(name: impl Into<String>, ours: f64, published: f64, tolerance: f64) -> Self {
        Self {
            name: name.into(),
            ours,
            published,
            tolerance,
        }
    }
}

/// Every case agrees within its tolerance, except those named in `deviations`, which must still deviate and must
/// all have been met. Every disagreement is listed at once.
pub fn check(cases: impl IntoIterator<Item = Case>, deviations: &[&str]) {
    let mut faults = Vec::new();
    let mut met = Vec::new();
    let mut count = 0;
    for case in cases {
        count += 1;
        let difference = case.ours - case.published;
        let agrees = difference.abs() <= case.tolerance;
        let known = deviations.contains(&case.name.as_str());
        if known {
            met.push(case.name.clone());
        }
        if agrees == known {
            let word = if known {
                "agrees unexpectedly"
            } else {
                "differs"
            };
            faults.push(format!("{word} by {difference:e}: {case:?}"));
        }
    }
    for name in deviations {
        if !met.iter().any(|m| m == name) {
            faults.push(format!("known deviation `{name}` was not met"));
        }
    }
    assert!(count > 0, "nothing was compared");
    assert!(
        faults.is_empty(),
        "{} of {count}:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

/// Where a function changes its sign between two bounds, by halving.
pub fn crossing(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    let rises = f(low) < 0.0;
    assert!(
        rises == (f(high) >= 0.0),
        "no change of sign from {low} to {high}"
    );
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if (f(middle) < 0.0) == rises {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
