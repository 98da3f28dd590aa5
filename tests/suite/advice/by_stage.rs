//! Advice for a mash, a late addition and packaging, and what preserved juice is warned of: by hand, and by the model again.

use crate::brewing::weighed;
use uom::si::f64::Volume;
use uom::si::{mass::gram, mass::kilogram, volume::liter, volume::milliliter};
use wortwright::advice::{Action, Advice, AdvisedAction, DayReading, Shown};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::{Assumption, Figures, Warning};
use wortwright::quantity::{Concentration, Extract, Ph, uom};
use wortwright::scale::Plan;
use wortwright::science::inhibition::Outlook;
use wortwright::science::liquid::Liquid;
use wortwright::speech::{Noted, Speaks, Style};

/// A beer with sour cherry juice; each pair replaces a line of it.
fn plan(changes: &[(&str, &str)]) -> Plan {
    let mut text = "recipe Plain with juice\nbatch 10 hL into fermenter\n\
        target original 12 P, bitterness 25 IBU\nmash\n  100 % pale ale malt\nboil 60 min\n  \
        northern brewer at 60 min\nferment\n  pitch farmhouse ale yeast, attenuation 80 %\n  \
        add 10 % by volume when 5 P\n    100 % sour cherry juice, 13 Bx\n\
        package\n  add 7 g/L sucrose\n\
        brewhouse Kitchen\n  batch 10 L into fermenter\n  evaporation 2 L/h\n"
        .to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    weighed(&text, "Kitchen")
}

const WATER: &str = "  evaporation 2 L/h\n  water calcium 40 mg/L, magnesium 0 mg/L, sodium 0 mg/L, \
    sulphate 10 mg/L, chloride 20 mg/L, alkalinity 100 mg/L, pH 7.5\n";

fn with_water() -> Plan {
    plan(&[("  evaporation 2 L/h\n", WATER)])
}

fn plato(value: f64) -> Extract {
    Extract::from_plato(value).unwrap()
}

fn advice(plan: &Plan, reading: &DayReading) -> Advice {
    plan.advise(reading).unwrap()
}

fn refused(plan: &Plan, reading: &DayReading) -> ErrorKind {
    plan.advise(reading).unwrap_err().kind()
}

fn mash(plan: &Plan, measured: f64, wanted: f64) -> Advice {
    let ph = |value| Ph::from_value(value).unwrap();
    let (measured, wanted) = (ph(measured), ph(wanted));
    advice(plan, &DayReading::MashPh { measured, wanted })
}

