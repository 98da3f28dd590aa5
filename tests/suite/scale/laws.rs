//! Properties of scaling that must hold whatever the recipe: fixed points, order and units that must not matter, and
//! directions in which figures must move.

use crate::brewing::{
    BIG, again, final_plato, ibu, job, kg, l, mass, near, original, plan, plan_on, yield_of,
};
use wortwright::quantity::{Unit, Written};
use wortwright::recipe::Evaporation;
use wortwright::scale::Plan;
use wortwright_tests::fixtures::fixture;

fn amber() -> String {
    fixture("scale/amber")
}

const KITCHEN: &str = "
  batch 10 L into fermenter
  lauter bag, sparge 1 L
  absorption 0.7 L/kg
  evaporation 2 L/h
  kettle loss 0.5 L
  fermenter loss 0.4 L
";

/// Names and amounts of what goes in, litres and kilograms alike.
fn amounts(plan: &Plan) -> Vec<(String, f64)> {
    let mut amounts: Vec<_> = plan
        .additions
        .iter()
        .map(|a| {
            let amount = a.mass.map(kg).or(a.volume.map(l));
            let time = a.time_left.map_or(0.0, |t| t.value);
            (format!("{} {time}", a.name), amount.unwrap_or_default())
        })
        .collect();
    amounts.sort_by(|a, b| a.0.cmp(&b.0));
    amounts
}

#[track_caller]
fn same_amounts(a: &Plan, b: &Plan, factor: f64, relative: f64) {
    let (a, b) = (amounts(a), amounts(b));
    assert_eq!(a.len(), b.len());
    for ((name, a), (other, b)) in a.iter().zip(&b) {
        assert_eq!(name, other);
        // A hop that has nothing to close comes to rounding of nothing: a nanogram is no amount.
        if (a * factor).max(*b) > 1e-12 {
            near(a * factor, *b, relative, name);
        }
    }
}

/// An unrounded plan read as a source and brewed on its own plant is itself: everything is found from the model.
#[test]
fn an_unrounded_plan_meets_its_aims_again() {
    for at in ["into fermenter", "at end of boil", "packaged"] {
        for lauter in [
            "lauter bag, sparge 1 L",
            "lauter batch, sparges 2\n  sparge mixing 80 %",
            "lauter continuous, yield 88 %",
            "lauter batch, sparges 1\n  retention 1.1 L/kg\n  tun loss 0.3 L",
        ] {
            let kitchen = KITCHEN
                .replace("into fermenter", at)
                .replace("lauter bag, sparge 1 L\n  absorption 0.7 L/kg", lauter);
            let first = plan_on(&amber(), &kitchen);
            // The root finders stop at 1e-13 of the amount, and a gravity is a difference of two densities.
            near(original(&first), 13.2, 1e-9, "strength");
            near(final_plato(&first), 2.9, 1e-9, "final gravity");
            near(
                ibu(&first),
                first.source.bitterness.unwrap().ibu(),
                1e-9,
                "bitterness",
            );
            let second = again(&first, &first.brewhouse);
            assert!(second.outcomes.is_empty());
            near(original(&second), original(&first), 1e-9, "strength again");
            near(
                final_plato(&second),
                final_plato(&first),
                1e-9,
                "final gravity again",
            );
            near(ibu(&second), ibu(&first), 1e-9, "bitterness again");
            same_amounts(&first, &second, 1.0, 1e-8);
        }
    }
}

/// There and back again: the home plant's plan, scaled to the big plant and home again, gives its amounts.
#[test]
fn there_and_back_again_is_the_same_plan() {
    let text = format!(
        "{}\n{BIG}\n  batch 20 hL into fermenter\nbrewhouse Small\n{KITCHEN}",
        amber()
    );
    let home = plan(&text, "Small");
    let big = job(&text, "Big").target;
    let away = again(&home, &big);
    same_amounts(&plan(&text, "Big"), &away, 1.0, 1e-3);
    let back = again(&away, &home.brewhouse);
    same_amounts(&home, &back, 1.0, 1e-3);
}

/// The lines of a recipe are a set: their order is not a fact. (Two hops that boil equally long, or two juices at one
/// gravity, are the exception: the first line takes the gap, or goes in first.)
#[test]
fn the_order_of_lines_does_not_matter() {
    let straight = plan_on(&amber(), KITCHEN);
    let turned = amber()
        .replace("  72 % pale ale malt\n  15 % light munich malt\n", "  15 % light munich malt\n  72 % pale ale malt\n")
        .replace(
            "  7 % sucrose at 15 min\n  22 IBU perle, 8 % alpha at 60 min\n  90 g/hL saaz, 4 % alpha at 12 min\n",
            "  90 g/hL saaz, 4 % alpha at 12 min\n  22 IBU perle, 8 % alpha at 60 min\n  7 % sucrose at 15 min\n",
        )
        .replace(
            "    60 % apple juice, 12 Bx\n    40 % plum juice, 14 Bx\n  add 4 g/L sucrose when 4 P\n",
            "    40 % plum juice, 14 Bx\n    60 % apple juice, 12 Bx\n",
        )
        .replace("  add 10 % by volume", "  add 4 g/L sucrose when 4 P\n  add 10 % by volume");
    assert_ne!(turned, amber());
    let kitchen: Vec<_> = KITCHEN.trim_matches('\n').lines().rev().collect();
    let turned = plan_on(&turned, &kitchen.join("\n"));
    same_amounts(&straight, &turned, 1.0, 1e-9);
}

