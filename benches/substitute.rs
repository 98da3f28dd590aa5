//! Times of the search for substitutes. Quote minima; one core.
//!
//! - `ten_shown/NAME`: NAME missing, the whole catalogue, blends up to three, the ten nearest leaders shown and predicted.
//! - `one_shown/NAME`: the same with one shown, and the best ten blends kept.
//! - `exhaustive/NAME`: as `ten_shown` without bounds: every blend solved in closed form.
//! - `predicted/NAME`: the part of `ten_shown` that is no search: the recipe with each of the ten in it, worked out again.
//! - `general_thousandth/count`: a general solver (clarabel) once on each of a thousandth of the `count` blends of the
//!   catalogue, drawn at random: times a thousand is what all of them would take. The programs are built here from the
//!   catalogue's figures in the shape of the search's own: up to three parts and the slack of a base malt up and down,
//!   two equalities, bounds on all. Laying them out is part of the time.
//! - `growth/n`, `growth_ten/n`: the bounded search for flaked spelt with `n` candidates, the catalogue's own and varied
//!   copies of them, one and ten shown.
//!
//! `ten_shown` asserts that the bounded search finds what the exhaustive one does; `general_thousandth` that the solver
//! decides all but a few of its programs.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing
)]

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver as _, NonnegativeConeT, SolverStatus, ZeroConeT,
};
use std::fmt::Write as _;
use wortwright::catalogue::{Catalogue, Commonness, Entry, MaltFlavour};
use wortwright::diagnostic::TextRef;
use wortwright::job::{Brew, Job, JobBuilder};
use wortwright::notation::read;
use wortwright::quantity::MaltColour;
use wortwright::recipe::{Ingredient, Lot, Stock};
use wortwright::substitute::{Candidates, Effort, Proposals, SubstituteOptions};

fn main() {
    divan::main();
}

/// The demo on its stove top, with a catalogue and a stock.
fn brew(catalogue: &Catalogue, stock: &Stock) -> Brew {
    let recipe = include_str!("../examples/data/saltmarsh-lantern.gyle");
    let plant = include_str!("../examples/data/stove-top.gyle");
    let sources = [TextRef::new("recipe", recipe), TextRef::new("plant", plant)];
    let reading = read(&sources);
    let job = Job::builder(reading.recipe.unwrap());
    let plants = reading.brewhouses.into_iter();
    let job = plants.fold(job, JobBuilder::plant);
    let job = job.catalogue(catalogue.clone()).stock(stock.clone());
    job.build().unwrap().on("Stove top").unwrap()
}

fn run(brew: &Brew, name: &str, options: &SubstituteOptions) -> Proposals {
    let options = options.clone().with_missing([name]);
    brew.substitutes_with(&options).unwrap().missing.remove(0)
}

const MISSING: [&str; 3] = ["flaked spelt", "caramel malt 150 EBC", "pale ale malt"];

fn whole(limit: usize, effort: Effort) -> SubstituteOptions {
    SubstituteOptions::default()
        .with_candidates(Candidates::Catalogue)
        .with_limit(limit)
        .with_effort(effort)
}

#[divan::bench(args = MISSING, sample_count = 50)]
fn ten_shown(bencher: divan::Bencher<'_, '_>, name: &str) {
    let brew = brew(&Catalogue::builtin(), &Stock::default());
    let found = |effort| {
        let answer = run(&brew, name, &whole(10, effort));
        assert_eq!(answer.proposals.len(), 10);
        answer
    };
    assert_eq!(found(Effort::Bounded), found(Effort::Exhaustive));
    bencher.bench_local(|| found(Effort::Bounded));
}

#[divan::bench(args = MISSING, sample_count = 50)]
fn one_shown(bencher: divan::Bencher<'_, '_>, name: &str) {
    let brew = brew(&Catalogue::builtin(), &Stock::default());
    let options = whole(1, Effort::Bounded);
    bencher.bench_local(|| run(&brew, name, &options));
}

#[divan::bench(args = MISSING, sample_count = 5)]
fn exhaustive(bencher: divan::Bencher<'_, '_>, name: &str) {
    let brew = brew(&Catalogue::builtin(), &Stock::default());
    let options = whole(10, Effort::Exhaustive);
    bencher.bench_local(|| run(&brew, name, &options));
}

#[divan::bench(args = MISSING, sample_count = 50)]
fn predicted(bencher: divan::Bencher<'_, '_>, name: &str) {
    let brew = brew(&Catalogue::builtin(), &Stock::default());
    let answer = run(&brew, name, &whole(10, Effort::Bounded));
    bencher.bench_local(|| {
        for proposal in &answer.proposals {
            divan::black_box(brew.taking([proposal]).unwrap().plan().unwrap());
        }
    });
}

/// Numbers below one that are the same in every run (Knuth's MMIX generator, from memory).
fn numbers() -> impl FnMut() -> f64 {
    let mut state = 12345_u64;
    move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / f64::from(1_u32 << 31)
    }
}

/// A malt for the general solver: features, and extract and colour.
type Malt = (Vec<f64>, [f64; 2]);

