//! No question takes out of proportion to what is asked: counted in what is answered and held, not in seconds.

use wortwright::diagnostic::ErrorKind;
use wortwright::job::{Brew, Job};
use wortwright::substitute::{Candidates, SubstituteOptions};
use wortwright_tests::growth::{lines_of_other_amounts, missing_lines, own_ingredients};

fn brew(text: String) -> Brew {
    Job::read([("text", text)]).unwrap().on("Pot").unwrap()
}

/// Lines that want the same are answered alike, each with a swap of its own.
#[test]
fn one_missing_name_on_many_lines_is_sought_once() {
    let found = brew(missing_lines(40)).substitutes().unwrap();
    let [first, others @ ..] = &found.missing[..] else {
        panic!("nothing is missing")
    };
    assert_eq!(others.len(), 39);
    assert!(!first.proposals.is_empty());
    for (nth, other) in others.iter().enumerate() {
        assert_eq!(other.line.nth, nth + 1);
        for (one, its) in other.proposals.iter().zip(&first.proposals) {
            assert_eq!(one.swap.replaced, other.line);
            assert_ne!(one.place, its.place);
            assert_eq!(one.parts, its.parts);
            // Figures that each line worked out for itself would differ in their last digits.
            assert_eq!(one.predicted, its.predicted);
        }
    }
}

/// Each line that wants something of its own takes predictions of the whole recipe, so that their number has an end.
#[test]
fn too_many_lines_that_want_different_things_are_refused() {
    assert_eq!(
        brew(lines_of_other_amounts(3))
            .substitutes()
            .unwrap()
            .missing
            .len(),
        3
    );
    let refused = brew(lines_of_other_amounts(101)).substitutes().unwrap_err();
    assert_eq!(refused.kind(), ErrorKind::OutOfRange);
    let refused = refused.to_string();
    assert!(refused.contains("100 different lines"), "{refused}");
}

/// All are looked at alone; blends are sought among those that come nearest.
#[test]
fn every_own_ingredient_is_looked_at() {
    let alone = SubstituteOptions::default()
        .with_candidates(Candidates::Stock)
        .with_most_parts(1);
    let found = brew(own_ingredients(1700))
        .substitutes_with(&alone)
        .unwrap();
    assert_eq!(found.missing[0].candidates, 1700 + 1);
}
