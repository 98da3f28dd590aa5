//! Masses or shares, and the yield that they mean.

use super::{MALT, SMALL, YEAST, density, extract_kg, predicted, sheet};
use crate::brewing::{addition, kg, l, mass, near, plan_on};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::{Assumption, Prediction, Warning};
use wortwright::speech::Noted;

/// Printed shares that add up to 99.9 or 100.4 brew as what they are parts of a whole, and say so; a blend's as well.
#[test]
fn rounded_shares_brew_as_parts_of_the_whole() {
    let brewed = |parts: [f64; 2], juices: [f64; 2]| {
        let [one, other] = parts;
        let grist = format!("  {one:.9} % {MALT}\n  {other:.9} % wheat malt");
        let [one, other] = juices;
        let blend = format!(
            "{YEAST}\n  add 12 % by volume on day 4\n    {one:.9} % plum juice\n    {other:.9} % sour cherry juice"
        );
        predicted(&sheet("target original 12 P", &grist, "", &blend)).unwrap()
    };
    let whole = brewed([200.0 / 3.0, 100.0 / 3.0], [45.0 / 1.004, 55.4 / 1.004]);
    let sums = |found: &Prediction| -> Vec<f64> {
        let sums = found.assumptions.iter().filter_map(|a| match &a.what {
            Assumption::SharesNormalised { sum } => Some(sum.percent()),
            _ => None,
        });
        sums.collect()
    };
    assert!(sums(&whole).is_empty());
    let rounded = brewed([66.6, 33.3], [45.0, 55.4]);
    let told = sums(&rounded);
    assert_eq!(told.len(), 2);
    near(told[0], 100.4, 1e-9, "blend");
    near(told[1], 99.9, 1e-9, "grist");
    let alcohol = |found: &Prediction| found.predicted.alcohol.unwrap().percent();
    let gravity = |found: &Prediction| found.predicted.final_extract.unwrap().plato();
    near(alcohol(&rounded), alcohol(&whole), 1e-8, "alcohol");
    near(gravity(&rounded), gravity(&whole), 1e-8, "final gravity");
}

/// 2040 L at 12 °P hold 256.2 kg; a yield follows from any mass of malt of 76 % as is.
#[test]
fn masses_and_gravity_infer_the_yield() {
    let extract = extract_kg(12.0);
    assert!((extract - 256.2).abs() < 0.1, "{extract}");
    for (wanted, stated_apart, high) in [
        (0.80, true, false),
        (0.91, false, false),
        (0.985, true, true),
    ] {
        let kg = extract / 0.76 / wanted;
        let found = predicted(&sheet(
            "target original 12 P",
            &format!("  {kg:.9} kg {MALT}"),
            "  1 g/hL carrageenan at 10 min",
            YEAST,
        ))
        .unwrap();
        let inferred = found
            .assumptions
            .iter()
            .find_map(|a| match &a.what {
                Assumption::YieldInferred { reached } => Some(reached.fraction()),
                _ => None,
            })
            .unwrap();
        // The mass is written with nine decimals, the density with seven digits.
        near(inferred, wanted, 1e-7, "yield");
        near(
            found.predicted.original.unwrap().plato(),
            12.0,
            1e-9,
            "strength",
        );
        let has = |f: fn(&Noted<Warning>) -> bool| found.warnings.iter().any(f);
        // The plant states 92 %: three points apart are remarked on.
        assert_eq!(
            has(|w| matches!(&w.what, Warning::YieldsDisagree { .. })),
            stated_apart,
            "{wanted}"
        );
        assert_eq!(
            has(|w| matches!(&w.what, Warning::YieldHigh { .. })),
            high,
            "{wanted}"
        );
    }
    for impossible in [1.001, 1.3] {
        let kg = extract / 0.76 / impossible;
        let error = predicted(&sheet(
            "target original 12 P",
            &format!("  {kg:.9} kg {MALT}"),
            "  1 g/hL carrageenan at 10 min",
            YEAST,
        ))
        .unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Contradiction, "{error}");
    }
}

/// The same where sugar gives part of the extract in full: only the rest counts for the mash.
#[test]
fn sugar_counts_in_full_in_an_inferred_yield() {
    let extract = extract_kg(12.0);
    let kg = (extract - 30.0) / 0.76 / 0.9;
    let text = sheet(
        "target original 12 P",
        &format!("  {kg:.9} kg {MALT}"),
        "  30 kg sucrose, 100 % extract at 10 min",
        YEAST,
    );
    let found = predicted(&text).unwrap();
    near(
        found.predicted.extract_yield.unwrap().fraction(),
        0.9,
        1e-7,
        "yield",
    );
    // A packaged batch is sought through volumes at which the masses would contradict the gravity.
    let packaged = text.replace("batch 20 hL into fermenter", "batch 1970 L packaged");
    let found = predicted(&packaged).unwrap();
    near(l(found.volumes.packaged), 1970.0, 1e-9, "packaged");
    let into_fermenter = l(found.volumes.into_fermenter);
    assert!(
        into_fermenter > 1990.0 && into_fermenter < 2010.0,
        "{into_fermenter}"
    );
}

/// Shares of yielded extract: 25 % of the extract as sugar is a quarter of 256.2 kg, in full.
#[test]
fn shares_by_extract_are_of_what_is_in_the_wort() {
    let text = sheet(
        "shares by extract\ntarget original 12 P",
        &format!("  75 % {MALT}"),
        "  25 % sucrose, 100 % extract at 10 min",
        YEAST,
    );
    let plan = plan_on(&text, SMALL);
    let source = |name: &str| kg(addition(&plan, name).source_mass.unwrap());
    near(source("sucrose"), 0.25 * extract_kg(12.0), 1e-7, "sugar");
    near(
        source("pale ale malt"),
        0.75 * extract_kg(12.0) / 0.76 / 0.92,
        1e-7,
        "malt",
    );
    // By weight the sugar, which loses nothing, gives more than a quarter of the extract.
    let weight = plan_on(&text.replace("shares by extract\n", ""), SMALL);
    let sugar = kg(addition(&weight, "sucrose").source_mass.unwrap());
    let size = extract_kg(12.0) / (0.75 * 0.76 * 0.92 + 0.25);
    near(sugar, 0.25 * size, 1e-7, "sugar by weight");
    // On the target the sugar keeps its share of the extract, in a plant that yields less.
    let here = mass(&weight, "sucrose");
    let wort = 10.5 * density(0.12) * 0.12;
    near(
        here / wort,
        sugar / extract_kg(12.0),
        1e-7,
        "share of the extract",
    );
}
