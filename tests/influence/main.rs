//! Every input has its effect: another value moves a computed figure, or an entry speaks of it.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stderr
)]

mod effect;
mod leaves;
mod lines;
mod lists;
mod page;

use effect::{Answers, Effect, effect};
use leaves::{Leaf, Schema};
use lists::{hold_against, listed};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use wortwright::Job;
use wortwright::exchange::{answer, schema};
use wortwright::recipe::{Brewhouse, Log, Recipe, Stock};

/// The base documents, by name.
fn texts() -> BTreeMap<String, String> {
    let files = fs::read_dir("influence/bases").unwrap();
    let paths = files.map(|file| file.unwrap().path());
    let named = paths.map(|path| {
        let name = path.file_stem().unwrap().to_str().unwrap().to_owned();
        (name, fs::read_to_string(&path).unwrap())
    });
    named.collect()
}

/// The models of the base documents.
fn bases() -> BTreeMap<String, Value> {
    let mut bases = BTreeMap::new();
    for (name, text) in texts() {
        let job = Job::read([(name.as_str(), text.as_str())])
            .unwrap_or_else(|error| panic!("{name}:\n{error}"));
        let models = json!({
            "recipe": job.recipe(),
            "brewhouses": job.brewhouses(),
            "stock": job.stock(),
            "logs": job.logs(),
        });
        bases.insert(name, models);
    }
    bases
}

/// What is asked of models.
fn asks(models: &Value) -> Vec<Value> {
    // Without spreads: the figures that they are of move with them, and a plan takes a fraction of the time.
    let plain = json!({"spread": false});
    let mut asks = vec![json!({"ask": "predict", "options": plain})];
    let brewed_on = models["recipe"]["brewed_on"].as_str();
    for plant in models["brewhouses"].as_array().unwrap() {
        if plant["name"].as_str() != brewed_on {
            asks.push(json!({"ask": "scale", "to": plant["name"], "options": plain}));
            let lots = models["stock"]["lots"].as_array().unwrap();
            if lots.iter().any(|lot| lot.get("missing").is_some()) {
                asks.push(json!({"ask": "substitute", "to": plant["name"]}));
            }
        }
    }
    let logs = models["logs"].as_array().unwrap();
    for plant in models["brewhouses"].as_array().unwrap() {
        if plant["name"].as_str() != brewed_on && !logs.is_empty() {
            asks.push(json!({"ask": "learn", "to": plant["name"]}));
        }
    }
    for log in logs {
        asks.push(json!({"ask": "ledger", "log": log["name"]}));
    }
    asks
}

/// The answers to everything that is asked of models.
fn answers(models: &Value) -> Answers {
    let mut answers = Answers::default();
    for (index, ask) in asks(models).iter().enumerate() {
        let mut request = ask.as_object().unwrap().clone();
        request.insert("format".into(), json!(1));
        let takes: &[&str] = match ask["ask"].as_str() {
            Some("ledger") => &["logs", "ingredients"],
            Some("learn") => &["recipe", "brewhouses", "stock", "logs", "ingredients"],
            _ => &["recipe", "brewhouses", "stock", "ingredients"],
        };
        for key in takes.iter().filter(|key| models.get(**key).is_some()) {
            request.insert((*key).to_owned(), models[*key].clone());
        }
        let answer: Value =
            serde_json::from_str(&answer(&Value::from(request).to_string())).unwrap();
        answers.add(&format!("{}{index}", ask["ask"].as_str().unwrap()), &answer);
    }
    answers
}

/// The value of a leaf in its own unit, as the models understand it.
fn value_at(models: &Value, leaf: &Leaf) -> Option<f64> {
    fn again<T: serde::Serialize + serde::de::DeserializeOwned>(value: &Value) -> Option<Value> {
        let model: T = serde_json::from_value(value.clone()).ok()?;
        serde_json::to_value(model).ok()
    }
    let read = json!({
        "recipe": again::<Recipe>(&models["recipe"])?,
        "brewhouses": again::<Vec<Brewhouse>>(&models["brewhouses"])?,
        "stock": again::<Stock>(&models["stock"])?,
        "logs": again::<Vec<Log>>(&models["logs"])?,
    });
    let value = read.pointer(&leaf.pointer)?;
    value.as_f64().or_else(|| value["value"].as_f64())
}

