//! Advice for the day: each way on is judged by the model again, and by hand.

use super::{advice, plan, plan_with, plato};
use crate::brewing::weighed;
use uom::si::f64::Volume;
use uom::si::{mass::kilogram, pressure::bar, time::minute, volume::liter};
use wortwright::advice::{Action, AdvisedAction, DayReading, Shown, ToMeasure};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::PredictedFigure;
use wortwright::quantity::{CarbonDioxide, Extract, Temperature, uom};
use wortwright::science::carbonation::{air_pressure, pressure_at};
use wortwright::speech::{Speaks, Style};
use wortwright_tests::fixtures::fixture;

/// What advice calls planned is the plan's own forecast: a sheet whose final gravity this grist cannot give, a plant that
/// yields less than the printed one, and a scale in steps of 50 g change nothing about that.
#[test]
fn what_is_planned_is_what_the_plan_says() {
    let plan = weighed(&fixture("advice/juice_and_lactose"), "Kitchen");
    let final_plato = plan.predicted.final_extract.unwrap().plato();
    assert!((final_plato - 4.0).abs() > 0.02, "{final_plato}");
    let read = DayReading::Stopped {
        shown: Shown::hydrometer(plato(5.0)),
    };
    assert_eq!(advice(&plan, &read).planned, plan.predicted);
}

fn original(way: &AdvisedAction) -> f64 {
    way.predicted.original.unwrap().plato()
}

#[test]
fn as_planned_changes_nothing() {
    let plan = plan();
    let volume = plan.volumes.pre_boil;
    // 2 L of water boiled off 12 L at the end of 10 L and 12 °P.
    let extract = plato(10.0 * 1.046444 * 12.0 / (10.0 * 1.046444 + 2.0 * 0.998203));
    let advice = advice(
        &plan,
        &DayReading::BeforeBoil {
            volume: Some(volume),
            shown: Some(Shown::hydrometer(extract)),
        },
    );
    assert_eq!(advice.actions.len(), 1);
    // The densities by hand have six digits, and the volume of the plan follows its four written digits: 0.05 % of 12 °P.
    assert!((original(&advice.actions[0]) - 12.0).abs() < 0.01);
    // The same 0.05 % of 25 IBU, and as much for the hops' four digits.
    let planned = plan.predicted.bitterness.unwrap().ibu();
    let now = advice.actions[0].predicted.bitterness.unwrap().ibu();
    assert!((now - planned).abs() < 0.05, "{now} {planned}");
}

#[test]
fn a_thin_wort_is_boiled_longer_or_strengthened() {
    let plan = plan();
    let volume = plan.volumes.pre_boil;
    let advice = advice(
        &plan,
        &DayReading::BeforeBoil {
            volume: Some(volume),
            shown: Some(Shown::hydrometer(plato(9.5))),
        },
    );
    assert!(original(&advice.actions[0]) < 11.6);
    let [first, _, boil, dried] = &advice.actions[..] else {
        panic!("{:?}", advice.actions)
    };
    // 5 to 6 % of the extract are missing: a stirred, cool sample costs nothing, nor does a drop of iodine.
    let Action::MeasureFirst { what } = &first.action else {
        panic!("{:?}", first.action)
    };
    assert_eq!(what, &[ToMeasure::StirredSample, ToMeasure::Starch]);
    let Action::BoilFor { time } = boil.action else {
        panic!("{:?}", boil.action)
    };
    assert!(time.get::<minute>() > 65.0);
    assert!((original(boil) - 12.0).abs() < 1e-6);
    assert!(boil.predicted.batch.unwrap().get::<liter>() < 9.9);
    // The same hops in less wort.
    assert!(boil.predicted.bitterness.unwrap() > plan.predicted.bitterness.unwrap());
    // By hand: (E + 0.955 x)/(M + x) = 0.12 at the end of the boil.
    let Action::AddDriedExtract { mass, .. } = dried.action else {
        panic!("{:?}", dried.action)
    };
    let before_kg = volume.get::<liter>() * 1.03606;
    let extract_kg = before_kg * 0.095;
    let by_hand = (0.12 * (before_kg - 2.0 * 0.998203) - extract_kg) / (0.955 - 0.12);
    assert!(
        (mass.get::<kilogram>() - by_hand).abs() < 0.003,
        "{by_hand}"
    );
    assert!((original(dried) - 12.0).abs() < 1e-6);
}

