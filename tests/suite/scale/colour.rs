//! A printed colour that the grist does not explain, and the beer in a glass.

use crate::brewing::{kg, plan_on};
use wortwright::quantity::uom::si::{f64::Length, length::centimeter};
use wortwright::remedy::Remedy;
use wortwright::scale::{Outcome, Plan};
use wortwright_tests::fixtures::{changed, fixture};

const KITCHEN: &str = "  batch 10 L into fermenter\n  lauter bag\n  absorption 0.7 L/kg\n  evaporation 2 L/h\n  kettle loss 0.5 L\n  fermenter loss 0 L\n";

/// The grist of the fixture.
const PALE: &str = "  100 % pale ale malt\n";

fn brewed(colour: &str, dark: &str, rest: &str) -> Plan {
    let pale = if dark.is_empty() { 100 } else { 98 };
    let target = format!("12 P{colour}");
    let grist = format!("  {pale} % pale ale malt\n{dark}");
    let text = changed(&fixture("scale/pale"), &[("12 P", &target), (PALE, &grist)]);
    plan_on(&(text + rest), KITCHEN)
}

fn ebc(plan: &Plan) -> f64 {
    plan.predicted.colour.unwrap().ebc()
}

fn unexplained(plan: &Plan) -> Option<&[Remedy]> {
    plan.outcomes
        .iter()
        .find_map(|outcome| match &outcome.what {
            Outcome::ColourNotExplained { remedies, .. } => Some(remedies.as_slice()),
            _ => None,
        })
}

#[test]
fn a_colour_that_the_grist_gives_needs_no_word() {
    let plain = brewed("", "", "");
    // Within the 30 % of Morey's relation.
    let near = format!(", colour {:.1} EBC", 1.2 * ebc(&plain));
    assert!(unexplained(&brewed(&near, "", "")).is_none());
}

#[test]
fn dark_malt_is_offered_in_grams_and_gives_the_printed_colour() {
    let plan = brewed(", colour 40 EBC", "", "");
    let [
        Remedy::DarkMalt {
            name,
            mass,
            reached,
        },
    ] = unexplained(&plan).unwrap()
    else {
        panic!("{:?}", plan.outcomes);
    };
    // A gram of 110 is the last digit of the amount, rounded up.
    assert!((40.0..40.3).contains(&reached.ebc()), "{reached}");
    assert!(
        (ebc(&plan) - 40.0).abs() > 20.0,
        "nothing was added to meet it"
    );
    // Taken as a share of the grist by weight, the amount gives that colour: grams over kilograms of grain.
    let grist: f64 = plan.additions.iter().map(|a| kg(a.mass.unwrap())).sum();
    let share = 100.0 * kg(*mass) / grist;
    // By hand: 40 EBC are 20.3 SRM, by Morey 45 MCU, in 10.5 L 57 kg °L; at 529 °L that is 0.1 kg of about 2 kg.
    assert!(share > 4.0 && share < 7.0, "{share} %");
    let rest = 100.0 - share;
    let grist = format!("  {rest:.6} % pale ale malt\n  {share:.6} % {name}\n");
    let text = changed(&fixture("scale/pale"), &[(PALE, &grist)]);
    let taken = plan_on(&text, KITCHEN);
    // The remedy exchanges equal extract, the recipe equal weight: dark malt has a seventh less extract and there are
    // 5 % of it, which moves the grist by 0.8 %, and the colour by 0.7 of that.
    assert!((ebc(&taken) / 40.0 - 1.0).abs() < 0.008, "{}", ebc(&taken));
}

#[test]
fn a_grist_that_is_too_dark_has_no_way_out() {
    let plan = brewed(", colour 6 EBC", "  2 % black malt\n", "");
    assert_eq!(unexplained(&plan), Some(&[][..]));
}

#[test]
fn a_glass_shows_the_malt_and_names_red_juice() {
    let width = Length::new::<centimeter>(7.0);
    let red = "ferment\n  pitch english ale yeast\n  add 10 % by volume when 5 P\n    100 % sour cherry juice, 13 Bx\n";
    let glass = brewed("", "", red).in_the_glass(width).unwrap();
    assert_eq!(glass.red_juices, ["sour cherry juice"]);
    // Redcurrants are red enough to see; crab apples have next to none of that, gooseberries hardly any, apples none.
    for (juice, is_red) in [
        ("redcurrant juice", true),
        ("crab apple juice", false),
        ("gooseberry juice", false),
        ("apple juice", false),
    ] {
        let other = red.replace("sour cherry juice", juice);
        let glass = brewed("", "", &other).in_the_glass(width).unwrap();
        assert_eq!(!glass.red_juices.is_empty(), is_red, "{juice}");
    }
    let pale = brewed("", "", "").in_the_glass(width).unwrap();
    let dark = brewed("", "  2 % black malt\n", "")
        .in_the_glass(width)
        .unwrap();
    assert!(pale.red_juices.is_empty() && pale.printed.is_none());
    assert!(pale.malt.unwrap().lab.lightness > dark.malt.unwrap().lab.lightness + 10.0);
}
