//! What a plant's learning costs. `cargo bench --bench learn`; quote minima, since a busy machine only adds.
//!
//! - `learn/one`, `learn/three`, `learn/ten`: so many days of a simulated plant, six or seven readings each, their plans taken up again.
//! - `learn/slip`: ten days of which one reading is a slip, for which the days are fitted again.
//! - `reference/plan`, `reference/spread`: the demo's plan without and with its spread, in the same run.
//!
//! Each case asserts its result once. Allocations are listed with each.
#![allow(missing_docs, clippy::unwrap_used, clippy::indexing_slicing)]

mod demo;

use demo::{demo, plan as planned};
use divan::{AllocProfiler, Bencher, black_box};
use wortwright::learn::learn;
use wortwright::scale::ScaleOptions;
use wortwright_tests::brewing_days::{Simulated, plans};

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

fn learnt(bencher: Bencher<'_, '_>, days: usize, slip: f64) {
    let mut plant = Simulated::drawn(1, &plans());
    let mut read = plant.days(days);
    read[days / 2].0[5] += slip;
    let days = plant.written(&read);
    let found = learn(&plant.plant, &days).unwrap();
    let slips: usize = found.days.iter().map(|day| day.slipped.len()).sum();
    assert_eq!(slips, usize::from(slip > 0.0));
    bencher.bench_local(|| learn(black_box(&plant.plant), black_box(&days)));
}

#[divan::bench_group(name = "learn")]
mod learn_ {
    use super::{Bencher, learnt};

    #[divan::bench]
    fn one(bencher: Bencher<'_, '_>) {
        learnt(bencher, 1, 0.0);
    }

    #[divan::bench]
    fn three(bencher: Bencher<'_, '_>) {
        learnt(bencher, 3, 0.0);
    }

    #[divan::bench]
    fn ten(bencher: Bencher<'_, '_>) {
        learnt(bencher, 10, 0.0);
    }

    #[divan::bench]
    fn slip(bencher: Bencher<'_, '_>) {
        learnt(bencher, 10, 3.0);
    }
}

#[divan::bench_group(name = "reference")]
mod reference {
    use super::{Bencher, ScaleOptions, black_box, demo, planned};

    #[divan::bench]
    fn plan(bencher: Bencher<'_, '_>) {
        let demo = demo();
        let options = ScaleOptions::default().without_spread();
        assert!(planned(&demo, options).spread.is_none());
        bencher.bench_local(|| planned(black_box(&demo), options));
    }

    #[divan::bench]
    fn spread(bencher: Bencher<'_, '_>) {
        let demo = demo();
        assert!(planned(&demo, ScaleOptions::default()).spread.is_some());
        bencher.bench_local(|| planned(black_box(&demo), ScaleOptions::default()));
    }
}
