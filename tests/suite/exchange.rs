//! The exchange from outside: golden answers, refusals with their places, and laws that hold for any request.

use proptest::prelude::*;
use serde_json::{Value, json};
use std::fs;
use wortwright::exchange::answer;
use wortwright::recipe::Recipe;

pub(crate) fn read(path: &str) -> String {
    fs::read_to_string(path).unwrap()
}

pub(crate) fn demo() -> Value {
    let text = |name: &str| json!({"name": name, "text": read(&format!("examples/data/{name}"))});
    json!([text("saltmarsh-lantern.gyle"), text("stove-top.gyle")])
}

pub(crate) fn request(ask: &str, more: Value) -> Value {
    let mut request = json!({"format": 1, "id": ask, "ask": ask});
    let Value::Object(more) = more else {
        panic!("fields expected, found {more}")
    };
    request.as_object_mut().unwrap().extend(more);
    request
}

pub(crate) fn asked(request: &Value) -> Value {
    serde_json::from_str(&answer(&request.to_string())).unwrap()
}

pub(crate) fn result(request: &Value) -> Value {
    let answer = asked(request);
    assert_eq!(answer["ok"], true, "{answer}");
    answer["result"].clone()
}

/// The first diagnostic of a refused request: code, place in the request, help.
fn refused(request: &str) -> (String, Value, String) {
    let answer: Value = serde_json::from_str(&answer(request)).unwrap();
    assert_eq!(answer["format"], 1);
    assert_eq!(answer["ok"], false, "{answer}");
    let first = &answer["diagnostics"][0];
    let place = json!([first["line"], first["column"], first["length"]]);
    (
        first["code"].as_str().unwrap().to_owned(),
        place,
        first["help"].as_str().unwrap_or_default().to_owned(),
    )
}

#[track_caller]
pub(crate) fn check(request: &str, code: &str, place: [usize; 3], help: &str) {
    assert_eq!(
        refused(request),
        (code.to_owned(), json!(place), help.to_owned())
    );
}

/// Compares with a file, which is written only when asked for.
pub(crate) fn golden(name: &str, request: &Value) {
    let (asked_path, path) = (
        format!("tests/golden/{name}.request.json"),
        format!("tests/golden/{name}.answer.json"),
    );
    let pretty = |value: &Value| serde_json::to_string_pretty(value).unwrap() + "\n";
    let (request_text, answer_text) = (pretty(request), pretty(&asked(request)));
    if std::env::var_os("WORTWRIGHT_WRITE").is_some_and(|value| value == "1") {
        fs::create_dir_all("tests/golden").unwrap();
        fs::write(&asked_path, &request_text).unwrap();
        fs::write(&path, &answer_text).unwrap();
    }
    assert_eq!(request_text, read(&asked_path), "{asked_path}");
    let expected: Value = serde_json::from_str(&read(&path)).unwrap();
    let found: Value = serde_json::from_str(&answer_text).unwrap();
    same(&expected, &found, &mut path.clone());
}

/// Equal names and words; figures within 1e-9, since the last digits are the platform's.
pub(crate) fn same(expected: &Value, found: &Value, path: &mut String) {
    match (expected, found) {
        (Value::Number(one), Value::Number(other)) => {
            let (one, other) = (one.as_f64().unwrap(), other.as_f64().unwrap());
            let near = (one - other).abs() <= 1e-9 * one.abs().max(1e-3);
            assert!(near, "{path}: {one} {other}");
        }
        (Value::Array(one), Value::Array(other)) => {
            assert_eq!(one.len(), other.len(), "{path}");
            for (at, (one, other)) in one.iter().zip(other).enumerate() {
                same(one, other, &mut format!("{path}[{at}]"));
            }
        }
        (Value::Object(one), Value::Object(other)) => {
            let names = |object: &serde_json::Map<String, Value>| {
                object.keys().cloned().collect::<Vec<_>>()
            };
            assert_eq!(names(one), names(other), "{path}");
            for (name, one) in one {
                same(one, &other[name], &mut format!("{path}.{name}"));
            }
        }
        _ => assert_eq!(expected, found, "{path}"),
    }
}

