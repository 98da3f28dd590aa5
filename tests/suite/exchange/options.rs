//! Every option changes what it names.

use super::{asked, demo, request, result};
use serde_json::{Value, json};
use wortwright_tests::fixtures::DEMO_LOG;

#[test]
fn sentences_speak_the_units_that_were_asked_for() {
    let batch = |options: Value| {
        let scaled = result(&request(
            "scale",
            json!({"documents": demo(), "to": "Stove top", "options": options}),
        ));
        let changes = scaled["changes"].as_array().unwrap();
        let batch = changes.iter().find(|c| c["code"] == "batch").unwrap();
        batch["text"].as_str().unwrap().to_owned()
    };
    assert!(batch(json!({})).contains("8.00 L"));
    assert!(batch(json!({"units": "us"})).contains("2.11 gal"));
    assert!(batch(json!({"units": "imperial"})).contains("1.76 imp gal"));
    let coarse = demo()
        .as_array()
        .unwrap()
        .iter()
        .fold(String::new(), |text, document| {
            text + document["text"].as_str().unwrap() + "\n"
        });
    let coarse = coarse.replace("weigh malt 5 g", "weigh malt 60 g");
    let drift = |options: Value| {
        let scaled = result(&request(
            "scale",
            json!({"document": coarse, "to": "Stove top", "options": options}),
        ));
        let drift = scaled["drift"].as_array().unwrap();
        let original = drift.iter().find(|moved| moved["code"] == "original");
        original.unwrap()["text"].as_str().unwrap().to_owned()
    };
    assert!(drift(json!({"gravity": "specific_gravity"})).contains("1.06"));
    assert!(drift(json!({"units": "us", "gravity": "plato"})).contains("°P"));
}

#[test]
fn options_change_what_they_name() {
    let predicted = |model: &str| {
        let more = json!({"documents": demo(), "options": {"bitterness_model": model}});
        result(&request("predict", more))["predicted"].clone()
    };
    let (tinseth, kinetic) = (predicted("tinseth"), predicted("kinetic"));
    assert_eq!(tinseth["bitterness_ibu"], tinseth["bitterness_tinseth_ibu"]);
    assert_eq!(kinetic["bitterness_ibu"], kinetic["bitterness_kinetic_ibu"]);
    let comma = |options: Value| {
        let document = "recipe A\nbatch 4,5 hL into fermenter\n";
        asked(&request(
            "read",
            json!({"document": document, "options": options}),
        ))
    };
    assert_eq!(
        comma(json!({}))["diagnostics"][0]["code"],
        "ambiguous_number"
    );
    let accepted = comma(json!({"decimal_comma": "accepted"}));
    assert_eq!(
        accepted["result"]["recipe"]["batch"]["volume_l"]["value"],
        450.0
    );
}

/// A line of each kind whose sentences have units: a stand that no kettle reaches, a colour that the grist does not give.
const SAID: &str = include_str!("fixtures/sentences_with_units.gyle");

#[test]
fn every_option_acts_where_it_is_taken() {
    let said = json!({"document": SAID, "to": "K"});
    let demo = json!({"documents": demo(), "to": "Stove top"});
    let sheet = json!({"documents": demo["documents"]});
    let thin = json!({"what": "before_boil", "value": 9.4, "unit": "P", "volume_l": 11.9});
    let reading = json!({"documents": demo["documents"], "to": "Stove top", "reading": thin});
    let log = json!({"document": DEMO_LOG});
    let comma = json!({"document": "recipe A\nbatch 4,5 hL into fermenter\n"});
    for (ask, more, option, value) in [
        ("read", &comma, "decimal_comma", json!("accepted")),
        ("predict", &said, "units", json!("us")),
        ("predict", &said, "temperature", json!("fahrenheit")),
        ("predict", &said, "colour", json!("srm")),
        ("predict", &sheet, "bitterness_model", json!("kinetic")),
        ("scale", &said, "units", json!("imperial")),
        ("scale", &said, "gravity", json!("specific_gravity")),
        ("scale", &said, "temperature", json!("fahrenheit")),
        ("scale", &said, "colour", json!("srm")),
        ("scale", &demo, "bitterness_model", json!("kinetic")),
        ("sheet", &demo, "units", json!("us")),
        ("sheet", &demo, "gravity", json!("specific_gravity")),
        ("sheet", &demo, "temperature", json!("fahrenheit")),
        ("sheet", &demo, "colour", json!("srm")),
        ("sheet", &demo, "bitterness_model", json!("kinetic")),
        ("substitute", &demo, "units", json!("us")),
        ("substitute", &demo, "bitterness_model", json!("kinetic")),
        ("substitute", &demo, "candidates", json!("stock")),
        ("substitute", &demo, "colour_match", json!("exact")),
        ("substitute", &demo, "limit", json!(1)),
        ("substitute", &demo, "weights", json!({"flavour": 0})),
        ("correct", &reading, "units", json!("us")),
        ("correct", &reading, "bitterness_model", json!("kinetic")),
        ("ledger", &log, "units", json!("us")),
        ("ledger", &log, "gravity", json!("specific_gravity")),
    ] {
        let plain = request(ask, more.clone());
        let mut set = plain.clone();
        set["options"] = json!({(option): value});
        let (plain, set) = (asked(&plain), asked(&set));
        assert_eq!(set["ok"], true, "{ask} {option}: {}", set["diagnostics"]);
        assert_ne!(plain["result"], set["result"], "{ask} {option}");
    }
}

#[test]
fn a_limit_is_kept() {
    for limit in [1, 2] {
        let more = json!({"documents": demo(), "to": "Stove top", "options": {"limit": limit}});
        let found = result(&request("substitute", more));
        for missing in found["missing"].as_array().unwrap() {
            assert!((1..=limit).contains(&missing["proposals"].as_array().unwrap().len()));
        }
    }
}
