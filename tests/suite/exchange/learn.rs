//! `learn`: a plant's figures from its brewing days, asked from outside.

use super::{demo, fault, golden, request, result};
use serde_json::{Value, json};
use wortwright::Job;

const DAYS: &str = include_str!("../../../examples/data/stove-top-days.gyle");

fn documents(days: &str) -> Value {
    let mut documents = demo();
    let days = json!({"name": "days", "text": days});
    documents.as_array_mut().unwrap().push(days);
    documents
}

#[test]
fn the_demo_is_learnt_from_as_it_was() {
    let asked = request(
        "learn",
        json!({"documents": documents(DAYS), "to": "Stove top"}),
    );
    golden("learn", &asked);
    let boiling_over = DAYS.replace("after boil 7.9 L", "after boil 12.9 L");
    let refused = json!({"documents": documents(&boiling_over), "to": "Stove top"});
    golden("learn-refused", &request("learn", refused));
}

/// The truth that the file tells lies within two sigma, and nearer than the plant's lines.
#[test]
fn the_demo_comes_near_its_truth() {
    let asked = json!({"documents": documents(DAYS), "to": "Stove top"});
    let learnt = result(&request("learn", asked));
    let figures = learnt["figures"].as_array().unwrap();
    let (mut before, mut after) = (0.0, 0.0);
    for (name, truth) in [
        ("absorption", 0.72),
        ("conversion", 96.0),
        ("evaporation", 3.0),
        ("kettle loss", 0.6),
    ] {
        let figure = figures
            .iter()
            .find(|figure| figure["name"] == name)
            .unwrap();
        let number = |field: &str| figure[field].as_f64().unwrap();
        let off = number("value") - truth;
        assert!(off.abs() < 2.0 * number("one_sigma"), "{figure}");
        after += (off / number("prior_one_sigma")).powi(2);
        before += ((number("prior") - truth) / number("prior_one_sigma")).powi(2);
    }
    assert!(after < 0.5 * before, "{after} of {before}");
    let text = learnt["text"].as_str().unwrap();
    let plant = Job::read([("plant", text)]).unwrap();
    assert_eq!(
        serde_json::to_value(&plant.brewhouses()[0]).unwrap(),
        learnt["brewhouse"]
    );
}

/// Days with plans of their own say the same as logs beside the recipe, and plans need no more than a recipe and a plant.
#[test]
fn days_bring_their_own_plans() {
    let text = "recipe Plain\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
        brewhouse Shed\n  batch 20 L into fermenter\n  lauter bag\nlog one\n  before boil 25 L at 10 P\n  pitched 20 L at 12.4 P\n";
    let job = Job::read([("text", text)]).unwrap();
    let of_text = result(&request("learn", json!({"document": text, "to": "Shed"})));
    let plan = json!({"recipe": job.recipe(), "brewhouse": job.brewhouses()[0]});
    let day = json!({"plan": plan, "log": job.logs()[0]});
    let whole = job.on("Shed").unwrap().plan().unwrap().keep();
    let kept = json!({"plan": whole, "log": job.logs()[0]});
    for day in [day, kept] {
        let asked = json!({"brewhouses": job.brewhouses(), "days": [day]});
        assert_eq!(
            result(&request("learn", asked))["figures"],
            of_text["figures"]
        );
    }
}

#[test]
fn what_a_request_lacks_is_told() {
    let beer = "recipe Plain\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n\
        brewhouse Shed\n  batch 20 L into fermenter\n";
    let code = |body: Value| fault(&Value::from(request("learn", body)))["code"].clone();
    assert_eq!(code(json!({"document": beer})), "no_log");
    let log = "log\n  pitched 20 L at 12 P\n";
    assert_eq!(code(json!({"document": log})), "no_recipe");
    let shed = json!([{"name": "Shed"}]);
    let both = json!({"document": log, "brewhouses": shed, "days": []});
    assert_eq!(code(both), "conflicting_fields");
    assert_eq!(code(json!({"days": []})), "missing_field");
    assert_eq!(
        code(json!({"brewhouses": shed, "to": "Barn", "days": []})),
        "unknown_name"
    );
    let prior = json!({"brewhouses": shed, "days": []});
    let found = result(&request("learn", prior));
    assert_eq!(found["figures"][0]["value"], found["figures"][0]["prior"]);
}
