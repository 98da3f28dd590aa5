//! The schemas of the exchange, held by an independent validator against the golden requests and answers, and against
//! what the exchange itself refuses.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic
)]

use boon::{Compiler, Draft, SchemaIndex, Schemas};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use wortwright::advice::Action;
use wortwright::exchange::{self, Ask, schema};
use wortwright::ledger::Remark;
use wortwright::process::{Assumption, Warning};
use wortwright::remedy::Remedy;
use wortwright::scale::{Change, Drift, Outcome};
use wortwright::substitute::Practice;
use wortwright_tests::files;

/// A compiled schema.
struct Checker {
    schemas: Schemas,
    index: SchemaIndex,
}

impl Checker {
    fn of(schema: Value) -> Self {
        let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
        compiler.set_default_draft(Draft::V2020_12);
        compiler.add_resource("schema.json", schema).unwrap();
        let index = compiler
            .compile("schema.json", &mut schemas)
            .unwrap_or_else(|error| panic!("{error:#}"));
        Self { schemas, index }
    }

    fn fault(&self, value: &Value) -> Option<String> {
        let fault = self.schemas.validate(value, self.index).err()?;
        Some(format!("{fault:#}"))
    }
}

fn ask_of(request: &Value) -> Ask {
    serde_json::from_value(request["ask"].clone()).unwrap()
}

/// The golden pairs: name, request, answer.
fn pairs() -> Vec<(String, Value, Value)> {
    let parsed = |path: &str| serde_json::from_str(&files::read(path)).unwrap();
    let paths = files::below("tests/golden", ".request.json");
    let pair = |path: String| {
        let path = path.trim_end_matches(".request.json");
        let name = path.trim_start_matches("tests/golden/").to_owned();
        let [request, answer] =
            ["request", "answer"].map(|of| parsed(&format!("{path}.{of}.json")));
        (name, request, answer)
    };
    paths.into_iter().map(pair).collect()
}

fn pair(name: &str) -> (Value, Value) {
    let found = pairs().into_iter().find(|pair| pair.0 == name).unwrap();
    (found.1, found.2)
}

#[test]
fn every_golden_pair_fits() {
    let requests = Checker::of(schema::request());
    let mut asked = BTreeSet::new();
    for (name, request, answer) in pairs() {
        assert_eq!(requests.fault(&request), None, "{name}");
        let ask = ask_of(&request);
        asked.insert(ask.word());
        let answers = Checker::of(schema::answer(ask));
        assert_eq!(answers.fault(&answer), None, "{name}");
    }
    let all: BTreeSet<_> = Ask::ALL.iter().map(|ask| ask.word()).collect();
    assert_eq!(asked, all);
}

#[test]
fn models_and_proposals_fit_when_they_are_sent_back() {
    let requests = Checker::of(schema::request());
    let read = pair("read").1["result"].clone();
    let followed = pair("ledger").0;
    let log: Value = serde_json::from_str(&exchange::answer(
        &json!({"format": 1, "ask": "read", "document": followed["document"]}).to_string(),
    ))
    .unwrap();
    let models = json!({
        "format": 1, "ask": "read", "recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"],
        "ingredients": log["result"]["ingredients"], "logs": log["result"]["logs"],
    });
    assert_eq!(requests.fault(&models), None);
    let missing = pair("substitute").1["result"]["missing"][0].clone();
    let take = json!([{"missing": missing["name"], "proposal": missing["proposals"][0]}]);
    let taking = json!({"format": 1, "ask": "scale", "recipe": read["recipe"], "take": take});
    assert_eq!(requests.fault(&taking), None);
    let own = pair("catalogue").1["result"]["entries"].clone();
    let asking = json!({"format": 1, "ask": "catalogue", "name": "x", "ingredients": own});
    assert_eq!(requests.fault(&asking), None);
}

/// A value with one place changed; null takes the place away.
fn bent(value: &Value, place: &str, with: Value) -> Value {
    let mut bent = value.clone();
    let (parent, name) = place.rsplit_once('/').unwrap();
    match bent.pointer_mut(parent).expect(place) {
        Value::Object(fields) if with.is_null() => drop(fields.remove(name).expect(place)),
        Value::Object(fields) => drop(fields.insert(name.to_owned(), with)),
        Value::Array(items) => items[name.parse::<usize>().unwrap()] = with,
        other => panic!("{place}: {other}"),
    }
    bent
}

