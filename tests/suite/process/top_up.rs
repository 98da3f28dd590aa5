//! Water that makes up the wort in the fermenter: a part of the wort is boiled, stronger.

use crate::brewing::{job, kg, l, weighed};
use wortwright::Job;
use wortwright::catalogue::Kind;
use wortwright::recipe::{Amount, Content, Ingredient};
use wortwright::scale::Plan;

/// 20 L of 12 °P on a plant that yields 80 %, with so much loss in the kettle.
fn text(loss: &str, top_up: &str) -> String {
    format!(
        "recipe Try\nbrewed on Pot\nbatch 20 L into fermenter\noriginal 12 P\nmash\n  100 % pale ale malt, 80 % extract dry, moisture 4 %\n  \
         rest 65 C for 60 min\nboil 60 min\n  30 g northern brewer, 9 % alpha at 60 min\nferment\n{top_up}  \
         pitch ale yeast, attenuation 75 %\nbrewhouse Pot\n  batch 20 L into fermenter\n  extract yield 80 %\n  \
         evaporation 2 L/h\n  kettle loss {loss}\n  fermenter loss 0 L\nbrewhouse Home\n  batch 10 L into fermenter\n  \
         kettle 15 L\n  lauter bag\n  evaporation 2 L/h\n  kettle loss 0.5 L\n"
    )
}

fn brewed(loss: &str, top_up: &str) -> Plan {
    job(&text(loss, top_up), "Pot").exact()
}

fn near(found: f64, wanted: f64, room: f64) {
    assert!((found - wanted).abs() <= room, "{found} is not {wanted}");
}

fn malt_kg(found: &Plan) -> f64 {
    found
        .additions
        .iter()
        .find_map(|a| a.mass.filter(|_| a.name == "pale ale malt"))
        .map(kg)
        .unwrap()
}

/// 20 L of 12 °P weigh 20 x 1.0465 = 20.93 kg by Plato's table and hold 2.511 kg of extract, 80 % of 0.768 of the malt: 4.087 kg. With 4 L
/// of water in the fermenter 16 L are boiled, as strong as 2.511 kg in 16.94 kg, 14.8 °P. Of wort that stays in the kettle a litre of
/// 17 takes 1/17 of the extract along, of 21 that are all boiled 1/21.
#[test]
fn what_stays_in_the_kettle_is_not_thinned() {
    let bare_kg = malt_kg(&brewed("0 L", ""));
    near(bare_kg, 4.087, 0.005);
    for (loss, top_up, times) in [
        ("0 L", "  top up with 4 L water\n", 1.0),
        ("1 L", "", 21.0 / 20.0),
        ("1 L", "  top up with 4 L water\n", 17.0 / 16.0),
        ("1 L", "  top up with 10 L water\n", 11.0 / 10.0),
    ] {
        let found = brewed(loss, top_up);
        near(malt_kg(&found) / bare_kg, times, 1.5e-3);
        near(found.predicted.original.unwrap().plato(), 12.0, 1e-3);
        near(l(found.volumes.into_fermenter), 20.0, 5e-3);
        // The beer is the same.
        near(found.predicted.final_extract.unwrap().plato(), 3.0, 2e-3);
    }
    let found = brewed("1 L", "  top up with 4 L water\n");
    near(l(found.volumes.post_boil), 17.0, 0.02);
    near(l(found.volumes.pre_boil), 19.0, 0.02);
}

/// Tinseth's utilisation goes by 0.000125 to the power of the gravity above one. With 4 L left out the boil goes from 18 to 16 L, from
/// 1.0538 to 1.0605 (48.4 x 20 / 18 and 16), in the mean 1.0570; without, from 22 to 20 L, 1.0461. By that hops give 0.907 as much,
/// all of it in the same 20 L.
#[test]
fn hops_are_used_less_in_the_stronger_boil() {
    let ibu = |found: &Plan| found.predicted.bitterness.unwrap().ibu();
    let [full, part] = ["", "  top up with 4 L water\n"].map(|top_up| ibu(&brewed("0 L", top_up)));
    near(part / full, 0.907, 4e-3);
    let half = ibu(&brewed("0 L", "  top up with 10 L water\n"));
    // 12 to 10 L: 1.0807 to 1.0968, in the mean 1.0884: 0.000125 to the power of 0.0423.
    near(half / full, 0.000_125_f64.powf(0.0423), 8e-3);
}

