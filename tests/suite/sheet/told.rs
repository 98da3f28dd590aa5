//! What the sheet stops for or warns of, with the figure that helps: mash pH, steeped grain, bottles that burst, fruit that does not fit.

use crate::brewing::{l, near, weighed};
use wortwright::process::Warning;
use wortwright::quantity::CarbonDioxide;
use wortwright::scale::Plan;

fn told<T>(plan: &Plan, find: impl Fn(&Warning) -> Option<T>) -> Option<T> {
    plan.warnings.iter().find_map(|told| find(&told.what))
}

/// A pale mash in hard water, with this line below it.
fn hard(line: &str) -> Plan {
    weighed(
        &format!(
            "recipe Hard\nbrewed on Pot\nbatch 20 L into fermenter\ntarget original 11 P\nmash\n  100 % pilsner malt\n{line}  rest 66 C for 60 min\n\
             boil 60 min\nferment\n  pitch american ale yeast\nbrewhouse Pot\n  batch 20 L into fermenter\n  mash tun 40 L\n  \
             lauter batch, sparges 1\n  water calcium 40 mg/L, magnesium 5 mg/L, sodium 15 mg/L, sulphate 30 mg/L, chloride 25 mg/L, \
             alkalinity 150 mg/L\n"
        ),
        "Pot",
    )
}

/// The acid that is told brings the mash of the same recipe to 5.4 when it is a line of it.
#[test]
fn a_mash_out_of_the_usual_names_its_acid() {
    let bare = hard("");
    let predicted = bare.predicted.mash_ph.unwrap().value();
    assert!(predicted > 5.7, "{predicted}");
    let (said, acid) = told(&bare, |told| match told {
        Warning::MashPhUnusual {
            predicted,
            by: Some(by),
            ..
        } => Some((predicted.value(), by.clone())),
        _ => None,
    })
    .unwrap();
    assert!((said - predicted).abs() < 1e-12);
    let grams = acid.mass.get::<wortwright::quantity::uom::si::mass::gram>();
    let treated = hard(&format!("  {grams:.4} g {}\n", acid.name));
    near(
        treated.predicted.mash_ph.unwrap().value(),
        5.4,
        2e-3,
        "with the acid",
    );
    assert!(
        told(&treated, |told| matches!(
            told,
            Warning::MashPhUnusual { .. }
        )
        .then_some(()))
        .is_none()
    );
    // What is predicted does not stand where the target does, and what a tenth takes is said.
    let sheet = bare.to_string();
    let line = sheet
        .lines()
        .find(|line| line.contains("Mash pH, cooled (predicted"))
        .unwrap();
    assert!(line.contains("5.2 to 5.6  measured"), "{line}");
    assert!(sheet.contains("0.1 high: "), "{sheet}");
    // A recipe with a pH of its own is treated for it.
    let own = hard("  pH 5.5\n");
    assert!(
        told(&own, |told| matches!(told, Warning::MashPhUnusual { .. })
            .then_some(()))
        .is_none()
    );
}

/// Malt extract with this grain on a plant with this way of lautering.
fn of_extract(grain: &str, lauter: &str) -> Plan {
    weighed(
        &format!(
            "recipe Amber\nbatch 20 L into fermenter\nmash\n  {grain}\n  rest 68 C for 30 min\nboil 60 min\n  \
             2.5 kg dried malt extract pale at 60 min\n  30 g perle, 8 % alpha at 60 min\nferment\n  pitch american ale yeast\n\
             brewhouse Pot\n  batch 10 L into fermenter\n  kettle 20 L\n  {lauter}\n  evaporation 2 L/h\n"
        ),
        "Pot",
    )
}

#[test]
fn caramel_malt_is_steeped_where_nothing_is_mashed() {
    let plan = of_extract("450 g caramel malt 120 EBC", "no mash");
    assert!(plan.outcomes.is_empty(), "{:?}", plan.outcomes);
    let grams = plan.additions[0]
        .mass
        .unwrap()
        .get::<wortwright::quantity::uom::si::mass::gram>();
    // Half of the batch wants half of the grain; the bag holds some of what it gives.
    assert!((200.0..260.0).contains(&grams), "{grams}");
    let (here, there) = (
        plan.predicted.colour.unwrap().ebc(),
        plan.source.colour.unwrap().ebc(),
    );
    assert!((here / there - 1.0).abs() < 0.05, "{here} {there}");
    for lauter in ["no mash", "lauter bag"] {
        let sheet = of_extract("450 g caramel malt 120 EBC", lauter).to_string();
        for words in [
            "STEEP",
            "steep the crushed grain in a bag for 30 min",
            "do not boil the grain",
        ] {
            assert!(sheet.contains(words), "{words}\n{sheet}");
        }
        for words in [
            "MASH -",
            "Mash pH",
            "hoist",
            "Pre-boil gravity",
            "brewhouse yield",
            " 0 g ",
        ] {
            assert!(!sheet.contains(words), "{words}\n{sheet}");
        }
    }
    // Starch wants a mash: that is said, and nothing is weighed of it.
    let starch = of_extract("450 g pale ale malt", "no mash").to_string();
    assert!(
        starch
            .split_whitespace()
            .collect::<Vec<_>>()
            .join(" ")
            .contains("the colour and taste of the grain are lost"),
        "{starch}"
    );
    assert!(!starch.contains(" 0 g "), "{starch}");
    let mashed = of_extract("450 g pale ale malt", "lauter bag").to_string();
    assert!(mashed.contains("MASH -"), "{mashed}");
}