#[test]
fn a_strong_wort_is_thinned() {
    let plan = plan();
    let volume = plan.volumes.pre_boil;
    let before = advice(
        &plan,
        &DayReading::BeforeBoil {
            volume: Some(volume),
            shown: Some(Shown::hydrometer(plato(11.0))),
        },
    );
    let water = before
        .actions
        .iter()
        .find(|w| matches!(w.action, Action::AddWater { .. }))
        .unwrap();
    assert!((original(water) - 12.0).abs() < 1e-6);
    // The boil cannot be shorter than the hops need.
    assert!(
        before
            .actions
            .iter()
            .all(|w| !matches!(w.action, Action::BoilFor { .. }))
    );
    // 10 L at 13 °P, 1050.65 kg/m³: 10.5065 kg × 13/12 less itself is 0.8755 kg of water.
    let wort = DayReading::InFermenter {
        volume: Some(Volume::new::<liter>(10.0)),
        shown: Some(Shown::hydrometer(plato(13.0))),
    };
    let later = advice(&plan, &wort);
    let Action::AddWater { water, .. } = later.actions[1].action else {
        panic!()
    };
    assert!((water.get::<liter>() - 0.8771).abs() < 0.001, "{water:?}");
    assert!((original(&later.actions[1]) - 12.0).abs() < 1e-9);
    assert!(later.actions[1].predicted.bitterness < later.actions[0].predicted.bitterness);
}

/// Where 15 % of what is in the kettle boils off, what is stirred in boils off too. Volumes are added here as if mixing changed
/// nothing, which is true to 2 per mille. By hand, in kilograms: of E extract in W water
/// from V litres, the boil leaves W - 0.15 · 0.9982 V of water, and 12 °P hold 88/12 of water for each part of extract.
#[test]
fn what_is_stirred_in_boils_off_in_its_share() {
    let plan = plan_with(&[("2 L/h", "15 % per hour")]);
    let volume = plan.volumes.pre_boil;
    let litres = volume.get::<liter>();
    let measured = |shown: Extract| DayReading::BeforeBoil {
        volume: Some(volume),
        shown: Some(Shown::hydrometer(shown)),
    };
    let planned = plan.volumes.pre_boil_extract;
    let as_planned = advice(&plan, &measured(planned));
    assert_eq!(as_planned.actions.len(), 1);
    assert!((original(&as_planned.actions[0]) - 12.0).abs() < 0.01);
    let (kept, boiled_off) = (88.0 / 12.0, 0.15 * 0.998_203);
    // 11 °P is 1.042403 and 9.5 °P 1.036063 kg/L (ICUMSA).
    let strong = advice(&plan, &measured(plato(11.0)));
    let (extract_kg, water_kg) = (0.11 * 1.042_403 * litres, 0.89 * 1.042_403 * litres);
    let by_hand = (kept * extract_kg - water_kg + boiled_off * litres) / (0.85 * 0.998_203);
    let Action::AddWater { water, .. } = strong.actions[1].action else {
        panic!("{:?}", strong.actions)
    };
    let water = water.get::<liter>();
    assert!((water / by_hand - 1.0).abs() < 2e-3, "{water} {by_hand}");
    assert!((original(&strong.actions[1]) - 12.0).abs() < 1e-6);
    // A kilogram of dried extract is 955 g of extract, which take up 0.62 L each kilogram, and 45 g of water.
    let thin = advice(&plan, &measured(plato(9.5)));
    let (extract_kg, water_kg) = (0.095 * 1.036_063 * litres, 0.905 * 1.036_063 * litres);
    let lacking = water_kg - boiled_off * litres - kept * extract_kg;
    let each = kept * 0.955 - 0.045 + boiled_off * (0.045 / 0.998_203 + 0.62 * 0.955);
    let dried = thin.actions.iter().find_map(|way| match way.action {
        Action::AddDriedExtract { mass, .. } => Some(mass.get::<kilogram>()),
        _ => None,
    });
    let (dried, by_hand) = (dried.unwrap(), lacking / each);
    assert!((dried / by_hand - 1.0).abs() < 2e-3, "{dried} {by_hand}");
}

