//! What is told of later additions: their gravities, their share of the vessel, preservatives; and a plan that is read again.

use crate::brewing::{BIG, job, l, near, predicted_on};
use wortwright::advice::{DayReading, Shown};
use wortwright::process::{PredictedFigure, Prediction, Warning};
use wortwright::quantity::Volume;
use wortwright::scale::{Change, Plan, WeighOut};
use wortwright::sheet::SheetOptions;
use wortwright::speech::{Noted, Speaks, Style};
use wortwright_tests::fixtures::{changed, fixture};

fn recipe(ferment: &str) -> String {
    let changes = [
        (
            "ale yeast, attenuation 76 %",
            "farmhouse ale yeast, attenuation 80 %",
        ),
        ("  # into the fermenter\n", ferment),
    ];
    changed(&fixture("plain"), &changes) + BIG
}

fn plan(ferment: &str) -> Plan {
    let text = recipe(ferment) + "\nbrewhouse Small\n  batch 20 L into fermenter\n";
    job(&text, "Small").scaled(WeighOut::Rounded).unwrap()
}

fn read_again(plan: &Plan) -> Prediction {
    let text = plan.to_document().to_string();
    predicted_on(&text, &plan.brewhouse.name)
}

/// How well volumes are read says nothing of what is weighed: beside a kilogram of lactose a drop of water adds no doubt.
#[test]
fn a_drop_beside_what_is_weighed_leaves_the_doubt_as_it_is() {
    let final_plato = |ferment: &str| {
        let plan = plan(ferment);
        let spread = plan.spread.unwrap();
        spread.of(PredictedFigure::Final).unwrap().one_sigma
    };
    let lactose = "  add 50 g/L lactose on day 7\n";
    let dry = final_plato(lactose);
    let with_a_drop = final_plato(&format!("{lactose}  add 0.001 mL/L water on day 8\n"));
    near(with_a_drop, dry, 1e-4 * dry, "spread");
}

const TWICE: &str =
    "  add 10 % by volume when 5 P\n    100 % apple juice, 12 Bx\n  add 15 g/L sucrose on day 7\n";

#[test]
fn each_later_addition_has_its_gravities() {
    let plan = plan(TWICE);
    let of = |name: &str| {
        let found = plan.additions.iter().find(|a| a.name == name).unwrap();
        (found.before.unwrap().plato(), found.after.unwrap().plato())
    };
    // Nine volumes at 5 °P and one at 12 (1017.89 and 1046.44 kg/m³) are 1020.75 kg/m³, 5.72 °P.
    let (before, after) = of("apple juice");
    near(before, 5.0, 1e-9, "when 5 P");
    near(after, 5.72, 0.01, "with the juice");
    // On day 7 all has fermented that can; 15 g/L of sucrose raise the density by 15 (1 − 1.0072 · 0.62) = 5.6 kg/m³, 1.44 °P.
    let (before, after) = of("sucrose");
    near(after - before, 1.44, 0.03, "with the sugar");
    assert!(before < 3.0, "{before}");
    // The headline figures stay those of the first.
    near(
        plan.predicted.before_addition.unwrap().plato(),
        5.0,
        1e-9,
        "first",
    );
    let hops = self::plan("  add 2 g/L saaz on day 5\n");
    let hop = hops.additions.iter().find(|a| a.name == "saaz").unwrap();
    assert_eq!((hop.before, hop.after), (None, None));
    assert_eq!(hops.predicted.before_addition, None);
}

#[test]
fn the_sheet_says_them_too() {
    let plan = plan(TWICE);
    let sheet = plan.sheet(&SheetOptions::default());
    let said: Vec<_> = sheet
        .lines()
        .filter(|line| line.contains("Gravity just"))
        .collect();
    assert_eq!(said.len(), 4, "{sheet}");
    let sugar = plan.additions.iter().find(|a| a.name == "sucrose").unwrap();
    for (line, gravity) in said[2..].iter().zip([sugar.before, sugar.after]) {
        let gravity = Style::default().gravity(gravity.unwrap());
        assert!(line.contains(&gravity), "{line} {gravity}");
    }
}

