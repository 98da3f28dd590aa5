//! What is out of reach is said with the figure that can be reached, and each way out is taken and found to work.

use crate::brewing::{BIG, kg, l, near, original, plan};
use wortwright::process::Warning;
use wortwright::remedy::Remedy;
use wortwright::scale::{Outcome, Plan, Stop};

/// One malt, so that a share of the extract is a share of everything.
fn recipe(plato: f64, dissolved: Option<(&str, f64)>) -> String {
    let (line, rest) = match dissolved {
        Some((name, share)) => (
            format!("  {:.12} % {name} at 10 min\n", 100.0 * share),
            1.0 - share,
        ),
        None => (String::new(), 1.0),
    };
    format!(
        "recipe Strong\nbrewed on Big\nbatch 20 hL into fermenter\nshares by extract\ntarget original {plato:.9} P\n\
         mash\n  {:.12} % pale ale malt, extract 80 % dry, moisture 4 %\n  rest 66 C for 60 min\n\
         boil 60 min\n{line}  8 g/hL carrageenan at 10 min\nferment\n  pitch ale yeast, attenuation 76 %\n{BIG}\n",
        100.0 * rest
    )
}

fn on(recipe: &str, small: &str) -> Plan {
    plan(&format!("{recipe}brewhouse Small\n{small}\n"), "Small")
}

struct Plant {
    batch_l: f64,
    lauter: &'static str,
    sparge_l: f64,
    rest: &'static str,
}

impl Plant {
    fn text(&self) -> String {
        let sparge = if self.lauter == "lauter bag" {
            format!(", sparge {:.12} L", self.sparge_l)
        } else {
            String::new()
        };
        format!(
            "  batch {:.12} L into fermenter\n  {}{sparge}\n{}",
            self.batch_l, self.lauter, self.rest
        )
    }
}

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

/// Takes every remedy on its own, by changing the texts as a brewer would; a little more than the printed figure is
/// taken, since the least that works works only just.
fn every_remedy_works(plato: f64, plant: &Plant, remedies: &[Remedy]) {
    const MORE: f64 = 1e-9;
    for remedy in remedies {
        let (text, plant_text, batch_l) = match remedy {
            Remedy::Sparge { water, .. } => {
                let rinsed = Plant {
                    sparge_l: l(*water) * (1.0 + MORE),
                    ..*plant
                };
                (recipe(plato, None), rinsed.text(), plant.batch_l)
            }
            Remedy::SmallerBatch { batch, .. } | Remedy::SeveralBrews { batch, .. } => {
                let less = Plant {
                    batch_l: l(*batch) * (1.0 - MORE),
                    ..*plant
                };
                (recipe(plato, None), less.text(), less.batch_l)
            }
            Remedy::DriedExtract { mass, .. } | Remedy::Sugar { mass, .. } => {
                let first = on(&recipe(plato, None), &plant.text());
                // The kettle's wort at the wanted strength, by the plan's own volume.
                let density = density(plato / 100.0);
                let extract_kg = l(first.volumes.post_boil) * density * plato / 100.0;
                let (name, as_is) = match remedy {
                    Remedy::Sugar { .. } => ("sucrose, 100 % extract", 1.0),
                    _ => ("dried malt extract pale, 95 % extract", 0.95),
                };
                // The remedy's mass is of the catalogue's extract, whose figure the plan need not share with this line.
                let share = kg(*mass) * as_is / extract_kg * (1.0 + 0.01);
                (
                    recipe(plato, Some((name, share.min(1.0)))),
                    plant.text(),
                    plant.batch_l,
                )
            }
            Remedy::LongerBoil { boil, .. } => {
                let text = recipe(plato, None);
                let longer = format!("boil {:.9} min", boil.value / 60.0);
                (
                    text.replace("boil 60 min", &longer),
                    plant.text(),
                    plant.batch_l,
                )
            }
            // The kettle's own test takes it.
            Remedy::TopUp { .. } => continue,
            other => panic!("a remedy that no test takes: {other:?}"),
        };
        let helped = on(&text, &plant_text);
        assert!(
            helped.outcomes.is_empty(),
            "{remedy:?} leaves {:?}",
            helped.outcomes
        );
        near(original(&helped), plato, 1e-7, "strength with the remedy");
        near(
            l(helped.volumes.into_fermenter),
            batch_l,
            1e-9,
            "batch with the remedy",
        );
    }
}

