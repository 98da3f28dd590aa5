//! Reads the reviewed tables: `#` comments, one line of column names, quoted fields.

use std::fs;
use wortwright::diagnostic::Error;

/// A row of a table, by column.
pub(crate) struct Record {
    table: &'static str,
    columns: Vec<String>,
    fields: Vec<String>,
}

/// All rows of `src/catalogue/data/<table>.csv`.
pub(crate) fn read(table: &'static str) -> Vec<Record> {
    let path = format!(
        "{}/../src/catalogue/data/{table}.csv",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = fs::read_to_string(&path).unwrap();
    let mut lines = text
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty());
    let columns = split(lines.next().unwrap());
    lines
        .map(|line| {
            let fields = split(line);
            assert_eq!(fields.len(), columns.len(), "{path}: {line}");
            Record {
                table,
                columns: columns.clone(),
                fields,
            }
        })
        .collect()
}

/// The fields of a line; a doubled quote inside quotes stands for one.
fn split(line: &str) -> Vec<String> {
    let (mut fields, mut field, mut quoted) = (Vec::new(), String::new(), false);
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                field.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(std::mem::take(&mut field)),
            _ => field.push(c),
        }
    }
    assert!(!quoted, "open quote in {line}");
    fields.push(field);
    fields
}

/// A value in the range of its type, so that `clamped` leaves it alone in the static table.
type Check<Q> = fn(f64) -> Result<Q, Error>;

impl Record {
    /// A field as it stands.
    pub(crate) fn field(&self, column: &str) -> &str {
        let at = self.columns.iter().position(|name| name == column);
        let at = at.unwrap_or_else(|| panic!("{} has no column {column}", self.table));
        &self.fields[at]
    }

    /// The parts of a field between semicolons.
    pub(crate) fn parts(&self, column: &str) -> Vec<&str> {
        self.field(column)
            .split(';')
            .filter(|part| !part.is_empty())
            .collect()
    }

    /// A number, or nothing.
    pub(crate) fn number(&self, column: &str) -> Option<f64> {
        let field = self.field(column);
        (!field.is_empty()).then(|| {
            field
                .parse()
                .unwrap_or_else(|_| panic!("{}: {field}", self.fields[0]))
        })
    }

    /// A text as Rust.
    pub(crate) fn text(&self, column: &str) -> String {
        text(self.field(column))
    }

    /// A list of texts as Rust.
    pub(crate) fn texts(&self, column: &str) -> String {
        list(self.parts(column).into_iter().map(text))
    }

    /// An optional quantity as Rust: the number divided by `per`, checked by the constructor of its type.
    pub(crate) fn quantity<Q>(&self, column: &str, per: f64, check: Check<Q>) -> String {
        option(
            self.number(column)
                .map(|value| self.clamped(column, value / per, check)),
        )
    }

    /// An optional range of two columns as Rust.
    pub(crate) fn range<Q>(&self, low: &str, high: &str, per: f64, check: Check<Q>) -> String {
        option(
            self.number(low)
                .zip(self.number(high))
                .map(|(from, to)| self.pair((low, from), (high, to), per, check)),
        )
    }

    /// An optional range in one column, `10-20`, as Rust.
    pub(crate) fn dashed<Q>(&self, column: &str, check: Check<Q>) -> String {
        option(self.field(column).split_once('-').map(|(from, to)| {
            self.pair(
                (column, from.parse().unwrap()),
                (column, to.parse().unwrap()),
                1.0,
                check,
            )
        }))
    }

    /// Two quantities as Rust.
    fn pair<Q>(&self, low: (&str, f64), high: (&str, f64), per: f64, check: Check<Q>) -> String {
        assert!(
            low.1 <= high.1,
            "{}: {} above {}",
            self.fields[0],
            low.0,
            high.0
        );
        let [from, to] =
            [low, high].map(|(column, value)| self.clamped(column, value / per, check));
        format!("({from}, {to})")
    }

    fn clamped<Q>(&self, column: &str, value: f64, check: Check<Q>) -> String {
        let value: f64 = format!("{value:.11e}").parse().unwrap();
        if let Err(error) = check(value) {
            panic!(
                "{} `{}`, column {column}: {error}",
                self.table, self.fields[0]
            );
        }
        let name = std::any::type_name::<Q>().rsplit("::").next().unwrap();
        format!("{name}::clamped({value:?})")
    }

    /// An optional word of a closed set as Rust.
    pub(crate) fn word<W: Copy + std::fmt::Debug>(
        &self,
        column: &str,
        all: &[W],
        told: fn(W) -> &'static str,
    ) -> String {
        let field = self.field(column);
        option((!field.is_empty()).then(|| word(field, all, told)))
    }
}

/// A word of a closed set as Rust.
pub(crate) fn word<W: Copy + std::fmt::Debug>(
    field: &str,
    all: &[W],
    told: fn(W) -> &'static str,
) -> String {
    let found = all.iter().find(|word| told(**word) == field);
    let found = found.unwrap_or_else(|| panic!("unknown word `{field}`"));
    let set = std::any::type_name::<W>().rsplit("::").next().unwrap();
    format!("{set}::{found:?}")
}

/// A text as Rust.
pub(crate) fn text(text: &str) -> String {
    format!("Cow::Borrowed({text:?})")
}

/// A list as Rust.
pub(crate) fn list(items: impl IntoIterator<Item = String>) -> String {
    format!(
        "Cow::Borrowed(&[{}])",
        items.into_iter().collect::<Vec<_>>().join(", ")
    )
}

/// An option as Rust.
pub(crate) fn option(value: Option<String>) -> String {
    value.map_or_else(|| "None".to_owned(), |value| format!("Some({value})"))
}