/// 20 L with this in the fermenter and in the package, on a plant with this fermenter.
fn fermented(ferment: &str, package: &str, fermenter: &str) -> Plan {
    weighed(
        &format!(
            "recipe Try\nbatch 20 L into fermenter\ntarget original 11.4 P, final 2.6 P\nmash\n  100 % pilsner malt\nboil 60 min\nferment\n  \
             pitch american ale yeast at 19 C\n  hold 19 C for 7 days\n{ferment}package\n  {package}\nbrewhouse Pot\n  \
             batch 20 L into fermenter\n  mash tun 40 L\n  lauter batch, sparges 1\n  fermenter {fermenter}\n"
        ),
        "Pot",
    )
}

/// 1.3 % of alcohol by volume are 10.3 g/L of ethanol, which leave 9.8 g/L of gas (44.01 to 46.07 by mass).
#[test]
fn dry_hops_in_bottles_stand_at_the_head() {
    let hops = "  add 60 g cascade on day 5 for 3 days\n";
    let bottled = fermented(hops, "bottle, carbonate 4.5 g/L", "40 L");
    let gas = told(&bottled, |told| match told {
        Warning::HopCreepSealed { gas, .. } => Some(gas.grams_per_litre()),
        _ => None,
    });
    near(gas.unwrap(), 0.013 * 789.24 * 44.01 / 46.07, 1e-2, "gas");
    let sheet = bottled.to_string();
    let head = &sheet[..sheet.find("SHOPPING").unwrap()];
    assert!(
        head.contains("!! Dry hops and live yeast in bottles"),
        "{head}"
    );
    assert!(sheet.contains("2 weeks after dry hopping"), "{sheet}");
    // Under gas in a keg it is a warning as before, and without hops there is none.
    let keg = fermented(hops, "keg, carbonate 5 g/L at 4 C", "40 L").to_string();
    assert!(
        !keg.contains("!! Dry hops") && keg.contains("- Dry hops"),
        "{keg}"
    );
    assert!(
        !fermented("", "bottle, carbonate 4.5 g/L", "40 L")
            .to_string()
            .contains("Dry hops")
    );
}

/// What the box says to carbonate to keeps the bottles whole.
#[test]
fn bottles_that_burst_name_the_sugar_and_a_way_out() {
    let fruit = "  add 3 kg raspberry, thawed on day 5\n";
    let burst = fermented(fruit, "bottle, carbonate 5.5 g/L", "40 L");
    let (from, names, lower) = told(&burst, |told| match told {
        Warning::PackageOverLimit {
            from_sugar,
            to_ferment_out,
            carbonate_at_most,
            ..
        } => Some((
            from_sugar.grams_per_litre(),
            to_ferment_out.clone(),
            carbonate_at_most.map(CarbonDioxide::grams_per_litre),
        )),
        _ => None,
    })
    .unwrap();
    assert!(from > 0.4, "{from}");
    assert_eq!(names, ["raspberry"]);
    let sheet = burst.to_string();
    for words in [
        "Let it ferment out before packaging, or carbonate to",
        "Sugar still to ferment brings",
    ] {
        assert!(
            sheet
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
                .contains(words),
            "{words}\n{sheet}"
        );
    }
    assert!(!sheet.contains("Bottles and caps: "), "{sheet}");
    let lower = lower.unwrap();
    let mended = fermented(fruit, &format!("bottle, carbonate {lower:.1} g/L"), "40 L");
    assert!(
        told(&mended, |told| matches!(
            told,
            Warning::PackageOverLimit { .. }
        )
        .then_some(()))
        .is_none()
    );
    let more = fermented(
        fruit,
        &format!("bottle, carbonate {:.1} g/L", lower + 0.2),
        "40 L",
    );
    assert!(
        told(&more, |told| matches!(
            told,
            Warning::PackageOverLimit { .. }
        )
        .then_some(()))
        .is_some()
    );
    assert!(mended.to_string().contains("Bottles and caps: "));
}

/// A fermenter that fruit with its cap and a quarter of headspace overfills stops the day, and the batch that is named fits.
#[test]
fn fruit_that_does_not_fit_stops_the_day() {
    let fruit = "  add 3 kg raspberry, thawed on day 5\n";
    let small = |plan: &Plan| {
        told(plan, |told| match told {
            Warning::FermenterSmall {
                filled,
                needed,
                largest_batch,
                ..
            } => Some((l(*filled), l(*needed), l(largest_batch.unwrap()))),
            _ => None,
        })
    };
    let tight = fermented(fruit, "keg", "26 L");
    let (filled, needed, largest) = small(&tight).unwrap();
    near(needed, 1.25 * filled, 1e-9, "a quarter more");
    assert!(filled > 23.0 && filled < 26.0, "{filled}");
    let sheet = tight.to_string();
    assert!(
        sheet.contains("!! Fermenter too small") && sheet.contains("; or brew "),
        "{sheet}"
    );
    assert!(sheet.contains("with the fruit and its cap ("), "{sheet}");
    let text = |batch_l: f64| {
        format!(
            "recipe Try\nbatch 20 L into fermenter\ntarget original 11.4 P\nmash\n  100 % pilsner malt\nferment\n  pitch american ale yeast\n\
             {fruit}brewhouse Pot\n  batch {batch_l:.6} L into fermenter\n  mash tun 40 L\n  lauter batch, sparges 1\n  fermenter 26 L\n"
        )
    };
    assert!(small(&weighed(&text(largest), "Pot")).is_none());
    assert!(small(&weighed(&text(1.05 * largest), "Pot")).is_some());
    // Without fruit a tight fermenter is a warning.
    let plain = fermented("", "keg", "22 L").to_string();
    assert!(plain.contains("- Fermenter too small"), "{plain}");
}
