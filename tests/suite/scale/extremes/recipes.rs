//! Recipes: boils, hops, grists and juices that few would brew.

use super::{SMALL, meets_or_says, on, ordinary};
use wortwright::diagnostic::ErrorKind;
use wortwright::quantity::{Unit, Written};
use wortwright::recipe::Content;

/// The malt and the hop of the ordinary beer.
const MALT: &str =
    "  100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %\n";
const HOP: &str = "  30 IBU perle, 8 % alpha at 60 min\n";
/// The bitterness in its head.
const WANTED: &str = ", bitterness 30 IBU";

#[test]
fn a_recipe_needs_no_boil() {
    let unboiled = ordinary().replace("boil 60 min", "boil 0 min");
    // Bitterness from a hop that does not boil is a contradiction.
    let asked = unboiled.replace("at 60 min", "at 0 min");
    assert_eq!(meets_or_says(&on(&asked, SMALL)), "error");
    let dosed = unboiled.replace(
        "30 IBU perle, 8 % alpha at 60 min",
        "30 g/hL perle, 8 % alpha at 0 min",
    );
    let dosed = dosed.replace(WANTED, "");
    assert_eq!(meets_or_says(&on(&dosed, SMALL)), "plan");
}

#[test]
fn a_recipe_needs_no_hops_and_late_ones_will_do() {
    let unhopped = ordinary().replace(HOP, "").replace(WANTED, "");
    assert_eq!(meets_or_says(&on(&unhopped, SMALL)), "plan");
    let late = ordinary().replace(
        "30 IBU perle, 8 % alpha at 60 min",
        "300 g/hL perle, 8 % alpha at 1 min",
    );
    assert_eq!(meets_or_says(&on(&late, SMALL)), "plan");
    // No text can say so, and no model of a host.
    let mut barren = on(&ordinary(), SMALL);
    for addition in &mut barren.recipe.boil.additions {
        if let Content::Single(hop) = &mut addition.content {
            hop.facts.alpha = Some(Written::new(0.0, Unit::Percent).unwrap());
        }
    }
    assert_eq!(barren.built().unwrap_err().kind(), ErrorKind::Unreadable);
}

#[test]
fn sugar_may_be_any_part_of_the_grist() {
    for (malt, plato) in [(100, 12.0), (40, 35.0), (1, 12.0), (1, 35.0)] {
        let sugar = 100 - malt;
        let grain = MALT.replace("100 %", &format!("{malt} %"));
        for name in ["sucrose", "honey, 80 % extract", "honey, 30 % extract"] {
            let text = ordinary()
                .replace(MALT, &grain)
                .replace(HOP, &format!("{HOP}  {sugar} % {name} at 10 min\n"));
            let text = text.replace("12 P", &format!("{plato} P"));
            let what = meets_or_says(&on(&text, SMALL));
            // Thin syrup alone cannot make a strong wort: the printed strength contradicts it.
            let impossible = name.contains("30 %") && malt < 10 && plato > 30.0;
            assert_eq!(what == "error", impossible, "{malt} {name} {plato}: {what}");
        }
    }
    let only = ordinary()
        .replace(MALT, "")
        .replace(HOP, &format!("{HOP}  100 % sucrose at 10 min\n"));
    assert_eq!(meets_or_says(&on(&only, SMALL)), "plan");
    let without_mash = only.replace("mash\n  rest 66 C for 60 min\n", "");
    let small = "  batch 8 L into fermenter\n  no mash\n  evaporation 2 L/h";
    assert_eq!(meets_or_says(&on(&without_mash, small)), "plan");
}

#[test]
fn thirty_malts_make_a_plan() {
    let malts: Vec<_> = (0..30)
        .map(|i| {
            let (share, ebc) = (100.0 / 30.0, 5 + i * 20);
            format!("  {share:.6} % pale ale malt, {ebc} EBC, moisture 4 %\n")
        })
        .collect();
    let malts = malts.concat();
    let text = ordinary().replace(MALT, &malts);
    assert_eq!(meets_or_says(&on(&text, SMALL)), "plan");
}

/// Juice up to nine parts in ten, at every trigger and counted at every point. A packaged batch of which juice is the
/// larger part once missed its volume by a factor of two.
#[test]
fn juice_goes_in_at_any_volume_and_gravity() {
    for share in [1, 12, 30, 60, 90] {
        for trigger in ["when 6 P", "when 40 P", "when 0.5 P", "when -1 P", ""] {
            let juice =
                format!("  add {share} % by volume {trigger}\n    100 % apple juice, 12 Bx\n");
            let text = ordinary() + &juice;
            for at in ["into fermenter", "packaged", "at end of boil"] {
                let small = SMALL.replace("into fermenter", at);
                assert_eq!(
                    meets_or_says(&on(&text, &small)),
                    "plan",
                    "{share} {trigger} {at}"
                );
                let text = text.replace("into fermenter", at);
                assert_eq!(
                    meets_or_says(&on(&text, SMALL)),
                    "plan",
                    "{share} {trigger} {at}"
                );
            }
        }
    }
}

#[test]
fn figures_that_make_no_beer_give_a_plan_or_say_why_not() {
    for target in [
        "target original 0 P, bitterness 30 IBU",
        "target original 90 P, bitterness 30 IBU",
        "target original 12 P, final 13 P, bitterness 30 IBU",
        "target original 12 P, final -5 P, bitterness 30 IBU",
        "target original 12 P, final -20 P, bitterness 9000 IBU",
    ] {
        let text = ordinary().replace("target original 12 P, bitterness 30 IBU", target);
        meets_or_says(&on(&text, SMALL));
    }
    let empty = ordinary().replace("extract 80 % dry", "extract 0 % dry");
    assert_eq!(meets_or_says(&on(&empty, SMALL)), "error");
}

/// Figures in code can be as absurd as in a text, but not without being numbers.
#[test]
fn not_a_number_cannot_be_built() {
    use wortwright::quantity::{Absorption, Extract, Mass, Share, Unit, Volume, Written};
    for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(Extract::from_plato(value).is_err());
        assert!(Share::from_fraction(value).is_err());
        assert!(Absorption::from_litres_per_kilogram(value).is_err());
        assert!(Written::<Mass>::new(value, Unit::Kilogram).is_err());
        assert!(Written::<Volume>::new(value, Unit::Litre).is_err());
    }
}
