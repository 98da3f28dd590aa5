//! Instructions that the rooms after reading take, each beside a floor that knows nothing of brewing.
//!
//! - `scale`: `whole`, the demo's texts to a brew sheet; `plan` and `sheet` alone; `arithmetic`, the plan's beer in plain
//!   floating-point arithmetic; `plan_json`, the plan written as JSON.
//! - `process`: `predict`, the printed recipe on its plant, by Tinseth; `predict_kinetic`, by isomerisation.
//! - `ledger`: `follow`, the demo's log; `log_json`, the same log read from JSON.
//! - `catalogue`: `find`, a name in capitals; `near`, a misspelt name; `hash_map`, the same name by a `HashMap` of folded
//!   names.
//! - `exchange`: `answer` for each ask; `json`, the same request and answer through `serde_json` as plain values.
#![allow(missing_docs)]

#[path = "../../demo/mod.rs"]
mod demo;

use demo::{LOG, PLANT, RECIPE, arithmetic, numbers, request};
use gungraun::{library_benchmark, library_benchmark_group, main};
use std::collections::HashMap;
use std::hint::black_box;
use wortwright::catalogue::{Catalogue, folded};
use wortwright::exchange;
use wortwright::recipe::{BitternessModel, Log};
use wortwright::job::Job;
use wortwright::scale::{Plan, ScaleOptions};
use wortwright::sheet::SheetOptions;

fn planned() -> Plan {
    demo::plan(&demo::demo(), ScaleOptions::default())
}

#[library_benchmark]
fn whole() -> usize {
    let texts = [("recipe", RECIPE), ("plant", PLANT)];
    let job = Job::read(black_box(texts)).expect("the demo can be read");
    let brew = job.on("Stove top").expect("the stove top has a batch");
    let text = brew.plan().expect("it can be scaled").to_string();
    assert!(text.contains("SALTMARSH LANTERN"));
    text.len()
}

#[library_benchmark(setup = demo::demo)]
#[bench::demo()]
fn plan(demo: Job) -> Plan {
    demo::plan(black_box(&demo), ScaleOptions::default().without_spread())
}

#[library_benchmark(setup = planned)]
#[bench::demo()]
fn sheet(plan: Plan) -> String {
    black_box(&plan).sheet(&SheetOptions::default())
}

#[library_benchmark(setup = planned)]
#[bench::demo()]
fn plan_json(plan: Plan) -> String {
    serde_json::to_string(black_box(&plan)).expect("a plan can be written")
}

fn plain() -> arithmetic::Numbers {
    numbers(&planned())
}

#[library_benchmark(setup = plain)]
#[bench::demo()]
fn arithmetic_alone(numbers: arithmetic::Numbers) -> (f64, f64) {
    arithmetic::beer(black_box(&numbers))
}

fn predicted(demo: &Job, model: BitternessModel) -> f64 {
    let prediction = black_box(demo).as_written_by(model);
    let predicted = prediction.expect("the demo can be predicted").predicted;
    predicted.alcohol.expect("it ferments").percent()
}

#[library_benchmark(setup = demo::demo)]
#[bench::demo()]
fn predict(demo: Job) -> f64 {
    predicted(&demo, BitternessModel::Tinseth)
}

#[library_benchmark(setup = demo::demo)]
#[bench::demo()]
fn predict_kinetic(demo: Job) -> f64 {
    predicted(&demo, BitternessModel::Kinetic)
}

fn job_of_log() -> Job {
    Job::read([("log", LOG)]).expect("the log is read")
}

#[library_benchmark(setup = job_of_log)]
#[bench::demo()]
fn follow(job: Job) -> usize {
    let ledger = black_box(&job).ledgers().next().expect("a log").expect("the log can be followed");
    assert!((ledger.alcohol.by_volume.percent() - 6.6).abs() < 0.5);
    ledger.steps.len()
}

fn log_text() -> String {
    serde_json::to_string(&demo::log()).expect("a log can be written")
}

#[library_benchmark(setup = log_text)]
#[bench::demo()]
fn log_json(text: String) -> Log {
    serde_json::from_str(black_box(&text)).expect("it was written so")
}

#[library_benchmark]
fn find() -> bool {
    Catalogue::builtin()
        .find(black_box("CARAMEL MALT 150 EBC"))
        .is_some()
}

#[library_benchmark]
fn near() -> usize {
    Catalogue::builtin()
        .near(black_box("munnich mallt"), None)
        .len()
}

fn map() -> HashMap<String, usize> {
    let catalogue = Catalogue::builtin();
    let names = catalogue
        .entries()
        .flat_map(|entry| std::iter::once(entry.name()).chain(entry.aliases()));
    names.map(folded).zip(0..).collect()
}

#[library_benchmark(setup = map)]
#[bench::names()]
fn hash_map(map: HashMap<String, usize>) -> bool {
    let found = map.contains_key(&folded(black_box("CARAMEL MALT 150 EBC")));
    // The map is not taken apart in the count.
    std::mem::forget(map);
    found
}

fn asked(ask: &str) -> String {
    match ask {
        "predict" => request(ask, &[RECIPE], ""),
        "ledger" => request(ask, &[LOG], ""),
        "catalogue" => r#"{"format":1,"ask":"catalogue","name":"flaked oats"}"#.to_owned(),
        _ => request(ask, &[RECIPE, PLANT], ""),
    }
}

fn exchanged(ask: &str) -> (String, serde_json::Value) {
    let request = asked(ask);
    let answer = serde_json::from_str(&exchange::answer(&request)).expect("an answer is JSON");
    (request, answer)
}

#[library_benchmark(setup = asked)]
#[bench::read("read")]
#[bench::predict("predict")]
#[bench::scale("scale")]
#[bench::sheet("sheet")]
#[bench::ledger("ledger")]
#[bench::catalogue("catalogue")]
fn answer(request: String) -> String {
    let answer = exchange::answer(black_box(&request));
    assert!(answer.starts_with(r#"{"format":1,"ok":true"#));
    answer
}

#[library_benchmark(setup = exchanged)]
#[bench::read("read")]
#[bench::predict("predict")]
#[bench::scale("scale")]
#[bench::sheet("sheet")]
#[bench::ledger("ledger")]
#[bench::catalogue("catalogue")]
fn json((request, answer): (String, serde_json::Value)) -> String {
    let read: serde_json::Value =
        serde_json::from_str(black_box(&request)).expect("a request is JSON");
    assert!(black_box(read).is_object());
    serde_json::to_string(black_box(&answer)).expect("values can be written")
}

library_benchmark_group!(
    name = scaling,
    benchmarks = [whole, plan, sheet, plan_json, arithmetic_alone]
);
library_benchmark_group!(name = process, benchmarks = [predict, predict_kinetic]);
library_benchmark_group!(name = ledgers, benchmarks = [follow, log_json]);
library_benchmark_group!(name = catalogue, benchmarks = [find, near, hash_map]);
library_benchmark_group!(name = exchanges, benchmarks = [answer, json]);
main!(library_benchmark_groups = [scaling, process, ledgers, catalogue, exchanges]);
