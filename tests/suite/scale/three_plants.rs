//! The invented demos on three plants: every batch is delivered, and what fruit, syrup and hops that only stand do is the same beer.

use crate::brewing::{kg, l, near};
use wortwright::Job;
use wortwright::diagnostic::Severity;
use wortwright::process::{Assumption, Warning};
use wortwright::scale::{Outcome, Plan};
use wortwright::speech::Speaks;
use wortwright_tests::files::read;

const PLANTS: [&str; 3] = ["Stove top", "Boat shed", "Net loft"];

fn plans(demo: &str) -> Vec<Plan> {
    let texts = [demo, "three-plants"].map(|name| {
        let text = read(&format!("examples/data/{name}.gyle"));
        (format!("{name}.gyle"), text)
    });
    let job = Job::read(
        texts
            .iter()
            .map(|(name, text)| (name.as_str(), text.as_str())),
    )
    .unwrap();
    let plans = PLANTS.map(|plant| job.on(plant).unwrap().plan().unwrap());
    plans.into()
}

/// Nothing is out of reach, and the batch is there where the plant counts it, to what weighing out moves.
fn delivers(plans: &[Plan]) {
    for (plan, wanted_l) in plans.iter().zip([8.0, 23.0, 300.0]) {
        let errors = plan
            .outcomes
            .iter()
            .filter(|told| told.what.severity() == Severity::Error);
        assert_eq!(errors.count(), 0, "{:?}", plan.outcomes);
        let v = &plan.volumes;
        let filled = if plan.brewhouse.name == "Boat shed" {
            v.packaged
        } else {
            v.into_fermenter
        };
        near(l(filled), wanted_l, 2e-3, &plan.brewhouse.name);
    }
}

/// The fruit is a dose per litre in the vessel, the syrup a share of the extract; pulp keeps beer everywhere.
#[test]
fn a_fruited_dark_beer_with_syrup() {
    let plans = plans("bramble-buoy");
    delivers(&plans);
    let first = &plans[0];
    for plan in &plans {
        let original = plan.predicted.original.unwrap().plato();
        assert!((original - 16.8).abs() < 0.05, "{original}");
        let alcohol = |plan: &Plan| plan.predicted.alcohol.unwrap().percent();
        assert!((alcohol(plan) - alcohol(first)).abs() < 0.05);
        let fruit = plan
            .additions
            .iter()
            .find(|a| a.name == "blackberry")
            .unwrap();
        let fruit_kg = kg(fruit.mass.unwrap());
        near(
            fruit_kg / l(plan.volumes.into_fermenter),
            0.12,
            0.02,
            "120 g/L",
        );
        let kept = plan.assumptions.iter().find_map(|told| match &told.what {
            Assumption::KeptByFruit {
                kept,
                side: wortwright::process::Side::Target,
            } => Some(l(*kept)),
            _ => None,
        });
        // 12 kg/kg of pulp of 6.4 % less 0.85 of 5.5 % of seeds, and half of the seeds: 0.234 kg/kg.
        near(kept.unwrap(), 0.2345 / 1.008 * fruit_kg, 5e-3, "kept");
    }
}

/// Hops in the stand alone bitter by each plant's own cooling; where that gives another bitterness the ways out are named, and dry hops
/// keep 8 L/kg.
#[test]
fn a_pale_beer_hopped_in_the_stand_alone() {
    let plans = plans("quay-mist");
    delivers(&plans);
    for plan in &plans {
        let wanted = plan.source.bitterness.unwrap().ibu();
        let here = plan.predicted.bitterness.unwrap().ibu();
        assert!(wanted > 10.0 && here > 5.0, "{wanted} {here}");
        let ways = plan.outcomes.iter().find_map(|told| match &told.what {
            Outcome::BitternessNotMet { remedies, .. } => Some(remedies.len()),
            _ => None,
        });
        // 2 IBU or a fifth are noticed; what is less is not worth a word.
        let off = (here - wanted).abs();
        let is_noticed = off > f64::max(2.0, 0.2 * wanted);
        assert_eq!(ways.is_some(), is_noticed, "{here} {wanted}");
        assert_ne!(ways, Some(0));
        let mut told = plan.warnings.iter();
        let is_told = told.any(|told| matches!(told.what, Warning::NoBitteringHop { .. }));
        assert!(!is_told, "{here} {wanted}");
    }
}
