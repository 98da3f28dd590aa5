//! `ledger`: a log followed from outside.

use super::{at, fault, golden, request, result, same};
use serde_json::{Value, json};
use wortwright_tests::fixtures::DEMO_LOG;

#[test]
fn the_demo_is_followed_as_it_was() {
    golden("ledger", &request("ledger", json!({"document": DEMO_LOG})));
    let rising = DEMO_LOG.replace("1.011 at 20 C", "1.061 at 20 C");
    golden(
        "ledger-refused",
        &request("ledger", json!({"document": rising})),
    );
}

#[test]
fn the_ledger_agrees_with_a_balance_by_hand() {
    // 100 L of 12 °P at 1046.44 kg/m³ hold 12.557 kg of extract; Balling: 2.0665 g of it make 1 g of ethanol.
    let log = "log\n  pitched 100 L at 12 P\n  reading 2 P\n";
    let ledger = result(&request("ledger", json!({"document": log})));
    let first = &ledger["steps"][0];
    assert!((first["extract_kg"].as_f64().unwrap() - 12.557).abs() < 2e-3);
    let last = &ledger["steps"][1];
    let extract_kg = last["extract_kg"].as_f64().unwrap();
    let ethanol_kg = last["ethanol_kg"].as_f64().unwrap();
    assert!(((12.557 - extract_kg) / ethanol_kg - 2.0665).abs() < 2e-3);
    assert_eq!(last["shown_plato"], 2.0);
    let alcohol = &ledger["alcohol"];
    let litres = ethanol_kg / 0.78924;
    let abv_pct = 100.0 * litres / last["volume_l"].as_f64().unwrap();
    assert!((alcohol["abv_pct"].as_f64().unwrap() - abv_pct).abs() < 1e-3);
    assert!((alcohol["equivalent_original_plato"].as_f64().unwrap() - 12.0).abs() < 1e-6);
    assert!((alcohol["apparent_attenuation_pct"].as_f64().unwrap() - 1000.0 / 12.0).abs() < 1e-6);
    for name in [
        "abv_uncertainty_pct",
        "abw_pct",
        "real_extract_plato",
        "real_attenuation_pct",
        "energy_kcal_per_100_ml",
    ] {
        assert!(alcohol[name].as_f64().unwrap() > 0.0, "{name}");
    }
}

#[test]
fn an_impossible_log_is_refused_where_it_turns_impossible() {
    for (log, code, needle) in [
        ("log\n  reading 2 P\n", "nothing_pitched", "reading 2 P"),
        (
            "log\n  pitched 9 L at 12 P\n  # again\n  pitched 9 L at 12 P  # twice\n",
            "pitched_twice",
            "pitched 9 L at 12 P",
        ),
        (
            "recipe Äpfel\nlog\n  pitched 9 L at 12 P on day 3\n  reading 2 P on day 2\n",
            "days_out_of_order",
            "reading 2 P on day 2",
        ),
        (
            "log\n  pitched 9 L at 12 P\n  reading 3 P\n  reading 5 P\n",
            "gravity_rises",
            "reading 5 P",
        ),
        // Pure ethanol of all the extract shows −2.81 °P; half a degree is the room of two readings.
        (
            "log\n  pitched 9 L at 12 P\n  reading 0.986\n",
            "below_fully_fermented",
            "reading 0.986",
        ),
        (
            "log\n  pitched 9 L at 12 P\n  reading 3 P\n  drawn 10 L\n",
            "drawn_more_than_there",
            "drawn 10 L",
        ),
        (
            "log\n  pitched 9 L at 12 P\n  drawn 1 L\n  reading 3 P\n",
            "drawn_before_reading",
            "drawn 1 L",
        ),
        (
            "log\n  pitched 9 L at 12 P on day 0\n  drawn 1 L on day 2\n",
            "drawn_before_reading",
            "drawn 1 L on day 2",
        ),
        (
            "log\n  pitched 9 L at 12 P\n  reading 3 P\n  added 100 g pale ale malt\n",
            "needs_mash",
            "added 100 g pale ale malt",
        ),
        (
            "log\n  pitched -9 L at 12 P\n  reading 3 P\n",
            "out_of_range",
            "-9 L",
        ),
        (
            "log\n  pitched 9 L at 12 P\n  reading 3 P\n  drawn -1 L\n",
            "out_of_range",
            "-1 L",
        ),
        (
            "log\n  pitched 0 L at 12 P\n  reading 3 P\n",
            "figure",
            "pitched 0 L at 12 P",
        ),
    ] {
        let found = fault(&request("ledger", json!({"document": log})));
        assert_eq!(found["code"], code);
        assert_eq!(found["in"], "document");
        assert!(!found["help"].as_str().unwrap().is_empty());
        at(&found, log, needle);
    }
    let found = fault(&request("ledger", json!({"document": "recipe A\n"})));
    assert_eq!(
        (&found["code"], &found["in"]),
        (&json!("no_log"), &json!("document"))
    );
    let found = fault(&request("ledger", json!({})));
    assert_eq!(
        (&found["code"], &found["in"]),
        (&json!("no_log"), &json!("request"))
    );
}

