//! Wort that is pitched colder than the plant cools it.

use crate::brewing::weighed;
use wortwright::process::Assumption;

/// What is told on a plant with these lines, of a yeast that is pitched at this heat, and the sheet.
fn cooled(plant: &str, pitch: &str) -> (Option<(f64, f64)>, String) {
    let text = format!(
        "recipe Try\nbatch 20 L into fermenter\nmash\n  4 kg pilsner malt\n  rest 65 C for 60 min\nboil 60 min\nferment\n  \
         pitch german lager yeast at {pitch}\nbrewhouse Home\n  batch 20 L into fermenter\n  kettle 40 L\n  lauter bag\n{plant}"
    );
    let plan = weighed(&text, "Home");
    let told = plan.assumptions.iter().find_map(|told| match told.what {
        Assumption::CooledOn { from, to } => Some((from.celsius(), to.celsius())),
        _ => None,
    });
    (told, plan.to_string())
}

#[test]
fn it_is_a_step_of_its_own_after_the_plants_cooling() {
    let (told, sheet) = cooled("  cool to 20 C in 25 min\n  coolant 14 C\n", "12 C");
    assert_eq!(told, Some((20.0, 12.0)));
    let at = |words: &str| {
        sheet
            .find(words)
            .unwrap_or_else(|| panic!("{words}\n{sheet}"))
    };
    let step = at("cool on from 20 °C in a refrigerator");
    assert!(at("cool to 20 °C in 25 min") < step && step < at("pitch german lager yeast"));
    // Nobody knows how long that takes: the clock stops.
    let pitch = sheet
        .lines()
        .find(|line| line.contains("pitch german lager"))
        .unwrap();
    assert!(pitch.contains("__:__"), "{pitch}");
    // As cold as the coolant allows; a coil in water of 16 °C comes to 17.
    let (told, _) = cooled("  coolant 16 C\n", "12 C");
    assert_eq!(told, Some((17.0, 12.0)));
    let (told, sheet) = cooled("  cool to 12 C in 40 min\n  coolant 4 C\n", "12 C");
    assert_eq!(told, None);
    assert!(!sheet.contains("cool on from"), "{sheet}");
    assert_eq!(
        cooled("  cool to 12.5 C in 40 min\n  coolant 4 C\n", "12 C").0,
        None
    );
}

/// Where the coolant is said to be cold enough the coil runs on. By hand: from 100 to 20 °C in 25 min towards 14 °C is ln(86/6) = 2.663 folds, 9.39 min
/// each; on to 16 °C is ln(6/2) = 1.099 more, 10.3 min. To 14.5 °C no coil comes.
#[test]
fn a_coil_runs_on_as_far_as_its_coolant_allows() {
    let plant = "  cool to 20 C in 25 min by coil\n  coolant 14 C\n  altitude 0 m\n";
    let (told, sheet) = cooled(plant, "16 C");
    assert_eq!(told, None);
    assert!(
        sheet.contains("with the coil, and on to 16 °C in 11 min more"),
        "{sheet}"
    );
    assert!(!sheet.contains("in a refrigerator"), "{sheet}");
    let (told, _) = cooled(plant, "14.5 C");
    assert_eq!(told, Some((20.0, 14.5)));
    // Of a coolant that nobody states no coil is asked more.
    let (told, _) = cooled("  cool to 20 C in 25 min by coil\n", "18 C");
    assert_eq!(told, Some((20.0, 18.0)));
}

/// A plant that could cool further stops where the yeast goes in.
#[test]
fn wort_is_not_cooled_beyond_its_yeast() {
    let sheet = |to: &str| {
        cooled(
            &format!("  cool to {to} in 25 min\n  coolant 4 C\n"),
            "12 C",
        )
        .1
    };
    assert!(
        sheet("9 C").contains("cool to 12 °C in 25 min"),
        "{}",
        sheet("9 C")
    );
    assert!(sheet("12.5 C").contains("cool to 12.5 °C in 25 min"));
}

#[test]
fn chlorine_is_told_once() {
    let (_, sheet) = cooled("  coolant 4 C\n", "12 C");
    assert_eq!(sheet.matches("chloramine").count(), 1, "{sheet}");
}
