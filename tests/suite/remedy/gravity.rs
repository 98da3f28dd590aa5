//! A gravity that a plant cannot reach.

use super::{Plant, density, every_remedy_works, on, recipe};
use crate::brewing::{kg, l, near, original, sane};
use wortwright::remedy::Remedy;
use wortwright::scale::{Outcome, Plan, Stop};

fn gravity_outcome(plan: &Plan) -> Option<(f64, f64, Stop, Vec<Remedy>)> {
    plan.outcomes.iter().find_map(|o| match &o.what {
        Outcome::GravityOutOfReach {
            wanted,
            highest,
            because,
            remedies,
        } => Some((wanted.plato(), highest.plato(), *because, remedies.clone())),
        _ => None,
    })
}

/// Plants that each stop at one thing.
fn stopped() -> Vec<(f64, Plant, Stop)> {
    vec![
        (
            34.0,
            Plant {
                batch_l: 10.0,
                lauter: "lauter bag",
                sparge_l: 0.0,
                rest: "  absorption 0.8 L/kg\n  evaporation 1 L/h",
            },
            Stop::TooThick,
        ),
        (
            18.0,
            Plant {
                batch_l: 10.0,
                lauter: "lauter bag",
                sparge_l: 0.0,
                rest: "  absorption 0.6 L/kg\n  evaporation 2 L/h\n  kettle 16 L",
            },
            Stop::VesselFull,
        ),
        (
            20.0,
            Plant {
                batch_l: 20.0,
                lauter: "lauter batch, sparges 2",
                sparge_l: 0.0,
                rest: "  absorption 0.9 L/kg\n  evaporation 3 L/h\n  mash tun 22 L",
            },
            Stop::VesselFull,
        ),
        (
            20.0,
            Plant {
                batch_l: 20.0,
                lauter: "lauter continuous, yield 85 %",
                sparge_l: 0.0,
                rest: "  absorption 0.9 L/kg\n  evaporation 3 L/h\n  mash tun 22 L\n  kettle loss 1 L",
            },
            Stop::VesselFull,
        ),
    ]
}

#[test]
fn each_limit_names_the_highest_and_three_ways_out() {
    for (plato, plant, stop) in stopped() {
        let plan = on(&recipe(plato, None), &plant.text());
        sane(&plan);
        let (wanted, highest, because, remedies) = gravity_outcome(&plan).unwrap();
        near(wanted, plato, 1e-9, "wanted");
        assert_eq!(because, stop);
        assert!(highest < plato, "{highest}");
        // The plan brews the highest, in the wanted batch.
        near(original(&plan), highest, 1e-7, "the plan's strength");
        near(
            l(plan.volumes.into_fermenter),
            plant.batch_l,
            1e-7,
            "the plan's batch",
        );
        assert!(remedies.len() >= 3, "{remedies:?}");
        every_remedy_works(plato, &plant, &remedies);
        // The figure named is reached, and a thousandth more is not.
        let at = on(&recipe(highest * (1.0 - 1e-7), None), &plant.text());
        assert!(
            at.outcomes.is_empty(),
            "{highest} is not reached: {:?}",
            at.outcomes
        );
        near(original(&at), highest, 1e-6, "the highest");
        let above = on(&recipe(highest * 1.001, None), &plant.text());
        assert!(
            gravity_outcome(&above).is_some(),
            "{} is reached too",
            highest * 1.001
        );
    }
}

/// Grain that keeps all it can: sparging and smaller batches do not help, dissolving does.
#[test]
fn grain_that_holds_back_is_named() {
    let plant = Plant {
        batch_l: 8.0,
        lauter: "lauter bag",
        sparge_l: 0.0,
        rest: "  absorption 5 L/kg\n  evaporation 1 L/h",
    };
    let plan = on(&recipe(25.0, None), &plant.text());
    let (_, highest, because, remedies) = gravity_outcome(&plan).unwrap();
    assert_eq!(because, Stop::GrainHoldsBack);
    near(original(&plan), highest, 1e-7, "the plan's strength");
    every_remedy_works(25.0, &plant, &remedies);
    let at = on(&recipe(highest * (1.0 - 1e-7), None), &plant.text());
    assert!(at.outcomes.is_empty(), "{:?}", at.outcomes);
    assert!(gravity_outcome(&on(&recipe(highest * 1.001, None), &plant.text())).is_some());
}