/// An American sheet and a metric one of the same beer. The conversions are typed here from the definitions: barrel of
/// 31 gallons of 3.785411784 L, pound of 0.45359237 kg, SRM = EBC / 1.97 in two digits, specific gravity in air from the
/// ICUMSA polynomial at 13.2 and 2.9 °P.
#[test]
fn units_do_not_matter() {
    let [metric, american] =
        ["scale/porter_metric", "scale/porter_american"].map(|name| plan(&fixture(name), "Home"));
    assert!(original(&metric) > 13.19);
    // The promise is 0.1 %; five digits of a gravity are 0.01 %.
    same_amounts(&metric, &american, 1.0, 1e-3);
    for (what, of) in [
        ("strength", original as fn(&Plan) -> f64),
        ("final", final_plato),
        ("bitterness", ibu),
        ("yield", yield_of),
    ] {
        near(of(&metric), of(&american), 1e-3, what);
    }
    let colour = |p: &Plan| p.predicted.colour.unwrap().ebc();
    near(colour(&metric), colour(&american), 1e-3, "colour");
}

/// Where losses and evaporation grow with the batch, everything does; on one side alone, only that side's batch counts.
#[test]
fn twice_the_batch_is_twice_the_amounts() {
    let share = KITCHEN.replace("evaporation 2 L/h", "evaporation 15 % per hour");
    let double = share
        .replace("10 L", "20 L")
        .replace("sparge 1 L", "sparge 2 L")
        .replace("0.5 L", "1.0 L")
        .replace("loss 0.4 L", "loss 0.8 L");
    let one = plan_on(&amber(), &share);
    same_amounts(&one, &plan_on(&amber(), &double), 2.0, 1e-9);
    let big = amber().replace("20 hL", "40 hL");
    let text = format!(
        "{big}\n{}\nbrewhouse Small\n{double}",
        BIG.replace("40 L", "80 L").replace("30 L", "60 L")
    );
    same_amounts(&one, &plan(&text, "Small"), 2.0, 1e-9);
}

/// A list of plans of which a figure must rise strictly.
#[track_caller]
fn rises(what: &str, plans: &[Plan], figure: impl Fn(&Plan) -> f64) {
    let figures: Vec<_> = plans.iter().map(figure).collect();
    assert!(
        figures
            .windows(2)
            .all(|pair| pair[1] > pair[0] * (1.0 + 1e-9)),
        "{what} does not rise: {figures:?}"
    );
}

fn grist(plan: &Plan) -> f64 {
    mass(plan, "pale ale malt")
}

#[test]
fn more_absorption_means_less_yield_and_more_grist() {
    let with = |absorption: &str| plan_on(&amber(), &KITCHEN.replace("0.7 L/kg", absorption));
    let plans = ["0.2 L/kg", "0.5 L/kg", "0.8 L/kg", "1.2 L/kg"].map(with);
    rises("lost yield", &plans, |p| 1.0 - yield_of(p));
    rises("grist", &plans, grist);
    // Water in less wort out: the grain takes what it takes.
    rises("water", &plans, |p| l(p.volumes.total_water));
}

#[test]
fn a_stronger_wort_from_a_bag_yields_less() {
    let with = |plato: &str| plan_on(&amber().replace("13.2 P", plato), KITCHEN);
    let plans = ["8 P", "12 P", "16 P", "20 P"].map(with);
    rises("lost yield", &plans, |p| 1.0 - yield_of(p));
    // A known yield stays what it is known to be.
    let known = |plato: &str| {
        let kitchen = KITCHEN.replace("lauter bag, sparge 1 L", "lauter continuous, yield 84 %");
        plan_on(&amber().replace("13.2 P", plato), &kitchen)
    };
    for plan in ["8 P", "16 P"].map(known) {
        near(yield_of(&plan), 0.84, 1e-12, "known yield");
    }
}

#[test]
fn better_rinsing_yields_more() {
    let with = |lauter: &str| plan_on(&amber(), &KITCHEN.replace("lauter bag, sparge 1 L", lauter));
    let plans = [
        "lauter batch, sparges 0",
        "lauter batch, sparges 1\n  sparge mixing 60 %",
        "lauter batch, sparges 1",
        "lauter batch, sparges 2",
        "lauter batch, sparges 3",
    ]
    .map(with);
    rises("yield", &plans, yield_of);
}

