//! `catalogue`: names, classes and near misses.

use super::{request, result};
use serde_json::{Value, json};

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
    assert_eq!(near["near"], json!(["honey", "honey malt"]));
    assert_eq!(near["entries"], json!([]));
}