/// What the exchange refuses by its form, the schema refuses too.
#[test]
fn bent_requests_are_refused_by_both() {
    let requests = Checker::of(schema::request());
    let read = pair("read").1["result"].clone();
    let missing = pair("substitute").1["result"]["missing"][0].clone();
    let whole = json!({
        "format": 1, "id": 7, "ask": "scale", "to": "Stove top",
        "recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"],
        "take": [{"missing": missing["name"], "proposal": missing["proposals"][0]}],
        "ingredients": [{"fermentable": {"name": "moon malt", "class": "base_malt", "colour_ebc": 7}}],
        "options": {"units": "us", "bitterness_model": "kinetic"},
    });
    let correct = json!({
        "format": 1, "ask": "correct", "recipe": read["recipe"], "brewhouses": read["brewhouses"], "to": "Stove top",
        "reading": {"what": "before_boil", "value": 9.4, "unit": "P", "volume_l": 11.9},
    });
    let substitute = json!({
        "format": 1, "ask": "substitute", "documents": pair("read").0["documents"], "to": "Stove top",
        "missing": ["flaked spelt"], "options": {"limit": 1, "candidates": "stock", "weights": {"hue": 1}},
    });
    let codes = |request: &Value| -> Vec<String> {
        let answer: Value = serde_json::from_str(&exchange::answer(&request.to_string())).unwrap();
        let found = answer["diagnostics"].as_array().unwrap();
        let errors = found.iter().filter(|found| found["severity"] == "error");
        errors
            .map(|found| found["code"].as_str().unwrap().to_owned())
            .collect()
    };
    for request in [&whole, &correct, &substitute] {
        assert_eq!(requests.fault(request), None);
        assert_eq!(codes(request), [""; 0], "{request}");
    }
    let null = Value::Null;
    for (request, place, with, code) in [
        (&whole, "/ask", null.clone(), "missing_field"),
        (&whole, "/format", null.clone(), "missing_field"),
        (&whole, "/take/0/proposal", null.clone(), "missing_field"),
        (
            &whole,
            "/take/0/proposal/swap",
            null.clone(),
            "missing_field",
        ),
        (
            &whole,
            "/ingredients/0/fermentable/name",
            null.clone(),
            "missing_field",
        ),
        (&correct, "/reading/value", null.clone(), "missing_field"),
        (&whole, "/format", json!(2), "unknown_format"),
        (&whole, "/ask", json!("skale"), "unknown_value"),
        (&whole, "/options/units", json!("metrik"), "unknown_value"),
        (
            &whole,
            "/recipe/share_basis",
            json!("volume"),
            "unknown_value",
        ),
        (
            &correct,
            "/reading/what",
            json!("befor_boil"),
            "unknown_value",
        ),
        (&correct, "/reading/unit", json!("SGS"), "unknown_value"),
        (
            &substitute,
            "/options/candidates",
            json!("stok"),
            "unknown_value",
        ),
        (&whole, "/documnet", json!("x"), "unknown_field"),
        (&whole, "/options/unit", json!("us"), "unknown_field"),
        (&whole, "/recipe/mashes", json!({}), "unknown_field"),
        (&whole, "/recipe/mash/rest", json!([]), "unknown_field"),
        (&whole, "/brewhouses/0/ketle_l", json!(9), "unknown_field"),
        (
            &whole,
            "/ingredients/0/fermentable/color",
            json!(9),
            "unknown_field",
        ),
        (
            &whole,
            "/ingredients/0/hopp",
            json!({"name": "q"}),
            "wrong_value",
        ),
        (&correct, "/reading/at", json!(20), "unknown_field"),
        (
            &substitute,
            "/options/weights/flavor",
            json!(1),
            "unknown_field",
        ),
        (&whole, "/missing", json!(["honey"]), "field_without_effect"),
        (&whole, "/options/limit", json!(2), "field_without_effect"),
        (&substitute, "/document", json!(""), "conflicting_fields"),
        (&whole, "/id", json!([1]), "wrong_type"),
        (&whole, "/to", json!(5), "wrong_type"),
        (&whole, "/recipe", json!([]), "wrong_type"),
        (&whole, "/recipe/batch/volume_l", json!([8]), "wrong_type"),
        (&whole, "/options", json!([]), "wrong_type"),
        (&substitute, "/documents/0/text", json!(5), "wrong_type"),
        (&substitute, "/missing/0", json!(5), "wrong_type"),
        (&correct, "/reading/value", json!("9.4"), "wrong_type"),
        (&correct, "/reading/at_c", json!("20"), "wrong_type"),
        (
            &whole,
            "/ingredients/0/fermentable/colour_ebc",
            json!(-1),
            "wrong_value",
        ),
    ] {
        let bent = bent(request, place, with);
        assert!(
            codes(&bent).iter().any(|found| found == code),
            "{place}: {:?}",
            codes(&bent)
        );
        assert!(requests.fault(&bent).is_some(), "{place}: {code}");
    }
}

