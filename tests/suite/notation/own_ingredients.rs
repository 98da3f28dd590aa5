//! The brewer's own ingredients: read from a text, written as one, and kept by the exchange.

use crate::brewing::weighed;
use serde_json::Value;
use wortwright::catalogue::{Allergen, Catalogue, Entry};
use wortwright::diagnostic::TextRef;
use wortwright::exchange::answer;
use wortwright::notation::{Document, read};
use wortwright::process::Assumption;
use wortwright::sheet::SheetOptions;

fn entry(block: &str) -> Entry {
    let reading = read(&[TextRef::new("text", block)]);
    assert_eq!(reading.diagnostics, [], "{block}");
    reading.ingredients[0].clone()
}

/// Written and read again it is the same entry, to the last bit.
fn round(block: &str) -> String {
    let entry = entry(block);
    let text = Document::of_ingredient(&entry)
        .unwrap_or_else(|| panic!("{block}"))
        .to_string();
    assert_eq!(self::entry(&text), entry, "{text}");
    text
}

#[test]
fn own_ingredients_of_every_kind_are_written_and_read() {
    for block in [
        "ingredient Barn-smoked malt\n  like pale ale malt\n  80 % extract dry, 7 EBC, moisture 4.5 %\n",
        "ingredient Field malt\n  like light munich malt\n  77.3 % extract as is, 3.7 % moisture, 180 WK, 11.3 % protein\n",
        "ingredient Acid barn malt\n  like pale ale malt\n  pH 5.1, 81 % fermentable\n",
        "ingredient \"Malt 7, the dark one\"\n  like roasted barley\n  1150 EBC\n",
        "ingredient Hive\n  like honey\n  81 % extract, 84 % fermentable\n",
        "ingredient Garden hop\n  like cascade\n  6.3 % alpha\n",
        "ingredient Nameless hop\n  4.1 % alpha\n",
        "ingredient Hedge juice\n  like plum juice\n  11.7 Bx, pH 3.21, 9 g/L acidity\n",
        "ingredient Unheard juice\n  9 Bx\n",
        "ingredient Cellar yeast\n  like farmhouse ale yeast\n  attenuation 83.7 %, 0.9 M/mL/P\n",
        "ingredient Any yeast\n  attenuation 71 %\n",
        "ingredient Hill juniper\n  like juniper berries\n",
        "ingredient Weak acid\n  like lactic acid 80 %\n",
        "ingredient Seaweed\n  like carrageenan\n",
    ] {
        let text = round(block);
        assert_eq!(round(&text), text);
    }
}

/// The sheet does not pass a brewer's own figures off as the catalogue's, nor the other way round.
#[test]
fn own_figures_are_said_to_be_own() {
    let plan = weighed(include_str!("fixtures/own_malt.gyle"), "Small");
    let (mut own, mut known) = (Vec::new(), Vec::new());
    for assumption in &plan.assumptions {
        match &assumption.what {
            Assumption::OwnFigures { name, .. } => own.push(name.as_str()),
            Assumption::CatalogueFigures { name, .. } => known.push(name.as_str()),
            _ => {}
        }
    }
    assert_eq!(own, ["Barn malt"]);
    assert_eq!(known, ["wheat malt", "cascade"]);
    let sheet = plan.sheet(&SheetOptions::default());
    let lines: Vec<_> = sheet.split_whitespace().collect();
    let sheet = lines.join(" ");
    let (_, said) = sheet
        .split_once("from your own ingredient entries")
        .unwrap();
    let (said, _) = said.split_once("CLOCK").unwrap();
    let (said, typical) = said
        .split_once("typical values from the ingredient table")
        .unwrap();
    assert!(
        said.contains("Barn malt") && !typical.contains("Barn malt"),
        "{sheet}"
    );
}

/// Any entry of the catalogue may be the model of one, with nothing stated.
#[test]
fn an_entry_like_any_other_states_nothing_else() {
    for like in Catalogue::builtin().entries() {
        let text = round(&format!("ingredient Own\n  like \"{}\"\n", like.name()));
        assert_eq!(text.lines().count(), 2, "{text}");
    }
}

