//! Substitutes for the demo and for small recipes: what is offered and told, and how it answers to changes of the
//! question.

use super::kitchen::{Kitchen, demo, demo_text, exact, in_stock, pot, whole};
use wortwright::catalogue::{Allergen, Catalogue, Entry};
use wortwright::diagnostic::ErrorKind;
use wortwright::recipe::Stock;
use wortwright::substitute::{Aspect, Effort, NoSubstitute};

#[test]
fn bounds_change_nothing_that_is_shown() {
    let kitchen = demo();
    for name in [
        "flaked spelt",
        "caramel malt 150 EBC",
        "honey",
        "northern brewer",
        "elderberry juice",
    ] {
        for options in [whole(), exact()] {
            let bounded = kitchen.propose(&[name], &options);
            let all = kitchen.propose(&[name], &options.clone().with_effort(Effort::Exhaustive));
            assert!(bounded == all, "{name}");
        }
    }
}

#[test]
fn doubling_the_batch_doubles_the_amounts_and_nothing_else() {
    let small = demo().propose(&["caramel malt 150 EBC"], &whole());
    let text = demo_text()
        .replace("batch 8 L", "batch 16 L")
        .replace("kettle 16 L", "kettle 32 L")
        .replace("fermenter 13 L", "fermenter 26 L")
        .replace("sparge 1.2 L", "sparge 2.4 L")
        .replace("evaporation 2.6 L/h", "evaporation 5.2 L/h")
        .replace("kettle loss 0.6 L", "kettle loss 1.2 L")
        .replace("weigh malt 5 g", "weigh malt 10 g");
    let large = Kitchen::read(&text).propose(&["caramel malt 150 EBC"], &whole());
    for (a, b) in small[0].proposals.iter().zip(&large[0].proposals) {
        assert!((a.distance - b.distance).abs() < 1e-6);
        for (x, y) in a.parts.iter().zip(&b.parts) {
            assert_eq!(x.name, y.name);
            let ratio = (y.mass.unwrap() / x.mass.unwrap()).value;
            assert!((ratio - 2.0).abs() < 1e-4, "{ratio}");
        }
    }
}

#[test]
fn a_smaller_stock_never_brings_a_nearer_substitute() {
    let text = demo_text();
    let (mut last, mut compared) = (0.0, 0);
    for lot in [
        "any     flaked wheat",
        "500 g   flaked wheat",
        "60 g    flaked wheat",
        "none    flaked wheat",
    ] {
        let kitchen = Kitchen::read(&text.replace("500 g   flaked wheat", lot));
        let answers = kitchen.propose(&["flaked spelt"], &in_stock());
        let first = &answers[0].proposals[0];
        if first.feasible {
            assert!(first.distance >= last - 1e-12, "{lot}");
            compared += usize::from(first.distance > last);
            last = first.distance;
        }
    }
    assert!(compared >= 2, "the lots must bind: {compared}");
}

#[test]
fn one_more_lot_never_brings_a_farther_substitute() {
    let nearest = |lots: &str| {
        let text = demo_text().replace("stock\n", &format!("stock\n{lots}"));
        let answers = Kitchen::read(&text).propose(&["flaked spelt"], &in_stock());
        let first = &answers[0].proposals[0];
        assert!(first.feasible);
        first.distance
    };
    let plain = nearest("");
    let mut nearer = 0;
    for lot in [
        "black malt",
        "sucrose",
        "rye malt",
        "flaked triticale",
        "flaked oats",
        "dextrin malt",
        "raw spelt",
        "spelt malt",
    ] {
        let distance = nearest(&format!("  any {lot}\n"));
        assert!(distance <= plain + 1e-12, "{lot}: {distance} after {plain}");
        nearer += usize::from(distance < plain - 1e-6);
    }
    assert!(nearer > 0, "one of them must help");
}

#[test]
fn an_ingredient_that_does_not_fit_changes_nothing() {
    let with = |lot: &str| {
        let text = demo_text().replace("stock\n", &format!("stock\n  any {lot}\n"));
        Kitchen::read(&text).propose(&["flaked spelt"], &in_stock())[0]
            .proposals
            .iter()
            .map(|p| (p.parts.clone(), p.distance))
            .collect::<Vec<_>>()
    };
    let plain = with("sour cherry juice");
    // Rice stays raw at 66 °C, and hops are no grain.
    assert_eq!(plain, with("raw milled rice"));
    assert_eq!(plain, with("cascade"));
}

