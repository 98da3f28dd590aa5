//! A kettle or a fermenter that is too small.

use super::{Plant, density, every_remedy_works, on, recipe};
use crate::brewing::{l, near};
use wortwright::process::Warning;
use wortwright::remedy::Remedy;
use wortwright::scale::{Outcome, Plan};

#[test]
fn a_kettle_that_overflows_names_the_batch_that_fits() {
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
    // A tenth of the 20 L stays free for the foam.
    let fits = with(largest * (1.0 - 1e-9));
    assert!(fits.outcomes.is_empty());
    near(
        l(fits.volumes.pre_boil_hot),
        18.0,
        1e-6,
        "hot wort of the batch that fits",
    );
    assert!(nearly_full(&fits).is_none());
    let (filled, capacity, hold_back) = nearly_full(&with(largest * 1.05)).unwrap();
    near(capacity, 20.0, 1e-12, "capacity");
    near(
        filled - hold_back,
        18.0,
        1e-9,
        "filled when some is held back",
    );
    assert!(!with(largest * 1.2).outcomes.is_empty());
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

/// What is told of a kettle that holds the wort and not its foam: hot litres, what it holds, what is to be held back.
fn nearly_full(plan: &Plan) -> Option<(f64, f64, f64)> {
    plan.warnings.iter().find_map(|told| match &told.what {
        Warning::KettleNearlyFull {
            filled,
            capacity,
            hold_back,
        } => Some((l(*filled), l(*capacity), l(*hold_back))),
        _ => None,
    })
}

/// A bag takes all of the water: 4.5 kg of grain at 0.67 L/kg and some 27 L of water fill 30 L at 65 °C. A ninth more of a vessel is room
/// enough.
#[test]
fn a_mash_that_cannot_be_stirred_is_told() {
    let told = |kettle_l: f64| {
        let plant = format!(
            "  batch 20 L into fermenter\n  lauter bag\n  absorption 0.8 L/kg\n  evaporation 3 L/h\n  kettle {kettle_l} L\n  kettle loss 1 L"
        );
        let plan = on(&recipe(12.0, None), &plant);
        let mash_l = l(plan.volumes.mash_hot);
        let told = plan.warnings.iter().find_map(|told| match &told.what {
            Warning::MashNearlyFull {
                filled, hold_back, ..
            } => Some((l(*filled), l(*hold_back))),
            _ => None,
        });
        (mash_l, told, plan.outcomes.is_empty())
    };
    let (mash_l, none, _) = told(60.0);
    assert_eq!(none, None);
    let (_, tight, fits) = told(mash_l / 0.98);
    let (filled, hold_back) = tight.unwrap();
    assert!(fits);
    near(filled, mash_l, 1e-9, "mash");
    near(
        filled - hold_back,
        0.95 * mash_l / 0.98,
        1e-9,
        "with some held back",
    );
    assert_eq!(told(mash_l / 0.94).1, None);
}

/// A batch of hectolitres where litres were meant: the kettle's 20 L still name the batch that fits.
#[test]
fn a_kettle_hundreds_of_times_too_small_names_the_batch_that_fits() {
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
        Warning::FermenterSmall {
            needed, capacity, ..
        } => Some((l(*needed), l(*capacity))),
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