#[test]
fn every_ask_answers_the_demo_as_it_did() {
    golden("read", &request("read", json!({"documents": demo()})));
    golden("predict", &request("predict", json!({"documents": demo()})));
    golden(
        "scale",
        &request("scale", json!({"documents": demo(), "to": "Stove top"})),
    );
    golden(
        "sheet",
        &request("sheet", json!({"documents": demo(), "to": "Stove top"})),
    );
    golden(
        "catalogue",
        &request("catalogue", json!({"name": "munich malt"})),
    );
    golden(
        "refused",
        &request(
            "scale",
            json!({"document": "recipe Plain\nmash\n  70  pale ale malt\n"}),
        ),
    );
}

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
    check("null", "wrong_type", [1, 1, 1], "");
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
         `log`, `ingredients`, `to`, `missing`, `take`, `name`, `class`, `reading`, \
         `options`",
    );
    check(
        "{\"format\":1,\n\"é\\\"\":1}",
        "unknown_field",
        [2, 1, 5],
        "the fields are `format`, `ask`, `id`, `document`, `documents`, `recipe`, `brewhouses`, `stock`, \
         `log`, `ingredients`, `to`, `missing`, `take`, `name`, `class`, `reading`, \
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
    check(&volume("\"8 L\""), "wrong_type", [1, 56, 5], "");
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
    let drift = |options: Value| {
        let scaled = result(&request(
            "scale",
            json!({"documents": demo(), "to": "Stove top", "options": options}),
        ));
        scaled["drift"][0]["text"].as_str().unwrap().to_owned()
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
fn what_read_answers_can_be_sent_back() {
    let read = result(&request("read", json!({"documents": demo()})));
    let texts = result(&request(
        "scale",
        json!({"documents": demo(), "to": "Stove top"}),
    ));
    let models = json!({
        "recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"], "to": "Stove top",
    });
    same(
        &texts,
        &result(&request("scale", models)),
        &mut String::new(),
    );
    let again =
        json!({"recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"]});
    let again = result(&request("read", again));
    let recipe = |value: &Value| serde_json::from_value::<Recipe>(value["recipe"].clone()).unwrap();
    assert!(recipe(&read).agrees(&recipe(&again), 1e-11));
    // The canonical text says the same as the texts that it came from.
    let canonical = result(&request("read", json!({"document": read["text"]})));
    assert_eq!(canonical["recipe"], read["recipe"]);
    assert_eq!(canonical["brewhouses"], read["brewhouses"]);
    assert_eq!(canonical["stock"], read["stock"]);
    assert_eq!(canonical["text"], read["text"]);
    // So does what was written from the models alone.
    let from_models = result(&request("read", json!({"document": again["text"]})));
    assert_eq!(from_models["recipe"], read["recipe"]);
    assert_eq!(from_models["stock"], read["stock"]);
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

#[test]
fn own_ingredients_come_as_models_or_as_text() {
    let own =
        json!([{"fermentable": {"name": "moon malt", "class": "base_malt", "colour_ebc": 7}}]);
    let found = result(&request(
        "catalogue",
        json!({"name": "Moon Malts", "ingredients": own}),
    ));
    assert_eq!(found["entries"][0]["fermentable"]["colour_ebc"], 7.0);
    assert_eq!(found["entries"][0]["fermentable"]["provenance"], "host");
    let text = "recipe A\nbatch 10 hL into fermenter\ntarget original 12 P\nmash\n  100 % moon malt\nboil 60 min\n\
                ingredient moon malt\n  like pale ale malt\n  7 EBC\n\
                brewhouse B\n  batch 10 L into fermenter\n";
    let scaled = result(&request("scale", json!({"document": text})));
    assert_eq!(scaled["additions"][0]["colour_ebc"], 7.0);
    assert!(
        scaled["text"]
            .as_str()
            .unwrap()
            .contains("ingredient moon malt")
    );
}

#[test]
fn a_class_or_a_kind_lists_its_entries() {
    let list =
        |class: &str| result(&request("catalogue", json!({"class": class})))["entries"].clone();
    let base = list("base malt");
    assert_eq!(base, list("Base_Malt"));
    assert!(base.as_array().unwrap().len() > 3);
    let all = |entries: &Value, kind: &str| {
        let entries = entries.as_array().unwrap();
        entries.iter().all(|entry| entry.get(kind).is_some())
    };
    assert!(all(&base, "fermentable"));
    let hops = list("hop");
    assert!(all(&hops, "hop") && hops.as_array().unwrap().len() > 3);
    let near = result(&request("catalogue", json!({"name": "honney"})));
    assert_eq!(near["near"], json!(["honey"]));
    assert_eq!(near["entries"], json!([]));
}

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

/// Every `null` in an answer would be a figure that is not known, or not a number.
fn no_nulls(value: &Value) -> bool {
    match value {
        Value::Null => false,
        Value::Array(items) => items.iter().all(no_nulls),
        Value::Object(fields) => fields
            .iter()
            .all(|(name, field)| name == "id" || no_nulls(field)),
        _ => true,
    }
}

pub(crate) fn lawful(request: &str) -> Result<(), TestCaseError> {
    let answer: Value = serde_json::from_str(&answer(request)).unwrap();
    prop_assert_eq!(&answer["format"], &json!(1));
    prop_assert!(answer["ok"].is_boolean());
    prop_assert_eq!(answer["ok"] == true, answer.get("result").is_some());
    prop_assert!(no_nulls(&answer));
    for found in answer["diagnostics"].as_array().unwrap() {
        prop_assert!(found["code"].is_string() && found["message"].is_string());
        prop_assert!(found["in"].is_string());
        if let Some(line) = found.get("line") {
            prop_assert!(line.as_u64() > Some(0) && found["column"].as_u64() > Some(0));
        }
    }
    Ok(())
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

fn whole_model(ask: &str) -> Value {
    let read = result(&request("read", json!({"documents": demo()})));
    let mut more =
        json!({"recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"]});
    if ask != "read" {
        more["to"] = json!("Stove top");
        more["options"] = json!({"units": "us", "bitterness_model": "kinetic"});
    }
    request(ask, more)
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
        lawful(&text)?;
    }

    #[test]
    fn any_json_has_an_answer(text in r#"[{}\[\]",:0-9a-z\\ \n]{0,60}"#) {
        lawful(&text)?;
        lawful(&format!(r#"{{"format":1,"ask":"read",{text}"#))?;
    }

    #[test]
    fn a_text_cut_or_spoilt_has_an_answer(
        cut in any::<prop::sample::Index>(),
        other in any::<char>(),
        ask in prop::sample::select(vec!["read", "predict", "scale", "sheet"]),
    ) {
        let whole = request(ask, json!({"documents": demo()})).to_string();
        let at = (0..=cut.index(whole.len())).rev().find(|at| whole.is_char_boundary(*at)).unwrap();
        lawful(&whole[..at])?;
        let mut spoilt = whole.clone();
        spoilt.insert(at, other);
        lawful(&spoilt)?;
    }

    #[test]
    fn a_model_with_any_figure_has_an_answer(
        path in prop::collection::vec(any::<prop::sample::Index>(), 1..12),
        with in any_value(),
        ask in prop::sample::select(vec!["read", "predict", "scale", "sheet"]),
    ) {
        let mut request = whole_model(ask);
        spoil(&mut request, &path, &with);
        lawful(&request.to_string())?;
    }
}