#[test]
fn a_plant_without_a_mash_takes_extract_for_grain() {
    let plant = Plant {
        batch_l: 8.0,
        lauter: "no mash",
        sparge_l: 0.0,
        rest: "  evaporation 1 L/h\n  kettle loss 0.5 L",
    };
    let plan = on(&recipe(12.0, None), &plant.text());
    sane(&plan);
    let (_, highest, because, remedies) = gravity_outcome(&plan).unwrap();
    assert_eq!(because, Stop::NoMash);
    assert_eq!(highest, 0.0);
    // Nothing but what dissolves can help, so that there is one way out and not three.
    let [Remedy::DriedExtract { mass, reached }] = remedies.as_slice() else {
        panic!("{remedies:?}");
    };
    near(reached.plato(), 12.0, 1e-9, "reached");
    // 8.5 L at 12 °P hold 8.5 x 1.0465 x 0.12 kg; pale dried extract has some 95 % as is.
    let extract_kg = 8.5 * density(0.12) * 0.12;
    assert!(
        (kg(*mass) * 0.95 - extract_kg).abs() < 0.03 * extract_kg,
        "{}",
        kg(*mass)
    );
    // The plan that is shown still fills the batch.
    near(l(plan.volumes.into_fermenter), 8.0, 1e-7, "batch");
    let text = recipe(12.0, Some(("dried malt extract pale, 95 % extract", 1.0)))
        .lines()
        .filter(|line| !line.contains("pale ale malt"))
        .collect::<Vec<_>>()
        .join("\n");
    let helped = on(&format!("{text}\n"), &plant.text());
    assert!(helped.outcomes.is_empty());
    near(original(&helped), 12.0, 1e-7, "strength from extract");
    // The sheet is for the extract, boiled as its wort would be, and has nothing of the grain, which nobody is to buy.
    let sheet = plan.to_string();
    let (_, sheet) = sheet.split_once("SHOPPING").unwrap();
    let (steps, _) = sheet.split_once("CHANGES").unwrap();
    assert!(!steps.contains("pale ale malt"), "{steps}");
    let boiled = steps
        .lines()
        .filter(|line| line.contains("dried malt extract pale,"));
    let boiled: Vec<_> = boiled.collect();
    // It dissolves before the boil begins.
    assert!(
        boiled.len() == 1 && boiled[0].contains("  dissolve  "),
        "{steps}"
    );
}

/// The gravity that a remedy says it reaches.
fn reached(remedy: &Remedy) -> Option<f64> {
    match remedy {
        Remedy::Sparge { reached, .. }
        | Remedy::DriedExtract { reached, .. }
        | Remedy::Sugar { reached, .. }
        | Remedy::SmallerBatch { reached, .. }
        | Remedy::SeveralBrews { reached, .. }
        | Remedy::LongerBoil { reached, .. }
        | Remedy::ExtractBatch { reached, .. }
        | Remedy::TopUp { reached, .. } => Some(reached.plato()),
        _ => None,
    }
}

#[test]
fn no_way_out_misses_the_gravity() {
    let mut seen = 0;
    // 1.034, 1.069 and 1.100 on American kettles, with and without a known yield.
    for plato in [8.5, 16.8, 23.8] {
        for lauter in [
            "lauter bag",
            "lauter bag, sparge 1 gal",
            "lauter batch, sparges 1",
            "lauter continuous",
            "no mash",
            "extract yield 75 %",
        ] {
            for kettle in [2.5, 4.0, 5.5, 7.0, 9.0, 15.0] {
                for batch in [1.0, 3.0, 5.5, 10.0] {
                    let plant = format!(
                        "  batch {batch} gal into fermenter\n  {lauter}\n  kettle {kettle} gal\n  evaporation 1 gal/h\n  kettle loss 0.25 gal"
                    );
                    let plan = on(&recipe(plato, None), &plant);
                    for remedy in plan.outcomes.iter().flat_map(|outcome| outcome.remedies()) {
                        let reached = reached(remedy).expect("a remedy for gravity or kettle");
                        near(reached, plato, 1e-6, &format!("{remedy:?} on {plant}"));
                        seen += 1;
                    }
                }
            }
        }
    }
    assert!(seen > 100, "{seen}");
}
