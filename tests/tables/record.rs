//! A reviewed row, its fields turned into Rust.

use crate::csv;
use crate::words::variant;

/// A row of a table, by column.
pub(crate) struct Record {
    table: &'static str,
    columns: Vec<String>,
    fields: Vec<String>,
}

/// All rows of `src/catalogue/data/<table>.csv`.
pub(crate) fn read(table: &'static str) -> Vec<Record> {
    let found = csv::read(&crate::at(&format!("src/catalogue/data/{table}.csv")));
    let record = |(_, fields)| Record {
        table,
        columns: found.columns.clone(),
        fields,
    };
    found.rows.into_iter().map(record).collect()
}

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

    /// An optional quantity as Rust: a number of the type, divided by `per`.
    pub(crate) fn quantity(&self, column: &str, per: f64, of: &str) -> String {
        option(self.number(column).map(|value| clamped(value / per, of)))
    }

    /// An optional range of two columns as Rust.
    pub(crate) fn range(&self, low: &str, high: &str, per: f64, of: &str) -> String {
        let ends = self.number(low).zip(self.number(high));
        option(ends.map(|(from, to)| self.pair(from / per, to / per, of)))
    }

    /// An optional range in one column, `10-20`, as Rust.
    pub(crate) fn dashed(&self, column: &str, of: &str) -> String {
        let ends = self.field(column).split_once('-');
        let number = |text: &str| text.parse().unwrap();
        option(ends.map(|(from, to)| self.pair(number(from), number(to), of)))
    }

    /// Two quantities as Rust.
    fn pair(&self, from: f64, to: f64, of: &str) -> String {
        assert!(from <= to, "{}: {from} above {to}", self.fields[0]);
        format!("({}, {})", clamped(from, of), clamped(to, of))
    }

    /// An optional word of a closed set as Rust.
    pub(crate) fn word(&self, column: &str, set: &str) -> String {
        let field = self.field(column);
        option((!field.is_empty()).then(|| word(set, field)))
    }
}

/// A value of a type. A test of the suite holds it against the range of that.
fn clamped(value: f64, of: &str) -> String {
    let value: f64 = format!("{value:.11e}").parse().unwrap();
    format!("{of}::clamped({value:?})")
}

/// A word of a closed set as Rust.
pub(crate) fn word(set: &str, word: &str) -> String {
    format!("{set}::{}", variant(set, word))
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
