//! The exchange for what a brewer cannot get: proposals, and taking them.

use super::{asked, check, demo, golden, request, result};
use serde_json::{Value, json};

fn proposals() -> Value {
    let more = json!({"documents": demo(), "to": "Stove top", "options": {"limit": 2}});
    let asked = request("substitute", more);
    result(&asked)["missing"].clone()
}

#[test]
fn the_demo_is_helped_out_as_it_was() {
    let more = json!({"documents": demo(), "to": "Stove top", "options": {"limit": 2}});
    golden("substitute", &request("substitute", more));
    let spelt = proposals()[0]["proposals"][0].clone();
    let take = |missing: &str| json!([{"missing": missing, "proposal": {"swap": spelt["swap"]}}]);
    golden("scale-taken", &taking("scale", &take("flaked spelt")));
    golden("scale-refused", &taking("scale", &take("honey")));
}

#[test]
fn codes_are_words_and_residuals_hold_no_noise() {
    let all = json!({"documents": demo(), "to": "Stove top", "options": {"candidates": "catalogue", "limit": 20}});
    let missing = result(&request("substitute", all))["missing"].clone();
    let mut figures = std::collections::BTreeSet::new();
    for proposal in missing
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|missing| missing["proposals"].as_array().unwrap())
    {
        for residual in ["gravity_residual_pct", "colour_residual_ebc"] {
            let off = proposal[residual].as_f64().unwrap().abs();
            assert!(off == 0.0 || off > 1e-9, "{off:e}");
        }
        for practice in proposal["practice"].as_array().unwrap() {
            if practice["code"] == "figures_assumed" {
                let words = practice["figures"].as_array().unwrap().iter();
                figures.extend(words.map(|word| word.as_str().unwrap().to_owned()));
            }
        }
    }
    assert!(figures.contains("mash_acidity"), "{figures:?}");
    let is_code = |word: &String| word.bytes().all(|b| b.is_ascii_lowercase() || b == b'_');
    assert!(figures.iter().all(is_code), "{figures:?}");
}

fn taking(ask: &str, take: &Value) -> Value {
    request(
        ask,
        json!({"documents": demo(), "to": "Stove top", "take": take}),
    )
}

#[test]
fn what_is_proposed_can_be_taken() {
    let missing = proposals();
    let names: Vec<_> = missing
        .as_array()
        .unwrap()
        .iter()
        .map(|m| &m["name"])
        .collect();
    assert_eq!(names, ["flaked spelt", "elderberry juice"]);
    let spelt = &missing[0]["proposals"][0];
    assert!(!spelt["text"].as_str().unwrap().is_empty());
    let take = json!([{"missing": "flaked spelt", "proposal": spelt}]);
    let scaled = result(&taking("scale", &take));
    let additions = scaled["additions"].as_array().unwrap();
    assert!(additions.iter().all(|a| a["name"] != "flaked spelt"));
    for part in spelt["parts"].as_array().unwrap() {
        assert!(
            additions.iter().any(|a| a["name"] == part["name"]),
            "{part}"
        );
    }
    let replaced = scaled["changes"].as_array().unwrap();
    assert!(
        replaced
            .iter()
            .any(|c| c["code"] == "replaced" && c["name"] == "flaked spelt")
    );
    // The printed gravity is kept, to what the scales of the plant resolve.
    let original = scaled["predicted"]["original_plato"].as_f64().unwrap();
    assert!((original - 15.6).abs() < 0.05, "{original}");
    let thin = json!({"what": "before_boil", "value": 9.4, "unit": "P", "volume_l": 11.9});
    let planned = |take: Option<&Value>| {
        let mut correct = taking("correct", take.unwrap_or(&Value::Null));
        correct["reading"] = thin.clone();
        result(&correct)["planned"].clone()
    };
    assert_ne!(planned(Some(&take)), planned(None));
    let sheet = result(&taking("sheet", &take))["text"].clone();
    let leader = spelt["parts"][0]["name"].as_str().unwrap();
    assert!(sheet.as_str().unwrap().contains(leader));
}