/// Other values for an input of free text.
fn other_words(models: &Value, leaf: &Leaf) -> Vec<Value> {
    let (parent, key) = leaf.pointer.rsplit_once('/').unwrap();
    let parent = models.pointer(parent).unwrap();
    if leaf.field == "Brewhouse.lauter" {
        return vec![json!({"bag": {}})];
    }
    if leaf.field == "Timing.at" {
        // The only time that is a word: first wort.
        return vec![json!({"at_min": {"number": 20, "unit": "min"}})];
    }
    let others: &[&str] = match (leaf.field.as_str(), parent["kind"].as_str()) {
        ("Ingredient.entry", Some("malt" | "grain")) => &["munich malt", "roast barley"],
        ("Ingredient.entry", Some("sugar")) => &["honey", "lactose"],
        ("Ingredient.entry", Some("juice")) => &["apple juice", "lemon juice"],
        ("Ingredient.entry", Some("beverage")) => &["water", "aged spirit"],
        ("Ingredient.entry", Some("hop")) => &["Saaz", "Magnum"],
        ("Ingredient.entry", Some("botanical")) => &["coriander seed", "licorice root"],
        ("Ingredient.entry", Some("aid")) => &["gelatine", "Irish moss"],
        ("Ingredient.entry", Some("acid")) => &["phosphoric acid 75 %", "citric acid"],
        ("Ingredient.entry", Some("salt")) => &["gypsum", "calcium chloride"],
        ("Ingredient.entry", Some("yeast")) => &["lager yeast", "saison yeast"],
        ("Recipe.brewed_on", _) => &["Home"],
        ("Ingredient.name" | "Recipe.name" | "Recipe.source" | "Package.container", _) => {
            &["Other words"]
        }
        _ => &[],
    };
    let others = others.iter().filter(|other| parent[key] != **other);
    others.map(|other| json!(other)).collect()
}

/// The clearest effect that any other value has.
fn effect_of(
    models: &Value,
    before: &Answers,
    leaf: &Leaf,
    ask: &dyn Fn(&Value) -> Answers,
) -> Effect {
    let mut clearest = Effect::Refused("nothing else can be tried".to_owned());
    let words = other_words(models, leaf);
    let was = value_at(models, leaf);
    for value in leaf.bent.iter().chain(&words) {
        let after = leaves::with(models, leaf, value);
        let is = value_at(&after, leaf);
        clearest = clearest.max(effect(before, &ask(&after), leaf, was.zip(is)));
        if matches!(clearest, Effect::Figure(_)) {
            break;
        }
    }
    clearest
}

/// The inputs of a base document that move no figure: what the lists call each, and the code of the entry that speaks of it, or
/// `nothing`.
fn without_figure(name: &str, models: &Value, ask: &dyn Fn(&Value) -> Answers) -> BTreeSet<String> {
    let before = ask(models);
    assert!(before.refused.is_empty(), "{name}: {:?}", before.refused);
    let mut found = BTreeSet::new();
    for leaf in Schema::new(schema::request()).leaves(models) {
        let says = match effect_of(models, &before, &leaf, ask) {
            Effect::Figure(_) => continue,
            Effect::Told(code) => code,
            Effect::Nothing | Effect::Refused(_) => "nothing".to_owned(),
        };
        found.insert(format!("{name}: {} {says}", leaf.key()));
    }
    found
}

/// Every input of every base document moves a computed figure, or stands in a list with the reason.
#[test]
fn every_input_has_its_effect() {
    let found: BTreeSet<_> = std::thread::scope(|scope| {
        let bases = bases();
        let threads: Vec<_> = bases
            .into_iter()
            .map(|(name, models)| scope.spawn(move || without_figure(&name, &models, &answers)))
            .collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
    });
    hold_against(&found, &listed(&["by_nature.txt", "open.txt"]));
}

