//! The inputs that entries speak of are fields of the models, by the path that their JSON has.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use wortwright::Job;
use wortwright::advice::{DayReading, Shown};
use wortwright::catalogue::{Catalogue, Entry};
use wortwright::diagnostic::{Place, TextRef};
use wortwright::job::Brew;
use wortwright::notation::read;
use wortwright::quantity::{Extract, Ph};
use wortwright::recipe::{Brewhouse, Log, Recipe, Stock};
use wortwright::speech::Speaks;

/// One recipe that much is to be said of, on a plant that says little and one that says a lot, with a stock and two logs.
const TEXT: &str = include_str!("fixtures/much_to_say.gyle");

/// The models as a host has them in JSON.
struct Models(Value);

impl Models {
    fn of(job: &Job) -> Self {
        Self(json!({
            "recipe": job.recipe(),
            "brewhouses": job.brewhouses(),
            "stock": job.stock(),
            "logs": job.logs(),
            "ingredients": read(&[TextRef::new("text", TEXT)]).ingredients,
        }))
    }

    /// Follows a path to its end. What is not stated may be missing, if the model has a field of that name.
    fn follow(&self, place: &Place) {
        let path = place.to_string();
        let mut here = &self.0;
        let mut pointer = String::new();
        for step in path.split('.').flat_map(|step| step.split_inclusive('[')) {
            for step in step.split(['[', ']']).filter(|step| !step.is_empty()) {
                let key = match here {
                    Value::Array(items) => items
                        .iter()
                        .position(|item| item["name"] == step)
                        .map_or(step.to_owned(), |at| at.to_string()),
                    _ => step.to_owned(),
                };
                pointer.extend(["/", key.as_str()]);
                match self.0.pointer(&pointer) {
                    Some(found) => here = found,
                    None => return self.may_be_missing(&path, &pointer),
                }
            }
        }
    }

    /// A model takes a field of that name, though it is not there.
    fn may_be_missing(&self, path: &str, pointer: &str) {
        let (object, key) = pointer.rsplit_once('/').unwrap();
        let mut models = self.0.clone();
        let Some(Value::Object(object)) = models.pointer_mut(object) else {
            panic!("{path}: no object at {object}")
        };
        object.insert(key.to_owned(), Value::Null);
        let model = |name: &str| models[name].clone();
        let refused = [
            serde_json::from_value::<Recipe>(model("recipe")).err(),
            serde_json::from_value::<Vec<Brewhouse>>(model("brewhouses")).err(),
            serde_json::from_value::<Stock>(model("stock")).err(),
            serde_json::from_value::<Vec<Log>>(model("logs")).err(),
            serde_json::from_value::<Vec<Entry>>(model("ingredients")).err(),
        ];
        let refused: Vec<_> = refused.into_iter().flatten().collect();
        assert!(refused.is_empty(), "{path}: {refused:?}");
    }
}

/// Everything that is said of a brew, as it is said.
fn said(brew: &Brew) -> Vec<(&'static str, Option<Place>)> {
    let mut said = Vec::new();
    let mut note = |told: &dyn Speaks| said.push((told.code(), told.place().cloned()));
    let prediction = brew.predict().unwrap();
    prediction.assumptions.iter().for_each(|told| note(told));
    prediction.warnings.iter().for_each(|told| note(told));
    let plan = brew.plan().unwrap();
    plan.assumptions.iter().for_each(|told| note(told));
    plan.warnings.iter().for_each(|told| note(told));
    plan.changes.iter().for_each(|told| note(told));
    plan.outcomes.iter().for_each(|told| note(told));
    for missing in brew.substitutes().unwrap().missing {
        let practices = missing.proposals.iter().flat_map(|found| &found.practice);
        practices.for_each(|told| note(told));
    }
    let measured = Ph::from_value(5.8).unwrap();
    let wanted = Ph::from_value(5.3).ok();
    let of_day = [
        DayReading::MashPh { measured, wanted },
        DayReading::InFermenter {
            volume: Some(plan.volumes.into_fermenter),
            shown: Some(Shown::hydrometer(Extract::from_plato(13.0).unwrap())),
        },
    ];
    for advice in of_day
        .iter()
        .filter_map(|reading| plan.advise(reading).ok())
    {
        advice.assumptions.iter().for_each(|told| note(told));
        advice.warnings.iter().for_each(|told| note(told));
    }
    said
}

#[test]
fn every_place_is_a_field_of_the_models() {
    let job = Job::read([("text", TEXT)]).unwrap();
    let models = Models::of(&job);
    let mut found: Vec<_> = ["Home", "Other", "Old works"]
        .iter()
        .filter_map(|plant| job.on(plant).ok())
        .filter(|brew| brew.plan().is_ok())
        .flat_map(|brew| said(&brew))
        .collect();
    assert!(found.len() > 60, "{}", found.len());
    for ledger in job.ledgers() {
        let ledger = ledger.unwrap();
        let notes = ledger.assumptions.iter().map(|told| told as &dyn Speaks);
        let remarks = ledger.remarks.iter().map(|told| told as &dyn Speaks);
        found.extend(notes.chain(remarks).map(|t| (t.code(), t.place().cloned())));
    }
    for place in found.iter().filter_map(|(_, place)| place.as_ref()) {
        models.follow(place);
    }
    let nowhere: Vec<_> = found.iter().filter(|(_, place)| place.is_none()).collect();
    assert!(nowhere.is_empty(), "{nowhere:?}");
}

