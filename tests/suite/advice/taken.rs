//! Advice taken: what it says is done to the wort or to the plan's own text, all of it is read and run again, and the aim is met.

use super::{advice, plato};
use crate::brewing::{BIG, job, kg, l, near, predicted_on};
use uom::si::f64::{Mass, Volume};
use uom::si::{mass::gram, mass::kilogram, time::minute, volume::liter};
use wortwright::advice::{Action, Advice, AdvisedAction, DayReading, Shown, ToMeasure};
use wortwright::diagnostic::ErrorKind;
use wortwright::ledger::Remark;
use wortwright::process::Figures;
use wortwright::quantity::{Extract, Ph, uom};
use wortwright::scale::{Plan, WeighOut};
use wortwright::science::liquid::Liquid;
use wortwright::speech::{Noted, Speaks, Style};
use wortwright_tests::fixtures::{changed, fixture};

/// The plan of a beer with juice in bottles, not weighed out, with some of its text replaced.
pub(super) fn plan_of(changes: &[(&str, &str)]) -> Plan {
    let text = changed(&fixture("advice/bottled_with_juice"), changes) + BIG;
    job(&text, "Kitchen").scaled(WeighOut::Exact).unwrap()
}

fn by_hydrometer(value: f64) -> Shown {
    Shown::hydrometer(plato(value))
}

fn way(advice: &Advice, fits: impl Fn(&Action) -> bool) -> &AdvisedAction {
    let found = advice.actions.iter().find(|way| fits(&way.action));
    found.unwrap_or_else(|| panic!("{:?}", advice.actions))
}

/// The plan's text with some of it changed, read and predicted again.
fn predicted_again(plan: &Plan, changes: &[(&str, &str)]) -> Figures {
    let text = changed(&plan.to_document().to_string(), changes);
    predicted_on(&text, &plan.brewhouse.name).predicted
}

/// What is to be measured first, where nothing else is advised but to go on.
fn asked(advice: &Advice) -> Vec<ToMeasure> {
    let [first, go_on] = &advice.actions[..] else {
        panic!("{:?}", advice.actions)
    };
    assert_eq!(go_on.action, Action::GoOn);
    let Action::MeasureFirst { what } = &first.action else {
        panic!("{first:?}")
    };
    what.clone()
}

fn original(figures: &Figures) -> f64 {
    figures.original.unwrap().plato()
}

fn alcohol(figures: &Figures) -> f64 {
    figures.alcohol.unwrap().percent()
}

/// A wort with water and extract stirred in, as it would be measured, by masses.
fn stirred(volume: Volume, extract: f64, water_kg: f64, extract_kg: f64) -> (Volume, Extract) {
    let kg = Mass::new::<kilogram>;
    let wort = Liquid::wort(volume, plato(extract)).unwrap();
    let mixed = match Liquid::new(kg(water_kg), kg(extract_kg), kg(0.0)) {
        Ok(other) => wort.blended(other),
        Err(_) => wort,
    };
    (mixed.volume(), mixed.real_extract())
}

fn before_boil(volume: Volume, extract: Extract) -> DayReading {
    DayReading::BeforeBoil {
        volume: Some(volume),
        shown: Some(Shown::hydrometer(extract)),
    }
}

#[test]
fn a_wort_before_the_boil_comes_to_its_gravity() {
    mended_before_the_boil("evaporation 2 L/h", |_, hours| 2.0 * hours);
    mended_before_the_boil("evaporation 10 % per hour", |litres, hours| {
        0.1 * litres * hours
    });
}

