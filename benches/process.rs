//! What a prediction costs. `cargo bench --bench process`; quote minima, since a busy machine only adds.
//!
//! - `predict/tinseth`, `predict/kinetic`: the demo's printed recipe on the plant it was printed for, by either model of
//!   bitterness: its amounts found from shares and targets, and the beer predicted.
//! - `predict/masses`: a recipe of masses on its plant, the demo's plan: nothing has to be found.
//! - `reference/arithmetic`: the same beer in plain floating-point arithmetic, its amounts known, what ferments found by
//!   bisection.
//! - `reference/recipe_copy`: the recipe cloned.
//!
//! Each case asserts its result once. Allocations are listed with each.
#![allow(missing_docs, clippy::unwrap_used)]

mod demo;

use demo::{again, arithmetic, demo, numbers, plan};
use divan::{AllocProfiler, Bencher, black_box};
use wortwright::recipe::BitternessModel;
use wortwright::scale::ScaleOptions;

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

fn by(bencher: Bencher<'_, '_>, model: BitternessModel) {
    let demo = demo();
    let predicted = || black_box(&demo).as_written_by(model).unwrap();
    // The sheet prints 6.6 %.
    assert!((predicted().predicted.alcohol.unwrap().percent() - 6.6).abs() < 0.5);
    bencher.bench_local(predicted);
}

#[divan::bench(name = "predict/tinseth")]
fn tinseth(bencher: Bencher<'_, '_>) {
    by(bencher, BitternessModel::Tinseth);
}

#[divan::bench(name = "predict/kinetic")]
fn kinetic(bencher: Bencher<'_, '_>) {
    by(bencher, BitternessModel::Kinetic);
}

#[divan::bench(name = "predict/masses")]
fn masses(bencher: Bencher<'_, '_>) {
    let brew = again(&plan(&demo(), ScaleOptions::default()));
    let predicted = || black_box(&brew).predict().unwrap();
    assert!((predicted().predicted.original.unwrap().plato() - 15.6).abs() < 0.05);
    bencher.bench_local(predicted);
}

#[divan::bench(name = "reference/arithmetic")]
fn plain(bencher: Bencher<'_, '_>) {
    let plan = plan(&demo(), ScaleOptions::default());
    let numbers = numbers(&plan);
    let (alcohol, _) = arithmetic::beer(&numbers);
    assert!((100.0 * alcohol - plan.predicted.alcohol.unwrap().percent()).abs() < 0.05);
    bencher.bench_local(|| arithmetic::beer(black_box(&numbers)));
}

#[divan::bench(name = "reference/recipe_copy")]
fn recipe_copy(bencher: Bencher<'_, '_>) {
    let demo = demo();
    let recipe = demo.recipe().unwrap();
    assert_eq!(&recipe.clone(), recipe);
    bencher.bench_local(|| black_box(recipe).clone());
}