#[test]
fn hops_move_as_their_figures_do() {
    let alpha = |alpha: &str| plan_on(&amber().replace("8 % alpha", alpha), KITCHEN);
    let plans = ["32 % alpha", "24 % alpha", "16 % alpha"].map(alpha);
    rises("grams for one bitterness", &plans, |p| mass(p, "perle"));
    near(
        mass(&plans[2], "perle"),
        2.0 * mass(&plans[0], "perle"),
        1e-9,
        "half the alpha",
    );
    let asked = |ibu: &str| plan_on(&amber().replace("22 IBU", ibu), KITCHEN);
    let plans = ["12 IBU", "22 IBU", "40 IBU"].map(asked);
    rises("grams", &plans, |p| mass(p, "perle"));
    rises("bitterness", &plans, ibu);
    let boiled = |time: &str| plan_on(&amber().replace("at 60 min", time), KITCHEN);
    let plans = ["at 70 min", "at 45 min", "at 30 min"].map(boiled);
    rises("grams for a shorter boil", &plans, |p| mass(p, "perle"));
}

#[test]
fn losses_and_evaporation_cost_what_they_should() {
    let with = |loss: &str| plan_on(&amber(), &KITCHEN.replace("kettle loss 0.5 L", loss));
    let plans = ["kettle loss 0 L", "kettle loss 1 L", "kettle loss 2 L"].map(with);
    rises("grist", &plans, grist);
    // 10 L of batch, 2 L of loss, and pellets of 8 L/kg beyond the 2 g/L that the loss holds: V = 12 + 8 (m - 0.002 V).
    let hops_kg = mass(&plans[2], "perle") + mass(&plans[2], "saaz");
    let hops_kg = hops_kg
        + plans[2]
            .additions
            .iter()
            .rfind(|a| a.name == "saaz")
            .map_or(0.0, |a| kg(a.mass.unwrap()));
    let by_hand = (12.0 + 8.0 * hops_kg) / 1.016;
    near(
        l(plans[2].volumes.post_boil),
        by_hand,
        1e-12,
        "batch and losses",
    );
    let with = |rate: &str| plan_on(&amber(), &KITCHEN.replace("2 L/h", rate));
    let plans = ["1 L/h", "2 L/h", "4 L/h"].map(with);
    rises("water", &plans, |p| l(p.volumes.total_water));
    // More water rinses better, so that a harder boil needs less grain.
    rises("yield", &plans, yield_of);
}

/// A stated evaporation is brewed whatever unit carries it.
#[test]
fn a_rate_in_another_unit_is_the_same_rate() {
    let text = format!("{}\n{BIG}\nbrewhouse Small\n{KITCHEN}", amber());
    let mut job = job(&text, "Small");
    let litres = job.exact();
    job.target.evaporation = Some(Evaporation::Rate(
        Written::new(0.02, Unit::HectolitrePerHour).unwrap(),
    ));
    same_amounts(&litres, &job.exact(), 1.0, 1e-12);
}

mod random {
    //! Random recipes from random source plants to random target plants, as text.

    use super::*;
    use crate::brewing::sane;
    use proptest::prelude::*;
    use std::fmt::Write as _;
    use wortwright::diagnostic::ErrorKind;
    use wortwright::scale::{Outcome, WeighOut};

    fn recipes() -> impl Strategy<Value = String> {
        (
            proptest::collection::vec((1.0..50.0, 60.0..85.0, 0.0..10.0, 3.0..400.0), 1..12),
            proptest::collection::vec((0.5..10.0, 60.0..100.0, 0.0..60.0), 0..4),
            proptest::collection::vec((2.0..18.0, 1.0..75.0, 5.0..200.0), 0..4),
            proptest::collection::vec((1.0..40.0, 5.0..30.0, proptest::option::of(0.5..9.0)), 0..3),
            (4.0..18.0, 65.0..85.0, 5.0..40.0),
        )
            .prop_map(|(malts, sugars, hops, juices, (plato, attenuation, ibu))| {
                let total: f64 = malts.iter().map(|m| m.0).sum::<f64>()
                    + sugars.iter().map(|s| s.0).sum::<f64>();
                let mut text = format!("target original {plato:.6} P\nmash\n");
                for (weight, extract, moisture, ebc) in &malts {
                    let share = 100.0 * weight / total;
                    writeln!(text, "  {share:.9} % pale ale malt, extract {extract:.4} % dry, moisture {moisture:.4} %, {ebc:.2} EBC").unwrap();
                }
                text += "  rest 66 C for 60 min\nboil 75 min\n";
                for (weight, extract, left) in &sugars {
                    let share = 100.0 * weight / total;
                    writeln!(text, "  {share:.9} % honey, {extract:.4} % extract at {left:.3} min").unwrap();
                }
                writeln!(text, "  {ibu:.4} IBU perle, 9 % alpha at 75 min").unwrap();
                for (alpha, left, dose) in &hops {
                    writeln!(text, "  {dose:.3} g/hL saaz, {alpha:.3} % alpha at {left:.3} min").unwrap();
                }
                writeln!(text, "ferment\n  pitch ale yeast, attenuation {attenuation:.3} %").unwrap();
                for (share, brix, when) in &juices {
                    let when = when.map_or(String::new(), |p| format!(" when {p:.3} P"));
                    writeln!(text, "  add {share:.3} % by volume{when}\n    100 % apple juice, {brix:.3} Bx").unwrap();
                }
                text
            })
    }