fn packaged(volume: Volume) -> DayReading {
    DayReading::Packaging {
        volume,
        warmest: None,
        apparent: None,
    }
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

fn litres(volume: Volume) -> f64 {
    volume.get::<liter>()
}

#[test]
fn acid_by_the_buffering_of_the_grist() {
    let plan = plan(&[]);
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
        for caution in [
            "goggles",
            "acid into water",
            "stir",
            "measure",
            "small steps",
        ] {
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
    let (plain, hard) = (plan(&[]), with_water());
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
    let planned = plan(&[
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
    for (plan, carbonate_mmol_l) in [(plan, 1.998 / 0.9353), (self::plan(&[]), 0.0)] {
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
    let plan_by_class = plan(&[("100 % pale ale malt", "100 % mild ale malt")]);
    let notes = mash(&plan_by_class, 5.8, 5.4).assumptions;
    let flagged = |note: &Noted<Assumption>| matches!(&note.what, Assumption::MashPhFromClass { names } if names == &["mild ale malt"]);
    assert!(notes.iter().any(flagged), "{notes:?}");
    let ph = |value| Ph::from_value(value).unwrap();
    for measured in [3.0, 9.0] {
        let reading = DayReading::MashPh {
            measured: ph(measured),
            wanted: ph(5.4),
        };
        assert_eq!(refused(&plan_by_class, &reading), ErrorKind::OutOfRange);
    }
}

fn addition(name: &str, apparent: f64) -> DayReading {
    DayReading::AdditionAt {
        name: name.into(),
        shown: Shown::Hydrometer(plato(apparent)),
    }
}

#[test]
fn juice_into_drier_beer_gives_the_same_beer() {
    let plan = plan(&[]);
    for late in [4.0, 3.0] {
        let advice = advice(&plan, &addition("sour cherry juice", late));
        let [poured, share] = &advice.actions[..] else {
            panic!("{:?}", advice.actions)
        };
        let Action::PourPlanned { doses } = &poured.action else {
            panic!()
        };
        let dose = &doses[0];
        let juice_l = litres(dose.volume.unwrap());
        let planned = plan.additions.iter().find_map(|a| a.volume).unwrap();
        // A plan is written down to four digits.
        assert!((juice_l / litres(planned) - 1.0).abs() < 5e-4);
        // The same sugar and water went in, so the same beer comes out.
        let (now, before) = (&poured.predicted, &advice.planned);
        let abv = |way: &Figures| way.alcohol.unwrap().percent();
        assert!((abv(now) - abv(before)).abs() < 1e-9);
        let end = now.final_extract.unwrap().plato() - before.final_extract.unwrap().plato();
        assert!(end.abs() < 1e-9);
        assert!((now.before_addition.unwrap().plato() - late).abs() < 1e-6);
        // Volumes add up nearly: 9 parts at 4 °P (1013.88 kg/m³) or 3 °P (1009.95) and one at 13 °P (1050.65) are 1017.56 or
        // 1014.02 kg/m³, by the same table 4.93 or 4.04 °P.
        let shown = if late > 3.5 { 4.93 } else { 4.04 };
        let after = now.after_addition.unwrap();
        assert!((after.plato() - shown).abs() < 0.05, "{after}");
        assert!(after.plato() < before.after_addition.unwrap().plato());
        // Fermenting beer hardly changes its volume, so neither does the share.
        let Action::KeepShare { doses } = &share.action else {
            panic!()
        };
        let dose = &doses[0];
        let kept = litres(dose.volume.unwrap());
        assert!((kept / juice_l - 1.0).abs() < 3e-3, "{kept} {juice_l}");
        assert!((abv(&share.predicted) - abv(before)).abs() < 0.005);
    }
}

/// Wort of 12 °P takes a tenth of the whole as cherry juice at 8 °P, and a tenth of that whole as apple juice at 6 °P. Litres that
/// nearly add up, of wort: 1/9 = 0.111 of cherry, then 1.111/9 = 0.123 of apple.
/// - Cherry juice at 5 °P meets the apple juice: 1.123 times the planned vessel, and so much of it.
/// - Apple juice at 9 °P meets no cherry juice yet: 1/1.111 = 0.9 times the planned vessel.
///
/// The same through the liquids, where fermenting takes 2 to 3 per mille off the volume.
#[test]
fn an_addition_goes_in_in_its_turn() {
    let plan = plan(&[
        (
            "when 5 P\n    100 % sour cherry juice, 13 Bx\n",
            "when 8 P\n    100 % sour cherry juice, 13 Bx, 100 % fermentable\n  \
             add 10 % by volume when 6 P\n    100 % apple juice, 12 Bx, 100 % fermentable\n",
        ),
        ("12 P, bitterness 25 IBU", "12 P"),
        ("  northern brewer at 60 min\n", ""),
    ]);
    let planned_l = |name: &str| {
        let mut additions = plan.additions.iter();
        litres(additions.find(|a| a.name == name).unwrap().volume.unwrap())
    };
    let (cherry_l, apple_l) = (planned_l("sour cherry juice"), planned_l("apple juice"));
    let of = |l, p| Liquid::wort(Volume::new::<liter>(l), plato(p)).unwrap();
    let wort = of(
        litres(plan.predicted.batch.unwrap()),
        plan.predicted.original.unwrap().plato(),
    );
    let at = |beer: Liquid, apparent| beer.fermented_to(plato(apparent)).unwrap();
    let both = |shown: f64| {
        let beer = at(at(wort, 6.0).blended(of(apple_l, 12.0)), shown);
        litres(beer.volume()) / litres(at(wort, 8.0).volume())
    };
    let neither = |shown: f64| {
        let planned = at(at(wort, 8.0).blended(of(cherry_l, 13.0)), 6.0);
        litres(at(wort, shown).volume()) / litres(planned.volume())
    };
    for (name, shown, litres_l, ratio, roughly) in [
        ("sour cherry juice", 5.0, cherry_l, both(5.0), 1.123),
        ("apple juice", 9.0, apple_l, neither(9.0), 0.9),
    ] {
        let advice = advice(&plan, &addition(name, shown));
        let Action::KeepShare { doses } = &advice.actions[1].action else {
            panic!("{:?}", advice.actions)
        };
        let kept = litres(doses[0].volume.unwrap()) / litres_l;
        // A plan is written down to four digits.
        assert!((kept / ratio - 1.0).abs() < 5e-4, "{name}: {kept} {ratio}");
        assert!((kept - roughly).abs() < 4e-3, "{name}: {kept}");
        let (now, before) = (&advice.actions[0].predicted, &advice.planned);
        let abv = |beer: &Figures| beer.alcohol.unwrap().percent();
        assert!((abv(now) - abv(before)).abs() < 1e-9);
        // Whichever goes in first is the first addition.
        let first = now.before_addition.unwrap().plato();
        assert!((first - shown.max(6.0)).abs() < 1e-6, "{name}: {first}");
    }
}

/// Apple juice waits for 6 °P and cherry juice for the fifth day, so that as planned the cherry juice is the second. Read at
/// 8 °P it is the first, and read at 5 °P it keeps its turn, with dry hops on the third day or without.
#[test]
fn an_addition_by_day_goes_in_where_its_gravity_says() {
    let juices = "add 10 % by volume when 6 P\n    100 % apple juice, 12 Bx, 100 % fermentable\n  \
        add 10 % by volume on day 5\n    100 % sour cherry juice, 13 Bx, 100 % fermentable\n";
    let hopped = format!("{juices}  add 2 g/L cascade on day 3\n");
    for later in [juices, &hopped] {
        let plan = plan(&[(
            "add 10 % by volume when 5 P\n    100 % sour cherry juice, 13 Bx\n",
            later,
        )]);
        for (shown, first) in [(8.0, 8.0), (5.0, 6.0)] {
            let advice = advice(&plan, &addition("sour cherry juice", shown));
            let before = advice.actions[0].predicted.before_addition.unwrap().plato();
            assert!((before - first).abs() < 1e-6, "{shown}: {before}");
        }
    }
}

#[test]
fn sugar_is_weighed_and_impossible_gravities_are_refused() {
    let plan = plan(&[(
        "  add 10 % by volume when 5 P\n    100 % sour cherry juice, 13 Bx\n",
        "  add 20 g/L sucrose when 5 P\n",
    )]);
    let advice = advice(&plan, &addition("sucrose", 3.0));
    let Action::PourPlanned { doses } = &advice.actions[0].action else {
        panic!()
    };
    let dose = &doses[0];
    let sugar_g = dose.mass.unwrap().get::<gram>();
    assert!((sugar_g / 20.0 - 10.0).abs() < 0.2, "{sugar_g}");
    // The same beer by another action, but for the last digit.
    let alcohol = |figures: &Figures| figures.alcohol.unwrap().percent();
    let (late, planned) = (
        alcohol(&advice.actions[0].predicted),
        alcohol(&advice.planned),
    );
    assert!((late - planned).abs() < 1e-12, "{late} {planned}");
    for impossible in [13.0, -2.0] {
        assert_eq!(
            refused(&plan, &addition("sucrose", impossible)),
            ErrorKind::OutOfModel
        );
    }
    assert_eq!(
        refused(&plan, &addition("moon juice", 4.0)),
        ErrorKind::UnknownName
    );
}

#[test]
fn lost_beer_is_the_same_beer_and_water_thins_it() {
    let plan = plan(&[]);
    let planned_l = litres(plan.volumes.packaged);
    for share in [0.9, 0.8] {
        let volume = plan.volumes.packaged * share;
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
        let ratios = [
            now.alcohol.unwrap().percent() / before.alcohol.unwrap().percent(),
            now.bitterness.unwrap().ibu() / before.bitterness.unwrap().ibu(),
            now.bitterness_kinetic.unwrap().ibu() / before.bitterness_kinetic.unwrap().ibu(),
            now.colour.unwrap().ebc() / before.colour.unwrap().ebc(),
        ];
        for ratio in ratios {
            assert!((ratio - share).abs() < 5e-4, "{ratios:?}");
        }
        assert!((litres(now.finished.unwrap()) / planned_l - 1.0).abs() < 5e-4);
        assert!(
            filled
                .action
                .text(Style::default())
                .contains("kept from air")
        );
    }
    // More than planned, or just that: nothing is short.
    let Action::PackageLess { doses, gas, .. } =
        &advice(&plan, &packaged(plan.volumes.packaged * 1.1)).actions[0].action
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
        assert!(text.starts_with("package all of it; dose "), "{text}");
    }
    let as_planned = packaged(plan.volumes.packaged);
    assert_eq!(advice(&plan, &as_planned).actions.len(), 1);
    let nothing = packaged(Volume::new::<liter>(0.0));
    assert_eq!(refused(&plan, &nothing), ErrorKind::OutOfRange);
}

fn preserved(facts: &str) -> Option<Noted<Warning>> {
    let line = format!("sour cherry juice, 13 Bx{facts}");
    let plan = plan(&[("sour cherry juice, 13 Bx", &line)]);
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
