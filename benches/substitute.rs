//! Times of the search for substitutes. Quote minima; one core.
//!
//! - `propose/catalogue`: one missing grain, the whole catalogue, blends up to three, five leaders shown and predicted.
//! - `propose/one_shown`: the same with one shown: nearly the search alone.
//! - `propose/exhaustive`: the same as `one_shown` without bounds: every blend solved in closed form.
//! - `growth/n`: the bounded search with `n` candidates, the catalogue's own and varied copies of them.
//!
//! Each case asserts its result once.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing
)]

use std::fmt::Write as _;
use wortwright::catalogue::{Catalogue, Commonness, Entry, MaltFlavour};
use wortwright::diagnostic::Source;
use wortwright::notation::read;
use wortwright::quantity::MaltColour;
use wortwright::recipe::{Brewhouse, Ingredient, Lot, Recipe, Stock};
use wortwright::substitute::{Candidates, Effort, SubstituteOptions, propose};

fn main() {
    divan::main();
}

struct Demo {
    recipe: Recipe,
    plants: Vec<Brewhouse>,
}

fn demo() -> Demo {
    let recipe = include_str!("../examples/data/saltmarsh-lantern.gyle");
    let plant = include_str!("../examples/data/stove-top.gyle");
    let sources = [Source::new("recipe", recipe), Source::new("plant", plant)];
    let reading = read(&sources);
    Demo {
        recipe: reading.recipe.clone().unwrap(),
        plants: reading.brewhouses.clone(),
    }
}

fn run(
    demo: &Demo,
    name: &str,
    catalogue: &Catalogue,
    stock: &Stock,
    options: &SubstituteOptions,
) -> f64 {
    let source = demo.recipe.plant_among(&demo.plants).unwrap();
    let target = demo.plants.iter().find(|p| p.batch.is_some()).unwrap();
    let answers = propose(
        &demo.recipe,
        source,
        target,
        &[name],
        stock,
        catalogue,
        options,
    )
    .unwrap();
    answers[0].proposals[0].distance
}

const MISSING: [&str; 3] = ["flaked spelt", "caramel malt 150 EBC", "pale ale malt"];

fn whole(limit: usize, effort: Effort) -> SubstituteOptions {
    SubstituteOptions::default()
        .with_candidates(Candidates::Catalogue)
        .with_limit(limit)
        .with_effort(effort)
}

#[divan::bench(args = MISSING)]
fn catalogue(bencher: divan::Bencher<'_, '_>, name: &str) {
    let demo = demo();
    let catalogue = Catalogue::builtin();
    let stock = Stock::default();
    let options = whole(5, Effort::Bounded);
    let bounded = run(&demo, name, &catalogue, &stock, &options);
    let all = run(
        &demo,
        name,
        &catalogue,
        &stock,
        &whole(5, Effort::Exhaustive),
    );
    assert!((bounded - all).abs() < 1e-12);
    bencher.bench_local(|| run(&demo, name, &catalogue, &stock, &options));
}

#[divan::bench(args = MISSING)]
fn one_shown(bencher: divan::Bencher<'_, '_>, name: &str) {
    let demo = demo();
    let (catalogue, stock) = (Catalogue::builtin(), Stock::default());
    let options = whole(1, Effort::Bounded);
    bencher.bench_local(|| run(&demo, name, &catalogue, &stock, &options));
}

#[divan::bench(args = MISSING, sample_count = 10)]
fn exhaustive(bencher: divan::Bencher<'_, '_>, name: &str) {
    let demo = demo();
    let (catalogue, stock) = (Catalogue::builtin(), Stock::default());
    let options = whole(1, Effort::Exhaustive);
    bencher.bench_local(|| run(&demo, name, &catalogue, &stock, &options));
}

/// The catalogue's fermentables and varied copies of them as a stock of `count` lots.
fn grown(count: usize) -> (Catalogue, Stock) {
    let builtin = Catalogue::builtin();
    let rows: Vec<_> = builtin
        .fermentables()
        .filter(|row| row.extract.is_some() && row.name != MISSING[0])
        .cloned()
        .collect();
    let mut state = 12345_u64;
    let mut next = || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1);
        (state >> 33) as f64 / f64::from(1_u32 << 31)
    };
    let mut entries: Vec<Entry> = Vec::new();
    let mut stock = Stock::default();
    for at in 0..count {
        let mut row = rows[at % rows.len()].clone();
        let mut name = row.name.to_string();
        if at >= rows.len() {
            write!(name, " lot {}", at / rows.len()).unwrap();
            row.name = name.clone().into();
            row.aliases = std::borrow::Cow::Borrowed(&[]);
            row.commonness = row.commonness.or(Some(Commonness::GoodShops));
            row.colour = row
                .colour
                .and_then(|c| MaltColour::from_ebc(c.ebc() * (0.8 + 0.4 * next())).ok());
            row.flavour = row.flavour.and_then(|flavour| {
                let mut values = *flavour.values();
                for value in &mut values {
                    if next() < 0.3 {
                        *value = (*value + 1).min(5);
                    }
                }
                MaltFlavour::new(values).ok()
            });
            entries.push(row.clone().into());
        }
        let mut ingredient = Ingredient::new(name.clone(), row.kind());
        ingredient.entry = Some(name);
        stock.lots.push(Lot::Any(ingredient));
    }
    (builtin.with(entries), stock)
}

#[divan::bench(args = [50, 150, 500, 1500], sample_count = 5)]
fn growth(bencher: divan::Bencher<'_, '_>, count: usize) {
    let demo = demo();
    let (catalogue, stock) = grown(count);
    let options = SubstituteOptions::default().with_limit(1);
    bencher.bench_local(|| run(&demo, MISSING[0], &catalogue, &stock, &options));
}
