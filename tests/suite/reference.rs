//! Published tables: comma-separated files in `tests/reference`, and the comparison with them.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// One line of a table, by the names in its heading.
#[derive(Debug)]
pub(crate) struct Row {
    place: String,
    cells: BTreeMap<String, String>,
}

impl Row {
    /// The text in a column.
    pub(crate) fn text(&self, column: &str) -> &str {
        self.cells
            .get(column)
            .unwrap_or_else(|| panic!("{}: no column `{column}`", self.place))
    }

    /// The figure in a column.
    pub(crate) fn number(&self, column: &str) -> f64 {
        let text = self.text(column);
        text.parse()
            .unwrap_or_else(|_| panic!("{}: `{text}` in `{column}` is no number", self.place))
    }

    /// File and line, for messages.
    pub(crate) fn place(&self) -> &str {
        &self.place
    }
}

/// The rows of a file in `tests/reference`. Lines that begin with `#` are notes; a cell may be quoted, with `""` for a
/// quote in it.
pub(crate) fn rows(file: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("reference")
        .join(file);
    let text = fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let mut lines = (1..)
        .zip(text.lines())
        .filter(|(_, line)| !line.starts_with('#') && !line.trim().is_empty());
    let heading = cells(lines.next().unwrap_or_else(|| panic!("{file} is empty")).1);
    let rows: Vec<Row> = lines
        .map(|(number, line)| {
            let place = format!("{file}:{number}");
            let cells = cells(line);
            assert_eq!(cells.len(), heading.len(), "{place}: {line}");
            Row {
                place,
                cells: heading.iter().cloned().zip(cells).collect(),
            }
        })
        .collect();
    assert!(!rows.is_empty(), "{file} has no rows");
    rows
}

/// Cells of one line.
fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    let mut rest = line.chars().peekable();
    while let Some(c) = rest.next() {
        let cell = cells.last_mut().unwrap();
        match c {
            '"' if quoted && rest.peek() == Some(&'"') => {
                rest.next();
                cell.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            _ => cell.push(c),
        }
    }
    cells
}

/// One figure of ours against a published one.
#[derive(Debug)]
pub(crate) struct Case {
    /// Name in the list of known deviations.
    pub(crate) name: String,
    pub(crate) ours: f64,
    pub(crate) published: f64,
    pub(crate) tolerance: f64,
}

impl Case {
    pub(crate) fn new(name: impl Into<String>, ours: f64, published: f64, tolerance: f64) -> Self {
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
pub(crate) fn check(cases: impl IntoIterator<Item = Case>, deviations: &[&str]) {
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

#[test]
fn cells_may_be_quoted() {
    assert_eq!(cells(r#"a,"b, ""c""",,d"#), ["a", "b, \"c\"", "", "d"]);
}

#[test]
fn an_unexpected_agreement_fails() {
    let case = || [Case::new("x", 1.0, 1.0, 0.1)];
    assert!(std::panic::catch_unwind(|| check(case(), &["x"])).is_err());
    assert!(std::panic::catch_unwind(|| check(case(), &["y"])).is_err());
    check([Case::new("x", 1.0, 2.0, 0.1)], &["x"]);
    assert!(std::panic::catch_unwind(|| check([Case::new("x", 1.0, 2.0, 0.1)], &[])).is_err());
    assert!(std::panic::catch_unwind(|| check([Case::new("x", f64::NAN, 2.0, 0.1)], &[])).is_err());
}

/// Where a function changes its sign between two bounds, by halving.
pub(crate) fn crossing(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
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
