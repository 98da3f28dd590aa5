//! What the notation and the exchange say of water: report, wishes, salts, acids, rests, sparge.

use crate::exchange::{request, result};
use serde_json::json;
use wortwright::catalogue::Kind;
use wortwright::diagnostic::TextRef;
use wortwright::notation::{Document, read};
use wortwright::quantity::uom::si::{mass::gram, volume::liter, volume::milliliter};
use wortwright::recipe::{Amount, Heating, Recipe};

const TEXT: &str = include_str!("fixtures/everything_wet.gyle");

#[test]
fn water_salts_acids_and_rests_go_through_text_and_back() {
    let reading = read(&[TextRef::new("wet", TEXT)]);
    assert!(reading.is_usable(), "{:#?}", reading.diagnostics);
    let recipe = reading.recipe.clone().unwrap();
    let plant = &reading.brewhouses[0];
    let by: Vec<_> = recipe.mash.rests.iter().map(|rest| rest.by).collect();
    let said = [Heating::Infusion, Heating::Decoction, Heating::Direct].map(Some);
    assert_eq!(by, [&[None][..], &said].concat());
    assert_eq!(recipe.water.stated().count(), 7);
    assert_eq!(plant.water.as_ref().unwrap().ions.stated().count(), 7);
    let sparge = recipe.mash.sparge.as_ref().unwrap();
    assert_eq!(sparge.temperature.unwrap().value().celsius(), 77.0);
    assert!((sparge.volume.unwrap().value().get::<liter>() - 9.0).abs() < 1e-12);
    let of = |kind: Kind| -> Vec<(&str, f64)> {
        let all = recipe.mash.additions.iter();
        all.filter_map(|addition| {
            let ingredient = addition.ingredient().filter(|i| i.kind == kind)?;
            let amount = match addition.amount.as_ref()? {
                Amount::Mass(mass) => mass.value().get::<gram>(),
                Amount::Volume(volume) => volume.value().get::<milliliter>(),
                _ => return None,
            };
            Some((ingredient.name.as_str(), (amount * 1e6).round() / 1e6))
        })
        .collect()
    };
    assert_eq!(of(Kind::Salt).len(), 4);
    // The strength is part of an acid's name.
    assert_eq!(
        of(Kind::Acid),
        [("lactic acid 88 %", 4.0), ("phosphoric acid 10 %", 12.0)]
    );
    // The printed document says the same, and so does the model written anew.
    for text in [
        reading.documents[0].to_string(),
        Document::from(&recipe)
            .followed_by(Document::from(plant))
            .to_string(),
    ] {
        let again = read(&[TextRef::new("again", &text)]);
        assert!(again.is_usable(), "{text}\n{:#?}", again.diagnostics);
        assert_eq!(again.documents[0].to_string(), text);
        assert_eq!(again.recipe.as_ref(), Some(&recipe), "{text}");
        assert_eq!(&again.brewhouses[0], plant, "{text}");
    }
}

const WISHES: &str = include_str!("fixtures/wishes.gyle");
const REPORT: &str =
    "  water calcium 20 mg/L, sulphate 30 mg/L, chloride 20 mg/L, alkalinity 60 mg/L\n";

#[test]
fn the_exchange_says_salts_acid_reached_wanted_and_the_balance_of_charges() {
    let scaled = |text: &str| result(&request("scale", json!({"document": text, "to": "Shed"})));
    let found = scaled(&format!("{WISHES}{REPORT}"));
    let water = &found["water"];
    let additions = water["additions"].as_array().unwrap();
    let sum = |kind: &str, into: &str| -> f64 {
        let of = additions
            .iter()
            .filter(|a| a["kind"] == kind && a["into"] == into);
        of.map(|a| a["mass_kg"].as_f64().unwrap()).sum()
    };
    assert!(sum("salt", "mash") > sum("salt", "sparge") && sum("salt", "sparge") > 0.0);
    let acid = additions.iter().find(|a| a["kind"] == "acid").unwrap();
    // 1.206 kg/L.
    let density = acid["mass_kg"].as_f64().unwrap() / acid["volume_l"].as_f64().unwrap();
    assert!((density - 1.206).abs() < 1e-9);
    assert_eq!(water["wanted"].as_array().unwrap().len(), 3);
    let sulphate = water["reached"]["sulphate_g_l"].as_f64().unwrap();
    // By hand: the wishes lack (60 - 20)/20.039 = 1.996 mEq/L of calcium and, with it, 40/48.028 + 25/35.45 = 1.538 of its
    // partners. The third of the difference that falls to each is 0.1527 mEq/L, 7.33 mg/L of sulphate.
    assert!((sulphate - 0.07733).abs() < 1e-5, "{sulphate}");
    // By hand: 60/20.039 - 70/48.028 - 45/35.45 = 0.267 mEq/L, 4.7 % of all charges: within what reports leave out.
    assert_eq!(water["balance"]["kind"], "balanced");
    assert!((found["predicted"]["mash_ph"].as_f64().unwrap() - 5.35).abs() < 1e-6);
    assert!(found["predicted"]["mash_ph_uncertainty"].as_f64().unwrap() >= 0.1);
    // The text of the plan holds them and is read again as it stands.
    let text = found["text"].as_str().unwrap();
    assert!(text.contains("calcium sulphate dihydrate") && text.contains("lactic acid 88 %"));
    let read_again = result(&request("read", json!({"document": text})));
    assert_eq!(read_again["text"], text);

    let silent = scaled(WISHES);
    assert_eq!(silent["water"]["additions"], json!([]));
    assert_eq!(silent["water"].get("reached"), None);
    let assumptions = silent["assumptions"].as_array().unwrap();
    let said = assumptions
        .iter()
        .find(|a| a["code"] == "mash_ph_not_predicted" && a["side"] == "target");
    assert_eq!(said.unwrap()["because"], "no_water_report");
}

