//! What the tests of the engine share: reading a text, scaling it, and looking at the plan.

use wortwright::diagnostic::{Error, TextRef};
use wortwright::notation::read;
use wortwright::process::Prediction;
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::quantity::{Mass, Volume};
use wortwright::recipe::{Brewhouse, Recipe, Stock};
use wortwright::scale::{Plan, PlannedAddition, ScaleOptions, WeighOut};

/// The plain source plant of most tests: everything stated, so that nothing hides in a default.
pub const BIG: &str = include_str!("../suite/fixtures/big.gyle");

/// A recipe, the plant it was brewed on, the plant that is to brew it, and a stock.
#[derive(Debug)]
pub struct Job {
    pub recipe: Recipe,
    pub source: Option<Brewhouse>,
    pub target: Brewhouse,
    pub stock: Stock,
}

/// Numbers of a fixed sequence (Knuth's linear congruential generator, MMIX), so that every run sees the same beers.
#[derive(Debug)]
pub struct Numbers(pub u64);

impl Numbers {
    /// The next number between two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// The next of some choices.
    pub fn one_of<'a>(&mut self, choices: &[&'a str]) -> &'a str {
        let at = self.between(0.0, choices.len() as f64) as usize;
        choices[at.min(choices.len() - 1)]
    }
}

/// Reads a text that must be free of errors; the target is the plant named `target`.
pub fn job(text: &str, target: &str) -> Job {
    let reading = read(&[TextRef::new("text", text)]);
    assert!(reading.is_usable(), "{:?}\n{text}", reading.diagnostics);
    let recipe = reading.recipe.clone().unwrap();
    let source = recipe.plant_among(&reading.brewhouses).unwrap().cloned();
    Job {
        recipe,
        source,
        target: reading.brewhouse(target).unwrap().clone(),
        stock: reading.stock.clone(),
    }
}

impl Job {
    /// The job of the models as they stand, changed or not.
    pub fn built(&self) -> Result<wortwright::Job, Error> {
        let source = self.source.iter().filter(|source| **source != self.target);
        let plants = source.chain([&self.target]).cloned();
        let job = wortwright::Job::builder(self.recipe.clone()).stock(self.stock.clone());
        plants.fold(job, wortwright::job::JobBuilder::plant).build()
    }

    pub fn scaled(&self, weigh_out: WeighOut) -> Result<Plan, Error> {
        let options = ScaleOptions::default().with_weigh_out(weigh_out);
        let brew = self.built()?.on_with(&self.target.name, &options)?;
        brew.plan()
    }

    pub fn exact(&self) -> Plan {
        self.scaled(WeighOut::Exact).unwrap()
    }
}

/// The plan of a text for its plant `target`, weighed out.
pub fn weighed(text: &str, target: &str) -> Plan {
    let job = wortwright::Job::read([("text", text)]).unwrap();
    job.on(target).unwrap().plan().unwrap()
}

/// What a text's recipe gives on the plant that it names, or on none.
pub fn predicted(text: &str) -> Result<Prediction, Error> {
    wortwright::Job::read([("text", text)])?.as_written()
}

/// What a text's recipe gives on its only plant.
pub fn predicted_on(text: &str, plant: &str) -> Prediction {
    let job = wortwright::Job::read([("text", text)]).unwrap();
    job.on(plant).unwrap().predict().unwrap()
}

/// The plan of a text for its plant `target`, not weighed out.
pub fn plan(text: &str, target: &str) -> Plan {
    job(text, target).exact()
}

/// The plan of a text with the plain source plant and the lines of a target plant.
pub fn plan_on(recipe: &str, target_lines: &str) -> Plan {
    let text = format!("{recipe}\n{BIG}\nbrewhouse Small\n{target_lines}\n");
    plan(&text, "Small")
}

/// Brews a plan's own recipe on another plant, as the plan's plant gives it.
pub fn again(plan: &Plan, target: &Brewhouse) -> Plan {
    Job {
        recipe: plan.recipe.clone(),
        source: Some(plan.brewhouse.clone()),
        target: target.clone(),
        stock: Stock::default(),
    }
    .exact()
}

pub fn kg(mass: Mass) -> f64 {
    mass.get::<kilogram>()
}

pub fn l(volume: Volume) -> f64 {
    volume.get::<liter>()
}

pub fn addition<'a>(plan: &'a Plan, name: &str) -> &'a PlannedAddition {
    plan.additions
        .iter()
        .find(|a| a.name == name)
        .unwrap_or_else(|| panic!("no {name} in {:?}", plan.additions))
}

/// Kilograms of an addition that is weighed.
pub fn mass(plan: &Plan, name: &str) -> f64 {
    kg(addition(plan, name).mass.unwrap())
}

/// Litres of an addition that is measured.
pub fn volume(plan: &Plan, name: &str) -> f64 {
    l(addition(plan, name).volume.unwrap())
}

pub fn original(plan: &Plan) -> f64 {
    plan.predicted.original.unwrap().plato()
}

pub fn final_plato(plan: &Plan) -> f64 {
    plan.predicted.final_extract.unwrap().plato()
}

pub fn ibu(plan: &Plan) -> f64 {
    plan.predicted.bitterness.unwrap().ibu()
}

pub fn yield_of(plan: &Plan) -> f64 {
    plan.predicted.extract_yield.unwrap().fraction()
}

/// Asserts that two figures agree to a part of the larger.
#[track_caller]
pub fn near(computed: f64, wanted: f64, relative: f64, what: &str) {
    let room = relative * computed.abs().max(wanted.abs()).max(1e-12);
    assert!(
        (computed - wanted).abs() <= room,
        "{what}: computed {computed}, wanted {wanted}, off by {:e}",
        (computed - wanted) / wanted
    );
}

/// Every number in a plan is finite and no amount is below zero.
#[track_caller]
pub fn sane(plan: &Plan) {
    let json = serde_json::to_value(plan).unwrap();
    numbers(&json, "plan");
    for addition in &plan.additions {
        let amounts = [addition.mass.map(kg), addition.volume.map(l)];
        for amount in amounts.into_iter().flatten() {
            assert!(amount.is_finite() && amount >= 0.0, "{addition:?}");
        }
    }
    let v = &plan.volumes;
    for volume in [
        v.mash_water,
        v.sparge_water,
        v.total_water,
        v.mash_hot,
        v.pre_boil,
        v.pre_boil_hot,
        v.post_boil,
        v.post_boil_hot,
        v.into_fermenter,
        v.after_additions,
        v.packaged,
    ] {
        assert!(l(volume).is_finite() && l(volume) >= 0.0, "{v:?}");
    }
}

fn numbers(value: &serde_json::Value, path: &str) {
    match value {
        serde_json::Value::Null => panic!("{path} is null: not a number, or nothing to say"),
        serde_json::Value::Array(items) => items.iter().for_each(|item| numbers(item, path)),
        serde_json::Value::Object(fields) => fields
            .iter()
            .for_each(|(name, item)| numbers(item, &format!("{path}.{name}"))),
        _ => {}
    }
}
