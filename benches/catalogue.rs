//! What a look-up costs. `cargo bench --bench catalogue`; quote minima, since a busy machine only adds.
//!
//! - `find/all`: every name and alias of the built-in catalogue looked up, written in capitals; the time is of all.
//! - `longest/one`: the longest name at the start of a line; `near/one`: the names nearest to a misspelt one.
//! - `reference/hash_map`: all of them by a `HashMap` of folded names, folding in the time.
//! - `reference/linear`: all of them by comparing folded names one after another.
//! - `reference/hash_map_exact`: by a `HashMap` of the very same bytes: no folding, so no other writing is found.
//! - `reference/near`: the distance of the misspelt name to every name by `strsim`, unbounded, and sorted.
//!
//! Each case asserts its result once. Allocations are listed with each.
#![allow(missing_docs, clippy::unwrap_used)]

use divan::counter::ItemsCount;
use divan::{AllocProfiler, Bencher, black_box};
use std::collections::HashMap;
use wortwright::catalogue::{Catalogue, folded};

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

const MISSPELT: &str = "munnich mallt";

fn main() {
    divan::main();
}

/// Names and aliases as the catalogue writes them.
fn names() -> Vec<String> {
    let catalogue = Catalogue::builtin();
    let of_entry = |entry: wortwright::catalogue::EntryRef<'_>| {
        let aliases = entry.aliases().map(str::to_owned);
        std::iter::once(entry.name().to_owned())
            .chain(aliases)
            .collect::<Vec<_>>()
    };
    catalogue.entries().flat_map(of_entry).collect()
}

fn capitals() -> Vec<String> {
    names().iter().map(|name| name.to_uppercase()).collect()
}

/// Times looking up every wanted name, each of which is there.
fn all(bencher: Bencher<'_, '_>, wanted: &[String], find: impl Fn(&str) -> bool) {
    assert!(wanted.iter().all(|name| find(name)));
    bencher
        .counter(ItemsCount::new(wanted.len()))
        .bench_local(|| black_box(wanted).iter().filter(|name| find(name)).count());
}

#[divan::bench(name = "find/all")]
fn find(bencher: Bencher<'_, '_>) {
    let catalogue = Catalogue::builtin();
    all(bencher, &capitals(), |name| catalogue.find(name).is_some());
}

#[divan::bench(name = "reference/hash_map")]
fn hash_map(bencher: Bencher<'_, '_>) {
    let map: HashMap<_, _> = names().iter().map(|name| (folded(name), 1)).collect();
    all(bencher, &capitals(), |name| map.contains_key(&folded(name)));
}

#[divan::bench(name = "reference/hash_map_exact")]
fn hash_map_exact(bencher: Bencher<'_, '_>) {
    let map: HashMap<_, _> = names().into_iter().map(|name| (name, 1)).collect();
    all(bencher, &names(), |name| map.contains_key(name));
}

#[divan::bench(name = "reference/linear")]
fn linear(bencher: Bencher<'_, '_>) {
    let keys: Vec<_> = names().iter().map(|name| folded(name)).collect();
    all(bencher, &capitals(), |name| keys.contains(&folded(name)));
}

#[divan::bench(name = "longest/one")]
fn longest(bencher: Bencher<'_, '_>) {
    let catalogue = Catalogue::builtin();
    let find = || catalogue.longest_match(black_box("caramel malt 150 EBC 2 kg of it"));
    assert_eq!(find().unwrap().bytes, "caramel malt 150 EBC".len());
    bencher.bench_local(|| find().is_some());
}

#[divan::bench(name = "near/one")]
fn near(bencher: Bencher<'_, '_>) {
    let catalogue = Catalogue::builtin();
    assert_eq!(catalogue.near(MISSPELT, None).first(), Some(&"munich malt"));
    bencher.bench_local(|| catalogue.near(black_box(MISSPELT), None).len());
}

#[divan::bench(name = "reference/near")]
fn unbounded(bencher: Bencher<'_, '_>) {
    let names = names();
    let nearest = || {
        let mut all: Vec<_> = names
            .iter()
            .map(|name| (strsim::osa_distance(black_box(MISSPELT), name), name))
            .collect();
        all.sort_unstable();
        all.truncate(3);
        all
    };
    assert!(nearest().iter().any(|(distance, _)| *distance <= 9));
    bencher.bench_local(|| nearest().len());
}
