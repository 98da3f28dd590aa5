//! What nobody knows, what a line states, and what contradicts the ingredient table.

use super::{Lines, PLAIN, abv, finished_l, places};
use crate::brewing::near;
use wortwright::process::Prediction;
use wortwright::speech::{Speaks, Style};

/// 2 g/L in 20 L are 40 g.
#[test]
fn the_unknown_is_carried_along_as_a_trace_and_refused_above() {
    let ferment = "  38 g unheard powder on day 7\n";
    let trace = Lines { ferment, ..PLAIN }.predicted();
    let told = places(&trace, "carried_per_litre");
    assert_eq!(
        told,
        ["recipe.fermentation.additions[0].content.single.facts"]
    );
    let carried =
        |entry: &&wortwright::speech::Noted<_>| Speaks::code(*entry) == "carried_per_litre";
    let entry = trace.assumptions.iter().find(carried).unwrap();
    assert!(entry.text(Style::default()).contains("safe in food"));
    for ferment in [
        "  50 g unheard powder on day 7\n",
        "  25 g unheard powder on day 7\n  26 g unheard powder on day 8\n",
        "  5 mL unheard powder on day 7\n",
        "  1 g/L unheard powder on day 7\n  1.1 g/L unheard powder on day 8\n",
    ] {
        Lines { ferment, ..PLAIN }.refused_at("unheard powder", "`unheard powder, 60 % extract`");
    }
    let package = "  1 g unheard powder\n";
    Lines { package, ..PLAIN }.refused_at("unheard powder", "`unheard powder, brings nothing`");
    let boil = format!("{}  45 g unheard powder at 5 min\n", PLAIN.boil);
    Lines {
        boil: &boil,
        ..PLAIN
    }
    .refused_at("unheard powder", "9 Bx");
}

#[test]
fn fruit_without_a_brix_is_refused_however_little() {
    let ferment = "  10 g fresh carrots on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("carrots", "`fresh carrots, 8.5 Bx`");
    // A fruit that the catalogue has without its figures.
    let ferment = "  10 g damsons on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("damsons", "`12 Bx`");
    // What the help says can be typed. 3 kg of 10.5 °Bx with 7.7 % of pulp, which does not dissolve: 0.315 kg of extract and 2.454 kg
    // of water, at 0.62 and 1.0018 L/kg.
    let ferment = "  3 kg fresh raspberries, 10.5 Bx on day 7\n";
    let found = Lines { ferment, ..PLAIN }.predicted();
    let grown = finished_l(&found) - finished_l(&PLAIN.predicted());
    near(grown, 2.654, 0.01, "litres");
}

/// 60 % of 500 g are 300 g of extract. Of 2.0665 g a gram becomes ethanol (Balling), of 0.7892 g/mL.
#[test]
fn the_line_says_what_it_brings() {
    let plain = PLAIN.predicted();
    let ethanol_ml = |found: &Prediction| 10.0 * abv(found) * finished_l(found);
    for package in [
        "  500 g unheard sugar, 60 % extract on day 7\n",
        "  500 g unheard sugar, 60 % extract when 5 P\n",
    ] {
        let sweet = Lines {
            ferment: package,
            ..PLAIN
        }
        .predicted();
        near(
            ethanol_ml(&sweet) - ethanol_ml(&plain),
            300.0 / 2.0665 / 0.7892,
            0.001,
            "ethanol",
        );
    }
    let ferment = "  500 g unheard powder, brings nothing on day 7\n";
    let nothing = Lines { ferment, ..PLAIN }.predicted();
    assert_eq!(nothing.predicted, plain.predicted);
    assert_eq!(places(&nothing, "carried_per_litre").len(), 1);
    let ferment = "  2 L unheard drink, brings nothing on day 7\n";
    let thin = Lines { ferment, ..PLAIN }.predicted();
    near(finished_l(&thin), finished_l(&plain) + 2.0, 0.001, "litres");
}

