//! What a request costs. `cargo bench --bench exchange`; quote minima, since a busy machine only adds.
//!
//! - `answer/ASK`: one request of the demo to its answer, both as text.
//! - `json/ASK`: the floor under it: the same request read and the same answer written by `serde_json`, as values that
//!   know nothing of brewing.
//! - `refused`: a request for what nobody can ask.
//!
//! Each case asserts its result once. Allocations are listed with each.
#![allow(missing_docs, clippy::unwrap_used)]

mod demo;

use demo::{LOG, PLANT, RECIPE, request};
use divan::counter::BytesCount;
use divan::{AllocProfiler, Bencher, black_box};
use serde_json::Value;
use wortwright::exchange::answer;

#[global_allocator]
static ALLOCATIONS: AllocProfiler = AllocProfiler::system();

const ASKS: [&str; 6] = ["read", "predict", "scale", "sheet", "ledger", "catalogue"];

fn main() {
    divan::main();
}

fn asked(ask: &str) -> String {
    match ask {
        "predict" => request(ask, &[RECIPE], ""),
        "ledger" => request(ask, &[LOG], ""),
        "catalogue" => r#"{"format":1,"ask":"catalogue","name":"flaked oats"}"#.to_owned(),
        _ => request(ask, &[RECIPE, PLANT], ""),
    }
}

#[divan::bench(name = "answer", args = ASKS)]
fn answered(bencher: Bencher<'_, '_>, ask: &str) {
    let request = asked(ask);
    let text = answer(&request);
    assert!(text.starts_with(r#"{"format":1,"ok":true"#), "{text}");
    bencher
        .counter(BytesCount::of_str(&text))
        .bench_local(|| answer(black_box(&request)));
}

#[divan::bench(args = ASKS)]
fn json(bencher: Bencher<'_, '_>, ask: &str) {
    let request = asked(ask);
    let value: Value = serde_json::from_str(&answer(&request)).unwrap();
    assert_eq!(value.get("ok"), Some(&Value::Bool(true)));
    let length = value.to_string().len();
    bencher.counter(BytesCount::new(length)).bench_local(|| {
        let read: Value = serde_json::from_str(black_box(&request)).unwrap();
        (read, serde_json::to_string(black_box(&value)).unwrap())
    });
}

#[divan::bench]
fn refused(bencher: Bencher<'_, '_>) {
    let request = r#"{"format":1,"ask":"raed"}"#;
    assert!(answer(request).contains("did you mean `read`?"));
    bencher.bench_local(|| answer(black_box(request)));
}
