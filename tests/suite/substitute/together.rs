//! Several missing lines under one stock: what they share is not overdrawn, and is divided as well as may be.

use super::kitchen::{Kitchen, exactly_in_stock, in_stock, pot};
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::substitute::{Joint, Together, Weights};

/// A kitchen with this grist and stock, 20 L of 12 °P.
fn kitchen(grist: &str, stock: &str) -> Kitchen {
    Kitchen::read(&pot(grist, "", stock))
}

const FLAKES: &str = "  80 % pale ale malt\n  10 % flaked spelt\n  10 % torrefied wheat\n";
const MISSING: [&str; 2] = ["flaked spelt", "torrefied wheat"];

fn together(kitchen: &Kitchen, missing: &[&str]) -> Together {
    kitchen.sets(missing, &in_stock())
}

/// Kilograms of one ingredient over all lines.
fn mass_of(joint: &Joint, name: &str) -> f64 {
    joint
        .proposals
        .iter()
        .flat_map(|proposal| &proposal.parts)
        .filter(|part| part.name == name)
        .map(|part| part.mass.unwrap().get::<kilogram>())
        .sum()
}

/// Kilograms of base malt more than printed, over all lines.
fn base_malt_more(joint: &Joint) -> f64 {
    joint
        .proposals
        .iter()
        .filter_map(|proposal| proposal.slack)
        .map(|slack| slack.get::<kilogram>())
        .sum()
}

/// Kilograms that the recipe as printed needs on the target.
fn printed_kg(kitchen: &Kitchen, name: &str) -> f64 {
    let plan = kitchen.printed();
    let masses = plan.additions.iter().filter(|a| a.name == name);
    masses.map(|a| a.mass.unwrap().get::<kilogram>()).sum()
}

const OTHERS: &str = "  none flaked spelt\n  none torrefied wheat\n  any spelt malt\n  any pale wheat malt\n  \
                      any flaked barley\n  any rye malt\n";

#[test]
fn several_lines_share_a_lot() {
    // Two thirds of what the nearest combination takes where there is enough of it. A further part costs nothing here, so that a
    // lot is divided.
    let mut weights = Weights::default();
    weights.extra_part = 0.0;
    let options = in_stock().with_weights(weights);
    let ample = kitchen(FLAKES, &format!("{OTHERS}  any flaked wheat\n"));
    let wanted = mass_of(
        &ample.sets(&MISSING, &options).combinations[0],
        "flaked wheat",
    );
    let lot = (2.0 / 3.0 * wanted * 1000.0).round() / 1000.0;
    assert!(lot > 0.05, "{wanted}");
    let kitchen = kitchen(FLAKES, &format!("{OTHERS}  {lot} kg flaked wheat\n"));
    let found = kitchen.sets(&MISSING, &options);
    let answers = kitchen.propose(&MISSING, &options);
    let least: f64 = answers
        .iter()
        .map(|answer| answer.proposals[0].distance)
        .sum();
    assert_eq!(found.combinations.len(), 5);
    assert!(found.fitted_anew > 0, "the lot must bind");
    let mut divided = 0;
    for joint in &found.combinations {
        let wheat = mass_of(joint, "flaked wheat");
        // A microgram: rounding of the program that divides the lot.
        assert!(wheat <= lot + 1e-9, "{wheat}");
        divided += usize::from((wheat - lot).abs() < 1e-6);
        assert!(joint.distance >= least - 1e-9);
        assert!(
            found
                .left_out_from
                .is_none_or(|from| joint.distance <= from)
        );
        let sum: f64 = joint.proposals.iter().map(|p| p.distance).sum();
        assert!((sum - joint.distance).abs() < 1e-9);
        for proposal in &joint.proposals {
            let parts: f64 = proposal.distance_parts.iter().map(|p| p.value).sum();
            assert!((parts - proposal.distance).abs() < 1e-9);
            assert!(proposal.gravity_residual_pct.abs() < 1e-6);
            // The units are kept; the yield of the grist moves by a little.
            assert!(proposal.colour_residual_ebc.abs() < 0.1);
        }
        let original = joint.predicted.original.unwrap().plato();
        assert!((original - 12.0).abs() < 1e-6);
    }
    let taken: Vec<f64> = found
        .combinations
        .iter()
        .map(|j| mass_of(j, "flaked wheat"))
        .collect();
    assert!(
        divided > 0,
        "a lot that binds is used up: {taken:?} of {lot}"
    );
    assert!(found.passed_over_from.is_none());
}

