//! Requests that cannot be answered say what is to be mended, and where.

use super::{asked, check, refused, request};
use serde_json::{Value, json};
use wortwright::exchange::answer;

#[test]
fn a_request_that_is_no_request_says_where_it_breaks() {
    check("", "invalid_json", [1, 1, 1], "");
    check("nul", "invalid_json", [1, 3, 1], "");
    check(
        "{\n \"format\":1,\n \"ask\": NaN}",
        "invalid_json",
        [3, 9, 1],
        "",
    );
    check(
        r#"{"format":1 "ask":"read"}"#,
        "invalid_json",
        [1, 13, 1],
        "",
    );
    check(
        r#"{"format":1,"ask":"read","document":""} x"#,
        "invalid_json",
        [1, 41, 1],
        "",
    );
    check("[1]", "wrong_type", [1, 1, 1], "");
    check("[]", "wrong_type", [1, 1, 1], "");
    check("null", "wrong_type", [1, 1, 4], "");
    check(r#"{"ask":"read"}"#, "missing_field", [1, 1, 1], "");
    check(r#"{"format":1}"#, "missing_field", [1, 1, 1], "");
    check(
        r#"{"format":2,"ask":"read","document":""}"#,
        "unknown_format",
        [1, 11, 1],
        "",
    );
    check(
        r#"{"format":"1","ask":"read"}"#,
        "wrong_type",
        [1, 11, 3],
        "",
    );
    check(
        r#"{"format":-1,"ask":"read"}"#,
        "wrong_type",
        [1, 11, 2],
        "",
    );
    check(
        r#"{"format":1,"ask":"read","format":1}"#,
        "duplicate_field",
        [1, 26, 8],
        "",
    );
    let deep = format!(r#"{{"format":1,"ask":"read","id":{}"#, "[".repeat(1000));
    assert_eq!(refused(&deep).0, "invalid_json");
    let deep = r#"{"content":{"blend":["#.repeat(200);
    let deep = format!(r#"{{"format":1,"ask":"read","recipe":{{"mash":{{"additions":[{deep}"#);
    assert_eq!(refused(&deep).0, "too_deep");
}

#[test]
fn an_unknown_word_names_the_nearest() {
    check(
        r#"{"format":1,"ask":"raed"}"#,
        "unknown_value",
        [1, 19, 6],
        "did you mean `read`?",
    );
    check(
        r#"{"é":1,"format":1}"#,
        "unknown_field",
        [1, 2, 3],
        "the fields are `format`, `ask`, `id`, `document`, `documents`, `recipe`, `brewhouses`, `stock`, \
         `logs`, `log`, `ingredients`, `to`, `missing`, `from_stock`, `take`, `name`, `class`, `reading`, `days`, \
         `options`",
    );
    check(
        "{\"format\":1,\n\"é\\\"\":1}",
        "unknown_field",
        [2, 1, 5],
        "the fields are `format`, `ask`, `id`, `document`, `documents`, `recipe`, `brewhouses`, `stock`, \
         `logs`, `log`, `ingredients`, `to`, `missing`, `from_stock`, `take`, `name`, `class`, `reading`, `days`, \
         `options`",
    );
    check(
        r#"{"format":1,"ask":"read","documnet" : "x"}"#,
        "unknown_field",
        [1, 26, 10],
        "did you mean `document`?",
    );
    check(
        r#"{"format":1,"ask":"scale","options":{"unit":"us"}}"#,
        "unknown_field",
        [1, 38, 6],
        "did you mean `units`?",
    );
    check(
        r#"{"format":1,"ask":"scale","options":{"units":"metrik"}}"#,
        "unknown_value",
        [1, 46, 8],
        "did you mean `metric`?",
    );
    check(
        r#"{"format":1,"ask":"read","recipe":{"mash":{"rest":[]}}}"#,
        "unknown_field",
        [1, 44, 6],
        "did you mean `rests`?",
    );
    check(
        r#"{"format":1,"ask":"catalogue","name":"x","ingredients":[{"hopp":{"name":"q"}}]}"#,
        "unknown_value",
        [1, 58, 6],
        "did you mean `hop`?",
    );
    check(
        r#"{"format":1,"ask":"catalogue","class":"bas malt"}"#,
        "unknown_value",
        [1, 39, 10],
        "did you mean `base malt`?",
    );
}

#[test]
fn a_value_of_the_wrong_kind_is_refused_where_it_stands() {
    let read = |field: &str| format!(r#"{{"format":1,"ask":"read",{field}}}"#);
    check(&read(r#""document":5"#), "wrong_type", [1, 37, 1], "");
    check(
        &read(r#""document": {"a":1}"#),
        "wrong_type",
        [1, 38, 1],
        "",
    );
    check(&read(r#""documents":"x""#), "wrong_type", [1, 38, 3], "");
    check(
        &read(r#""documents":[{"name":"a"}]"#),
        "missing_field",
        [1, 39, 1],
        "",
    );
    check(&read(r#""recipe":[]"#), "wrong_type", [1, 35, 1], "");
    check(&read(r#""options":[]"#), "wrong_type", [1, 36, 1], "");
    check(&read(r#""id":[1]"#), "wrong_type", [1, 31, 3], "");
    let volume = |value: &str| {
        read(&format!(
            r#""recipe":{{"batch":{{"volume_l":{value},"at":"packaged"}}}}"#
        ))
    };
    check(&volume("-1"), "wrong_value", [1, 56, 2], "");
    check(&volume("\"8 P\""), "wrong_value", [1, 56, 5], "");
    let edited = volume(r#"{"value":8,"number":80,"unit":"L"}"#);
    check(&edited, "wrong_value", [1, 89, 1], "");
    assert_eq!(refused(&volume("1e999")).0, "invalid_json");
    let litres_in_ebc = volume(r#"{"value":1,"number":1,"unit":"EBC"}"#);
    assert_eq!(refused(&litres_in_ebc).0, "wrong_value");
    let half = volume(r#"{"value":1,"number":1}"#);
    assert_eq!(refused(&half).0, "wrong_value");
}

#[test]
fn what_cannot_act_is_refused() {
    let text = r#"{"format":1,"ask":"read","document":"","to":"x","options":{"units":"us"}}"#;
    let answer: Value = serde_json::from_str(&answer(text)).unwrap();
    let found: Vec<_> = answer["diagnostics"]
        .as_array()
        .unwrap()
        .iter()
        .map(|d| (d["code"].as_str().unwrap(), d["column"].as_u64().unwrap()))
        .collect();
    assert_eq!(
        found,
        [("field_without_effect", 40), ("field_without_effect", 60)]
    );
    check(
        r#"{"format":1,"ask":"read","document":"","documents":[]}"#,
        "conflicting_fields",
        [1, 40, 11],
        "",
    );
    check(
        r#"{"format":1,"ask":"catalogue"}"#,
        "missing_field",
        [1, 1, 1],
        "write `\"name\": \"flaked oats\"`",
    );
    check(
        r#"{"format":1,"ask":"read","document":"recipe A","recipe":{}}"#,
        "conflicting_fields",
        [1, 48, 8],
        "",
    );
    check(
        r#"{"format":1,"ask":"read","document":"brewhouse A\n  kettle 9 L","brewhouses":[{"name":"a"}]}"#,
        "duplicate_plant",
        [1, 65, 12],
        "",
    );
}

#[test]
fn a_refused_call_says_which_text_is_to_be_mended() {
    let scale = |document: &str, to: &str| {
        asked(&request("scale", json!({"document": document, "to": to})))["diagnostics"][0].clone()
    };
    let plant = "recipe A\nbrewhouse Shed\n  kettle 9 L\n";
    let found = scale(plant, "shed");
    assert_eq!(found["code"], "plant_incomplete");
    assert_eq!(
        (&found["in"], &found["line"]),
        (&json!("document"), &json!(2))
    );
    assert!(found["help"].as_str().unwrap().contains("batch 8 L"));
    let found = scale(plant, "shod");
    assert_eq!(found["code"], "unknown_name");
    assert_eq!(found["in"], "request");
    assert_eq!(found["help"], "did you mean `Shed`?");
    let found = scale("brewhouse Shed\n  batch 9 L into fermenter\n", "shed");
    assert_eq!(found["code"], "no_recipe");
    assert_eq!(found["in"], "document");
    let found = &asked(&request("predict", json!({"recipe": {}})))["diagnostics"][0];
    assert_eq!(found["code"], "incomplete");
    assert_eq!(found["in"], "request");
}

#[test]
fn an_id_comes_back_as_it_was_sent_even_with_a_refusal() {
    for id in ["7", "12345678901234567890.5", "null", "true", r#""é\"""#] {
        let sent = format!(r#"{{"format":1,"ask":"read","id":{id},"document":""}}"#);
        let start = format!(r#"{{"format":1,"id":{id},"ok":true"#);
        assert!(answer(&sent).starts_with(&start), "{id}");
        let sent = format!(r#"{{"format":1,"ask":"raed","id":{id},"document":""}}"#);
        let start = format!(r#"{{"format":1,"id":{id},"ok":false"#);
        assert!(answer(&sent).starts_with(&start), "{id}");
    }
    let cut_short = answer(r#"{"format":1,"id":12"#);
    assert!(cut_short.starts_with(r#"{"format":1,"ok":false"#));
}

#[test]
fn two_models_of_one_name_are_told_once() {
    let twice = request(
        "read",
        json!({"brewhouses": [{"name": "a"}, {"name": "A"}]}),
    );
    let answer = asked(&twice);
    let found = answer["diagnostics"].as_array().unwrap();
    assert_eq!(found.len(), 1, "{answer}");
    assert_eq!(found[0]["code"], "duplicate_plant");
}
