//! The exchange from outside: what its tests share. Each file below holds one side of it.

mod any;
mod catalogue;
mod codes;
mod day;
mod goldens;
mod lines;
mod models;
mod mutations;
mod options;
mod plans;
mod refusals;
mod substitutes;

use proptest::test_runner::TestCaseError;
use serde_json::{Value, json};
use std::fs;
use wortwright::exchange::answer;
use wortwright_tests::requests::{self, at};
pub(crate) use wortwright_tests::requests::{asked, demo, read, request, result, whole_model};

/// What holds of every answer, for a property test.
pub(crate) fn lawful(request: &str, answer: &str) -> Result<(), TestCaseError> {
    requests::lawful(request, answer).map_err(TestCaseError::fail)
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
        fs::write(at(&asked_path), &request_text).unwrap();
        fs::write(at(&path), &answer_text).unwrap();
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
