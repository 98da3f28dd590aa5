//! Less beer than planned at packaging, and what preserved juice is warned of: by hand, and by the model again.

use super::{advice, litres, plan_with, refused};
use uom::si::f64::Volume;
use uom::si::{mass::gram, volume::liter};
use wortwright::advice::{Action, DayReading};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::Warning;
use wortwright::quantity::{Concentration, uom};
use wortwright::scale::Plan;
use wortwright::science::inhibition::Outlook;
use wortwright::speech::{Noted, Speaks, Style};

fn packaged(volume: Volume) -> DayReading {
    DayReading::Packaging {
        volume,
        warmest: None,
        shown: None,
    }
}

/// With sugar at packaging.
fn sugared() -> Plan {
    let juice = "    100 % sour cherry juice, 13 Bx\n";
    plan_with(&[(juice, &format!("{juice}package\n  add 7 g/L sucrose\n"))])
}

#[test]
fn lost_beer_is_the_same_beer_and_water_thins_it() {
    let plan = sugared();
    let planned_l = litres(plan.volumes.racked);
    for share in [0.9, 0.8] {
        let volume = plan.volumes.racked * share;
        let advice = advice(&plan, &packaged(volume));
        let [less, filled] = &advice.actions[..] else {
            panic!("{:?}", advice.actions)
        };
        let Action::PackageLess { short, doses, .. } = &less.action else {
            panic!()
        };
        // A plan is written down to four digits, so that its volumes come again to within as many.
        assert!((litres(*short) - planned_l * (1.0 - share)).abs() < 5e-4 * planned_l);
        let text = less.action.text(Style::default());
        assert!(text.starts_with("package "), "{text}");
        assert!(text.contains(" L less than planned; "), "{text}");
        let sugar_g = doses[0].mass.unwrap().get::<gram>();
        assert!(
            (sugar_g / (7.0 * planned_l * share) - 1.0).abs() < 1e-2,
            "{sugar_g}"
        );
        assert_eq!(less.predicted.alcohol, advice.planned.alcohol);
        assert_eq!(less.predicted.bitterness, advice.planned.bitterness);
        let Action::TopUp { water, .. } = filled.action else {
            panic!()
        };
        // Mixing shrinks a beer of 5 % by a few tenths of a per mille.
        assert!((litres(water) / litres(*short) - 1.0).abs() < 5e-3);
        let (now, before) = (&filled.predicted, &advice.planned);
        // 7 g/L of sugar are 7/2.0665 g of ethanol by Balling and 0.429 % by volume, which go in anew per litre.
        let from_sugar = 7.0 / 2.0665 / 7.893;
        let fermented = |abv: f64| abv - from_sugar;
        let [now_abv, before_abv] =
            [now, before].map(|figures| fermented(figures.alcohol.unwrap().percent()));
        assert!(
            (now_abv / before_abv - share).abs() < 2e-3,
            "{now_abv} {before_abv}"
        );
        let ratios = [
            now.bitterness.unwrap().ibu() / before.bitterness.unwrap().ibu(),
            now.bitterness_kinetic.unwrap().ibu() / before.bitterness_kinetic.unwrap().ibu(),
            now.colour.unwrap().ebc() / before.colour.unwrap().ebc(),
        ];
        for ratio in ratios {
            assert!((ratio - share).abs() < 5e-4, "{ratios:?}");
        }
        assert!((litres(now.finished.unwrap()) / planned_l - 1.0).abs() < 5e-4);
        assert!(filled.action.text(Style::default()).contains("de-aerated"));
    }
    // More than planned, or just that: nothing is short.
    let Action::PackageLess { doses, gas, .. } =
        &advice(&plan, &packaged(plan.volumes.racked * 1.1)).actions[0].action
    else {
        panic!()
    };
    for short_l in [-1.0, 0.0] {
        let all = Action::PackageLess {
            short: Volume::new::<liter>(short_l),
            doses: doses.clone(),
            gas: gas.clone(),
        };
        let text = all.text(Style::default());
        assert!(text.starts_with("package everything; dose "), "{text}");
    }
    let as_planned = packaged(plan.volumes.racked);
    assert_eq!(advice(&plan, &as_planned).actions.len(), 1);
    let nothing = packaged(Volume::new::<liter>(0.0));
    assert_eq!(refused(&plan, &nothing), ErrorKind::OutOfRange);
}

fn preserved(facts: &str) -> Option<Noted<Warning>> {
    let line = format!("sour cherry juice, 13 Bx{facts}");
    let plan = plan_with(&[("sour cherry juice, 13 Bx", &line)]);
    let found = |warning: &Noted<Warning>| matches!(&warning.what, Warning::PreservedJuice { .. });
    plan.warnings.into_iter().find(found)
}

#[test]
fn preserved_juice_is_warned_of_and_not_predicted() {
    assert_eq!(preserved(""), None);
    let warned = |facts: &str| {
        let warning = preserved(facts).unwrap();
        let said = warning.text(Style::default());
        let Warning::PreservedJuice {
            free,
            molecular,
            sorbic,
            ph,
            outlook,
            ..
        } = warning.what
        else {
            unreachable!()
        };
        let mg = [free, molecular, sorbic].map(Concentration::milligrams_per_litre);
        (mg, ph.value(), outlook, said)
    };
    // A tenth of the beer: 10 mg/L, of which 1/(1 + 10^(4.2 − 1.81)) is molecular.
    let ([free, molecular, sorbic], ph, outlook, _) = warned(", SO2 100 mg/L");
    assert!((free - 10.0).abs() < 0.05, "{free}");
    assert!((molecular - 0.04057).abs() < 5e-4, "{molecular}");
    assert_eq!((sorbic, ph, outlook), (0.0, 4.2, Outlook::UsuallyFerments));
    // The juice's own pH where it is stated and lower: 1/(1 + 10^(3.4 − 1.81)); 80 mg/L of sorbic acid.
    let ([_, molecular, sorbic], ph, outlook, said) =
        warned(", SO2 100 mg/L, sorbate 800 mg/L, pH 3.4");
    assert!((molecular - 0.2506).abs() < 2e-3, "{molecular}");
    assert!((sorbic - 80.0).abs() < 0.4, "{sorbic}");
    assert_eq!((ph, outlook), (3.4, Outlook::MayBeHindered));
    assert!(
        said.contains("may delay") && said.contains("sour cherry juice"),
        "{said}"
    );
    let (_, _, outlook, said) = warned(", sorbate 3 g/L");
    assert_eq!(outlook, Outlook::OftenStops);
    assert!(said.contains("often stops"));
}