#[test]
fn salts_of_the_sparge_make_no_boil_where_there_is_none() {
    let raw = WISHES.replace("boil 60 min\n", "");
    let text = format!("{raw}{REPORT}");
    let found = result(&request("scale", json!({"document": text, "to": "Shed"})));
    let written = found["text"].as_str().unwrap();
    assert!(!written.contains("boil"), "{written}");
    let salts = written.matches("calcium sulphate dihydrate").count();
    assert_eq!(salts, 2, "{written}");
}

#[test]
fn a_recipe_in_json_keeps_its_water() {
    let reading = read(&[TextRef::new("wet", TEXT)]);
    let recipe = reading.recipe.unwrap();
    let text = serde_json::to_string(&recipe).unwrap();
    let again: Recipe = serde_json::from_str(&text).unwrap();
    assert!(recipe.agrees(&again, 1e-12));
    assert_eq!(again.water.stated().count(), 7);
}

/// A figure stated as calcium carbonate is that of the ion with the same charge. By the molar masses `CaCO3` 100.086, Ca 40.078,
/// Mg 24.305 and HCO3 61.016 g/mol, 100 mg/L of `CaCO3` are 100 x 40.078/100.086 = 40.04 mg/L of calcium, 24.28 mg/L of
/// magnesium and, two to one carbonate, 2 x 60.96 = 121.9 mg/L of bicarbonate; the factors of three digits are within 0.2 %.
#[test]
fn ions_stated_as_calcium_carbonate_are_converted() {
    for (line, expected_mg_l) in [
        ("calcium 100 mg/L as CaCO3", [40.04, 0.0, 0.0, 0.0]),
        ("100 mg/L calcium as caco3", [40.04, 0.0, 0.0, 0.0]),
        ("magnesium as CaCO3 100 ppm", [0.0, 24.28, 0.0, 0.0]),
        ("bicarbonate 100 mg/L as CaCO3", [0.0, 0.0, 121.9, 0.0]),
        ("alkalinity 100 mg/L as CaCO3", [0.0, 0.0, 0.0, 100.0]),
        ("calcium 80-120 mg/L as CaCO3", [40.04, 0.0, 0.0, 0.0]),
        (
            "calcium 100 mg/L, alkalinity 100 mg/L",
            [100.0, 0.0, 0.0, 100.0],
        ),
    ] {
        for text in [
            format!("recipe A\nwater\n  {line}\n"),
            format!("brewhouse A\n  water {line}\n"),
        ] {
            let reading = read(&[TextRef::new("text", &text)]);
            assert_eq!(reading.diagnostics, [], "{text}");
            let of_plant = reading
                .brewhouses
                .first()
                .and_then(|plant| plant.water.clone());
            let ions = match (of_plant, &reading.recipe) {
                (Some(report), _) => report.ions,
                (None, recipe) => recipe.clone().unwrap().water,
            };
            let found = [
                ions.calcium,
                ions.magnesium,
                ions.bicarbonate,
                ions.alkalinity,
            ];
            for (found, expected) in found.into_iter().zip(expected_mg_l) {
                let mg_l = found.map_or(0.0, |ion| 1000.0 * ion.value().grams_per_litre());
                assert!(
                    (mg_l - expected).abs() <= 0.002 * expected,
                    "{text}: {mg_l}"
                );
            }
            // What is printed is the converted figure.
            let document = reading
                .recipe
                .as_ref()
                .map_or_else(|| Document::from(&reading.brewhouses[0]), Document::from);
            let printed = document.to_string();
            assert!(!printed.contains("CaCO3"), "{printed}");
            let again = read(&[TextRef::new("again", &printed)]);
            assert_eq!(
                (again.recipe, again.brewhouses),
                (reading.recipe, reading.brewhouses)
            );
        }
    }
    for ion in ["sodium", "potassium", "sulphate", "chloride"] {
        let text = format!("recipe A\nwater\n  {ion} 60 mg/L as CaCO3\n");
        let reading = read(&[TextRef::new("text", &text)]);
        let [said] = reading.diagnostics.as_slice() else {
            panic!("{:?}", reading.diagnostics)
        };
        assert_eq!(said.code.as_str(), "unexpected_words");
        assert_eq!(said.span.slice(&text), format!("{ion} 60 mg/L as CaCO3"));
    }
}
