//! Requests to the exchange, and what holds of every answer.

use crate::fixtures::{DEMO, DEMO_LOG, DEMO_PLANT};
use serde_json::{Value, json};
use wortwright::exchange::answer;

pub fn demo() -> Value {
    let text = |name: &str, text: &str| json!({"name": name, "text": text});
    json!([
        text("saltmarsh-lantern.gyle", DEMO),
        text("stove-top.gyle", DEMO_PLANT)
    ])
}

pub fn request(ask: &str, more: Value) -> Value {
    let mut request = json!({"format": 1, "id": ask, "ask": ask});
    let Value::Object(more) = more else {
        panic!("fields expected, found {more}")
    };
    request.as_object_mut().unwrap().extend(more);
    request
}

pub fn asked(request: &Value) -> Value {
    serde_json::from_str(&answer(&request.to_string())).unwrap()
}

pub fn result(request: &Value) -> Value {
    let answer = asked(request);
    assert_eq!(answer["ok"], true, "{answer}");
    answer["result"].clone()
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

/// What holds of every answer to every request; the first thing that does not is told.
///
/// # Errors
///
/// What the answer breaks.
pub fn lawful(request: &str, answer: &str) -> Result<(), String> {
    let answer: Value =
        serde_json::from_str(answer).map_err(|fault| format!("no JSON: {fault}: {request}"))?;
    let holds = |held: bool, what: &str| {
        if held {
            Ok(())
        } else {
            Err(format!("{what}: {answer}"))
        }
    };
    let answered = answer["ok"] == true;
    holds(answer["format"] == 1, "format")?;
    holds(answer["ok"].is_boolean(), "ok")?;
    holds(
        answered == answer.get("result").is_some(),
        "a result goes with `ok`",
    )?;
    holds(no_nulls(&answer), "no null")?;
    let found = answer["diagnostics"].as_array().ok_or("no diagnostics")?;
    let is_refused = found.iter().any(|found| found["severity"] == "error");
    holds(answered || is_refused, "a refusal has an error")?;
    for found in found {
        holds(
            found["code"].is_string() && found["message"].is_string(),
            "code and message",
        )?;
        holds(
            found["code"] != "internal" && found["code"] != "not_writable",
            "a code for hosts",
        )?;
        holds(found["in"].is_string(), "a place")?;
        if let Some(line) = found.get("line") {
            holds(
                line.as_u64() > Some(0) && found["column"].as_u64() > Some(0),
                "line and column",
            )?;
        }
    }
    Ok(())
}

/// A request with models in place of texts, with as many fields as the ask takes.
pub fn whole_model(ask: &str) -> Value {
    if ask == "ledger" {
        let read = result(&request("read", json!({"document": DEMO_LOG})));
        return request(
            ask,
            json!({"logs": read["logs"], "options": {"units": "us"}}),
        );
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
