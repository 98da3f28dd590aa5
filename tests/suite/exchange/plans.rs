//! `predict`, `scale` and `sheet`.

use super::{demo, request, result};
use serde_json::{Value, json};

#[test]
fn predict_takes_another_plant() {
    let on = |more: Value| {
        let request = request("predict", more);
        result(&request)["volumes"]["post_boil_l"].as_f64().unwrap()
    };
    let lossy = "brewhouse Lossy\n  extract yield 85 %\n  kettle loss 100 L\n";
    let mut documents = demo();
    let texts = documents.as_array_mut().unwrap();
    texts.push(json!({"name": "lossy", "text": lossy}));
    let there = on(json!({"documents": documents}));
    let here = on(json!({"documents": documents, "to": "lossy"}));
    // 20 hL into the fermenter: the printed plant loses 3 % in its kettle, the other 100 L.
    assert!((there - 2000.0 / 0.97).abs() < 1e-6, "{there}");
    assert!((here - 2100.0).abs() < 1e-6, "{here}");
}

#[test]
fn scale_finds_the_only_plant_with_a_batch() {
    let named = result(&request(
        "scale",
        json!({"documents": demo(), "to": "stove TOP"}),
    ));
    let found = result(&request("scale", json!({"documents": demo()})));
    assert_eq!(named, found);
}

#[test]
fn a_plan_is_a_text_that_reads_back() {
    let more = json!({"documents": demo(), "to": "Stove top"});
    let scaled = result(&request("scale", more));
    let again = result(&request("predict", json!({"document": scaled["text"]})));
    let original = |value: &Value| value["predicted"]["original_plato"].as_f64().unwrap();
    // The text writes the gravity with four digits, 15.61 P: it cannot be nearer than half of the last.
    assert!((original(&scaled) - original(&again)).abs() <= 0.005);
}
