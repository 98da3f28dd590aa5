//! What changes no figure, which is told.

use super::{Lines, PLAIN, places};
use crate::brewing::predicted_on;
use wortwright::speech::Speaks;

/// A plant's own stand that the recipe's stands leave out is told.
#[test]
fn a_stand_that_is_not_used_is_told() {
    let hops = "stand 20 min at 85 C\n  30 g cascade, 6 % alpha for 20 min\n";
    let found = |hot| {
        let plant = "  stand 15 min\n";
        Lines {
            hot,
            plant,
            ..PLAIN
        }
        .predicted()
    };
    assert_eq!(
        places(&found(hops), "stand_not_used"),
        ["brewhouses[Home].stand_min"]
    );
    assert!(places(&found(""), "stand_not_used").is_empty());
}

/// What the notes say changes no figure, by their places.
fn without_figure(lines: Lines<'_>) -> Vec<String> {
    places(&lines.predicted(), "changes_no_figure")
}

/// Figures and additions that no relation asks for: each is told at its own place, and nowhere else.
#[test]
fn what_changes_no_figure_is_told() {
    assert!(without_figure(PLAIN).is_empty());
    let mash = "  500 g wheat malt, 12 % protein\n";
    assert_eq!(
        without_figure(Lines { mash, ..PLAIN }),
        ["recipe.mash.additions[1].content.single.facts.protein_pct"]
    );
    let boil = format!("{}  2 mL lactic acid 80 % at 5 min\n", PLAIN.boil);
    assert_eq!(
        without_figure(Lines {
            boil: &boil,
            ..PLAIN
        }),
        ["recipe.boil.additions[1].amount"]
    );
    let packs = PLAIN
        .text()
        .replace("pitch american", "pitch 2 packs american");
    let found = predicted_on(&packs, "Home");
    assert_eq!(
        places(&found, "changes_no_figure"),
        ["recipe.fermentation.pitch.amount"]
    );
}

/// Gypsum, acid and a wanted pH act in a mash whose water is known; without it each is told, with the line to write.
#[test]
fn salts_acids_and_ph_of_a_mash_without_its_water_are_told() {
    let mash = "  4 g gypsum\n  2 mL lactic acid 80 %\n  pH 5.4\n";
    let dry = Lines { mash, ..PLAIN };
    let told = [
        "recipe.mash.additions[1].amount",
        "recipe.mash.additions[2].amount",
        "recipe.mash.ph",
    ];
    assert_eq!(without_figure(dry), told);
    let job = wortwright::Job::read([("text", dry.text())]).unwrap();
    let sheet = job.on("Home").unwrap().plan().unwrap().to_string();
    assert!(sheet.contains("alkalinity 60 mg/L"), "{sheet}");
    // The line that the note says: now the mash has a pH, and the notes are gone.
    let plant = "  water calcium 20 mg/L, magnesium 2 mg/L, sodium 8 mg/L, sulphate 15 mg/L, chloride 12 mg/L, alkalinity 60 mg/L\n";
    let known = Lines { plant, ..dry };
    assert!(without_figure(known).is_empty());
    let job = wortwright::Job::read([("text", known.text())]).unwrap();
    let plan = job.on("Home").unwrap().plan().unwrap();
    assert!(plan.predicted.mash_ph.is_some());
    let entry = plan.assumptions.iter();
    assert!(
        entry
            .clone()
            .all(|entry| entry.code() != "changes_no_figure")
    );
}

/// Lactose does not ferment in the bottle, and nothing says that it does; honey does.
#[test]
fn what_ferments_in_the_bottle_is_told_of_that_alone() {
    let told = |line: &str| {
        let bottled = Lines {
            package: line,
            ..PLAIN
        };
        places(&bottled.predicted(), "ferments_in_package").len()
    };
    assert_eq!(told("  add 300 g lactose\n"), 0);
    assert_eq!(told("  add 30 g honey\n"), 1);
}

/// Nobody says how far an enzyme takes a beer: it is told that the figures are without it.
#[test]
fn an_enzyme_that_splits_dextrins_is_told() {
    let with = |line: &str| {
        let lines = Lines {
            ferment: line,
            ..PLAIN
        };
        places(&lines.predicted(), "dextrins_split").len()
    };
    assert_eq!(with("  add 2 g glucoamylase on day 1\n"), 1);
    assert_eq!(with("  add 2 g gelatine on day 9\n"), 0);
}