fn malts(catalogue: &Catalogue) -> Vec<(String, Malt)> {
    catalogue
        .fermentables()
        .filter_map(|row| {
            let flavour = row.flavour?.values().map(|v| f64::from(v) / 5.0);
            let protein = row
                .protein
                .map_or(0.1, wortwright::quantity::Protein::fraction);
            let colour = row.colour.map_or(0.0, MaltColour::ebc);
            let features = flavour.into_iter().chain([protein]).collect();
            let brings = [row.extract_as_is()?.fraction(), colour];
            Some((row.name.to_string(), (features, brings)))
        })
        .collect()
}

/// Whether the general solver decides a blend, and its least distance.
fn general(blend: &[&Malt], base: &Malt, wanted: &Malt) -> Option<f64> {
    // The base malt up and down, each with a price, beside the parts.
    let mut columns: Vec<(f64, &Malt, [f64; 2])> =
        blend.iter().map(|malt| (1.0, *malt, [0.05, 1.5])).collect();
    columns.push((1.0, base, [0.0, 0.8]));
    columns.push((-1.0, base, [0.0, 0.8]));
    let n = columns.len();
    let product = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
    let (mut starts, mut places, mut gram) = (vec![0], Vec::new(), Vec::new());
    let (mut row_starts, mut row_places, mut rows) = (vec![0], Vec::new(), Vec::new());
    let mut linear = Vec::new();
    let mut right = vec![1.0, 1.0];
    for (j, (sign, malt, [low, high])) in columns.iter().enumerate() {
        for (i, (other, features, _)) in columns.iter().enumerate().take(j + 1) {
            places.push(i);
            gram.push(2.0 * sign * other * product(&malt.0, &features.0));
        }
        starts.push(places.len());
        let price = if j + 2 >= n { 0.02 } else { 0.0 };
        linear.push(price - 2.0 * sign * product(&malt.0, &wanted.0));
        let [extract, colour] = malt.1;
        row_places.extend([0, 1, 2 + 2 * j, 3 + 2 * j]);
        rows.extend([
            sign * extract / wanted.1[0],
            sign * colour / wanted.1[1],
            1.0,
            -1.0,
        ]);
        row_starts.push(row_places.len());
        right.extend([*high, -low]);
    }
    let gram = CscMatrix::new(n, n, starts, places, gram);
    let rows = CscMatrix::new(2 + 2 * n, n, row_starts, row_places, rows);
    let settings = DefaultSettingsBuilder::default()
        .verbose(false)
        .build()
        .unwrap();
    let cones = [ZeroConeT(2), NonnegativeConeT(2 * n)];
    let mut solver = DefaultSolver::new(&gram, &linear, &rows, &right, &cones, settings).unwrap();
    solver.solve();
    match solver.solution.status {
        SolverStatus::Solved | SolverStatus::AlmostSolved => Some(solver.solution.obj_val),
        SolverStatus::PrimalInfeasible | SolverStatus::AlmostPrimalInfeasible => {
            Some(f64::INFINITY)
        }
        _ => None,
    }
}

#[divan::bench(args = [blends(malts(&Catalogue::builtin()).len())], sample_count = 10)]
fn general_thousandth(bencher: divan::Bencher<'_, '_>, count: usize) {
    let catalogue = Catalogue::builtin();
    let malts = malts(&catalogue);
    let find = |name: &str| &malts.iter().find(|(known, _)| known == name).unwrap().1;
    let (base, wanted) = (find("pale ale malt"), find("flaked spelt"));
    let mut next = numbers();
    let sample: Vec<Vec<&Malt>> = (0..count.div_ceil(1000))
        .map(|_| {
            // Nearly all blends have three parts.
            (0..3)
                .map(|_| &malts[(next() * malts.len() as f64) as usize].1)
                .collect()
        })
        .collect();
    let solve = || {
        sample
            .iter()
            .filter(|blend| general(blend, base, wanted).is_some())
            .count()
    };
    assert!(solve() * 10 > sample.len() * 9, "the solver gives up");
    bencher.bench_local(solve);
}

/// Blends of one to three out of `n`.
const fn blends(n: usize) -> usize {
    n + n * (n - 1) / 2 + n * (n - 1) * (n - 2) / 6
}

/// The catalogue's fermentables and varied copies of them as a stock of `count` lots.
fn grown(count: usize) -> (Catalogue, Stock) {
    let builtin = Catalogue::builtin();
    let rows: Vec<_> = builtin
        .fermentables()
        .filter(|row| row.extract.is_some() && row.name != MISSING[0])
        .cloned()
        .collect();
    let mut next = numbers();
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

fn grow(bencher: divan::Bencher<'_, '_>, count: usize, limit: usize) {
    let (catalogue, stock) = grown(count);
    let brew = brew(&catalogue, &stock);
    let options = SubstituteOptions::default()
        .with_candidates(Candidates::Stock)
        .with_limit(limit);
    bencher.bench_local(|| run(&brew, MISSING[0], &options));
}

#[divan::bench(args = [50, 150, 500, 1500], sample_count = 20, max_time = 6)]
fn growth(bencher: divan::Bencher<'_, '_>, count: usize) {
    grow(bencher, count, 1);
}

#[divan::bench(args = [50, 150, 500, 1500], sample_count = 20, max_time = 6)]
fn growth_ten(bencher: divan::Bencher<'_, '_>, count: usize) {
    grow(bencher, count, 10);
}