/// ICUMSA at 20 °C, kg/L (see the demo).
fn density(w: f64) -> f64 {
    (998.2031
        + w * (385.1761
            + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 - 17.2890 * w))))))
        / 1000.0
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
        crate::brewing::sane(&plan);
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
    crate::brewing::sane(&plan);
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
}

#[test]
fn a_kettle_that_overflows() {
    let plant = Plant {
        batch_l: 20.0,
        lauter: "lauter batch, sparges 1",
        sparge_l: 0.0,
        rest: "  absorption 0.9 L/kg\n  evaporation 3 L/h\n  kettle 20 L\n  kettle loss 1 L",
    };
    let plan = on(&recipe(12.0, None), &plant.text());
    let (needed, capacity, largest, remedies) = plan
        .outcomes
        .iter()
        .find_map(|o| match &o.what {
            Outcome::KettleOverflows {
                needed,
                capacity,
                largest_batch,
                remedies,
            } => Some((
                l(*needed),
                l(*capacity),
                l(largest_batch.unwrap()),
                remedies.clone(),
            )),
            _ => None,
        })
        .unwrap();
    near(
        needed,
        l(plan.volumes.pre_boil_hot),
        1e-9,
        "hot wort before the boil",
    );
    near(capacity, 20.0, 1e-12, "capacity");
    assert!(remedies.len() >= 3, "{remedies:?}");
    every_remedy_works(12.0, &plant, &remedies);
    let with = |batch_l: f64| on(&recipe(12.0, None), &Plant { batch_l, ..plant }.text());
    assert!(with(largest * (1.0 - 1e-9)).outcomes.is_empty());
    assert!(!with(largest * 1.001).outcomes.is_empty());
    // Topping up: the stronger wort that fits, and the water, mixed by mass.
    let (water, reached) = remedies
        .iter()
        .find_map(|r| match r {
            Remedy::TopUp { water, reached } => Some((l(*water), reached.plato())),
            _ => None,
        })
        .unwrap();
    near(reached, 12.0, 1e-9, "after topping up");
    let extract_kg = 20.0 * density(0.12) * 0.12;
    let strong_kg = 20.0 * density(0.12) - water * 0.9982031;
    let strong = extract_kg / strong_kg;
    let into_l = strong_kg / density(strong);
    let boiled = on(
        &recipe(100.0 * strong, None),
        &Plant {
            batch_l: into_l * (1.0 - 1e-7),
            ..plant
        }
        .text(),
    );
    assert!(boiled.outcomes.is_empty(), "{:?}", boiled.outcomes);
}

/// A batch of hectolitres where litres were meant: the kettle's 20 L still name the batch that fits.
#[test]
fn a_kettle_hundreds_of_times_too_small() {
    let plant = Plant {
        batch_l: 8000.0,
        lauter: "lauter batch, sparges 1",
        sparge_l: 0.0,
        rest: "  absorption 0.9 L/kg\n  evaporation 3 L/h\n  kettle 20 L\n  kettle loss 1 L",
    };
    let largest = |batch_l: f64| {
        let plan = on(&recipe(12.0, None), &Plant { batch_l, ..plant }.text());
        plan.outcomes.iter().find_map(|o| match &o.what {
            Outcome::KettleOverflows { largest_batch, .. } => largest_batch.map(l),
            _ => None,
        })
    };
    // The kettle decides, whatever was asked for. Twenty halvings of a step of 2.5 % leave 2.4e-8 of it on either side.
    near(
        largest(8000.0).unwrap(),
        largest(20.0).unwrap(),
        5e-8,
        "largest batch",
    );
}

#[test]
fn a_fermenter_too_small_says_what_it_needs() {
    let small = "  batch 10 L into fermenter\n  lauter bag\n  evaporation 1 L/h\n  fermenter 12 L";
    let plan = on(&recipe(12.0, None), small);
    let warned = plan.warnings.iter().find_map(|w| match &w.what {
        Warning::FermenterSmall { needed, capacity } => Some((l(*needed), l(*capacity))),
        _ => None,
    });
    // Wort and a quarter of it as headspace.
    let (needed, capacity) = warned.unwrap();
    near(needed, 12.5, 1e-9, "needed");
    near(capacity, 12.0, 1e-12, "capacity");
    let fits = on(&recipe(12.0, None), &small.replace("12 L", "12.6 L"));
    assert!(
        fits.warnings
            .iter()
            .all(|w| !matches!(&w.what, Warning::FermenterSmall { .. }))
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
