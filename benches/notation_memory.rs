//! What reading allocates. `cargo bench --bench notation_memory`; the times beside the figures are longer than those of
//! the bench `notation`, since the counting takes part in them.
//!
//! Names mean what they mean there: `read` is a text to trees and model, `json` its content to owned plain structs;
//! `recipe_…` are of the demo's printed recipe. `max alloc` is what is held at once, trees and model at the end included.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used)]

mod plain;

use divan::{AllocProfiler, Bencher, black_box};
use plain::{Sheet, sheet_of};
use std::fs;
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Document, read};

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

const KILOBYTES: [usize; 2] = [10, 1000];

fn main() {
    divan::main();
}

fn demo() -> String {
    fs::read_to_string("../examples/data/saltmarsh-lantern.gyle").unwrap()
}

#[divan::bench(name = "read", args = KILOBYTES, sample_count = 5, sample_size = 1)]
fn read_text(bencher: Bencher<'_, '_>, kilobytes: usize) {
    let (text, _) = sheet_of(kilobytes * 1000);
    let sources = [TextRef::new("text", &text)];
    assert!(read(&sources).is_usable());
    bencher.bench_local(|| read(black_box(&sources)));
}

#[divan::bench(args = KILOBYTES, sample_count = 5, sample_size = 1)]
fn json(bencher: Bencher<'_, '_>, kilobytes: usize) {
    let text = serde_json::to_string(&sheet_of(kilobytes * 1000).1).unwrap();
    bencher.bench_local(|| serde_json::from_str::<Sheet>(black_box(&text)));
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn recipe_tree(bencher: Bencher<'_, '_>) {
    let text = demo();
    let source = TextRef::new("text", &text);
    assert_eq!(Document::parse(&source).lines().count(), 15);
    bencher.bench_local(|| Document::parse(black_box(&source)));
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn recipe_model(bencher: Bencher<'_, '_>) {
    let text = demo();
    let sources = [TextRef::new("text", &text)];
    assert_eq!(read(&sources).recipe.unwrap().additions().count(), 11);
    bencher.bench_local(|| read(black_box(&sources)));
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn recipe_json(bencher: Bencher<'_, '_>) {
    let text = fs::read_to_string("../benches/data/saltmarsh-lantern.json").unwrap();
    let sheet: Sheet = serde_json::from_str(&text).unwrap();
    let text = serde_json::to_string(&sheet).unwrap();
    bencher.bench_local(|| serde_json::from_str::<Sheet>(black_box(&text)));
}
