//! Comma-separated files: `#` notes, one line of column names, cells that may be quoted.

use std::fs;
use std::path::Path;

/// A file's column names, and each row with the number of its line.
#[derive(Debug)]
pub struct Table {
    pub columns: Vec<String>,
    pub rows: Vec<(usize, Vec<String>)>,
}

/// Reads a file, each row of which must have a cell for each column.
pub fn read(path: &Path) -> Table {
    let shown = path.display();
    let text = fs::read_to_string(path).unwrap_or_else(|e| panic!("{shown}: {e}"));
    let mut lines = (1..)
        .zip(text.lines())
        .filter(|(_, line)| !line.starts_with('#') && !line.trim().is_empty());
    let columns = cells(lines.next().unwrap_or_else(|| panic!("{shown} is empty")).1);
    let rows: Vec<_> = lines.map(|(number, line)| (number, cells(line))).collect();
    assert!(!rows.is_empty(), "{shown} has no rows");
    for (number, cells) in &rows {
        assert_eq!(cells.len(), columns.len(), "{shown}:{number}: {cells:?}");
    }
    Table { columns, rows }
}

/// The cells of a line; a doubled quote inside quotes stands for one.
pub fn cells(line: &str) -> Vec<String> {
    let (mut cells, mut cell, mut quoted) = (Vec::new(), String::new(), false);
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                cell.push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => cells.push(std::mem::take(&mut cell)),
            _ => cell.push(c),
        }
    }
    assert!(!quoted, "open quote in {line}");
    cells.push(cell);
    cells
}
