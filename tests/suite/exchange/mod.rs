//! The exchange from outside: what its tests share. Each file below holds one side of it; what may stand for something
//! and what to do on the day have files of their own beside this folder.

mod any;
mod catalogue;
mod goldens;
mod lines;
mod models;
mod mutations;
mod options;
mod plans;
mod refusals;

use proptest::prelude::*;
use serde_json::{Value, json};
use std::fs;
use wortwright::exchange::answer;

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

/// What holds of every answer to every request.
pub(crate) fn lawful(request: &str, answer: &str) -> Result<(), TestCaseError> {
    let answer: Value = serde_json::from_str(answer)
        .map_err(|fault| TestCaseError::fail(format!("no JSON: {fault}: {request}")))?;
    prop_assert_eq!(&answer["format"], &json!(1));
    prop_assert!(answer["ok"].is_boolean());
    prop_assert_eq!(answer["ok"] == true, answer.get("result").is_some());
    prop_assert!(no_nulls(&answer));
    let found = answer["diagnostics"].as_array().unwrap();
    prop_assert!(answer["ok"] == true || found.iter().any(|found| found["severity"] == "error"));
    for found in found {
        prop_assert!(found["code"].is_string() && found["message"].is_string());
        prop_assert!(
            found["code"] != "internal" && found["code"] != "not_writable",
            "{}",
            found
        );
        prop_assert!(found["in"].is_string());
        if let Some(line) = found.get("line") {
            prop_assert!(line.as_u64() > Some(0) && found["column"].as_u64() > Some(0));
        }
    }
    Ok(())
}

/// A request with models in place of texts, with as many fields as the ask takes.
fn whole_model(ask: &str) -> Value {
    if ask == "ledger" {
        let log = read("examples/data/stove-top-log.gyle");
        let read = result(&request("read", json!({"document": log})));
        return request(ask, json!({"log": read["log"], "options": {"units": "us"}}));
    }
    let read = result(&request("read", json!({"documents": demo()})));
    let mut more =
        json!({"recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"]});
    if ask != "read" {
        more["to"] = json!("Stove top");
        more["options"] = json!({"units": "us", "bitterness_model": "kinetic"});
    }
    match ask {
        "substitute" => {
            more["missing"] = json!(["flaked spelt"]);
            more["options"]["limit"] = json!(1);
        }
        "correct" => {
            more["reading"] = json!({"what": "before_boil", "value": 9.4, "unit": "P", "at_c": 30, "volume_l": 11.9});
        }
        _ => {}
    }
    request(ask, more)
}
