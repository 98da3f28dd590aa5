//! The exchange from outside: what its tests share. Each file below holds one side of it.

mod any;
mod catalogue;
mod codes;
mod corrections;
mod goldens;
mod learn;
mod ledger;
mod lines;
mod models;
mod mutations;
mod options;
mod plans;
mod refusals;
mod stored;
mod substitutes;

use proptest::test_runner::TestCaseError;
use serde_json::{Value, json};
use wortwright::exchange::answer;
pub(crate) use wortwright_tests::requests::{asked, demo, request, result, whole_model};
use wortwright_tests::{files, requests};

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

/// The one diagnostic of a refused request; nothing else may stand in the answer.
#[track_caller]
fn fault(request: &Value) -> Value {
    let answer = asked(request);
    assert_eq!(answer["ok"], false, "{answer}");
    assert!(answer.get("result").is_none());
    let [only] = &answer["diagnostics"].as_array().unwrap()[..] else {
        panic!("{answer}")
    };
    only.clone()
}

#[track_caller]
fn at(fault: &Value, text: &str, needle: &str) {
    let (line, column) = (&fault["line"], &fault["column"]);
    let line = text
        .lines()
        .nth(line.as_u64().unwrap() as usize - 1)
        .unwrap();
    let start = column.as_u64().unwrap() as usize - 1;
    let length = fault["length"].as_u64().unwrap() as usize;
    let found: String = line.chars().skip(start).take(length).collect();
    assert_eq!(found, needle, "{fault}");
}

/// A request and its answer are as `tests/golden` has them.
pub(crate) fn golden(name: &str, request: &Value) {
    let (request_path, path) = (
        format!("tests/golden/{name}.request.json"),
        format!("tests/golden/{name}.answer.json"),
    );
    let pretty = |value: &Value| serde_json::to_string_pretty(value).unwrap() + "\n";
    let request_text = pretty(request);
    assert_eq!(
        request_text,
        files::golden(&request_path, &request_text),
        "{request_path}"
    );
    let found = asked(request);
    let expected = files::golden(&path, &pretty(&found));
    let expected: Value = serde_json::from_str(&expected).unwrap();
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
