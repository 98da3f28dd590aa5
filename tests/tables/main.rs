//! Writes the static tables of the catalogue.
#![allow(clippy::unwrap_used)]

use std::fs;

fn main() {
    for (path, text) in wortwright_tables::tables() {
        fs::write(path, text).unwrap();
    }
}