/// Every row of the grammar moves a computed figure in every base document, by each of its bent examples, or stands in a list
/// with the reason.
#[test]
fn every_row_of_the_grammar_has_its_effect() {
    let found: BTreeSet<_> = std::thread::scope(|scope| {
        let threads: Vec<_> = texts()
            .into_iter()
            .map(|(name, text)| scope.spawn(move || lines::without_figure(&name, &text, &answers)))
            .collect();
        threads
            .into_iter()
            .flat_map(|thread| thread.join().unwrap())
            .collect()
    });
    hold_against(&found, &listed(&["lines_by_nature.txt", "lines_open.txt"]));
}

#[test]
fn every_field_of_the_models_stands_in_a_base_document() {
    let schema = Schema::new(schema::request());
    let leaves = bases()
        .into_values()
        .flat_map(|models| schema.leaves(&models));
    let seen: BTreeSet<_> = leaves.map(|leaf| leaf.field).collect();
    let missing: Vec<_> = schema
        .fields()
        .into_iter()
        .filter(|field| !seen.contains(field))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}

/// The bag's answers if an input counted for nothing: the test must find it.
#[test]
fn an_effect_that_is_taken_away_is_found() {
    let models = bases().remove("bag").unwrap();
    let schema = Schema::new(schema::request());
    let before = answers(&models);
    let fields = [
        "Evaporation.rate_l_per_h",
        "Boil.time_min",
        "Stated.alpha_pct",
        "LogReading.shown_plato",
    ];
    for leaf in schema
        .leaves(&models)
        .into_iter()
        .filter(|leaf| fields.contains(&leaf.field.as_str()))
    {
        assert!(
            matches!(
                effect_of(&models, &before, &leaf, &answers),
                Effect::Figure(_)
            ),
            "{leaf:?}"
        );
        let was = models.pointer(&leaf.pointer).unwrap();
        let deaf = |bent: &Value| answers(&leaves::with(bent, &leaf, was));
        assert!(
            !matches!(effect_of(&models, &before, &leaf, &deaf), Effect::Figure(_)),
            "{leaf:?}"
        );
    }
}

/// An input that is only repeated in an answer has no effect by that.
#[test]
fn an_echo_is_no_effect() {
    let models = bases().remove("bag").unwrap();
    let leaves = Schema::new(schema::request()).leaves(&models);
    let leaf = leaves
        .iter()
        .find(|leaf| leaf.field == "Boil.time_min")
        .unwrap();
    let was = models.pointer(&leaf.pointer).unwrap();
    let echoing = |bent: &Value| {
        let mut answers = answers(&leaves::with(bent, leaf, was));
        let repeated = bent.pointer(&leaf.pointer).unwrap()["number"]
            .as_f64()
            .unwrap();
        answers
            .figures
            .insert("predict0.result.boil_min".to_owned(), repeated);
        answers
    };
    let before = echoing(&models);
    assert_eq!(effect_of(&models, &before, leaf, &echoing), Effect::Nothing);
}

/// An entry counts by the input that it speaks of, and by nothing else.
#[test]
fn an_entry_without_its_place_is_no_effect() {
    let models = bases().remove("bag").unwrap();
    let leaves = Schema::new(schema::request()).leaves(&models);
    let leaf = leaves
        .iter()
        .find(|leaf| leaf.field == "Targets.colour_ebc")
        .unwrap();
    let before = answers(&models);
    assert!(matches!(
        effect_of(&models, &before, leaf, &answers),
        Effect::Told(_)
    ));
    let placeless = |bent: &Value| Answers {
        told: BTreeMap::new(),
        ..answers(bent)
    };
    let before = placeless(&models);
    assert_eq!(
        effect_of(&models, &before, leaf, &placeless),
        Effect::Nothing
    );
}
