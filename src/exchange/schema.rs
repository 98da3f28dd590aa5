//! JSON schemas (draft 2020-12) of requests and answers, made from the types that read and write them.
//!
//! Behind the feature `schema`. A host in another language makes its own types from them, or checks what it sends before
//! it is sent. A request's schema is closed: a field that nobody knows, or that does nothing for what is asked, is refused
//! as [`answer`](super::answer) refuses it. An answer's is open, since fields may be added.
//!
//! ```
//! use wortwright::exchange::{Ask, schema};
//! let request = schema::request();
//! assert_eq!(request["required"], serde_json::json!(["format", "ask"]));
//! let answer = schema::answer(Ask::Sheet);
//! assert_eq!(answer["properties"]["format"]["const"], 1);
//! ```
//!
//! What a schema does not say: that a number fits its neighbours or the models, that a name is known, that a text is
//! written as the notation wants it. Neither does it say which fields a `reading` needs for its `what`.

use super::ask::Ask;
use super::request::{FORMAT, Request};
use super::{Answer, day, learn, ledger, listing, plan, reading, substitutes};
use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Value, json};

/// What every request may hold.
const ALWAYS: [&str; 3] = ["format", "ask", "id"];
/// What an id may be.
const SCALAR: [&str; 4] = ["string", "number", "boolean", "null"];

/// The schema of a request.
#[must_use]
pub fn request() -> Value {
    let settings = SchemaSettings::draft2020_12().for_deserialize();
    let mut schema = settings.into_generator().into_root_schema_for::<Request>();
    let mut rules: Vec<_> = Ask::ALL.iter().copied().map(takes).collect();
    rules.extend([
        excluding("document", "documents"),
        excluding("name", "class"),
    ]);
    schema.insert("title".to_owned(), "Request".into());
    schema.insert("allOf".to_owned(), rules.into());
    schema.into()
}

/// The schema of an answer to an ask.
#[must_use]
pub fn answer(ask: Ask) -> Value {
    match ask {
        Ask::Read => with_result::<reading::Result<'static>>(),
        Ask::Predict => with_result::<plan::Prediction>(),
        Ask::Scale => with_result::<plan::Scaled>(),
        Ask::Substitute => with_result::<substitutes::Substitutes>(),
        Ask::Ledger => with_result::<ledger::Ledger>(),
        Ask::Correct => with_result::<day::Day>(),
        Ask::Sheet => with_result::<plan::Sheet>(),
        Ask::Learn => with_result::<learn::Learning>(),
        Ask::Catalogue => with_result::<listing::Listing<'static>>(),
    }
}

fn with_result<R: JsonSchema>() -> Value {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    let mut schema = settings
        .into_generator()
        .into_root_schema_for::<Answer<'static, R>>();
    schema.insert("title".to_owned(), "Answer".into());
    let ok = json!({"properties": {"ok": {"const": true}}});
    schema.insert("if".to_owned(), ok);
    schema.insert("then".to_owned(), json!({"required": ["result"]}));
    let refused = json!({"properties": {"result": false, "diagnostics": {"minItems": 1}}});
    schema.insert("else".to_owned(), refused);
    let mut schema = Value::from(schema);
    open(&mut schema);
    // The id alone may be null: it is the host's.
    if let Some(place) = schema.pointer_mut("/properties/id/type") {
        *place = json!(SCALAR);
    }
    schema
}

/// The fields and options that do something for an ask.
fn takes(ask: Ask) -> Value {
    let fields: Vec<_> = ALWAYS.iter().chain(ask.fields()).collect();
    json!({
        "if": {"properties": {"ask": {"const": ask.word()}}},
        "then": {
            "propertyNames": {"enum": fields},
            "properties": {"options": {"propertyNames": {"enum": ask.options()}}},
        },
    })
}

/// Two fields of which one may be there; null is as good as absent.
fn excluding(one: &str, other: &str) -> Value {
    let stated = json!({"not": {"type": "null"}});
    json!({"not": {"properties": {(one): stated, (other): stated}, "required": [one, other]}})
}

/// Lets fields be added, and takes back that a field may be null: what is unknown is absent.
fn open(schema: &mut Value) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(open),
        Value::Object(keywords) => {
            keywords.retain(|word, value| {
                !(word.ends_with("Properties") && *value == Value::Bool(false))
            });
            if let Some(Value::Array(types)) = keywords.get_mut("type") {
                types.retain(|name| name != "null");
            }
            if let Some(Value::Array(choices)) = keywords.get_mut("anyOf") {
                choices.retain(|choice| *choice != json!({"type": "null"}));
            }
            keywords.values_mut().for_each(open);
        }
        _ => {}
    }
}

pub(super) fn id(_: &mut SchemaGenerator) -> Schema {
    json_schema!({"type": SCALAR})
}

pub(super) fn format(_: &mut SchemaGenerator) -> Schema {
    json_schema!({"const": FORMAT})
}