    fn plants() -> impl Strategy<Value = String> {
        (
            prop_oneof![
                Just("lauter bag".to_owned()),
                (0.1..2.0).prop_map(|s| format!("lauter bag, sparge {s:.3} L")),
                (1_u32..4, 40.0..100.0)
                    .prop_map(|(n, m)| format!("lauter batch, sparges {n}\n  sparge mixing {m:.2} %")),
                (60.0..98.0).prop_map(|y| format!("lauter continuous, yield {y:.3} %")),
                (40.0..60.0).prop_map(|y| format!("extract yield {y:.3} % of grist")),
                (50.0..80.0).prop_map(|y| format!("extract yield {y:.3} % in fermenter")),
            ],
            prop_oneof![Just("absorption"), Just("retention")],
            0.3..1.6,
            prop_oneof![
                (0.0..4.0).prop_map(|r| format!("{r:.3} L/h")),
                (0.0..25.0).prop_map(|r| format!("{r:.3} % per hour"))
            ],
            (0.0..1.0, 0.0..1.0, 0.0..1.0),
            8.0..40.0,
            prop_oneof![Just("into fermenter"), Just("at end of boil"), Just("packaged")],
        )
            .prop_map(|(lauter, held, litres, boiled, (tun, kettle, fermenter), batch, at)| {
                format!(
                    "  batch {batch:.4} L {at}\n  {lauter}\n  {held} {litres:.3} L/kg\n  evaporation {boiled}\n  \
                     tun loss {tun:.3} L\n  kettle loss {kettle:.3} L\n  fermenter loss {fermenter:.3} L"
                )
            })
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        /// A plan meets strength, final gravity, bitterness and batch, and read again on its plant stays as it is; or
        /// it says what is out of reach; or the source contradicts itself.
        #[test]
        fn a_plan_meets_its_aims_or_says_why_not(recipe in recipes(), there in plants(), here in plants()) {
            let text = format!("recipe Random\nbrewed on There\n{recipe}brewhouse There\n{there}\nbrewhouse Here\n{here}\n");
            let job = job(&text, "Here");
            let plan = match job.scaled(WeighOut::Exact) {
                Ok(plan) => plan,
                Err(error) => {
                    prop_assert_eq!(error.kind(), ErrorKind::Contradiction, "{}", error);
                    return Ok(());
                }
            };
            sane(&plan);
            if plan.outcomes.iter().any(|o| matches!(&o.what, Outcome::GravityOutOfReach { .. })) {
                return Ok(());
            }
            let wanted = plan.source.original.unwrap().plato();
            near(original(&plan), wanted, 1e-9, "strength");
            near(final_plato(&plan), plan.source.final_extract.unwrap().plato(), 1e-7, "final gravity");
            let batch = job.target.batch.as_ref().unwrap();
            let filled = match batch.at {
                wortwright::recipe::BatchPoint::IntoFermenter => plan.volumes.into_fermenter,
                wortwright::recipe::BatchPoint::EndOfBoil => plan.volumes.post_boil,
                wortwright::recipe::BatchPoint::Packaged => plan.volumes.packaged,
        other => panic!("{other:?}"),
            };
            near(l(filled), l(batch.volume.value()), 1e-9, "batch");
            if mass(&plan, "perle") > 0.0 {
                near(ibu(&plan), plan.source.bitterness.unwrap().ibu(), 1e-9, "bitterness");
            }
            let second = again(&plan, &plan.brewhouse);
            near(original(&second), wanted, 1e-9, "strength again");
            // A final gravity may be next to nothing, where a share of it says nothing: then 1e-6 °P.
            let (again, before) = (final_plato(&second), final_plato(&plan));
            assert!((again - before).abs() < 1e-6 * before.abs().max(1.0), "{again} {before}");
            if second.outcomes.is_empty() {
                same_amounts(&plan, &second, 1.0, 1e-6);
            }
        }
    }
}