#[test]
fn a_log_comes_as_a_model_too() {
    let text = request("read", json!({"document": DEMO_LOG}));
    let models = result(&text);
    let own = models["ingredients"].clone();
    let followed = result(&request("ledger", json!({"document": DEMO_LOG})));
    let again = result(&request(
        "ledger",
        json!({"logs": models["logs"], "ingredients": own}),
    ));
    same(&followed, &again, &mut String::new());
    let written = result(&request("read", json!({"logs": models["logs"]})));
    assert_eq!(written["logs"], models["logs"]);
    let back = result(&request("read", json!({"document": written["text"]})));
    assert_eq!(back["logs"], models["logs"]);
    let mut log = models["logs"][0].clone();
    log["entries"][5]["what"]["reading"]["shown_plato"] = json!(14.5);
    let request_of = request("ledger", json!({"logs": [log]}));
    let found = fault(&request_of);
    assert_eq!(
        (&found["code"], &found["in"]),
        (&json!("gravity_rises"), &json!("request"))
    );
    at(
        &found,
        &request_of.to_string(),
        &log["entries"][5].to_string(),
    );
    let both = request("ledger", json!({"document": DEMO_LOG, "logs": [log]}));
    assert_eq!(fault(&both)["code"], "duplicate_log");
}

#[test]
fn one_of_several_logs_is_followed_by_its_name() {
    let spring = DEMO_LOG.replace("\nlog\n", "\nlog Spring brew\n");
    assert!(spring.contains("Spring"), "{spring}");
    let autumn = "log Autumn\n  pitched 10 L at 12 P on day 0\n  reading 2 P on day 20\n";
    let texts = format!("{spring}\n{autumn}");
    let of = |named: Value| request("ledger", named);
    let abv = |answer: Value| answer["alcohol"]["abv_pct"].as_f64().unwrap();
    let alone = abv(result(&of(json!({"document": spring}))));
    let spring = abv(result(&of(
        json!({"document": texts, "log": "spring BREW"}),
    )));
    let autumn = abv(result(&of(json!({"document": texts, "log": "Autumn"}))));
    assert_eq!(spring, alone);
    assert!((autumn - spring).abs() > 0.5, "{autumn} {spring}");
    let open = fault(&of(json!({"document": texts})));
    assert_eq!(
        (&open["code"], &open["help"]),
        (
            &json!("missing_field"),
            &json!("the logs are `Spring brew`, `Autumn`")
        )
    );
    let unknown = fault(&of(json!({"document": texts, "log": "Winter"})));
    assert_eq!(unknown["code"], "unknown_value");
    // A text of two logs comes back as it was, and so do its models.
    let read = result(&request("read", json!({"document": texts})));
    let names: Vec<_> = read["logs"]
        .as_array()
        .unwrap()
        .iter()
        .map(|log| &log["name"])
        .collect();
    assert_eq!(names, ["Spring brew", "Autumn"]);
    let again = result(&request(
        "read",
        json!({"logs": read["logs"], "ingredients": read["ingredients"]}),
    ));
    assert_eq!(again["logs"], read["logs"]);
    let back = result(&request("read", json!({"document": again["text"]})));
    assert_eq!(back["logs"], read["logs"]);
}