/// A hydrometer is read to 0.001, at 12 °P 0.237 °P (1.0484 and 1.0494 of the ASBC table), and marks to 1.5 %. With the plan's own
/// spread s a correction outweighs its doubt from n · √(1 + (n/s)²), the ratio 1 at most: nothing is advised for less.
#[test]
fn what_cannot_be_read_is_not_corrected() {
    let plan = plan();
    let planned_l = plan.volumes.into_fermenter.get::<liter>();
    let actions = |part: f64, extract: f64| {
        let wort = DayReading::InFermenter {
            volume: Some(Volume::new::<liter>(part * planned_l)),
            shown: Some(Shown::hydrometer(plato(extract))),
        };
        advice(&plan, &wort).actions.len()
    };
    let spread = plan.spread.as_ref().unwrap();
    let limit = |noise: f64, figure| {
        let ratio = noise / spread.of(figure).unwrap().one_sigma;
        noise * ratio.min(1.0).hypot(1.0)
    };
    let gravity = limit(0.237, PredictedFigure::Original);
    let volume = limit(0.015 * planned_l, PredictedFigure::Batch) / planned_l;
    assert!((0.237..0.336).contains(&gravity) && (0.015..0.022).contains(&volume));
    assert_eq!(actions(1.0, 12.0), 1);
    for side in [-1.0, 1.0] {
        assert_eq!(actions(1.0, 12.0 + 0.95 * side * gravity), 1, "{gravity}");
        assert_eq!(actions(1.0, 12.0 + 1.05 * side * gravity), 2, "{gravity}");
    }
    assert_eq!(actions(1.0 - 0.95 * volume, 12.0), 1, "{volume}");
    assert_eq!(actions(1.0 - 1.05 * volume, 12.0), 2, "{volume}");
}

#[test]
fn a_short_or_thin_fermenter_has_its_ways_on() {
    let plan = plan();
    let short = DayReading::InFermenter {
        volume: Some(Volume::new::<liter>(9.0)),
        shown: Some(Shown::hydrometer(plato(12.0))),
    };
    let actions = advice(&plan, &short).actions;
    assert_eq!(actions.len(), 2);
    let filled = actions[1].predicted.batch.unwrap().get::<liter>();
    assert!(
        (filled - plan.volumes.into_fermenter.get::<liter>()).abs() < 1e-6,
        "{filled}"
    );
    assert!(actions[1].predicted.alcohol < actions[0].predicted.alcohol);
    let thin = DayReading::InFermenter {
        volume: Some(Volume::new::<liter>(10.0)),
        shown: Some(Shown::hydrometer(plato(11.0))),
    };
    let actions = advice(&plan, &thin).actions;
    assert!(matches!(actions[1].action, Action::AddDriedExtract { .. }));
    assert!((original(&actions[1]) - 12.0).abs() < 1e-9);
}

