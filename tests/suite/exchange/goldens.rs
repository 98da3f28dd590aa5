//! Every ask answers the demo as it did.

use super::{demo, golden, request};
use serde_json::json;

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
        "catalogue-class",
        &request("catalogue", json!({"class": "high-kilned malt"})),
    );
    golden(
        "catalogue-near",
        &request("catalogue", json!({"name": "flaked oat malt"})),
    );
    golden(
        "refused",
        &request(
            "scale",
            json!({"document": "recipe Plain\nmash\n  70  pale ale malt\n"}),
        ),
    );
}
