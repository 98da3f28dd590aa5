//! `correct`: a reading of the day, from outside.

use super::{at, check, demo, fault, golden, lawful, request, result};
use proptest::prelude::*;
use serde_json::{Value, json};
use wortwright::exchange::answer;

fn measured(reading: &Value) -> Value {
    let more = json!({"documents": demo(), "to": "Stove top", "reading": reading});
    request("correct", more)
}

#[test]
fn the_demo_is_advised_as_it_was() {
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
    let hot = json!({"what": "before_boil", "value": 6, "unit": "P", "volume_l": 20.831, "volume_at_c": 99.974});
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
    assert_eq!(ways(thin), "measure_first go_on boil_for add_dried_extract");
    let strong = json!({"what": "in_fermenter", "value": 17, "unit": "P", "volume_l": 8});
    assert_eq!(ways(strong), "go_on add_water");
    let sour = json!({"what": "juice", "value": 9, "unit": "Bx", "name": "plum juice"});
    assert_eq!(ways(sour), "use_juice use_juice sweeten_juice");
    let stuck = json!({"what": "stopped", "value": 1.03, "unit": "SG"});
    assert_eq!(ways(stuck), "rouse");
    let slow = json!({"what": "stopped", "value": 3.6, "unit": "P"});
    assert_eq!(ways(slow), "rouse keg_cold");
    let stuck = json!({"what": "stopped", "value": 9, "unit": "Bx"});
    assert_eq!(ways(stuck), "rouse keg_cold");
    let much = json!({"what": "before_boil", "value": 3.5, "unit": "gal"});
    assert_eq!(ways(much), "measure_first go_on");
    let little = json!({"what": "in_fermenter", "value": 7, "unit": "L"});
    assert_eq!(ways(little), "measure_first go_on");
    let strong = json!({"what": "in_fermenter", "value": 18, "unit": "Bx", "wort_correction": 1.02, "volume_l": 8});
    assert_eq!(ways(strong), "go_on add_water");
    let strong = json!({"what": "in_fermenter", "value": 18, "unit": "Bx"});
    assert_eq!(ways(strong), "measure_first go_on");
    let boiled = json!({"what": "after_boil", "value": 14, "unit": "P", "volume_l": 8.6});
    assert_eq!(ways(boiled), "go_on add_dried_extract");
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
        "the words are `before_boil`, `after_boil`, `in_fermenter`, `juice`, `stopped`, `mash_ph`, `addition_at`, `packaging`",
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
        "refractometers compensate for temperature: leave `at_c` out, or write the unit `P` for a hydrometer's reading",
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
    assert_eq!(found(wort(70.0, "P", 20.0, 9.0), "value"), "out_of_range");
    let hot = json!({"what": "packaging", "value": 8, "unit": "L", "warmest_c": 60});
    assert_eq!(found(hot, "warmest_c"), "out_of_range");
    for (value, help) in [
        (1069.0, "did you mean 1.069?"),
        (64.0, "did you mean 1.064?"),
    ] {
        let meant = fault(&measured(&wort(value, "SG", 20.0, 9.0)));
        assert_eq!(meant["help"], help);
    }
    let below = fault(&measured(&wort(-4.0, "P", 20.0, 9.0)));
    let message = below["message"].as_str().unwrap();
    assert!(
        message.contains("from 0 to 50 °P, found -4 °P"),
        "{message}"
    );
}

/// Where the sheet states no mash pH the usual 5.2 to 5.6 is wanted: within it nothing is done, and above it the middle is aimed at.
#[test]
fn a_mash_without_a_wanted_ph_has_the_usual_one() {
    let of = |value: f64| {
        let reading = json!({"what": "mash_ph", "value": value, "unit": "pH"});
        let more = json!({"documents": demo_without_ph(), "to": "Stove top", "reading": reading});
        result(&request("correct", more))
    };
    let (usual, high) = (of(5.6), of(5.8));
    assert_eq!(usual["advice"].as_array().unwrap().len(), 1);
    let remark = &usual["remarks"][0];
    assert_eq!(remark["code"], "usual_mash_ph");
    assert_eq!(
        (&remark["lowest_ph"], &remark["highest_ph"]),
        (&json!(5.2), &json!(5.6))
    );
    let mended = high["advice"][1]["predicted"]["mash_ph"].as_f64().unwrap();
    assert!((mended - 5.4).abs() < 1e-6, "{mended}");
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
            "before_boil", "after_boil", "in_fermenter", "juice", "stopped", "mash_ph", "addition_at", "packaging",
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
            "before_boil" | "after_boil" | "in_fermenter" if ["P", "Bx", "SG"].contains(&unit) => {
                reading["volume_l"] = json!(volume_l);
            }
            "packaging" => reading["final_plato"] = json!(f64::min(volume_l, 30.0)),
            _ => {}
        }
        let request = measured(&reading).to_string();
        lawful(&request, &answer(&request))?;
    }
}