#[test]
fn nothing_is_not_what_is_known_to_bring_something() {
    for name in [
        "sucrose",
        "apple juice",
        "unheard sugar, 60 % extract",
        "vodka",
        "cascade, pellet",
        "gypsum",
    ] {
        let ferment = format!("  50 g {name}, brings nothing on day 7\n");
        Lines {
            ferment: &ferment,
            ..PLAIN
        }
        .refused_at("brings nothing", "delete `brings nothing`");
    }
    // A spice does bring nothing that is counted, and water brings itself.
    let ferment = "  50 g vanilla, brings nothing on day 7\n  1 L water, brings nothing on day 7\n";
    let found = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&found),
        finished_l(&PLAIN.predicted()) + 1.0,
        0.001,
        "litres",
    );
}

/// 500 g of each: the solids of the catalogue's rows.
#[test]
fn sugars_of_the_kitchen_are_counted() {
    for (name, extract_kg) in [
        ("muscovado sugar", 0.5 * 0.985 * 0.97),
        ("powdered sugar", 0.5),
        ("icing sugar", 0.5),
        ("jam", 0.5 * 0.985 * 0.64),
        ("caster sugar", 0.5),
    ] {
        let text = Lines {
            ferment: &format!("  500 g {name} on day 7\n"),
            ..PLAIN
        }
        .text();
        let job = wortwright::Job::read([("text", text)]).unwrap();
        let plan = job.on("Home").unwrap().plan().unwrap();
        let sugar = plan.additions.iter().find(|a| a.name == name).unwrap();
        near(
            crate::brewing::kg(sugar.extract.unwrap()),
            extract_kg,
            2e-4,
            name,
        );
    }
}

#[test]
fn grain_is_refused_wherever_it_is_not_mashed() {
    let boil = format!("{}  200 g black malt at 5 min\n", PLAIN.boil);
    Lines {
        boil: &boil,
        ..PLAIN
    }
    .refused_at("black malt", "`mash`");
    let hot = "stand 20 min at 80 C\n  200 g black malt for 20 min\n";
    Lines { hot, ..PLAIN }.refused_at("black malt", "`mash`");
    let ferment = "  200 g flaked oats on day 7\n";
    Lines { ferment, ..PLAIN }.refused_at("flaked oats", "`500 mL steeped flaked oats, 4 Bx`");
    let ferment = "  500 mL steeped flaked oats, 4 Bx on day 7\n";
    let found = Lines { ferment, ..PLAIN }.predicted();
    near(
        finished_l(&found),
        finished_l(&PLAIN.predicted()) + 0.5,
        0.001,
        "litres",
    );
}

/// A model that means an entry of the catalogue and says another kind is refused at the kind.
#[test]
fn a_kind_that_contradicts_the_entry_is_refused_at_its_place() {
    let job = wortwright::Job::read([("text", PLAIN.text())]).unwrap();
    let mut recipe = job.recipe().unwrap().clone();
    let hop = recipe.boil.additions.remove(0);
    let mut json = serde_json::to_value(&hop).unwrap();
    json["content"]["single"]["kind"] = "salt".into();
    recipe
        .boil
        .additions
        .push(serde_json::from_value(json).unwrap());
    let builder = wortwright::Job::builder(recipe).plant(job.brewhouses()[0].clone());
    let error = builder.build().unwrap().on("Home").unwrap().predict();
    let error = error.unwrap_err();
    let place = error.place().unwrap().to_string();
    assert_eq!(place, "recipe.boil.additions[0].content.single.kind");
    assert!(error.to_string().contains("`hop`"), "{error}");
    // So is a lot of the stock.
    let text = PLAIN.text() + "stock\n  any cascade\n";
    let job = wortwright::Job::read([("text", text)]).unwrap();
    let mut json = serde_json::to_value(job.stock()).unwrap();
    json["lots"][0]["any"]["kind"] = "malt".into();
    let builder = wortwright::Job::builder(job.recipe().unwrap().clone());
    let builder = builder.plant(job.brewhouses()[0].clone());
    let builder = builder.stock(serde_json::from_value(json).unwrap());
    let error = builder.build().unwrap().on("Home").unwrap().plan();
    let place = error.unwrap_err().place().unwrap().to_string();
    assert_eq!(place, "stock.lots[0].any.kind");
}
