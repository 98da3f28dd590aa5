//! Priming and pressure by what the advice at packaging says: figures worked out by hand.

use super::taken::plan_of;
use super::{advice, plato};
use crate::brewing::{kg, l, near};
use uom::si::f64::Volume;
use uom::si::{pressure::bar, volume::liter};
use wortwright::advice::{Action, Advice, DayReading, Shown};
use wortwright::process::{GasPlan, Warning};
use wortwright::quantity::{Temperature, uom};
use wortwright::speech::{Noted, Speaks, Style};

fn primed(found: &Advice) -> &GasPlan {
    let Action::PackageLess { gas, .. } = &found.actions[0].action else {
        panic!("{:?}", found.actions)
    };
    gas.as_ref().unwrap()
}

#[test]
fn priming_is_for_the_beer_that_is_there() {
    let plan = plan_of(&[]);
    let packaging = |volume_l, warmest: Option<f64>, apparent: Option<f64>| DayReading::Packaging {
        volume: Volume::new::<liter>(volume_l),
        warmest: warmest.map(|celsius| Temperature::from_celsius(celsius).unwrap()),
        shown: apparent.map(|value| Shown::hydrometer(plato(value))),
    };
    let sugar = |found: &Advice| match primed(found) {
        GasPlan::Conditioned { sucrose, .. } => kg(*sucrose),
        other => panic!("{other:?}"),
    };
    // By hand at 20 °C, the last hold: 0.86149 volumes of 1.977 g/L are left, 3.2968 g/L wanting of 5, and sucrose gives 0.51428 g/g.
    let as_planned = advice(&plan, &packaging(8.0, None, None));
    near(
        sugar(&as_planned),
        8.0 * 3.2968 / 0.51428 / 1000.0,
        1e-4,
        "at 20 °C",
    );
    // At 25 °C, 77 °F: 3.0378 − 3.854774 + 1.574446 = 0.757472 volumes, 1.49752 g/L.
    let warm = advice(&plan, &packaging(8.0, Some(25.0), None));
    near(
        sugar(&warm),
        8.0 * 3.50248 / 0.51428 / 1000.0,
        1e-4,
        "at 25 °C",
    );
    // Filled up to the planned volume the gas of 8 L is all there is of it, since boiled water brings none.
    let Action::TopUp {
        gas: Some(GasPlan::Conditioned { sucrose, .. }),
        ..
    } = &as_planned.actions[1].action
    else {
        panic!("{:?}", as_planned.actions)
    };
    let planned_l = l(plan.volumes.packaged);
    near(
        kg(*sucrose),
        (planned_l * 5.0 - 8.0 * 1.7032) / 0.51428 / 1000.0,
        1e-4,
        "filled up",
    );
    // 0.3 °P above the end: 0.3 · 0.81 = 0.243 °P of real extract, 2.46 g/L of it, and as hexose 2.46 · 0.48857 = 1.202 g/L of
    // gas, for which 1.202/0.51428 = 2.337 g/L of table sugar are needed no more.
    let end = plan.predicted.final_extract.unwrap().plato();
    let unfinished = advice(&plan, &packaging(8.0, None, Some(end + 0.3)));
    let saved_g_l = (sugar(&as_planned) - sugar(&unfinished)) * 1000.0 / 8.0;
    near(saved_g_l, 2.337, 0.03, "still fermentable");
    let said = unfinished.actions[0].action.text(Style::default());
    for word in [
        "still to come from unfermented sugar",
        "a stable gravity",
        "explode",
        "table sugar",
    ] {
        assert!(said.contains(word), "{said}");
    }
    assert!(unfinished.warnings.is_empty(), "{:?}", unfinished.warnings);
    // 2 °P above it: 16.5 g/L of extract are, as hexose, 8.05 g/L of gas and burst any bottle.
    let stuck = advice(&plan, &packaging(8.0, None, Some(end + 2.0)));
    let codes: Vec<_> = stuck.actions.iter().map(Speaks::code).collect();
    assert_eq!(codes, ["rouse", "keg_cold"]);
    let [
        Noted {
            what: Warning::GasBeyondWanted { there, .. },
            ..
        },
        Noted {
            what: Warning::PackageOverLimit { .. },
            ..
        },
    ] = &stuck.warnings[..]
    else {
        panic!("{:?}", stuck.warnings)
    };
    near(there.grams_per_litre(), 1.7032 + 8.05, 0.05, "gas");
}

