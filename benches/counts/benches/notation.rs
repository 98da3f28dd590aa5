//! Instructions that reading takes, beside JSON of the same content into owned plain structs.
//!
//! - `read`: a text of so many kB to trees and model; `json`: its content as JSON.
//! - `recipe_tree`: the demo's printed recipe to its tree, figures with units; `recipe_model`: to the validated recipe;
//!   `recipe_json`: its content as JSON.
#![allow(missing_docs)]

#[path = "../../plain/mod.rs"]
mod plain;

use gungraun::{library_benchmark, library_benchmark_group, main};
use plain::{Sheet, sheet_of};
use std::hint::black_box;
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Document, Line, read};

const RECIPE: &str = include_str!("../../../examples/data/saltmarsh-lantern.gyle");
const RECIPE_JSON: &str = include_str!("../../data/saltmarsh-lantern.json");

fn text(kilobytes: usize) -> String {
    sheet_of(kilobytes * 1000).0
}

fn as_json(kilobytes: usize) -> String {
    serde_json::to_string(&sheet_of(kilobytes * 1000).1).expect("plain structs can be written")
}

#[library_benchmark(setup = text)]
#[bench::of_1kb(1)]
#[bench::of_10kb(10)]
#[bench::of_100kb(100)]
#[bench::of_1000kb(1000)]
fn reading(text: String) -> usize {
    let reading = read(black_box(&[TextRef::new("text", &text)]));
    assert!(reading.is_usable());
    black_box(reading).stock.lots.len()
}

#[library_benchmark(setup = as_json)]
#[bench::of_1kb(1)]
#[bench::of_10kb(10)]
#[bench::of_100kb(100)]
#[bench::of_1000kb(1000)]
fn json(text: String) -> usize {
    let sheet: Sheet = serde_json::from_str(black_box(&text)).expect("it was written so");
    black_box(sheet).stock.len()
}

fn figures(line: &Line<'_>) -> usize {
    line.quantities().count() + line.lines().map(figures).sum::<usize>()
}

#[library_benchmark]
fn recipe_tree() -> usize {
    let document = Document::parse(black_box(&TextRef::new("text", RECIPE)));
    let count = document.lines().map(figures).sum();
    assert_eq!(count, 59);
    count
}

#[library_benchmark]
fn recipe_model() -> usize {
    let reading = read(black_box(&[TextRef::new("text", RECIPE)]));
    assert!(reading.diagnostics.is_empty());
    black_box(reading).brewhouses.len()
}

#[library_benchmark]
fn recipe_json() -> usize {
    let sheet: Sheet = serde_json::from_str(black_box(RECIPE_JSON)).expect("it is a sheet");
    black_box(sheet).plants.len()
}

library_benchmark_group!(name = sizes, benchmarks = [reading, json]);
library_benchmark_group!(
    name = recipe,
    benchmarks = [recipe_tree, recipe_model, recipe_json]
);
main!(library_benchmark_groups = [sizes, recipe]);