#[test]
fn a_smaller_lot_never_brings_a_nearer_combination() {
    let mut last = 0.0;
    let mut compared = 0;
    for lot in ["any", "400 g", "300 g", "200 g", "100 g", "none"] {
        let kitchen = kitchen(FLAKES, &format!("{OTHERS}  {lot} flaked wheat\n"));
        let nearest = together(&kitchen, &MISSING).combinations[0].distance;
        assert!(nearest >= last - 1e-7, "{lot}: {nearest} after {last}");
        compared += usize::from(nearest > last + 1e-6);
        last = nearest;
    }
    assert!(compared >= 3, "{compared}");
}

#[test]
fn lines_together_keep_a_usual_upper_share() {
    // Torrefied wheat usually makes up to 20 % of the fermentables; either line alone may have all of it.
    let grist = "  60 % pale ale malt\n  20 % flaked spelt\n  20 % flaked triticale\n";
    let stock = "  none flaked spelt\n  none flaked triticale\n  any torrefied wheat\n  any spelt malt\n  any flaked oats\n";
    let missing = ["flaked spelt", "flaked triticale"];
    let kitchen = kitchen(grist, stock);
    let all_kg: f64 = ["pale ale malt", "flaked spelt", "flaked triticale"]
        .iter()
        .map(|name| printed_kg(&kitchen, name))
        .sum();
    let wheat = |answer: &wortwright::substitute::Proposals| -> f64 {
        let parts = answer.proposals[0].parts.iter();
        let wheat = parts.filter(|part| part.name == "torrefied wheat");
        wheat.map(|part| part.mass.unwrap().get::<kilogram>()).sum()
    };
    let answers = kitchen.propose(&missing, &in_stock());
    let separately: f64 = answers.iter().map(wheat).sum();
    assert!(separately > 0.2 * all_kg + 1e-6, "{separately} of {all_kg}");
    let found = together(&kitchen, &missing);
    assert!(!found.combinations.is_empty());
    for joint in &found.combinations {
        let used = mass_of(joint, "torrefied wheat");
        assert!(used <= 0.2 * all_kg + 1e-9, "{used} of {all_kg}");
    }
}

#[test]
fn lines_together_leave_the_base_malts_lot_and_share() {
    // What is at hand is too dark for either: it wants more of the base malt beside it.
    let grist = "  92 % pale ale malt\n  4 % light munich malt\n  4 % dark wheat malt\n";
    let missing = ["light munich malt", "dark wheat malt"];
    let stock = |kg: f64| {
        format!(
            "  none light munich malt\n  none dark wheat malt\n  any dark munich malt, 22 EBC\n  any pilsner malt\n  {kg} kg pale ale \
             malt\n"
        )
    };
    let plenty = kitchen(grist, &stock(50.0));
    let used_kg = printed_kg(&plenty, "pale ale malt");
    let together = |kitchen: &Kitchen| kitchen.sets(&missing, &exactly_in_stock());
    let most = together(&plenty)
        .combinations
        .iter()
        .map(base_malt_more)
        .fold(0.0, f64::max);
    assert!(most <= 0.03 * used_kg + 1e-9);
    assert!(most > 0.02, "slack must be wanted: {most}");
    // Half of what would be wanted is left in the sack.
    let left_kg = (0.5 * most * 1000.0).round() / 1000.0;
    let short = kitchen(grist, &stock(((used_kg + left_kg) * 1e6).floor() / 1e6));
    let found = together(&short);
    assert!(!found.combinations.is_empty());
    for joint in &found.combinations {
        assert!(base_malt_more(joint) <= left_kg + 1e-6);
    }
    assert!(found.combinations[0].distance >= together(&plenty).combinations[0].distance - 1e-7);
}

#[test]
fn a_grist_that_converts_with_either_may_not_with_both() {
    // Pale ale malt has 150 WK: its 45 % alone make 67 WK of the grist.
    let grist = "  45 % pale ale malt\n  27 % spelt malt\n  28 % pale wheat malt\n";
    let stock = "  none spelt malt\n  none pale wheat malt\n  any flaked wheat\n  any flaked barley\n  any flaked rye\n  any \
                 triticale malt\n";
    let missing = ["spelt malt", "pale wheat malt"];
    let kitchen = kitchen(grist, stock);
    let flaked = |parts: &[wortwright::substitute::Part]| {
        parts.iter().all(|part| part.name.starts_with("flaked"))
    };
    for answer in kitchen.propose(&missing, &in_stock()) {
        for proposal in &answer.proposals {
            let power = proposal.predicted.diastatic_power.unwrap();
            assert!(power.windisch_kolbach() >= 75.0 - 1e-6);
        }
    }
    let found = together(&kitchen, &missing);
    assert!(!found.combinations.is_empty());
    assert!(found.fitted_anew > 0, "the power must bind");
    for joint in &found.combinations {
        let power = joint.predicted.diastatic_power.unwrap().windisch_kolbach();
        assert!(power >= 75.0 - 1e-6, "{power}");
        assert!(!joint.proposals.iter().all(|p| flaked(&p.parts)));
    }
}