#[test]
fn bent_answers_are_refused_and_longer_ones_pass() {
    for (name, place, with) in [
        ("scale", "/format", json!(2)),
        ("scale", "/ok", json!("yes")),
        ("scale", "/result", Value::Null),
        ("scale", "/diagnostics", Value::Null),
        ("scale", "/result/predicted", Value::Null),
        ("scale", "/result/predicted/original_plato", json!("15.6")),
        ("scale", "/result/additions/0/mass_kg", json!("1 kg")),
        ("scale", "/result/changes/0/code", json!("chnged")),
        ("scale", "/result/changes/0/text", Value::Null),
        ("scale", "/result/volumes/pre_boil_l", json!({})),
        ("read", "/result/recipe/batch/volume_l/value", Value::Null),
        ("predict", "/result/assumptions/0/code", Value::Null),
        (
            "substitute",
            "/result/missing/0/proposals/0/swap",
            Value::Null,
        ),
        (
            "substitute",
            "/result/missing/0/proposals/0/feasible",
            json!(1),
        ),
        ("ledger", "/result/alcohol/abv_pct", json!("6 %")),
        ("ledger", "/result/steps/0/extract_kg", Value::Null),
        ("correct", "/result/advice/0/code", json!("wait")),
        ("sheet", "/result/text", Value::Null),
        ("catalogue", "/result/entries", json!({})),
        ("refused", "/diagnostics", json!([])),
        ("refused", "/diagnostics/0/code", Value::Null),
        ("refused", "/diagnostics/0/severity", json!("fatal")),
        ("refused", "/result", json!({})),
    ] {
        let (request, answer) = pair(name);
        let answers = Checker::of(schema::answer(ask_of(&request)));
        assert!(
            answers.fault(&bent(&answer, place, with)).is_some(),
            "{name}: {place}"
        );
    }
    let (request, answer) = pair("scale");
    let answers = Checker::of(schema::answer(ask_of(&request)));
    for place in [
        "/later",
        "/result/later",
        "/result/predicted/later",
        "/result/changes/0/later",
        "/result/cautions/0/later",
    ] {
        let longer = bent(&answer, place, json!(1));
        assert_eq!(answers.fault(&longer), None, "{place}");
    }
    let unknown = bent(&answer, "/result/predicted/alcohol_abv_pct", json!(null));
    assert_eq!(answers.fault(&unknown), None);
    let mut unknown = answer;
    unknown["result"]["predicted"]["alcohol_abv_pct"] = Value::Null;
    assert!(
        answers.fault(&unknown).is_some(),
        "what is unknown is absent, never null"
    );
}

/// The form of a list of that name, wherever it stands in a schema.
fn listed<'a>(schema: &'a Value, list: &str) -> Option<&'a Value> {
    let here = schema.get(list).and_then(|form| form.get("items"));
    let inner = || match schema {
        Value::Object(members) => members.values().find_map(|inner| listed(inner, list)),
        Value::Array(items) => items.iter().find_map(|inner| listed(inner, list)),
        _ => None,
    };
    here.or_else(inner)
}

/// The codes that the entries of a list have by the schema of an answer.
fn coded(answer: &Value, list: &str) -> Vec<String> {
    let entry = listed(answer, list).unwrap();
    let entry = match entry["$ref"].as_str() {
        Some(at) => answer.pointer(at.trim_start_matches('#')).unwrap(),
        None => entry,
    };
    let code = |variant: &Value| {
        let code = &variant["properties"]["code"]["const"];
        code.as_str().unwrap().to_owned()
    };
    let variants = entry["oneOf"].as_array().unwrap();
    variants.iter().map(code).collect()
}

#[test]
fn entries_speak_by_the_codes_that_they_are_written_with() {
    let scaled = schema::answer(Ask::Scale);
    let advised = schema::answer(Ask::Correct);
    let replaced = schema::answer(Ask::Substitute);
    for (answer, list, codes) in [
        (&scaled, "assumptions", Assumption::CODES),
        (&scaled, "warnings", Warning::CODES),
        (&scaled, "changes", Change::CODES),
        (&scaled, "outcomes", Outcome::CODES),
        (&scaled, "drift", Drift::CODES),
        (&scaled, "remedies", Remedy::CODES),
        (&replaced, "practice", Practice::CODES),
        (&advised, "remarks", Remark::CODES),
        (&advised, "advice", Action::CODES),
    ] {
        assert_eq!(coded(answer, list), codes, "{list}");
    }
}