#[test]
fn the_order_of_lots_does_not_matter() {
    let text = demo_text();
    let turned = text
        .replace("  500 g   flaked wheat\n", "")
        .replace("stock\n", "stock\n  500 g   flaked wheat\n");
    let shown = |text: &str| {
        Kitchen::read(text).propose(&["flaked spelt"], &in_stock())[0]
            .proposals
            .clone()
    };
    assert_eq!(shown(&text), shown(&turned));
}

#[test]
fn the_same_under_another_name_has_distance_zero() {
    let twin = Catalogue::builtin()
        .find("flaked spelt")
        .map(|found| found.entry.to_entry())
        .unwrap();
    let Entry::Fermentable(mut row) = twin else {
        panic!("a grain")
    };
    row.name = "Twin flakes".into();
    row.aliases = std::borrow::Cow::Borrowed(&[]);
    let catalogue = Catalogue::builtin().with([row.into()]);
    let kitchen = demo();
    let answers = kitchen.propose_from(catalogue, &["flaked spelt"], &whole());
    let answers = answers.unwrap();
    let first = &answers[0].proposals[0];
    assert_eq!(first.leader(), Some("Twin flakes"));
    assert_eq!(first.parts.len(), 1);
    let matching: f64 = first
        .distance_parts
        .iter()
        .filter(|part| {
            !matches!(
                part.what,
                Aspect::ToBuy | Aspect::Uncommon | Aspect::Unknown
            )
        })
        .map(|part| part.value)
        .sum();
    assert!(matching < 1e-12, "{matching}");
}

#[test]
fn allergens_that_come_and_go_are_told() {
    let kitchen = Kitchen::read(&pot(
        "  90 % pilsner malt\n  10 % flaked oats\n",
        "",
        "  any flaked wheat\n  any torrefied wheat\n",
    ));
    let answer = &kitchen.propose(&["flaked oats"], &in_stock())[0];
    assert!(!answer.proposals.is_empty());
    for proposal in &answer.proposals {
        assert_eq!(proposal.allergens_gained, [Allergen::Wheat]);
        assert_eq!(proposal.allergens_lost, [Allergen::Oats]);
    }
}

#[test]
fn without_candidates_the_answer_says_so() {
    let kitchen = Kitchen::read(&demo_text().replace("stock\n", "stock\n  none pale ale malt\n"));
    let empty = Kitchen {
        stock: Stock::default(),
        ..kitchen
    };
    let answer = &empty.propose(&["flaked spelt"], &in_stock())[0];
    assert_eq!(answer.no_substitute, Some(NoSubstitute::NoCandidates));
    assert!(answer.proposals.is_empty());
}

#[test]
fn an_unknown_name_is_refused_with_a_near_one() {
    let answers = demo().propose_from(Catalogue::builtin(), &["flaked spel"], &whole());
    let error = answers.unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
    assert!(error.help().unwrap().contains("flaked spelt"));
}

#[test]
fn what_the_stock_lacks_is_found() {
    let names: Vec<String> = demo()
        .propose(&[], &in_stock())
        .into_iter()
        .map(|answer| answer.name)
        .collect();
    assert_eq!(names, ["flaked spelt", "elderberry juice"]);
}

#[test]
fn json_has_the_names_of_the_exchange() {
    let answer = &demo().propose(&["flaked spelt"], &in_stock())[0];
    let json = serde_json::to_value(answer).unwrap();
    let first = &json["proposals"][0];
    for field in [
        "parts",
        "feasible",
        "gravity_residual_pct",
        "colour_residual_ebc",
        "distance",
        "distance_parts",
        "predicted",
        "allergens_gained",
        "allergens_lost",
        "practice",
        "variants",
    ] {
        assert!(!first[field].is_null(), "{field}");
    }
    assert!(first["parts"][0]["mass_kg"].is_f64());
    let swap: wortwright::recipe::Swap = serde_json::from_value(first["swap"].clone()).unwrap();
    assert_eq!(swap.replaced.name, "flaked spelt");
}