/// Where an entry of that code points.
#[track_caller]
fn check(code: &str, place: &str) {
    let job = Job::read([("text", TEXT)]).unwrap();
    let brew = job.on("Home").unwrap();
    let found = said(&brew);
    let places: Vec<_> = found
        .iter()
        .filter(|(said, _)| *said == code)
        .map(|(_, place)| place.as_ref().unwrap().to_string())
        .collect();
    assert!(
        places.iter().any(|found| found == place),
        "{code}: {places:?}"
    );
}

#[test]
fn entries_point_at_what_they_speak_of() {
    check("alcohol_disagrees", "recipe.targets.alcohol_abv_pct");
    check("boil_time", "recipe.boil.time_min");
    check("cannot_be_bought", "stock.lots[0]");
    check("kettle_overflows", "brewhouses[Home].kettle_l");
    check("fermenter_small", "brewhouses[Home].fermenter_l");
    check("yield_overrides_lauter", "brewhouses[Home].lauter");
    check(
        "lot_figure",
        "stock.lots[1].held.ingredient.facts.colour_ebc",
    );
    check("stand_left_out", "recipe.hot_side[0].stand");
    check(
        "pitch_rate",
        "recipe.fermentation.pitch.content.single.facts.pitch_rate_million_per_ml_plato",
    );
    check(
        "gravity_not_met",
        "recipe.fermentation.additions[0].timing.at",
    );
    check("plant_default", "brewhouses[Old works].evaporation");
}

#[test]
fn every_line_states_a_field_of_the_models() {
    let job = Job::read([("text", TEXT)]).unwrap();
    let models = Models::of(&job);
    let reading = read(&[TextRef::new("text", TEXT)]);
    let inputs = reading.inputs(&Catalogue::builtin());
    for (_, place) in inputs.iter() {
        models.follow(place);
    }
    let lines = TEXT.lines().filter(|line| *line != "stock").count();
    let starts: BTreeSet<_> = inputs
        .iter()
        .map(|(span, _)| TEXT[..span.start as usize].matches('\n').count())
        .collect();
    assert_eq!(starts.len(), lines, "{starts:?}");
}

#[test]
fn lines_of_an_own_ingredient_state_fields_of_its_entry() {
    let reading = read(&[TextRef::new("text", TEXT)]);
    let inputs = reading.inputs(&Catalogue::builtin());
    let stated: Vec<_> = inputs
        .iter()
        .map(|(span, place)| (span.slice(TEXT), place.to_string()))
        .filter(|(_, place)| place.starts_with("ingredients"))
        .collect();
    let stated: Vec<_> = stated.iter().map(|(said, at)| (*said, &**at)).collect();
    assert_eq!(
        stated,
        [
            ("ingredient Barn malt", "ingredients[0]"),
            ("like pale ale malt", "ingredients[0]"),
            (
                "extract 80 % dry",
                "ingredients[0].fermentable.extract_dry_pct"
            ),
            ("7 EBC", "ingredients[0].fermentable.colour_ebc"),
            ("moisture 4.5 %", "ingredients[0].fermentable.moisture_pct"),
        ]
    );
}

#[test]
fn a_mistake_is_placed_when_asked() {
    let text = TEXT.replace("70 % pale malt", "60 % pale malt");
    let reading = read(&[TextRef::new("text", &text)]);
    let placed = reading.placed_diagnostics(&Catalogue::builtin());
    let found = placed.iter().zip(&reading.diagnostics);
    let (placed, bare) = found
        .into_iter()
        .find(|(found, _)| found.code() == "shares_do_not_add_up")
        .unwrap();
    assert_eq!(
        placed.place().map(ToString::to_string).as_deref(),
        Some("recipe.mash")
    );
    assert_eq!((bare.place(), bare.span), (None, placed.span));
    let refused = Job::read([("text", text.as_str())]).unwrap_err();
    let told = refused
        .diagnostics()
        .iter()
        .filter(|told| told.place().is_some());
    assert!(told.count() > 0);
}

/// What the text says of the input that an entry of that code points at.
#[track_caller]
fn underlined(code: &str, words: &str) {
    let job = Job::read([("text", TEXT)]).unwrap();
    let said = said(&job.on("Home").unwrap());
    let reading = read(&[TextRef::new("text", TEXT)]);
    let inputs = reading.inputs(&Catalogue::builtin());
    let places = said.iter().filter(|(said, _)| *said == code);
    let found: Vec<_> = places
        .filter_map(|(_, place)| inputs.span(place.as_ref()?))
        .map(|span| span.slice(TEXT))
        .collect();
    assert!(found.contains(&words), "{found:?}");
}

#[test]
fn a_text_is_underlined_where_an_entry_points() {
    underlined("alcohol_disagrees", "alcohol 9 %");
    underlined("kettle_overflows", "kettle 8 L");
    underlined("lot_figure", "9 EBC");
    underlined("lot_figure", "4 % alpha");
    underlined("gravity_not_met", "when 1 P");
    underlined("preserved_juice", "60 % apple juice, 30 mg/L SO2");
    underlined("yield_overrides_lauter", "lauter bag");
    underlined("stand_left_out", "stand 20 min");
    // A line that is not there: the block that would have it.
    underlined("plant_default", "brewhouse Old works");
}