/// `boiled_off_l` gives the litres that a boil of so many hours drives off so many litres.
fn mended_before_the_boil(evaporation: &str, boiled_off_l: impl Fn(f64, f64) -> f64) {
    let plan = plan_of(&[("evaporation 2 L/h", evaporation)]);
    let volume = plan.volumes.pre_boil;
    let right = plan.volumes.pre_boil_extract.plato();
    for off in [-1.0, 1.0] {
        let found = advice(&plan, &before_boil(volume, plato(right + off)));
        let (water_kg, extract_kg) = if off < 0.0 {
            let Action::AddDriedExtract { mass, .. } =
                way(&found, |w| matches!(w, Action::AddDriedExtract { .. })).action
            else {
                unreachable!()
            };
            (0.045 * kg(mass), 0.955 * kg(mass))
        } else {
            let Action::AddWater { water, .. } =
                way(&found, |w| matches!(w, Action::AddWater { .. })).action
            else {
                unreachable!()
            };
            (0.998203 * l(water), 0.0)
        };
        let (volume, extract) = stirred(volume, right + off, water_kg, extract_kg);
        let again = advice(&plan, &before_boil(volume, extract));
        assert_eq!(again.actions.len(), 1, "{:?}", again.actions);
        near(original(&again.actions[0].predicted), 12.0, 1e-6, "mended");
        // Boiled longer instead: by hand, so much water boils off until 12 % of it is extract.
        if off < 0.0 {
            let Action::BoilFor { time } =
                way(&found, |w| matches!(w, Action::BoilFor { .. })).action
            else {
                unreachable!()
            };
            let wort = Liquid::wort(plan.volumes.pre_boil, plato(right + off)).unwrap();
            let off_l = boiled_off_l(l(plan.volumes.pre_boil), time.get::<minute>() / 60.0);
            let boiled_kg = kg(wort.mass()) - off_l * 0.998203;
            near(100.0 * kg(wort.extract()) / boiled_kg, 12.0, 1e-6, "boiled");
        }
    }
}

#[test]
fn a_volume_alone_is_taken_to_hold_the_planned_extract() {
    let plan = plan_of(&[]);
    let full_l = l(plan.volumes.pre_boil);
    let reading = |volume_l: f64| DayReading::BeforeBoil {
        volume: Some(Volume::new::<liter>(volume_l)),
        shown: None,
    };
    let found = advice(&plan, &reading(full_l + 1.0));
    let planned = Liquid::wort(plan.volumes.pre_boil, plan.volumes.pre_boil_extract).unwrap();
    // By hand: the planned extract in 1 L of water more.
    let by_hand = 100.0 * kg(planned.extract()) / (kg(planned.mass()) + 0.998203);
    near(found.extract.unwrap().plato(), by_hand, 1e-3, "thinner");
    assert!(matches!(
        found.remarks[..],
        [Noted {
            what: Remark::ExtractAsPlanned { .. },
            ..
        }]
    ));
    // Whether that is so, its gravity tells, which is measured before anything is done.
    assert_eq!(asked(&found), [ToMeasure::Gravity]);
    let both = DayReading::BeforeBoil {
        volume: Some(Volume::new::<liter>(full_l + 1.0)),
        shown: Some(by_hydrometer(by_hand)),
    };
    let found = advice(&plan, &both);
    let Action::BoilFor { time } = way(&found, |w| matches!(w, Action::BoilFor { .. })).action
    else {
        unreachable!()
    };
    // A litre more is half an hour more at 2 L/h.
    near(time.get::<minute>(), 105.0, 1e-2, "longer");
    assert_eq!(advice(&plan, &reading(full_l)).actions.len(), 1);
    let thin = DayReading::BeforeBoil {
        volume: None,
        shown: Some(by_hydrometer(8.0)),
    };
    let found = advice(&plan, &thin);
    near(l(found.volume.unwrap()), full_l, 1e-9, "volume as planned");
    assert_eq!(asked(&found), [ToMeasure::StirredSample, ToMeasure::Volume]);
    assert!(matches!(
        found.remarks[..],
        [Noted {
            what: Remark::VolumeAsPlanned { .. },
            ..
        }]
    ));
    for remark in &found.remarks {
        assert!(remark.text(Style::default()).contains("as planned"));
    }
    let nothing = DayReading::InFermenter {
        volume: None,
        shown: None,
    };
    let error = plan.advise(&nothing).unwrap_err();
    assert_eq!(error.kind(), ErrorKind::Incomplete);
}