#[test]
fn what_no_line_can_state_is_not_written_in_part() {
    let mut entry = entry("ingredient Own\n  like pale ale malt\n");
    let Entry::Fermentable(malt) = &mut entry else {
        panic!("a malt")
    };
    malt.allergens = vec![Allergen::Milk].into();
    assert_eq!(Document::of_ingredient(&entry), None);
    let catalogue = Catalogue::builtin();
    let known = catalogue.find("cascade").expect("a hop").entry.to_entry();
    // Its aliases and its source belong to the built-in entry.
    assert_eq!(Document::of_ingredient(&known), None);
}

/// What came as a model stands in the canonical text beside what came as a text.
#[test]
fn the_exchange_answers_with_every_own_ingredient_in_its_text() {
    let malt = entry("ingredient Barn-smoked malt\n  like pale ale malt\n  7 EBC\n");
    let request = serde_json::json!({
        "format": 1,
        "ask": "read",
        "document": "recipe A\n\ningredient Hive\n  like honey\n  81 % extract\n\nmash\n  5 kg barn-smoked malt\n",
        "ingredients": [malt],
    });
    let answer: Value = serde_json::from_str(&answer(&request.to_string())).unwrap();
    assert_eq!(answer["ok"], true, "{answer}");
    let text = answer["result"]["text"].as_str().unwrap();
    let again = read(&[TextRef::new("text", text)]);
    assert_eq!(again.diagnostics, [], "{text}");
    assert_eq!(again.ingredients.len(), 2, "{text}");
    // JSON rounds to 12 digits.
    let json = |entry| serde_json::to_value(entry).unwrap();
    assert_eq!(json(&again.ingredients[1]), json(&malt), "{text}");
    let names: Vec<&str> = again.ingredients.iter().map(Entry::name).collect();
    assert_eq!(names, ["Hive", "Barn-smoked malt"]);
}

/// A figure that the entry does not keep is named, and the rest is kept.
#[test]
fn figures_of_no_use_are_not_dropped_in_silence() {
    for (lines, useless) in [
        ("like pale ale malt\n  9 % alpha, 7 EBC", "`9 % alpha`"),
        (
            "like cascade\n  5 EBC, pellet, 6 % alpha",
            "`5 EBC`, `pellet`",
        ),
        ("like plum juice\n  12 Bx, SO2 50 mg/L", "`50 mg/L SO2`"),
        ("like honey\n  pH 4", "`pH 4`"),
        (
            "like english ale yeast\n  attenuation 75 %, 3 % protein",
            "`3 % protein`",
        ),
        ("like lactic acid 80 %\n  5 EBC", "`5 EBC`"),
        ("like juniper berries\n  9 Bx", "`9 Bx`"),
        ("9 % alpha, 12 Bx", "`12 Bx`"),
    ] {
        let text = format!("ingredient Own\n  {lines}\n");
        let reading = read(&[TextRef::new("text", &text)]);
        let [said] = reading.diagnostics.as_slice() else {
            panic!("{text}: {:?}", reading.diagnostics)
        };
        assert_eq!(said.code.as_str(), "unknown_attribute");
        assert!(
            said.message.ends_with(&format!("found {useless}")),
            "{}",
            said.message
        );
        assert!(reading.is_usable() && reading.ingredients.len() == 1);
    }
}

#[test]
fn an_unknown_model_does_not_hide_what_else_is_wrong() {
    let text = "ingredient Own\n  like pale ail malt\n  7 EBX, moisture 4 kg\n";
    let reading = read(&[TextRef::new("text", text)]);
    let codes: Vec<_> = reading
        .diagnostics
        .iter()
        .map(|d| d.code.as_str())
        .collect();
    assert_eq!(codes, ["unknown_ingredient", "unknown_unit", "wrong_unit"]);
    assert!(reading.ingredients.is_empty());
}

#[test]
fn a_plant_is_known_by_its_name_in_any_case() {
    let text =
        "recipe A\nbrewed on KÜCHE\nbatch 10 L into fermenter\nbrewhouse Küche\n  kettle 20 L\n";
    let reading = read(&[TextRef::new("text", text)]);
    assert_eq!(reading.diagnostics, []);
    assert!(reading.brewhouse("küche").is_some());
}
