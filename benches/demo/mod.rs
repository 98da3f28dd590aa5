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
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::Source;
use wortwright::notation::read;
use wortwright::quantity::Volume;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute, volume::liter};
use wortwright::recipe::{Brewhouse, Log, Recipe, Stock};
use wortwright::scale::{Plan, ScaleOptions, scale};

pub const RECIPE: &str = include_str!("../../examples/data/saltmarsh-lantern.gyle");
pub const PLANT: &str = include_str!("../../examples/data/stove-top.gyle");
pub const LOG: &str = include_str!("../../examples/data/stove-top-log.gyle");

/// The printed recipe, the plant it was printed for, the one it is to be brewed on, what is in the cupboard.
pub struct Demo {
    pub recipe: Recipe,
    pub source: Option<Brewhouse>,
    pub target: Brewhouse,
    pub stock: Stock,
    pub catalogue: Catalogue,
}

/// The demo's two texts.
pub fn sources() -> [Source<'static>; 2] {
    [
        Source::new("saltmarsh-lantern.gyle", RECIPE),
        Source::new("stove-top.gyle", PLANT),
    ]
}

pub fn demo() -> Demo {
    let sources = sources();
    let reading = read(&sources);
    let recipe = reading.recipe.clone().expect("the demo has a recipe");
    let source = recipe.plant_among(&reading.brewhouses);
    let target = reading.brewhouses.iter().find(|p| p.batch.is_some());
    Demo {
        source: source.expect("its plant is there").cloned(),
        target: target.expect("the stove top has a batch").clone(),
        stock: reading.stock.clone(),
        catalogue: Catalogue::builtin(),
        recipe,
    }
}

/// The demo's log.
pub fn log() -> Log {
    let sources = [Source::new("stove-top-log.gyle", LOG)];
    read(&sources).log.clone().expect("the text holds a log")
}

impl Demo {
    pub fn options(&self) -> ScaleOptions {
        ScaleOptions::default()
            .with_source(self.source.clone())
            .with_stock(self.stock.clone())
    }

    pub fn plan(&self, options: &ScaleOptions) -> Plan {
        scale(&self.recipe, &self.target, &self.catalogue, options).expect("the demo can be scaled")
    }
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