#[test]
fn a_lot_of_juice_has_three_honest_ways() {
    let plan = plan();
    let planned = advice(
        &plan,
        &DayReading::Juice {
            name: "sour cherry juice".into(),
            shown: Shown::hydrometer(plato(13.0)),
        },
    );
    let planned_l = |way: &AdvisedAction| match way.action {
        Action::UseJuice { juice } => juice.get::<liter>(),
        _ => panic!("{:?}", way.action),
    };
    // As planned, all ways are one.
    assert!((planned_l(&planned.actions[0]) - planned_l(&planned.actions[1])).abs() < 1e-9);
    assert_eq!(
        planned.actions[0].predicted.alcohol,
        planned.planned.alcohol
    );
    for (brix, sweetened) in [(10.0, true), (18.0, false)] {
        let actions = advice(
            &plan,
            &DayReading::Juice {
                name: "Sour cherry juice".into(),
                shown: Shown::hydrometer(plato(brix)),
            },
        )
        .actions;
        let sugar = |litres: f64, brix: f64, density: f64| litres * brix * density;
        let density = if sweetened { 1.03814 } else { 1.07209 };
        let same = sugar(planned_l(&actions[1]), brix, density);
        assert!((same / sugar(planned_l(&actions[0]), 13.0, 1.05065) - 1.0).abs() < 1e-3);
        assert_eq!(
            matches!(actions[2].action, Action::SweetenJuice { .. }),
            sweetened
        );
        assert_eq!(
            matches!(actions[2].action, Action::ThinJuice { .. }),
            !sweetened
        );
        // Sweetened or thinned to the planned figure it gives the planned beer.
        let alcohol = |way: &AdvisedAction| way.predicted.alcohol.unwrap().percent();
        assert!((alcohol(&actions[2]) - alcohol(&planned.actions[0])).abs() < 1e-6);
        assert!((alcohol(&actions[0]) < alcohol(&actions[2])) == sweetened);
    }
    let none = DayReading::Juice {
        name: "moon juice".into(),
        shown: Shown::hydrometer(plato(10.0)),
    };
    let error = plan.advise(&none).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::UnknownName);
}

#[test]
fn a_fermentation_that_stopped_is_not_bottled() {
    let plan = plan();
    let end = plan.predicted.final_extract.unwrap().plato();
    let actions = advice(
        &plan,
        &DayReading::Stopped {
            shown: Shown::hydrometer(plato(end + 2.0)),
        },
    )
    .actions;
    // The figures are those of the plan if it moves, and those of the day if not.
    assert!(actions[0].predicted.alcohol > actions[1].predicted.alcohol);
    // 8 g/L of gas beside the 1.7 that stand in it are more than the 5.9 of a bottle.
    let Action::KegCold {
        left: in_keg,
        sealed: kept,
    } = actions[1].action
    else {
        panic!("{actions:?}")
    };
    let Action::Rouse {
        shown,
        planned,
        left,
        sealed,
    } = actions[0].action
    else {
        panic!()
    };
    assert!((shown.plato() - end - 2.0).abs() < 1e-9);
    assert!((planned.plato() - end).abs() < 1e-9);
    // 2 °P of apparent extract are about 16.5 g/L of sugar: an apparent degree is 0.81 of a real one, 10.1 g/L each.
    assert!((left.grams_per_litre() - 16.5).abs() < 1.0, "{left}");
    // As hexose 88.02/180.16 g of gas a gram, beside the 3.0378 - 0.050062 x 68 + 0.00026555 x 68^2 = 0.86149 volumes of
    // 1.977 g/L that stand in it at 68 °F (the quadratic of Draper and Hibberd 1996).
    let gas = CarbonDioxide::from_grams_per_litre(
        0.86149 * 1.977 + left.grams_per_litre() * 88.02 / 180.16,
    );
    let at_20 = Temperature::from_celsius(20.0).unwrap();
    let absolute = pressure_at(gas.unwrap(), at_20).unwrap();
    let gauge = (absolute - air_pressure()).get::<bar>();
    assert!((sealed.unwrap().get::<bar>() - gauge).abs() < 1e-3);
    assert_eq!((Some(kept), in_keg), (sealed, left));
    assert!(gauge > 4.0);
    let done = advice(
        &plan,
        &DayReading::Stopped {
            shown: Shown::hydrometer(plato(end)),
        },
    )
    .actions;
    assert_eq!(done.len(), 1);
    let impossible = DayReading::Stopped {
        shown: Shown::hydrometer(plato(30.0)),
    };
    assert!(plan.advise(&impossible).is_err());
}

