//! Small grists, by hand: all grain has 80 % extract as is, so that amounts follow from colour and enzymes alone.

use crate::substitute::{Kitchen, mass_kg};
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::substitute::{Proposals, SubstituteOptions};

/// A line's grain: its share, name, and what the text says of it beside the extract.
fn grain(share: u32, name: &str, colour_ebc: f64, rest: &str) -> String {
    format!("  {share} % {name}, 80 % extract as is, {colour_ebc} EBC{rest}\n")
}

/// A lot that never ends.
fn lot(name: &str, colour_ebc: f64, rest: &str) -> String {
    format!("  any {name}, 80 % extract as is, {colour_ebc} EBC{rest}\n")
}

/// 20 L of 12 °P from this grist, on a plant with this line, with this stock.
fn kitchen(grist: &str, plant: &str, stock: &str) -> Kitchen {
    Kitchen::read(&format!(
        "recipe Plain\nbrewed on Works\nbatch 20 hL into fermenter\ntarget original 12 P\nmash\n{grist}  rest 66 C for 60 min\n\
         boil 60 min\n  20 IBU Perle at 60 min\nbrewhouse Works\n  extract yield 92 %\nbrewhouse Pot\n  batch 20 L into \
         fermenter\n  lauter bag\n{plant}stock\n{stock}"
    ))
}

/// What may stand for a line, each alone.
fn singles(kitchen: &Kitchen, missing: &str) -> Proposals {
    let options = SubstituteOptions::default().with_most_parts(1);
    kitchen.propose(&[missing], &options).remove(0)
}

#[test]
fn base_malt_of_less_than_two_weighing_steps_is_not_told() {
    // For a kilogram of 12 EBC: a kg of 12.5 EBC and s kg of base malt of 4 EBC, with a + s = 1 and 12.5 a + 4 s = 12.
    // Hence 8.5 a = 8, and s = 1/17.
    let grist = grain(90, "pilsner malt", 4.0, "") + &grain(10, "vienna malt", 12.0, "");
    let stock = lot("light munich malt", 12.5, "") + "  any Cascade\n";
    let on = |plant: &str| kitchen(&grist, plant, &stock);
    let told_kg = |plant: &str| {
        let answer = singles(&on(plant), "vienna malt");
        assert!(answer.proposals[0].feasible);
        assert!(answer.proposals[0].swap.base_malt.is_some());
        answer.proposals[0].slack.map(|mass| mass.get::<kilogram>())
    };
    let by_hand_kg = mass_kg(&on("").printed(), "vienna malt") / 17.0;
    let scale = |steps: f64| format!("  weigh malt {} g\n", 1000.0 * by_hand_kg / steps);
    for plant in [String::new(), scale(2.01)] {
        let told_kg = told_kg(&plant).unwrap();
        assert!((told_kg / by_hand_kg - 1.0).abs() < 1e-9, "{told_kg}");
    }
    assert_eq!(told_kg(&scale(1.99)), None);
    // No base malt gives way for a hop, however finely it could be weighed.
    let hops = singles(&on(""), "Perle");
    assert!(hops.proposals[0].feasible);
    assert_eq!(hops.proposals[0].slack, None);
}

#[test]
fn what_brings_too_much_however_little_is_weighed_is_not_offered() {
    // For a kilogram of 7.7 EBC: a kg of 6 EBC and s kg of base malt of 4 EBC, with a + s = 1 and 6 a + 4 s = 7.7, so
    // that a = 1.85 and s = -0.85. There are 9 kg of base malt, of which a tenth may give way: a is at most 1.9.
    let grist = grain(90, "pilsner malt", 4.0, "") + &grain(10, "vienna malt", 7.7, "");
    let stock = lot("pale ale malt", 6.0, "");
    let replaced_kg = mass_kg(&kitchen(&grist, "", &stock).printed(), "vienna malt");
    let with_step = |step: f64| {
        let plant = format!("  weigh malt {} g\n", 1000.0 * replaced_kg * step);
        singles(&kitchen(&grist, &plant, &stock), "vienna malt").proposals
    };
    let exact = &with_step(1.84)[0];
    let kg = exact.parts[0].mass.unwrap().get::<kilogram>();
    assert!(exact.feasible && (kg / (1.85 * replaced_kg) - 1.0).abs() < 1e-9);
    let miss = &with_step(1.89)[0];
    let kg = miss.parts[0].mass.unwrap().get::<kilogram>();
    assert!(!miss.feasible && (kg / (1.89 * replaced_kg) - 1.0).abs() < 1e-9);
    assert!(with_step(1.91).is_empty());
}
