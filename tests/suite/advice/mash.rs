//! Acid and alkali for a mash that is off its pH: by hand.

use super::{advice, litres, plan, plan_with, refused};
use uom::si::{mass::gram, mass::kilogram, volume::milliliter};
use wortwright::advice::{Action, Advice, AdvisedAction, DayReading};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::Assumption;
use wortwright::quantity::{Ph, uom};
use wortwright::scale::Plan;
use wortwright::speech::{Noted, Speaks, Style};

const WATER: &str = "  evaporation 2 L/h\n  water calcium 40 mg/L, magnesium 0 mg/L, sodium 0 mg/L, \
    sulphate 10 mg/L, chloride 20 mg/L, alkalinity 100 mg/L, pH 7.5\n";

fn with_water() -> Plan {
    plan_with(&[("  evaporation 2 L/h\n", WATER)])
}

fn mash(plan: &Plan, measured: f64, wanted: f64) -> Advice {
    let ph = |value| Ph::from_value(value).unwrap();
    let (measured, wanted) = (ph(measured), Some(ph(wanted)));
    advice(plan, &DayReading::MashPh { measured, wanted })
}

fn malt_kg(plan: &Plan) -> f64 {
    plan.additions[0].mass.unwrap().get::<kilogram>()
}

fn grams(way: &AdvisedAction) -> f64 {
    match &way.action {
        Action::AddAcid { mass, .. } | Action::AddAlkali { mass, .. } => mass.get::<gram>(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn acid_is_dosed_by_the_buffering_of_the_grist() {
    let plan = plan();
    let advice = mash(&plan, 5.8, 5.4);
    // 40 mEq/(kg pH), the catalogue's pale ale malt; without a water report nothing else takes acid but the water itself:
    // 10^−5.4 less 10^−5.8 mol/L is 0.0024 mEq/L.
    let wanted_meq = malt_kg(&plan) * 40.0 * 0.4 + 0.0024 * litres(plan.volumes.mash_water);
    // Protons given up at pH 5.4: lactic 10^1.54/(1 + 10^1.54) = 0.97196 of 9.7693 mol/kg; phosphoric 0.99944 + 0.01560 of
    // 0.85/97.994 and 0.1/97.994 mol/g.
    let per_gram = [9.4954, 8.8045, 1.03582];
    let acids = &advice.actions[1..];
    assert_eq!(acids.len(), 3);
    for (way, meq) in acids.iter().zip(per_gram) {
        assert!(
            (grams(way) / (wanted_meq / meq) - 1.0).abs() < 1e-3,
            "{way:?}"
        );
        assert!((way.predicted.mash_ph.unwrap().value() - 5.4).abs() < 1e-6);
        // A fifth of the shift and a meter's 0.02.
        let off = way.predicted.mash_ph_uncertainty.unwrap().value();
        assert!((off - 0.1).abs() < 1e-9, "{off}");
        let said = way.action.text(Style::default());
        for caution in ["goggles", "acid to water", "stir", "measure", "small steps"] {
            assert!(said.contains(caution), "{said}");
        }
    }
    // 1.206 g/mL.
    let Action::AddAcid { volume, .. } = &acids[0].action else {
        panic!()
    };
    let millilitres = volume.unwrap().get::<milliliter>();
    assert!((millilitres * 1.206 / grams(&acids[0]) - 1.0).abs() < 1e-3);
    assert!((advice.actions[0].predicted.mash_ph.unwrap().value() - 5.8).abs() < 1e-12);
    let left_out =
        |note: &Noted<Assumption>| matches!(&note.what, Assumption::MashWaterLeftOut { .. });
    assert!(advice.assumptions.iter().any(left_out));
}

#[test]
fn the_water_takes_acid_too() {
    let (plain, hard) = (plan(), with_water());
    let extra_g = grams(&mash(&hard, 5.8, 5.4).actions[1])
        - grams(&mash(&plain, 5.8, 5.4).actions[1]) * malt_kg(&hard) / malt_kg(&plain);
    // Bicarbonate left of carbonate that is 0.9339 bicarbonate at pH 7.5 (pK 6.35): 0.2199 at 5.8, 0.1009 at 5.4, so 0.119/0.9353
    // of 1.998 mEq/L.
    let mash_l = litres(hard.volumes.mash_water);
    let by_hand = mash_l * 1.998 * (0.2199 - 0.1009) / 0.9353 / 9.4954;
    assert!(
        (extra_g / by_hand - 1.0).abs() < 0.02,
        "{extra_g} {by_hand}"
    );
    assert!(mash(&hard, 5.8, 5.4).assumptions.is_empty());
}

#[test]
fn acid_already_there_lets_go_of_more() {
    // With a wanted pH the plan has acid in it; what it still holds back at 5.8 counts against what is to be added.
    let planned = plan_with(&[
        ("mash\n", "mash\n  pH 5.3\n"),
        ("  evaporation 2 L/h\n", WATER),
    ]);
    let acid = planned
        .water
        .additions
        .iter()
        .find(|a| a.name.starts_with("lactic"));
    let acid_g = acid.unwrap().mass.get::<gram>();
    let less_g = grams(&mash(&with_water(), 5.8, 5.3).actions[1])
        - grams(&mash(&planned, 5.8, 5.3).actions[1]);
    // Lactic acid gives up 0.98865 at 5.8 and 0.96497 at 5.3: in falling it takes 0.02368 of its protons back.
    let by_hand = -acid_g * 0.02368 / 0.96497;
    assert!((less_g / by_hand - 1.0).abs() < 0.02, "{less_g} {by_hand}");
}

#[test]
fn alkali_lifts_a_mash_and_nothing_is_done_near_the_aim() {
    let plan = with_water();
    let advice = mash(&plan, 5.1, 5.4);
    assert_eq!(advice.actions.len(), 2);
    assert!((advice.actions[1].predicted.mash_ph.unwrap().value() - 5.4).abs() < 1e-6);
    // 0.3 pH of the malt and of the water's carbonate (0.1009 less 0.0532 of it bicarbonate); a gram of sodium bicarbonate, the
    // catalogue's 11.9 mEq, brings as much carbonate, of which 0.1009 holds on to its alkali at pH 5.4. Without a report nothing but
    // the malt takes it. The protons that the water itself gives up, 0.004 mEq/L, are left out.
    for (plan, carbonate_mmol_l) in [(plan, 1.998 / 0.9353), (super::plan(), 0.0)] {
        let carbonate = litres(plan.volumes.mash_water) * carbonate_mmol_l;
        let wanted_meq = malt_kg(&plan) * 40.0 * 0.3 + carbonate * (0.1009 - 0.0532);
        let by_hand = wanted_meq / (11.9 * (1.0 - 0.1009));
        let way = &mash(&plan, 5.1, 5.4).actions[1];
        assert!(
            (grams(way) / by_hand - 1.0).abs() < 0.003,
            "{} {by_hand}",
            grams(way)
        );
        assert!((way.predicted.mash_ph.unwrap().value() - 5.4).abs() < 1e-6);
    }
    let plan = with_water();
    assert!(
        advice.actions[1]
            .action
            .text(Style::default())
            .contains("goggles")
    );
    assert_eq!(mash(&plan, 5.41, 5.4).actions.len(), 1);
}

#[test]
fn a_malt_without_figures_is_flagged_and_senseless_readings_are_refused() {
    let plan_by_class = plan_with(&[("100 % pale ale malt", "100 % mild ale malt")]);
    let notes = mash(&plan_by_class, 5.8, 5.4).assumptions;
    let flagged = |note: &Noted<Assumption>| matches!(&note.what, Assumption::MashPhFromClass { names } if names == &["mild ale malt"]);
    assert!(notes.iter().any(flagged), "{notes:?}");
    let ph = |value| Ph::from_value(value).unwrap();
    for measured in [3.0, 9.0] {
        let reading = DayReading::MashPh {
            measured: ph(measured),
            wanted: Some(ph(5.4)),
        };
        assert_eq!(refused(&plan_by_class, &reading), ErrorKind::OutOfRange);
    }
}
