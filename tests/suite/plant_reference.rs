//! Reads the reference tables and compares with figures as they are printed.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// One line of a table, by the names of its columns.
pub(crate) struct Row {
    cells: BTreeMap<String, String>,
}

/// The lines of a table in `tests/reference`.
pub(crate) fn table(name: &str) -> Vec<Row> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("reference")
        .join(name);
    let text = fs::read_to_string(&path).unwrap();
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let names = cells(lines.next().unwrap());
    let rows: Vec<Row> = lines
        .map(|line| {
            let cells = cells(line);
            assert_eq!(cells.len(), names.len(), "{name}: {line}");
            Row {
                cells: names.iter().cloned().zip(cells).collect(),
            }
        })
        .collect();
    assert!(rows.len() > 3, "{name} is too short");
    rows
}

impl Row {
    /// The text in a column.
    pub(crate) fn text(&self, column: &str) -> &str {
        self.cells
            .get(column)
            .unwrap_or_else(|| panic!("no column {column}"))
    }

    /// The figure in a column.
    pub(crate) fn number(&self, column: &str) -> f64 {
        self.text(column)
            .parse()
            .unwrap_or_else(|_| panic!("no figure in {column}: {}", self.text(column)))
    }

    /// Asserts that `computed` rounds to the printed figure, or misses that by a hundredth of its last digit.
    pub(crate) fn check(&self, column: &str, computed: f64) {
        self.check_within(column, computed, 0.0);
    }

    /// The same with so much more room, for inputs that were printed rounded.
    pub(crate) fn check_within(&self, column: &str, computed: f64, more: f64) {
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
fn last_digit(figure: &str) -> f64 {
    let (digits, exponent) = match figure.split_once('e') {
        Some((digits, exponent)) => (digits, exponent.parse::<i32>().unwrap()),
        None => (figure, 0),
    };
    let decimals = digits.split_once('.').map_or(0, |(_, d)| d.len());
    10.0_f64.powi(exponent - i32::try_from(decimals).unwrap())
}

fn cells(line: &str) -> Vec<String> {
    let mut cells = vec![String::new()];
    let mut quoted = false;
    for c in line.chars() {
        match c {
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(String::new()),
            _ => cells.last_mut().unwrap().push(c),
        }
    }
    cells
}

#[test]
fn digits_are_counted_as_printed() {
    assert_eq!(last_digit("12"), 1.0);
    assert!((last_digit("0.250") - 0.001).abs() < 1e-18);
    assert!((last_digit("7.76e-04") - 1e-6).abs() < 1e-18);
    assert_eq!(cells("a,\"b, c\",,d"), ["a", "b, c", "", "d"]);
}