#[test]
fn it_travels_with_the_wort_and_stands_on_the_sheet() {
    let plan: Plan = weighed(&text("1 L", "  top up with 4 L water\n"), "Home");
    // 4 of 21 L there, as much of 10.5 here.
    let water = plan.additions.iter().find(|a| a.name == "water").unwrap();
    near(water.volume.map(l).unwrap(), 4.0 * 10.5 / 21.0, 0.03);
    near(plan.predicted.original.unwrap().plato(), 12.0, 0.05);
    near(l(plan.volumes.into_fermenter), 10.0, 0.05);
    let sheet = plan.to_string();
    assert!(
        sheet.contains("cold, clean water into the fermenter"),
        "{sheet}"
    );
    assert!(!sheet.contains("FERMENTER ADDITIONS"), "{sheet}");
    assert!(!sheet.contains("gassy beer"), "{sheet}");
    assert!(
        sheet.contains("water: same proportion, 20 % of the volume"),
        "{sheet}"
    );
    // Bag and grain with water for 8.5 L of wort go into 15 L, not those for 10.5.
    assert!(plan.outcomes.is_empty(), "{:?}", plan.outcomes);
    let full = weighed(&text("1 L", ""), "Home");
    assert!(!full.outcomes.is_empty());
    let original = |plan: &Plan| plan.predicted.original.unwrap().plato();
    let again = weighed(&plan.to_document().to_string(), "Home");
    // What parts them is the malt, which is written to four digits: by 0.16 of 2273 g here, of 12 °P that is 0.0008, and by 0.5 g at the most 0.0026.
    let written = (malt_kg(&again) / malt_kg(&plan) - 1.0).abs();
    assert!(written < 2.5e-4, "{written}");
    near(original(&again), original(&plan), 12.0 * written + 1e-6);
    // With all digits nothing does.
    let exact = job(&text("1 L", "  top up with 4 L water\n"), "Home").exact();
    let again = job(&exact.to_document().to_string(), "Home").exact();
    near(original(&again), original(&exact), 1e-6);
    let again = weighed(&plan.to_document().to_string(), "Home");
    let litres = |plan: &Plan| match plan.recipe.fermentation.top_up.as_ref().unwrap().amount {
        Some(Amount::Volume(written)) => l(written.value()),
        ref other => panic!("{other:?}"),
    };
    near(litres(&again), litres(&plan), 1e-3);
}

/// Trub and hops keep wort that is not thinned, as much as their own share says: the figures of the sheet are met all the same.
#[test]
fn where_trub_keeps_wort_the_sheets_figures_are_met() {
    for water in ["2 L", "4 L", "9 L"] {
        let text = format!(
            "recipe Try\nbatch 20 L into fermenter\noriginal 1.048\nmash\n  100 % pale ale malt\n  rest 65 C for 60 min\nboil 60 min\n  \
             60 g northern brewer, 9 % alpha at 60 min\nferment\n  top up with {water} water\n  pitch ale yeast\n\
             brewhouse Home\n  batch 10 L into fermenter\n  kettle 20 L\n"
        );
        let plan = job(&text, "Home").exact();
        for figures in [&plan.source, &plan.predicted] {
            // 1.048 are 11.91 °P by Plato's table.
            near(figures.original.unwrap().plato(), 11.91, 0.01);
        }
        near(plan.source.batch.map(l).unwrap(), 20.0, 0.02);
        near(plan.predicted.batch.map(l).unwrap(), 10.0, 0.02);
    }
}

/// A model may name anything there: alcohol would boil off, and extract would count as water.
#[test]
fn only_water_makes_up_a_wort() {
    let job = Job::read([("text", text("0 L", "  top up with 4 L water\n"))]).unwrap();
    let predicted = |name: &str, kind| {
        let mut recipe = job.recipe().unwrap().clone();
        let water = recipe.fermentation.top_up.as_mut().unwrap();
        water.content = Content::Single(Ingredient::new(name, kind));
        let builder = Job::builder(recipe).plant(job.brewhouses()[0].clone());
        builder.build().unwrap().on("Pot").unwrap().predict()
    };
    assert!(predicted("tap water", Kind::Beverage).is_ok());
    for (name, kind) in [("vodka", Kind::Beverage), ("apple juice", Kind::Juice)] {
        let error = predicted(name, kind).unwrap_err();
        assert!(error.to_string().contains("only water does"), "{error}");
        let place = error.place().unwrap().to_string();
        assert!(place.starts_with("recipe.fermentation.top_up"), "{place}");
    }
}