#[test]
fn a_wort_in_the_fermenter_comes_to_its_gravity() {
    let plan = plan_of(&[]);
    let volume = Volume::new::<liter>(10.0);
    for extract in [10.8, 13.1] {
        let reading = |volume, shown| DayReading::InFermenter {
            volume: Some(volume),
            shown: Some(shown),
        };
        let found = advice(&plan, &reading(volume, Shown::hydrometer(plato(extract))));
        let (water_kg, extract_kg) = match found.actions[1].action {
            Action::AddDriedExtract { mass, .. } => (0.045 * kg(mass), 0.955 * kg(mass)),
            Action::AddWater { water, .. } => (0.998203 * l(water), 0.0),
            ref other => panic!("{other:?}"),
        };
        let mended = stirred(volume, extract, water_kg, extract_kg);
        let again = advice(&plan, &reading(mended.0, Shown::hydrometer(mended.1)));
        near(original(&again.actions[0].predicted), 12.0, 1e-6, "mended");
        assert!(
            !again
                .actions
                .iter()
                .any(|w| matches!(w.action, Action::AddDriedExtract { .. }))
        );
        // A refractometer shows 4 % more Brix in wort, and means the same.
        let optical = Shown::refractometer(plato(1.04 * extract));
        let same = advice(&plan, &reading(volume, optical));
        near(
            same.extract.unwrap().plato(),
            extract,
            1e-12,
            "by refractometer",
        );
        assert_eq!(same.actions.len(), found.actions.len());
        assert!(matches!(
            same.remarks[..],
            [Noted {
                what: Remark::WortCorrection { .. },
                ..
            }]
        ));
    }
}

#[test]
fn another_lot_of_juice_gives_the_beer_it_promises() {
    let plan = plan_of(&[]);
    let text = plan.to_document().to_string();
    let written = text
        .lines()
        .find(|line| line.contains("sour cherry"))
        .unwrap();
    let planned = plan
        .additions
        .iter()
        .find(|a| a.name == "sour cherry juice")
        .unwrap();
    let planned_l = l(planned.volume.unwrap());
    for brix in [9.0, 16.0] {
        let reading = DayReading::Juice {
            name: "sour cherry juice".into(),
            shown: Shown::hydrometer(plato(brix)),
        };
        for way in advice(&plan, &reading).actions {
            let juice =
                |litres: f64| Liquid::wort(Volume::new::<liter>(litres), plato(brix)).unwrap();
            // What is poured in, as one juice: its mass and its extract.
            let (mass_kg, extract_kg) = match way.action {
                Action::UseJuice { juice: lot } => {
                    let lot = juice(l(lot));
                    (kg(lot.mass()), kg(lot.extract()))
                }
                Action::SweetenJuice { juice: lot, sugar } => {
                    let lot = juice(l(lot));
                    (kg(lot.mass()) + kg(sugar), kg(lot.extract()) + kg(sugar))
                }
                Action::ThinJuice { juice: lot, water } => {
                    let lot = juice(l(lot));
                    (kg(lot.mass()) + 0.998203 * l(water), kg(lot.extract()))
                }
                ref other => panic!("{other:?}"),
            };
            let mixed = Liquid::new(
                Mass::new::<kilogram>(mass_kg - extract_kg),
                Mass::new::<kilogram>(extract_kg),
                Mass::new::<kilogram>(0.0),
            )
            .unwrap();
            let poured = format!(
                "    {:.9} L sour cherry juice, {:.9} Bx, 100 % fermentable",
                l(mixed.volume()),
                mixed.real_extract().plato()
            );
            let beer = predicted_again(&plan, &[(written, &poured)]);
            // A plan is written down with its final gravity to four digits, of which half of the last is 1e-4 of the alcohol.
            near(alcohol(&beer), alcohol(&way.predicted), 1e-4, "alcohol");
            let now = beer.final_extract.unwrap().plato();
            near(
                now,
                way.predicted.final_extract.unwrap().plato(),
                // Half of the last of four digits of a gravity of 3 °P, 0.0005 °P, is 1.7e-4 of it.
                2e-4,
                "final",
            );
            // The third way is the planned juice.
            if !matches!(way.action, Action::UseJuice { .. }) {
                near(l(mixed.volume()), planned_l, 1e-5, "planned volume");
                near(mixed.real_extract().plato(), 13.0, 1e-6, "planned Brix");
                near(
                    alcohol(&beer),
                    alcohol(&plan.predicted),
                    1e-4,
                    "planned alcohol",
                );
            }
        }
    }
}

