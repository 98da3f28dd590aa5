//! The inputs that entries speak of are fields of the models, by the path that their JSON has.

use serde_json::{Value, json};
use std::collections::BTreeSet;
use wortwright::Job;
use wortwright::advice::{DayReading, Shown};
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::{Place, Source};
use wortwright::job::Brew;
use wortwright::notation::read;
use wortwright::quantity::{Extract, Ph};
use wortwright::recipe::{Brewhouse, Log, Recipe, Stock};
use wortwright::speech::Speaks;

/// One recipe that much is to be said of, on a plant that says little and one that says a lot, with a stock and two logs.
const TEXT: &str = "recipe Much to say
batch 20 hL into fermenter
brewed on Old works
target original 15 P, final 3 P, alcohol 9 %, bitterness 80 IBU, colour 90 EBC, carbonation 5 g/L
water calcium 60 mg/L, sulphate 70 mg/L
mash
  70 % pale malt
  20.2 % wheat malt
  rest 52 C for 10 min
  rest 66 C for 50 min
  pH 5.3
boil
  10 % honey at 10 min
  20 IBU northern brewer, 9 % alpha at 60 min
  30 g/hL saaz at 5 min
stand 20 min
stand 20 min at 85 C
  30 g/hL saaz
ferment
  pitch ale yeast at 20 C
  hold 20 C for 5 days
  add 10 % by volume when 1 P
    60 % apple juice, 30 mg/L SO2
    40 % pear juice
  add 100 g/hL saaz on day 5
package
  bottle, carbonate 9 g/L
brewhouse Old works
  extract yield 60 %
  stand 10 min
brewhouse Home
  batch 10 L into fermenter
  kettle 8 L
  fermenter 9 L
  lauter bag
  extract yield 70 %
  evaporation 4 L/h
  water calcium 20 mg/L, alkalinity 150 mg/L
brewhouse Other
  batch 10 L packaged
stock
  none wheat malt
  5 kg pale malt, 9 EBC, 4 % moisture
  any saaz, 4 % alpha
log one
  pitched 10 L at 15 P on day 0
  reading 9 Bx by refractometer on day 1
  drawn 100 mL on day 1
  added 1 L apple juice on day 2
  reading 4 Bx on day 9
";

/// The models as a host has them in JSON.
struct Models(Value);

impl Models {
    fn of(job: &Job) -> Self {
        Self(json!({
            "recipe": job.recipe(),
            "brewhouses": job.brewhouses(),
            "stock": job.stock(),
            "logs": job.logs(),
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
    let measured = Ph::from_value(5.8).unwrap();
    let wanted = Ph::from_value(5.3).unwrap();
    let of_day = [
        DayReading::MashPh { measured, wanted },
        DayReading::InFermenter {
            volume: None,
            shown: Some(Shown::Hydrometer(Extract::from_plato(13.0).unwrap())),
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
    assert!(places.iter().any(|found| found == place), "{places:?}");
}

#[test]
fn entries_point_at_what_they_speak_of() {
    check("alcohol_disagrees", "recipe.targets.alcohol_abv_pct");
    check("boil_time", "recipe.boil.time_min");
    check("cannot_be_bought", "stock.lots[0]");
    check("kettle_overflows", "brewhouses[Home].kettle_l");
    check("fermenter_small", "brewhouses[Home].fermenter_l");
    check("yield_overrides_lauter", "brewhouses[Home].lauter");
    check("lot_figure", "stock.lots[1].held[0].facts.colour_ebc");
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
    let reading = read(&[Source::new("text", TEXT)]);
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

/// What the text says of the input that an entry of that code points at.
#[track_caller]
fn underlined(code: &str, words: &str) {
    let job = Job::read([("text", TEXT)]).unwrap();
    let said = said(&job.on("Home").unwrap());
    let reading = read(&[Source::new("text", TEXT)]);
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
