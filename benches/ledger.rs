//! What following a log costs. `cargo bench --bench ledger`; quote minima, since a busy machine only adds.
//!
//! - `ledger/demo`: the demo's log of six entries to its alcohol, with the steps, the shortcuts it warns of, and the
//!   spread of the result, for which the log is followed again with each reading a little off.
//! - `ledger/long`: a log of 40 readings and draws after one addition.
//! - `reference/json_demo`, `reference/json_long`: the same logs as JSON into the same structs.
//!
//! Each case asserts its result once. Allocations are listed with each.
#![allow(missing_docs, clippy::unwrap_used)]

mod demo;

use divan::{AllocProfiler, Bencher, black_box};
use std::fmt::Write as _;
use wortwright::Job;
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Models, read};
use wortwright::recipe::Log;

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

fn main() {
    divan::main();
}

fn long() -> Log {
    let mut text =
        "log\n  pitched 20 L at 14 P on day 0\n  added 1 L apple juice, 12 Bx on day 1\n"
            .to_owned();
    for day in 2..22 {
        let plato = 2.5 + 10.0 * f64::from(22 - day) / 20.0;
        writeln!(text, "  reading {plato:.2} P at 20 C on day {day}").unwrap();
        writeln!(text, "  drawn 100 mL on day {day}").unwrap();
    }
    let sources = [TextRef::new("log", &text)];
    read(&sources).logs.remove(0)
}

fn follow(bencher: Bencher<'_, '_>, log: &Log, alcohol: f64) {
    let models = Models::default().log(log.clone());
    let job = Job::default().with(models).unwrap();
    let followed = || black_box(&job).ledgers().next().unwrap().unwrap();
    assert!((followed().alcohol.by_volume.percent() - alcohol).abs() < 0.5);
    bencher.bench_local(followed);
}

fn json(bencher: Bencher<'_, '_>, log: &Log) {
    let text = serde_json::to_string(log).unwrap();
    let again: Log = serde_json::from_str(&text).unwrap();
    assert_eq!(again.entries.len(), log.entries.len());
    bencher.bench_local(|| serde_json::from_str::<Log>(black_box(&text)));
}

#[divan::bench(name = "ledger/demo")]
fn of_demo(bencher: Bencher<'_, '_>) {
    follow(bencher, &demo::log(), 6.6);
}

#[divan::bench(name = "ledger/long")]
fn of_long(bencher: Bencher<'_, '_>) {
    follow(bencher, &long(), 5.9);
}

#[divan::bench(name = "reference/json_demo")]
fn json_demo(bencher: Bencher<'_, '_>) {
    json(bencher, &demo::log());
}

#[divan::bench(name = "reference/json_long")]
fn json_long(bencher: Bencher<'_, '_>) {
    json(bencher, &long());
}