#[test]
fn a_proposal_that_does_not_fit_is_refused() {
    let spelt = proposals()[0]["proposals"][0].clone();
    let refused = |take: Value| {
        let request = taking("scale", &take);
        let answer = asked(&request);
        assert_eq!(answer["ok"], false, "{answer}");
        let first = &answer["diagnostics"][0];
        assert_eq!(first["code"], "proposal_does_not_fit");
        assert_eq!(first["in"], "request");
        assert!(first["column"].as_u64().unwrap() > 1);
    };
    refused(json!([{"missing": "honey", "proposal": spelt}]));
    let mut gone = spelt.clone();
    gone["swap"]["replaced"]["name"] = json!("flaked rye");
    refused(json!([{"missing": "flaked rye", "proposal": gone}]));
    let mut empty = spelt.clone();
    empty["swap"]["parts"] = json!([]);
    refused(json!([{"missing": "flaked spelt", "proposal": empty}]));
    let one = json!({"missing": "flaked spelt", "proposal": spelt});
    refused(json!([one, one]));
}

#[test]
fn a_question_out_of_range_is_refused_where_it_stands() {
    let of = |options: &str| format!(r#"{{"format":1,"ask":"substitute","options":{options}}}"#);
    check(&of(r#"{"limit":0}"#), "wrong_value", [1, 51, 1], "");
    check(
        &of(r#"{"weights":{"hue":-1}}"#),
        "wrong_value",
        [1, 60, 2],
        "",
    );
    check(
        &of(r#"{"weights":{"flavor":1}}"#),
        "unknown_field",
        [1, 54, 8],
        "did you mean `flavour`?",
    );
    check(
        &of(r#"{"candidates":"stok"}"#),
        "unknown_value",
        [1, 56, 6],
        "did you mean `stock`?",
    );
    let more = json!({"documents": demo(), "to": "Stove top", "missing": ["flaked rye"]});
    let found = asked(&request("substitute", more))["diagnostics"][0].clone();
    assert_eq!(found["code"], "unknown_name");
}

/// Several missing lines come as whole sets too: each is taken as it stands, and the beer is the one predicted for the set.
#[test]
fn whole_sets_are_answered_and_can_be_taken() {
    let more = json!({"documents": demo(), "to": "Stove top", "options": {"limit": 2}});
    let found = result(&request("substitute", more));
    let names: Vec<_> = found["missing"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| &line["name"])
        .collect();
    let sets = found["sets"].as_array().unwrap();
    assert!(!sets.is_empty());
    for set in sets {
        let proposals = set["proposals"].as_array().unwrap();
        assert_eq!(proposals.len(), names.len());
        let take: Vec<Value> = proposals
            .iter()
            .map(|proposal| json!({"missing": proposal["swap"]["replaced"]["name"], "proposal": {"swap": proposal["swap"]}}))
            .collect();
        let taken = result(&taking("scale", &json!(take)));
        for figure in ["original_plato", "alcohol_abv_pct"] {
            let (given, promised) = (
                taken["predicted"][figure].as_f64(),
                set["predicted"][figure].as_f64(),
            );
            // What is weighed out moves a plan by less than this.
            assert!((given.unwrap() - promised.unwrap()).abs() < 0.1, "{figure}");
        }
    }
}

/// The stock is all there is: nothing is bought.
#[test]
fn a_beer_from_the_stock_is_answered() {
    let more = json!({"documents": demo(), "to": "Stove top", "from_stock": true});
    let found = result(&request("substitute", more));
    let missing = found["missing"].as_array().unwrap();
    assert!(
        missing.len() > 2,
        "what the stock does not list is missing too"
    );
    for line in missing {
        for proposal in line["proposals"].as_array().unwrap() {
            for part in proposal["parts"].as_array().unwrap() {
                assert!(part["from"].is_null() || part["from"] == "stock", "{part}");
            }
        }
    }
}
