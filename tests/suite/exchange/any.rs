//! Laws that hold for any request.

use super::{asked, demo, lawful, request, result, whole_model};
use proptest::prelude::*;
use serde_json::{Value, json};
use std::sync::OnceLock;
use wortwright::exchange::answer;

#[test]
fn five_megabytes_are_answered() {
    let words = "word ".repeat(1_000_000);
    let lines = "  70 % malt\n".repeat(400_000);
    for document in [words, format!("recipe A\nmash\n{lines}")] {
        let answer = asked(&request("read", json!({"document": document})));
        assert_eq!(answer["ok"], false);
        assert!(answer["diagnostics"].as_array().unwrap().len() <= 101);
    }
    let name = "x".repeat(5_000_000);
    let answer = answer(&json!({"format": 1, "ask": name, (name.as_str()): 1}).to_string());
    assert!(answer.len() < 2000);
}

#[test]
fn a_scale_that_is_none_rounds_nothing() {
    let exact = result(&request(
        "scale",
        json!({"documents": demo(), "to": "Stove top"}),
    ));
    // A step above 10⁹ kg is no mass to the reader of models; one a little below it is a mass, and no scale has it.
    for step_kg in [0.0, 5e-324, 1e-300, 1e8] {
        let mut scale = whole_model("scale");
        for kind in ["malt_kg", "hops_kg", "salts_kg"] {
            scale["brewhouses"][1]["weighing"][kind] = json!(step_kg);
        }
        let scaled = result(&scale);
        let near = |name: &str, within: f64| {
            let of = |plan: &Value| plan["predicted"][name].as_f64().unwrap();
            (of(&exact) - of(&scaled)).abs() < within
        };
        assert!(
            near("original_plato", 0.05) && near("alcohol_abv_pct", 0.05),
            "{step_kg}"
        );
    }
}

/// Changes one value somewhere in a request.
fn spoil(value: &mut Value, path: &[prop::sample::Index], with: &Value) {
    let children: Vec<&mut Value> = match value {
        Value::Array(items) => items.iter_mut().collect(),
        Value::Object(fields) => fields.values_mut().collect(),
        _ => Vec::new(),
    };
    match path.split_first() {
        Some((first, rest)) if !children.is_empty() => {
            let at = first.index(children.len());
            spoil(children.into_iter().nth(at).unwrap(), rest, with);
        }
        _ => *value = with.clone(),
    }
}

fn any_value() -> impl Strategy<Value = Value> {
    prop_oneof![
        Just(json!(null)),
        Just(json!([])),
        Just(json!({})),
        Just(json!(true)),
        ".{0,8}".prop_map(Value::from),
        prop_oneof![
            Just(0.0),
            Just(1e300),
            Just(-1.0),
            0.0..1e-9,
            0.0..2000.0,
            1e6..1e12
        ]
        .prop_map(Value::from),
        (0_u64..5_000_000_000).prop_map(Value::from),
    ]
}

proptest! {
    #[test]
    fn any_text_has_an_answer(text in "\\PC{0,60}") {
        lawful(&text, &answer(&text))?;
    }

    #[test]
    fn any_json_has_an_answer(text in r#"[{}\[\]",:0-9a-z\\ \n]{0,60}"#) {
        lawful(&text, &answer(&text))?;
        let begun = format!(r#"{{"format":1,"ask":"read",{text}"#);
        lawful(&begun, &answer(&begun))?;
    }

    #[test]
    fn a_text_cut_or_spoilt_has_an_answer(
        cut in any::<prop::sample::Index>(),
        other in any::<char>(),
        ask in prop::sample::select(vec!["read", "predict", "scale", "sheet"]),
    ) {
        let whole = request(ask, json!({"documents": demo()})).to_string();
        let at = (0..=cut.index(whole.len())).rev().find(|at| whole.is_char_boundary(*at)).unwrap();
        lawful(&whole[..at], &answer(&whole[..at]))?;
        let mut spoilt = whole.clone();
        spoilt.insert(at, other);
        lawful(&spoilt, &answer(&spoilt))?;
    }

    #[test]
    fn a_model_with_any_figure_has_an_answer(
        path in prop::collection::vec(any::<prop::sample::Index>(), 1..12),
        with in any_value(),
        ask in prop::sample::select(vec![
            "read", "predict", "scale", "sheet", "ledger", "correct", "substitute",
        ]),
    ) {
        let mut request = whole_model(ask);
        spoil(&mut request, &path, &with);
        let request = request.to_string();
        lawful(&request, &answer(&request))?;
    }

    #[test]
    fn a_proposal_with_any_figure_has_an_answer(
        path in prop::collection::vec(any::<prop::sample::Index>(), 1..9),
        with in any_value(),
    ) {
        static PROPOSALS: OnceLock<Value> = OnceLock::new();
        let missing = PROPOSALS.get_or_init(|| {
            let more = json!({"documents": demo(), "to": "Stove top", "options": {"limit": 1}});
            result(&request("substitute", more))["missing"].clone()
        });
        let missing = missing.as_array().unwrap().iter();
        let take = missing.map(|m| json!({"missing": m["name"], "proposal": {"swap": m["proposals"][0]["swap"]}}));
        let mut take: Value = take.collect();
        spoil(&mut take, &path, &with);
        let request = request("scale", json!({"documents": demo(), "to": "Stove top", "take": take})).to_string();
        lawful(&request, &answer(&request))?;
    }
}
