//! What is answered can be sent back: models in place of texts.

use super::{demo, request, result, same};
use serde_json::{Value, json};
use wortwright::recipe::Recipe;

#[test]
fn what_read_answers_can_be_sent_back() {
    let read = result(&request("read", json!({"documents": demo()})));
    let texts = result(&request(
        "scale",
        json!({"documents": demo(), "to": "Stove top"}),
    ));
    let models = json!({
        "recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"], "to": "Stove top",
    });
    same(
        &texts,
        &result(&request("scale", models)),
        &mut String::new(),
    );
    let again =
        json!({"recipe": read["recipe"], "brewhouses": read["brewhouses"], "stock": read["stock"]});
    let again = result(&request("read", again));
    let recipe = |value: &Value| serde_json::from_value::<Recipe>(value["recipe"].clone()).unwrap();
    assert!(recipe(&read).agrees(&recipe(&again), 1e-11));
    // The canonical text says the same as the texts that it came from.
    let canonical = result(&request("read", json!({"document": read["text"]})));
    assert_eq!(canonical["recipe"], read["recipe"]);
    assert_eq!(canonical["brewhouses"], read["brewhouses"]);
    assert_eq!(canonical["stock"], read["stock"]);
    assert_eq!(canonical["text"], read["text"]);
    // So does what was written from the models alone.
    let from_models = result(&request("read", json!({"document": again["text"]})));
    assert_eq!(from_models["recipe"], read["recipe"]);
    assert_eq!(from_models["stock"], read["stock"]);
}

/// Checks of a text hold for a model, at its place in the request; a quantity may be sent as a text, a kind left out.
#[test]
fn a_model_is_checked_as_a_text_is() {
    let grist = |share: &str| {
        let malt = json!({"content": {"single": {"name": "pale ale malt"}}, "amount": {"share_pct": share}});
        let recipe = json!({
            "name": "A", "batch": {"volume_l": "20 L", "at": "into_fermenter"},
            "targets": {"original_plato": "1.048"}, "mash": {"additions": [malt]},
        });
        request("predict", json!({"recipe": recipe}))
    };
    let whole = result(&grist("100 %"));
    assert!((whole["predicted"]["original_plato"].as_f64().unwrap() - 11.9).abs() < 0.05);
    let part = grist("90 %").to_string();
    let column = part.find(r#"{"additions""#).unwrap() + 1;
    let answer: Value = serde_json::from_str(&wortwright::exchange::answer(&part)).unwrap();
    let found = &answer["diagnostics"][0];
    assert_eq!(found["code"], "shares_do_not_add_up", "{answer}");
    assert_eq!(
        (&found["in"], &found["column"]),
        (&json!("request"), &json!(column))
    );
}

#[test]
fn own_ingredients_come_as_models_or_as_text() {
    let own =
        json!([{"fermentable": {"name": "moon malt", "class": "base_malt", "colour_ebc": 7}}]);
    let found = result(&request(
        "catalogue",
        json!({"name": "Moon Malts", "ingredients": own}),
    ));
    assert_eq!(found["entries"][0]["fermentable"]["colour_ebc"], 7.0);
    assert_eq!(found["entries"][0]["fermentable"]["provenance"], "host");
    let text = include_str!("fixtures/moon_malt.gyle");
    let scaled = result(&request("scale", json!({"document": text})));
    assert_eq!(scaled["additions"][0]["colour_ebc"], 7.0);
    assert!(
        scaled["text"]
            .as_str()
            .unwrap()
            .contains("ingredient moon malt")
    );
}

#[test]
fn every_ask_takes_models_in_place_of_texts() {
    let read = result(&request("read", json!({"documents": demo()})));
    let thin = json!({"what": "before_boil", "value": 9.4, "unit": "P", "volume_l": 11.9});
    for (ask, more) in [
        ("predict", json!({})),
        ("scale", json!({"to": "Stove top"})),
        ("sheet", json!({"to": "Stove top"})),
        ("substitute", json!({"to": "Stove top"})),
        ("correct", json!({"to": "Stove top", "reading": thin})),
    ] {
        let mut texts = request(ask, more.clone());
        texts["documents"] = demo();
        let mut models = request(ask, more);
        for name in ["recipe", "brewhouses", "stock"] {
            models[name] = read[name].clone();
        }
        let (texts, models) = (result(&texts), result(&models));
        same(&texts, &models, &mut ask.to_owned());
    }
}

#[test]
fn what_catalogue_answers_can_be_sent_back_as_own() {
    let entries = result(&request("catalogue", json!({"class": "honey"})))["entries"].clone();
    let mut own = entries[0].clone();
    own["fermentable"]["name"] = json!("heather honey of the moor");
    own["fermentable"]["aliases"] = json!([]);
    own["fermentable"]["colour_ebc"] = json!(60);
    let more = json!({"name": "heather honey of the moor", "ingredients": [own]});
    let found = result(&request("catalogue", more));
    assert_eq!(found["entries"][0]["fermentable"]["colour_ebc"], 60.0);
    let beer = |name: &str, own: &Value| {
        let text = format!(
            "recipe A\nbatch 10 hL into fermenter\ntarget original 12 P\nmash\n  80 % pale ale malt\nboil 60 min\n  \
             20 % {name} at 10 min\n"
        );
        let predicted = result(&request(
            "predict",
            json!({"document": text, "ingredients": own}),
        ));
        predicted["predicted"]["colour_ebc"].as_f64().unwrap()
    };
    // The other figures being the same, only its colour tells it from the catalogue's.
    assert!(beer("heather honey of the moor", &json!([own])) > beer("honey", &json!([])) + 0.5);
}