#[test]
fn acid_brings_the_predicted_mash_where_it_should_be() {
    // Without a wanted pH the plan adds no acid, so that the mash as predicted is the one that is measured.
    let plan = plan_of(&[("  pH 5.4\n", "")]);
    let measured = plan.predicted.mash_ph.unwrap();
    let wanted = Ph::from_value(measured.value() - 0.25).unwrap();
    let wanted_ph = Some(wanted);
    let found = advice(
        &plan,
        &DayReading::MashPh {
            measured,
            wanted: wanted_ph,
        },
    );
    for acid in &found.actions[1..] {
        let Action::AddAcid { name, mass, .. } = &acid.action else {
            panic!("{:?}", acid.action)
        };
        let more = format!("mash\n  {:.9} g {name}\n", mass.get::<gram>());
        let text = plan.to_document().to_string();
        let block = text.lines().find(|line| line.starts_with("mash")).unwrap();
        let again = predicted_again(&plan, &[(&format!("{block}\n"), &more)]);
        near(again.mash_ph.unwrap().value(), wanted.value(), 2e-5, name);
    }
    assert_eq!(found.actions.len(), 4);
}

#[test]
fn a_late_addition_gives_the_beer_it_promises() {
    let plan = plan_of(&[]);
    let text = plan.to_document().to_string();
    let written = text
        .lines()
        .find(|line| line.contains("sour cherry"))
        .unwrap();
    for (shown, late) in [
        (Shown::hydrometer(plato(3.5)), 3.5),
        // Terrill's linear fit by hand: 1 − 0.00085683 · 12 + 0.0034941 · 6.5/1.04 = 1.011556, by the ASBC polynomial 2.956 °P;
        // that lies 0.003 °P low near water.
        (Shown::refractometer(plato(6.5)), 2.956),
    ] {
        let reading = DayReading::AdditionAt {
            name: "sour cherry juice".into(),
            shown,
        };
        let found = advice(&plan, &reading);
        let apparent = found.extract.unwrap().plato();
        near(apparent, late, 2e-3, "before");
        for way in &found.actions {
            let (Action::PourPlanned { doses } | Action::KeepShare { doses }) = &way.action else {
                panic!("{:?}", way.action)
            };
            let juice_l = l(doses[0].volume.unwrap());
            let poured = format!("    {juice_l:.9} L sour cherry juice, 13 Bx, 100 % fermentable");
            let when = format!("when {apparent:.9} P");
            let beer = predicted_again(&plan, &[(written, &poured), ("when 5 P", &when)]);
            // A plan is written down with its final gravity to four digits, of which half of the last is 1e-4 of the alcohol.
            near(alcohol(&beer), alcohol(&way.predicted), 1e-4, "alcohol");
            let before = beer.before_addition.unwrap().plato();
            near(before, apparent, 1e-6, "gravity before");
            let after = way.predicted.after_addition.unwrap().plato();
            near(
                beer.after_addition.unwrap().plato(),
                after,
                1e-5,
                "gravity after",
            );
        }
    }
}

#[test]
fn a_refractometer_after_fermentation_sees_the_juice_too() {
    let plan = plan_of(&[]);
    let everything = plan.predicted.equivalent_original.unwrap().plato();
    let stopped = |brix| DayReading::Stopped {
        shown: Shown::refractometer(plato(brix)),
    };
    let found = advice(&plan, &stopped(6.8));
    // Terrill's linear fit with the extract of wort and juice together; 1.0125 to 1.0130 are 3.2 to 3.3 °P.
    let by_hand = 1.0 - 0.00085683 * everything + 0.0034941 * 6.8 / 1.04;
    let gravity = found.actions[1].predicted.final_gravity.unwrap().ratio();
    near(gravity, by_hand, 1e-6, "gravity");
    assert!(matches!(found.actions[0].action, Action::Rouse { .. }));
    // Barely begun, no published fit reaches it, and that is said.
    let early = advice(&plan, &stopped(11.0));
    assert!(
        early
            .remarks
            .iter()
            .any(|told| told.what == Remark::RefractometerRough)
    );
}