#[test]
fn more_than_the_vessel_held_is_more_than_a_hundred_per_cent() {
    let plan = plan("  add 70 % by volume when 5 P\n    100 % apple juice, 12 Bx\n");
    let share = plan.changes.iter().find_map(|change| match &change.what {
        Change::KeepsShareOfVessel { share, .. } => Some(share.ratio()),
        _ => None,
    });
    // 70 parts to 30.
    near(share.unwrap(), 7.0 / 3.0, 1e-9, "share");
    let text: Vec<_> = plan
        .changes
        .iter()
        .map(|c| c.text(Style::default()))
        .collect();
    assert!(text.iter().any(|t| t.contains("233.3 %")), "{text:?}");
}

#[test]
fn a_prediction_warns_of_preserved_juice_as_a_plan_does() {
    let juice = "  add 10 % by volume when 5 P\n    100 % apple juice, 12 Bx, sorbate 3 g/L\n";
    let found = |warnings: &[Noted<Warning>]| {
        let mut found = warnings
            .iter()
            .filter(|w| matches!(&w.what, Warning::PreservedJuice { .. }));
        let only = found.next().cloned();
        assert!(found.next().is_none());
        only
    };
    let text = recipe(juice);
    let predicted = predicted_on(&text, "Big");
    // A tenth of 3 g/L.
    let found_there = found(&predicted.warnings).map(|told| told.what);
    let Some(Warning::PreservedJuice { sorbic, .. }) = found_there else {
        panic!("{:?}", predicted.warnings)
    };
    near(sorbic.grams_per_litre(), 0.3, 0.01, "sorbic acid");
    assert!(found(&plan(juice).warnings).is_some());
    assert!(found(&read_again(&plan(TWICE)).warnings).is_none());
}

/// Volumes of the day come again within what four digits of each written amount leave open.
#[test]
fn a_plan_read_again_brews_with_the_same_water() {
    for (batch_l, plant) in [
        // Nothing stated: a small plant drains a bag.
        (20.0, ""),
        (
            20.0,
            "  lauter bag, sparge 3 L\n  absorption 0.7 L/kg\n  kettle loss 0.8 L\n",
        ),
        (20.0, "  retention 1.1 L/kg\n  tun loss 0.4 L\n"),
        (
            20.0,
            "  lauter batch, sparges 2\n  sparge mixing 80 %\n  mash in 2.8 L/kg\n",
        ),
        (20.0, "  lauter batch, sparges 0\n"),
        (20.0, "  lauter continuous, yield 88 %\n"),
        (20.0, "  extract yield 76 %\n"),
        (500.0, ""),
    ] {
        let text = format!(
            "{}\nbrewhouse Small\n  batch {batch_l} L into fermenter\n{plant}",
            recipe(TWICE)
        );
        let plan = job(&text, "Small").scaled(WeighOut::Rounded).unwrap();
        let again = read_again(&plan).volumes;
        let first = &plan.volumes;
        // The day's own advice runs the plan as it is read again.
        let gravity_alone = DayReading::BeforeBoil {
            volume: None,
            shown: Some(Shown::hydrometer(first.pre_boil_extract)),
        };
        let day = plan.advise(&gravity_alone).unwrap();
        let pairs: [(&str, Volume, Volume); 7] = [
            ("on the day", first.pre_boil, day.volume.unwrap()),
            ("mash water", first.mash_water, again.mash_water),
            ("sparge water", first.sparge_water, again.sparge_water),
            ("before the boil", first.pre_boil, again.pre_boil),
            ("end of boil", first.post_boil, again.post_boil),
            ("fermenter", first.into_fermenter, again.into_fermenter),
            ("packaged", first.packaged, again.packaged),
        ];
        for (name, first, again) in pairs {
            // Four digits: 5 of 10 000.
            let off = (l(first) - l(again)).abs();
            assert!(
                off <= 5e-4 * l(first).max(1.0),
                "{plant}{name}: {} {}",
                l(first),
                l(again)
            );
        }
    }
}
