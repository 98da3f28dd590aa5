//! Every ask answers the demo as it did.

use super::{demo, golden, request};
use serde_json::{Value, json};
use wortwright_tests::files::read;

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

/// The names that hosts were promised, and that may therefore never go.
#[test]
fn frozen_names_are_there() {
    let answer = |name: &str| -> Value {
        serde_json::from_str(&read(&format!("tests/golden/{name}.answer.json"))).unwrap()
    };
    let figures = "original_plato original_sg final_plato final_sg alcohol_abv_pct bitterness_ibu colour_ebc batch_l \
        finished_l wort_final_plato wort_bitterness_ibu wort_colour_ebc equivalent_original_plato \
        plato_before_addition plato_after_addition extract_yield_pct diastatic_power_wk";
    let volumes = "mash_water_l sparge_water_l total_water_l mash_volume_hot_l pre_boil_l pre_boil_hot_l post_boil_l \
        post_boil_hot_l into_fermenter_l after_additions_l packaged_l";
    for (name, place, names) in [
        ("read", "/result", "recipe text"),
        ("predict", "/result", "predicted volumes"),
        ("predict", "/result/predicted", figures),
        ("predict", "/result/predicted", "mash_ph"),
        ("predict", "/result/volumes", volumes),
        (
            "scale",
            "/result",
            "predicted published volumes water additions changes assumptions warnings outcomes cautions shopping text",
        ),
        ("scale", "/result/predicted", figures),
        ("scale", "/result/predicted", "carbonation_g_l"),
        ("scale", "/result/volumes", volumes),
        (
            "scale",
            "/result/additions/0",
            "stage name kind mass_kg share_pct extract_kg",
        ),
        ("scale", "/result/additions/5", "bitterness_ibu at_min"),
        ("scale", "/result/additions/8", "for_min"),
        ("scale", "/result/additions/9", "at_c"),
        ("scale", "/result/additions/10", "volume_l when_plato"),
        ("scale", "/result/changes/0", "code text"),
        ("substitute", "/result/missing/0", "name proposals"),
        (
            "substitute",
            "/result/missing/0/proposals/0",
            "parts noticed roles summary feasible gravity_residual_pct colour_residual_ebc distance distance_parts predicted \
             allergens_gained allergens_lost practice variants",
        ),
        (
            "substitute",
            "/result/missing/0/proposals/0/parts/0",
            "name mass_kg",
        ),
        ("substitute", "/result/missing/1/proposals/0", "way"),
        (
            "substitute",
            "/result/missing/1/proposals/0/parts/0",
            "name volume_l",
        ),
        ("ledger", "/result", "alcohol steps"),
        (
            "ledger",
            "/result/alcohol",
            "abv_pct abv_uncertainty_pct abw_pct real_extract_plato equivalent_original_plato \
             apparent_attenuation_pct real_attenuation_pct energy_kcal_per_100_ml",
        ),
        (
            "ledger",
            "/result/steps/1",
            "on_day what volume_l extract_kg ethanol_kg shown_sg shown_plato",
        ),
        ("correct", "/result", "advice"),
        (
            "learn",
            "/result",
            "brewhouse text figures days not_told_apart",
        ),
        (
            "learn",
            "/result/figures/0",
            "name value one_sigma prior prior_one_sigma unit text",
        ),
        ("learn", "/result/days/0", "name predicted read slipped"),
        ("sheet", "/result", "text"),
        ("catalogue", "/result", "entries"),
        ("catalogue-near", "/result", "near"),
        (
            "refused",
            "/diagnostics/0",
            "severity code message help in line column length",
        ),
    ] {
        let answer = answer(name);
        let fields = answer.pointer(place).unwrap();
        for field in names.split_whitespace() {
            assert!(fields.get(field).is_some(), "{name}{place}: {field}");
        }
    }
}
