//! The exchange on the day and after it: `ledger` and `correct` from outside.

use super::{asked, check, demo, golden, lawful, read, request, result, same};
use proptest::prelude::*;
use serde_json::{Value, json};
use wortwright::exchange::answer;

fn log_text() -> String {
    read("examples/data/stove-top-log.gyle")
}

fn measured(reading: &Value) -> Value {
    let more = json!({"documents": demo(), "to": "Stove top", "reading": reading});
    request("correct", more)
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

#[test]
fn the_demo_is_followed_and_advised_as_it_was() {
    golden(
        "ledger",
        &request("ledger", json!({"document": log_text()})),
    );
    let thin = json!({"what": "before_boil", "value": 9.4, "unit": "P", "at_c": 30, "volume_l": 11.9, "volume_at_c": 75});
    golden("correct", &measured(&thin));
    for (name, reading) in [
        (
            "correct-before-boil-volume",
            json!({"what": "before_boil", "value": 12.6, "unit": "L", "at_c": 70}),
        ),
        (
            "correct-in-fermenter-refractometer",
            json!({"what": "in_fermenter", "value": 15.4, "unit": "Bx", "volume_l": 7.6}),
        ),
        (
            "correct-juice",
            json!({"what": "juice", "value": 11, "unit": "Bx", "name": "plum juice"}),
        ),
        (
            "correct-stopped-refractometer",
            json!({"what": "stopped", "value": 8.6, "unit": "Bx", "wort_correction": 1.02}),
        ),
        (
            "correct-mash-ph",
            json!({"what": "mash_ph", "value": 5.6, "unit": "pH", "at_c": 22}),
        ),
        (
            "correct-addition-at",
            json!({"what": "addition_at", "value": 1.016, "unit": "SG", "at_c": 23, "name": "sour cherry juice"}),
        ),
        (
            "correct-packaging",
            json!({"what": "packaging", "value": 2, "unit": "gal", "at_c": 4, "warmest_c": 23, "final_plato": 3.2}),
        ),
    ] {
        golden(name, &measured(&reading));
    }
    let rising = log_text().replace("1.011 at 20 C", "1.061 at 20 C");
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
        (
            "log\n  pitched 9 L at 12 P\n  reading 0.980\n",
            "below_fully_fermented",
            "reading 0.980",
        ),
        (
            "log\n  pitched 9 L at 12 P\n  reading 3 P\n  drawn 10 L\n",
            "drawn_more_than_there",
            "drawn 10 L",
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
    let text = request("read", json!({"document": log_text()}));
    let models = result(&text);
    let own = models["ingredients"].clone();
    let followed = result(&request("ledger", json!({"document": log_text()})));
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
    let both = request("ledger", json!({"document": log_text(), "logs": [log]}));
    assert_eq!(fault(&both)["code"], "duplicate_log");
}

#[test]
fn one_of_several_logs_is_followed_by_its_name() {
    let spring = log_text().replace("\nlog\n", "\nlog Spring brew\n");
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

#[test]
fn a_reading_is_corrected_before_it_is_judged() {
    let advised = |reading: Value| result(&measured(&reading));
    let warm = advised(
        json!({"what": "in_fermenter", "value": 10, "unit": "P", "at_c": 30, "volume_l": 8}),
    );
    // 10 °P at 30 °C: the fit to the ASBC correction table adds 0.70 °P, and the two ways agree within 0.1 °P there.
    let corrected = warm["corrected"]["extract_plato"].as_f64().unwrap();
    assert!((corrected - 10.70).abs() < 0.1, "{corrected}");
    assert_eq!(warm["corrected"]["volume_l"], 8.0);
    let plain = json!({"what": "in_fermenter", "value": 1.0400, "unit": "SG", "volume_l": 8});
    // 1.0400 is 9.993 °P (ASBC table, 20/20).
    let plato = advised(plain)["corrected"]["extract_plato"]
        .as_f64()
        .unwrap();
    assert!((plato - 9.993).abs() < 0.01, "{plato}");
    let hot = json!({"what": "before_boil", "value": 12, "unit": "P", "volume_l": 20.831, "volume_at_c": 99.974});
    let cold_l = advised(hot)["corrected"]["volume_l"].as_f64().unwrap();
    assert!((cold_l - 20.0).abs() < 1e-3, "{cold_l}");
}

#[test]
fn each_reading_has_its_ways_on() {
    let ways = |reading: Value| {
        let advice = result(&measured(&reading))["advice"].clone();
        let ways = advice.as_array().unwrap();
        for way in ways {
            assert!(!way["text"].as_str().unwrap().is_empty());
            assert!(way["predicted"]["alcohol_abv_pct"].as_f64().unwrap() > 0.0);
        }
        let codes = ways.iter().map(|way| way["code"].as_str().unwrap());
        codes.map(str::to_owned).collect::<Vec<_>>().join(" ")
    };
    let thin = json!({"what": "before_boil", "value": 9, "unit": "P", "volume_l": 12});
    assert_eq!(ways(thin), "go_on boil_for add_dried_extract");
    let strong = json!({"what": "in_fermenter", "value": 17, "unit": "P", "volume_l": 8});
    assert_eq!(ways(strong), "go_on add_water");
    let sour = json!({"what": "juice", "value": 9, "unit": "Bx", "name": "plum juice"});
    assert_eq!(ways(sour), "use_juice use_juice sweeten_juice");
    let stuck = json!({"what": "stopped", "value": 1.03, "unit": "SG"});
    assert_eq!(ways(stuck), "go_on rouse");
    let stuck = json!({"what": "stopped", "value": 10, "unit": "Bx"});
    assert_eq!(ways(stuck), "go_on rouse");
    let much = json!({"what": "before_boil", "value": 3.5, "unit": "gal"});
    assert_eq!(ways(much), "go_on boil_for add_dried_extract");
    let little = json!({"what": "in_fermenter", "value": 7, "unit": "L"});
    assert_eq!(ways(little), "go_on add_water add_water");
    let strong =
        json!({"what": "in_fermenter", "value": 18, "unit": "Bx", "wort_correction": 1.02});
    assert_eq!(ways(strong), "go_on add_water");
    let high = json!({"what": "mash_ph", "value": 5.7, "unit": "pH"});
    assert_eq!(ways(high), "go_on add_acid add_acid add_acid");
    let low = json!({"what": "mash_ph", "value": 5.2, "unit": "pH", "wanted_ph": 5.4});
    assert_eq!(ways(low), "go_on add_alkali");
    let late = json!({"what": "addition_at", "value": 4, "unit": "P", "name": "plum juice"});
    assert_eq!(ways(late), "pour_planned keep_share");
    let late = json!({"what": "addition_at", "value": 9, "unit": "Bx", "name": "plum juice"});
    assert_eq!(ways(late), "pour_planned keep_share");
    let short = json!({"what": "packaging", "value": 750, "unit": "cL"});
    assert_eq!(ways(short), "package_less top_up");
}

#[test]
fn a_late_blend_is_measured_out_part_by_part() {
    let late = json!({"what": "addition_at", "value": 4, "unit": "P", "name": "plum juice"});
    let advice = result(&measured(&late));
    let planned = result(&request(
        "scale",
        json!({"documents": demo(), "to": "Stove top"}),
    ));
    let juices = |list: &Value, key: &str| -> Vec<f64> {
        let entries = list.as_array().unwrap().iter();
        entries.filter_map(|entry| entry[key].as_f64()).collect()
    };
    let poured = juices(&advice["advice"][0]["doses"], "volume_l");
    let additions: Vec<_> = planned["additions"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|addition| addition["stage"] == "ferment" && addition["kind"] == "juice")
        .cloned()
        .collect();
    let wanted = juices(&Value::Array(additions), "volume_l");
    assert_eq!(poured.len(), 4);
    for (poured, wanted) in poured.iter().zip(wanted) {
        // A plan is written down to four digits.
        assert!((poured / wanted - 1.0).abs() < 5e-4, "{poured} {wanted}");
    }
}

#[test]
fn what_the_plan_takes_for_granted_stands_beside_the_advice() {
    let scaled = result(&request(
        "scale",
        json!({"documents": demo(), "to": "Stove top"}),
    ));
    let planned = scaled["assumptions"].as_array().unwrap();
    assert!(!planned.is_empty());
    let thin = json!({"what": "before_boil", "value": 9.4, "unit": "P", "volume_l": 11.9});
    assert_eq!(
        result(&measured(&thin))["assumptions"],
        scaled["assumptions"]
    );
    // A measured mash pH comes with what was assumed of the water, and says nothing twice.
    let sour = json!({"what": "mash_ph", "value": 5.6, "unit": "pH"});
    let advised = result(&measured(&sour))["assumptions"].clone();
    let (same, more) = advised.as_array().unwrap().split_at(planned.len());
    assert_eq!(same, planned);
    let codes: Vec<_> = more.iter().map(|a| &a["code"]).collect();
    assert_eq!(codes, ["mash_water_left_out"]);
}

#[test]
fn a_reading_that_cannot_act_is_refused_where_it_stands() {
    let of = |reading: &str| format!(r#"{{"format":1,"ask":"correct","reading":{reading}}}"#);
    check(
        r#"{"format":1,"ask":"correct","document":""}"#,
        "missing_field",
        [1, 1, 1],
        r#"write `"reading": {"what": "before_boil", "value": 12.5, "unit": "P", "volume_l": 11}`"#,
    );
    check(&of("[]"), "wrong_type", [1, 39, 1], "");
    check(
        &of(r#"{"value":1,"unit":"P"}"#),
        "missing_field",
        [1, 39, 1],
        "",
    );
    check(
        &of(r#"{"what":"befor_boil","value":1,"unit":"P"}"#),
        "unknown_value",
        [1, 47, 12],
        "did you mean `before_boil`?",
    );
    check(
        &of(r#"{"what":"stopped","value":1,"unit":"SGS"}"#),
        "unknown_value",
        [1, 74, 5],
        "did you mean `SG`?",
    );
    check(
        &of(r#"{"what":"stopped","value":1,"unit":"P","volume_l":8}"#),
        "field_without_effect",
        [1, 78, 10],
        "",
    );
    check(
        &of(r#"{"what":"juice","value":1,"unit":"P"}"#),
        "missing_field",
        [1, 39, 1],
        "",
    );
    check(
        &of(r#"{"what":"volume","value":1,"unit":"P"}"#),
        "unknown_value",
        [1, 47, 8],
        "the words are `before_boil`, `in_fermenter`, `juice`, `stopped`, `mash_ph`, `addition_at`, `packaging`",
    );
    check(
        &of(r#"{"what":"mash_ph","value":1,"unit":"P"}"#),
        "wrong_value",
        [1, 74, 3],
        "units that do are `pH`",
    );
    check(
        &of(r#"{"what":"stopped","value":1,"unit":"L"}"#),
        "wrong_value",
        [1, 74, 3],
        "units that do are `P`, `Bx`, `SG`",
    );
    check(
        &of(r#"{"what":"packaging","value":1,"unit":"firkins"}"#),
        "unknown_value",
        [1, 76, 9],
        "the units are `L`, `hL`, `mL`, `gal`, `qt`, `bbl`, `imp gal`",
    );
    check(
        &of(r#"{"what":"in_fermenter","value":1,"unit":"P","wort_correction":1}"#),
        "field_without_effect",
        [1, 83, 17],
        "",
    );
    check(
        &of(r#"{"what":"before_boil","value":1,"unit":"L","volume_at_c":60}"#),
        "field_without_effect",
        [1, 82, 13],
        "",
    );
    check(
        &of(r#"{"what":"stopped","value":8,"unit":"Bx","at_c":30}"#),
        "field_without_effect",
        [1, 79, 6],
        "a refractometer compensates for temperature itself: leave `at_c` out, or write the unit `P` for a hydrometer's reading",
    );
    let found = |reading: Value, field: &str| {
        let request = measured(&reading);
        let found = fault(&request);
        at(&found, &request.to_string(), &reading[field].to_string());
        found["code"].as_str().unwrap().to_owned()
    };
    let wort = |value: f64, unit: &str, at_c: f64, volume_l: f64| json!({"what": "before_boil", "value": value, "unit": unit, "at_c": at_c, "volume_l": volume_l});
    assert_eq!(
        found(wort(1040.0, "SG", 20.0, 9.0), "value"),
        "out_of_range"
    );
    assert_eq!(found(wort(-3.0, "P", 20.0, 9.0), "value"), "out_of_range");
    assert_eq!(found(wort(12.0, "P", 120.0, 9.0), "at_c"), "out_of_model");
    assert_eq!(
        found(wort(12.0, "P", 20.0, 0.0), "volume_l"),
        "out_of_range"
    );
    let unknown = json!({"what": "juice", "value": 9, "unit": "Bx", "name": "plumb juice"});
    assert_eq!(found(unknown, "name"), "unknown_name");
    let unknown = json!({"what": "addition_at", "value": 4, "unit": "P", "name": "honey"});
    assert_eq!(found(unknown, "name"), "unknown_name");
    let never = json!({"what": "addition_at", "value": 20, "unit": "P", "name": "plum juice"});
    assert_eq!(found(never, "value"), "out_of_model");
    let sour = json!({"what": "mash_ph", "value": 2, "unit": "pH"});
    assert_eq!(found(sour, "value"), "out_of_range");
    let hot = json!({"what": "mash_ph", "value": 5.5, "unit": "pH", "at_c": 66});
    assert_eq!(found(hot, "at_c"), "out_of_model");
    let factor = json!({"what": "stopped", "value": 8, "unit": "Bx", "wort_correction": 2});
    assert_eq!(found(factor, "wort_correction"), "out_of_range");
    let nothing = json!({"what": "packaging", "value": 0, "unit": "L"});
    assert_eq!(found(nothing, "value"), "out_of_range");
    let without = demo_without_ph();
    let more = json!({"documents": without, "to": "Stove top", "reading": {"what": "mash_ph", "value": 5.6, "unit": "pH"}});
    let refused = fault(&request("correct", more));
    assert_eq!(refused["code"], "missing_field");
    assert!(refused["help"].as_str().unwrap().contains("wanted_ph"));
}

/// The demo with a sheet that states no mash pH.
fn demo_without_ph() -> Value {
    let mut texts = demo();
    for text in texts.as_array_mut().unwrap() {
        text["text"] = text["text"]
            .as_str()
            .unwrap()
            .replace("  pH 5.35\n", "")
            .into();
    }
    texts
}

proptest! {
    #[test]
    fn any_reading_has_an_answer(
        what in prop::sample::select(vec![
            "before_boil", "in_fermenter", "juice", "stopped", "mash_ph", "addition_at", "packaging",
        ]),
        value in prop_oneof![-50.0..100.0, 0.9..1.2, Just(1e300), Just(-1e300)],
        unit in prop::sample::select(vec!["P", "Bx", "SG", "L", "bbl", "pH"]),
        at_c in prop_oneof![-300.0..300.0, Just(20.0)],
        volume_l in prop_oneof![0.0..100.0, Just(1e-300), Just(1e9), Just(1e300)],
    ) {
        let mut reading = json!({"what": what, "value": value, "unit": unit});
        if unit != "Bx" {
            reading["at_c"] = json!(at_c);
        }
        match what {
            "juice" | "addition_at" => reading["name"] = json!("plum juice"),
            "before_boil" | "in_fermenter" if ["P", "Bx", "SG"].contains(&unit) => {
                reading["volume_l"] = json!(volume_l);
            }
            "packaging" => reading["final_plato"] = json!(f64::min(volume_l, 30.0)),
            _ => {}
        }
        let request = measured(&reading).to_string();
        lawful(&request, &answer(&request))?;
    }
}
