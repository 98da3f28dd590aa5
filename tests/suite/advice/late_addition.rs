//! A later addition at another gravity than planned: by hand, and by the model again.

use super::{advice, litres, plan, plan_with, plato, refused};
use uom::si::f64::Volume;
use uom::si::{mass::gram, volume::liter};
use wortwright::advice::{Action, DayReading, Shown};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::Figures;
use wortwright::quantity::uom;
use wortwright::science::liquid::Liquid;

fn addition(name: &str, apparent: f64) -> DayReading {
    DayReading::AdditionAt {
        name: name.into(),
        shown: Shown::hydrometer(plato(apparent)),
    }
}

#[test]
fn juice_into_drier_beer_gives_the_same_beer() {
    let plan = plan();
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
    let plan = plan_with(&[
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
        let plan = plan_with(&[(
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
    let plan = plan_with(&[(
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