#[test]
fn a_keg_that_stands_warm_has_its_limit() {
    let plan = plan_of(&[("bottles, carbonate 5 g/L", "keg, carbonate 5 g/L at 4 C")]);
    let packaging = |apparent: Option<f64>| DayReading::Packaging {
        volume: Volume::new::<liter>(8.0),
        warmest: None,
        shown: apparent.map(|value| Shown::hydrometer(plato(value))),
    };
    let found = advice(&plan, &packaging(None));
    let GasPlan::Forced { gauge, .. } = primed(&found) else {
        panic!("{:?}", found.actions)
    };
    // 5 g/L are 2.52909 volumes; at 39.2 °F 0.01821 + 0.090115 exp(−7.2/43.11) = 0.094465 a psi: 26.808 less 14.695 psi.
    near(gauge.get::<bar>(), 12.113 * 0.0689476, 1e-3, "gauge");
    assert!(found.warnings.is_empty());
    let end = plan.predicted.final_extract.unwrap().plato();
    let unfinished = advice(&plan, &packaging(Some(end + 1.0)));
    let [
        Noted {
            what: Warning::KegOverLimit { gauge, .. },
            ..
        },
    ] = &unfinished.warnings[..]
    else {
        panic!("{:?}", unfinished.warnings)
    };
    // 1 °P is 8.2 g/L of sugar and 4.2 g/L of gas: 9.2 g/L, 4.66 volumes, at 68 °F and 0.05731 a psi 81 psi or 4.6 bar above the air.
    near(gauge.get::<bar>(), 4.6, 0.05, "warm");
    for warning in &unfinished.warnings {
        assert!(warning.text(Style::default()).contains("relief valve"));
    }
}

/// By hand for bottles of 3 volumes, 5.93 g/L: 1.70 g/L stand in the beer at 20 °C, and 4.23 g/L more come of 8.65 g/L of hexose. A
/// degree of apparent extract is 0.81 of a real one, 8.2 g/L: 1.05 °P above the end are the most that may be bottled.
#[test]
fn what_a_bottle_does_not_bear_is_not_accepted() {
    let plan = plan_of(&[]);
    let end = plan.predicted.final_extract.unwrap().plato();
    let codes = |reading: &DayReading| -> Vec<_> {
        advice(&plan, reading)
            .actions
            .iter()
            .map(Speaks::code)
            .collect()
    };
    let stopped = |above: f64| DayReading::Stopped {
        shown: Shown::hydrometer(plato(end + above)),
    };
    assert_eq!(codes(&stopped(0.95)), ["rouse", "take_as_it_is"]);
    assert_eq!(codes(&stopped(1.15)), ["rouse", "keg_cold"]);
    // Wort that has hardly begun: 50 g/L and more burst a keg too.
    assert_eq!(codes(&stopped(8.0)), ["rouse"]);
    // Drier than planned nothing is accepted before it has ended.
    assert_eq!(codes(&stopped(-0.7)), ["wait_for_end"]);
    let packaging = |above: f64| DayReading::Packaging {
        volume: plan.volumes.racked,
        warmest: None,
        shown: Some(Shown::hydrometer(plato(end + above))),
    };
    assert_eq!(codes(&packaging(0.0)), ["package_less"]);
    assert_eq!(codes(&packaging(2.3)), ["rouse", "keg_cold"]);
    assert_eq!(codes(&packaging(-0.7)), ["wait_for_end", "package_less"]);
}

#[test]
fn a_volume_that_cannot_be_is_read_again() {
    let plan = plan_of(&[]);
    let codes = |volume_l: f64| -> Vec<_> {
        let reading = DayReading::Packaging {
            volume: Volume::new::<liter>(volume_l),
            warmest: None,
            shown: None,
        };
        advice(&plan, &reading)
            .actions
            .iter()
            .map(Speaks::code)
            .collect()
    };
    // Of some 10 L planned: no sugar for three times as much, and no litre filled up to ten.
    assert_eq!(codes(30.0), ["measure_first"]);
    assert_eq!(codes(1.0), ["measure_first", "package_less"]);
    assert_eq!(codes(7.0), ["package_less"]);
    let hot = DayReading::Packaging {
        volume: plan.volumes.racked,
        warmest: Some(Temperature::from_celsius(60.0).unwrap()),
        shown: None,
    };
    let error = plan.advise(&hot).unwrap_err();
    assert!(
        error.message().contains("from 0 to 45 °C, found 60 °C"),
        "{error}"
    );
}