/// By hand: of 10 L before the boil 8 L are left, with the planned juice, a ninth of 10 L, 9.1 L of beer where 11.1 L were planned.
/// The same hops are 1.22 times as bitter in it, so that 0.82 of each are enough. A volume as planned has nothing to tell.
#[test]
fn less_wort_wants_less_hops() {
    let plan = plan();
    let read = |volume_l: f64| {
        let reading = DayReading::BeforeBoil {
            volume: Some(Volume::new::<liter>(volume_l)),
            shown: Some(Shown::hydrometer(plan.volumes.pre_boil_extract)),
        };
        advice(&plan, &reading).actions
    };
    let short = read(10.0);
    let go_on = &short[0];
    assert_eq!(go_on.action, Action::GoOn);
    let share = go_on.hop_share.unwrap().fraction();
    assert!((share - 0.82).abs() < 0.02, "{share}");
    let said = go_on.text(Style::default());
    for words in [
        "it leaves 8.00 L into the fermenter, 10.0 L planned",
        "IBU planned: use 8",
        "of each hop addition still to come",
    ] {
        assert!(said.contains(words), "{said}");
    }
    // Water makes more beer of the same hops: the more of it, the less is held back.
    let Action::AddWater { .. } = short[1].action else {
        panic!("{short:?}")
    };
    assert!(short[1].hop_share.unwrap().fraction() > share);
    let planned = &read(plan.volumes.pre_boil.get::<liter>())[0];
    assert_eq!(planned.hop_share, None);
    assert_eq!(planned.text(Style::default()), "go on as planned");
}

/// 10 L at the end of the boil, of which nothing stays in the kettle. At 11 °P (1.042403 kg/L) and by hand as below:
/// (0.12 − 0.11) · 10.42403/(0.955 − 0.12) = 0.12484 kg of extract; at 13 °P 0.8771 L of water, as in the fermenter.
#[test]
fn a_wort_after_the_boil_has_its_ways_on() {
    let plan = plan();
    let read = |extract: f64| {
        let reading = DayReading::AfterBoil {
            volume: Some(Volume::new::<liter>(10.0)),
            shown: Some(Shown::hydrometer(plato(extract))),
        };
        advice(&plan, &reading).actions
    };
    let weak = read(11.0);
    let Action::AddDriedExtract { mass, cold: false } = weak[1].action else {
        panic!("{weak:?}")
    };
    assert!((mass.get::<kilogram>() - 0.12484).abs() < 1e-4, "{mass:?}");
    assert!((original(&weak[1]) - 12.0).abs() < 1e-6);
    let strong = read(13.0);
    let Action::AddWater { water, cold: false } = strong[1].action else {
        panic!("{strong:?}")
    };
    assert!((water.get::<liter>() - 0.8771).abs() < 1e-3, "{water:?}");
    assert_eq!((weak.len(), strong.len(), read(12.1).len()), (2, 2, 1));
}

/// A tenth of a degree off is told as within the reading's own error, whatever was read.
#[test]
fn what_is_not_corrected_is_told() {
    let plan = plan();
    let end = plan.predicted.final_extract.unwrap().plato();
    let volume = Some(plan.volumes.into_fermenter);
    for reading in [
        DayReading::InFermenter {
            volume,
            shown: Some(Shown::hydrometer(plato(11.9))),
        },
        DayReading::Stopped {
            shown: Shown::hydrometer(plato(end + 0.1)),
        },
    ] {
        let found = advice(&plan, &reading);
        assert_eq!(found.actions.len(), 1);
        assert_eq!(found.actions[0].action, Action::GoOn);
        let told = found
            .remarks
            .iter()
            .find(|told| told.code() == "within_reading");
        let said = told.unwrap().text(Style::default());
        assert!(said.contains("nothing to correct"), "{said}");
    }
}
