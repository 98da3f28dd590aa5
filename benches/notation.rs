//! What reading costs. `cargo bench --bench notation`; quote minima, since a busy machine only adds.
//!
//! - `notation/read/10kB`: a text of plants and stocks to trees and model, units read, checked, names looked up.
//! - `notation/json/10kB`, `notation/toml/10kB`: the same content in those forms into owned plain structs, figures with their units.
//! - `recipe_tree`: the printed recipe of the demo to its tree, each line and word with its place, each figure with its unit.
//! - `recipe_model`: the same to the validated recipe, every name looked up in the catalogue.
//! - `recipe_print`: the tree to canonical text.
//! - `recipe_json`, `recipe_toml`: the recipe in those forms into owned plain structs.
//!
//! - `hostile/…`: a megabyte of a text that no brewer writes.
//!
//! Allocations have a bench of their own, `notation_memory`, since counting them costs time in every row. JSON and TOML
//! have no comments and check neither units nor names.
#![allow(missing_docs, clippy::unwrap_used, clippy::expect_used)]

mod plain;

use divan::counter::BytesCount;
use divan::{Bencher, black_box};
use plain::{Sheet, sheet_of};
use std::fs;
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Document, Line, read};
use wortwright_tests::hostile::SHAPES;

const SIZES: [&str; 4] = ["1kB", "10kB", "100kB", "1000kB"];

fn main() {
    divan::main();
}

fn bytes(size: &str) -> usize {
    size.trim_end_matches("kB").parse::<usize>().unwrap() * 1000
}

fn demo() -> String {
    fs::read_to_string("../examples/data/saltmarsh-lantern.gyle").unwrap()
}

fn demo_plain() -> Sheet {
    let json = fs::read_to_string("../benches/data/saltmarsh-lantern.json").unwrap();
    serde_json::from_str(&json).unwrap()
}

fn json(bencher: Bencher<'_, '_>, sheet: &Sheet) {
    let text = serde_json::to_string(sheet).unwrap();
    assert_eq!(&serde_json::from_str::<Sheet>(&text).unwrap(), sheet);
    bencher
        .counter(BytesCount::of_str(&text))
        .bench_local(|| serde_json::from_str::<Sheet>(black_box(&text)));
}

fn toml(bencher: Bencher<'_, '_>, sheet: &Sheet) {
    let text = ::toml::to_string(sheet).unwrap();
    assert_eq!(&::toml::from_str::<Sheet>(&text).unwrap(), sheet);
    bencher
        .counter(BytesCount::of_str(&text))
        .bench_local(|| ::toml::from_str::<Sheet>(black_box(&text)));
}

#[divan::bench_group(name = "notation")]
mod notation {
    use super::{
        Bencher, BytesCount, Document, Line, SIZES, TextRef, black_box, bytes, demo, demo_plain,
        read, sheet_of,
    };

    #[divan::bench(name = "read", args = SIZES)]
    fn read_text(bencher: Bencher<'_, '_>, size: &str) {
        let (text, sheet) = sheet_of(bytes(size));
        let sources = [TextRef::new("text", &text)];
        let reading = read(&sources);
        assert!(reading.diagnostics.is_empty(), "{:?}", reading.diagnostics);
        assert_eq!(reading.brewhouses.len(), sheet.plants.len());
        assert_eq!(reading.stock.lots.len(), sheet.stock.len());
        bencher
            .counter(BytesCount::of_str(&text))
            .bench_local(|| read(black_box(&sources)));
    }

    #[divan::bench(args = SIZES)]
    fn json(bencher: Bencher<'_, '_>, size: &str) {
        super::json(bencher, &sheet_of(bytes(size)).1);
    }

    #[divan::bench(args = SIZES)]
    fn toml(bencher: Bencher<'_, '_>, size: &str) {
        super::toml(bencher, &sheet_of(bytes(size)).1);
    }

    #[divan::bench]
    fn recipe_tree(bencher: Bencher<'_, '_>) {
        let text = demo();
        let source = TextRef::new("text", &text);
        assert_eq!(figures(&Document::parse(&source)), 59);
        bencher.counter(BytesCount::of_str(&text)).bench_local(|| {
            let document = Document::parse(black_box(&source));
            black_box(figures(&document));
            document
        });
    }

    /// How many figures with units the tree holds.
    fn figures(document: &Document<'_>) -> usize {
        document.lines().map(below).sum()
    }

    fn below(line: &Line<'_>) -> usize {
        line.quantities().count() + line.lines().map(below).sum::<usize>()
    }

    #[divan::bench]
    fn recipe_model(bencher: Bencher<'_, '_>) {
        let text = demo();
        let sources = [TextRef::new("text", &text)];
        let reading = read(&sources);
        assert!(reading.diagnostics.is_empty(), "{:?}", reading.diagnostics);
        assert_eq!(reading.recipe.unwrap().additions().count(), 11);
        bencher
            .counter(BytesCount::of_str(&text))
            .bench_local(|| read(black_box(&sources)));
    }

    #[divan::bench]
    fn recipe_print(bencher: Bencher<'_, '_>) {
        let text = demo();
        let document = Document::parse(&TextRef::new("text", &text));
        let printed = document.to_string();
        assert_eq!(Document::parse(&TextRef::new("text", &printed)), document);
        bencher
            .counter(BytesCount::of_str(&printed))
            .bench_local(|| black_box(&document).to_string());
    }

    #[divan::bench]
    fn recipe_json(bencher: Bencher<'_, '_>) {
        super::json(bencher, &demo_plain());
    }

    #[divan::bench]
    fn recipe_toml(bencher: Bencher<'_, '_>) {
        super::toml(bencher, &demo_plain());
    }
}

/// Texts that no brewer writes: `hostile/numbers in the mash` is a megabyte of them.
#[divan::bench(args = SHAPES.map(|(name, _)| name), sample_count = 3, sample_size = 1)]
fn hostile(bencher: Bencher<'_, '_>, name: &str) {
    let (_, make) = SHAPES
        .into_iter()
        .find(|(shape, _)| *shape == name)
        .unwrap();
    let text = make(1_000_000);
    let sources = [TextRef::new("text", &text)];
    assert!(read(&sources).diagnostics.len() <= 101);
    bencher
        .counter(BytesCount::of_str(&text))
        .bench_local(|| read(black_box(&sources)));
}
