//! The demo, read once, for the benches.
#![allow(
    dead_code,
    unreachable_pub,
    clippy::expect_used,
    reason = "several benches share this file, and a demo that cannot be read is a fault of its own"
)]

#[path = "../plain/brew.rs"]
pub mod arithmetic;

use arithmetic::Numbers;
use wortwright::diagnostic::TextRef;
use wortwright::job::{Brew, Job};
use wortwright::notation::read;
use wortwright::quantity::Volume;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute, volume::liter};
use wortwright::recipe::Log;
use wortwright::scale::{Plan, ScaleOptions};

pub const RECIPE: &str = include_str!("../../examples/data/saltmarsh-lantern.gyle");
pub const PLANT: &str = include_str!("../../examples/data/stove-top.gyle");
pub const LOG: &str = include_str!("../../examples/data/stove-top-log.gyle");

/// The demo's two texts.
pub fn sources() -> [TextRef<'static>; 2] {
    [
        TextRef::new("saltmarsh-lantern.gyle", RECIPE),
        TextRef::new("stove-top.gyle", PLANT),
    ]
}

/// The demo's job: the printed recipe, its plant, the stove top and the cupboard.
pub fn demo() -> Job {
    let sources = [("recipe", RECIPE), ("plant", PLANT)];
    Job::read(sources).expect("the demo can be read")
}

/// The demo's plan on the stove top, its source read anew.
pub fn plan(job: &Job, options: ScaleOptions) -> Plan {
    let brew = job.on_with("Stove top", &options);
    let plan = brew.and_then(|brew| brew.plan());
    plan.expect("the demo can be scaled")
}

/// A brew of a plan's own recipe on its plant.
pub fn again(plan: &Plan) -> Brew {
    let job = Job::builder(plan.recipe.clone()).plant(plan.brewhouse.clone());
    let brew = job.build().and_then(|job| job.on(&plan.brewhouse.name));
    brew.expect("a plan is a recipe")
}

/// The demo's log.
pub fn log() -> Log {
    let sources = [TextRef::new("stove-top-log.gyle", LOG)];
    let log = read(&sources).logs.into_iter().next();
    log.expect("the text holds a log")
}

/// The beer of a plan as numbers for plain arithmetic.
pub fn numbers(plan: &Plan) -> Numbers {
    let litres = |volume: Volume| volume.get::<liter>();
    let hops = plan.additions.iter().filter_map(|a| {
        let minutes = a.time_left?.get::<minute>();
        Some((a.mass?.get::<kilogram>(), a.alpha?.fraction(), minutes))
    });
    let juices = plan
        .additions
        .iter()
        .filter_map(|a| Some((litres(a.volume?), a.brix?.plato())));
    let predicted = &plan.predicted;
    Numbers {
        wort_l: litres(plan.volumes.into_fermenter),
        original: predicted.original.expect("it is predicted").plato(),
        final_plato: predicted.final_extract.expect("it is predicted").plato(),
        trigger_plato: predicted.before_addition.expect("juice goes in").plato(),
        hops: hops.collect(),
        post_boil_l: litres(plan.volumes.post_boil),
        juices: juices.collect(),
    }
}

/// A text as a JSON string in a request.
pub fn request(ask: &str, texts: &[&str], more: &str) -> String {
    let documents: Vec<_> = texts
        .iter()
        .enumerate()
        .map(|(at, text)| serde_json::json!({"name": at.to_string(), "text": text}))
        .collect();
    let documents = serde_json::Value::from(documents);
    format!(r#"{{"format":1,"ask":"{ask}","documents":{documents}{more}}}"#)
}
