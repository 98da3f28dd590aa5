//! Hops outside of the boil.

use super::{Lines, PLAIN, places};
use crate::brewing::{l, near};
use wortwright::process::Prediction;

/// 9.1 % of the alpha acids of mash hops against 44.0 % of a boil of 60 min (Justus 2018): 0.2068 of it, by either model.
#[test]
fn mash_hops_give_a_fifth_of_what_they_would_give_boiled() {
    for plant in ["  bitterness tinseth\n", "  bitterness kinetic\n"] {
        let boiled = Lines { plant, ..PLAIN }.predicted();
        let mash = "  30 g northern brewer, 9 % alpha\n";
        let mashed = Lines {
            mash,
            boil: "",
            plant,
            ..PLAIN
        }
        .predicted();
        let ibu = |found: &Prediction| found.predicted.wort_bitterness.unwrap().ibu();
        assert!(ibu(&boiled) > 10.0, "{}", ibu(&boiled));
        near(ibu(&mashed) / ibu(&boiled), 0.2068, 0.0001, plant);
        assert_eq!(places(&mashed, "mash_hops"), ["recipe.mash.additions[1]"]);
    }
}

#[test]
fn hops_in_a_stand_get_a_model_that_knows_stands() {
    let hot = "stand 20 min at 90 C\n  30 g northern brewer, 9 % alpha for 20 min\n";
    let of = |plant| {
        Lines {
            boil: "",
            hot,
            plant,
            ..PLAIN
        }
        .predicted()
    };
    let (chosen, kinetic, tinseth) = (
        of(""),
        of("  bitterness kinetic\n"),
        of("  bitterness tinseth\n"),
    );
    assert_eq!(chosen.predicted.bitterness, kinetic.predicted.bitterness);
    assert_eq!(
        places(&chosen, "kinetic_for_stand"),
        ["brewhouses[Home].bitterness"]
    );
    assert!(places(&kinetic, "kinetic_for_stand").is_empty());
    // Whoever chooses Tinseth is told that it gives none.
    assert_eq!(tinseth.predicted.bitterness.unwrap().ibu(), 0.0);
    assert_eq!(places(&tinseth, "stand_without_bitterness").len(), 1);
}

/// What is named an extract keeps no wort, whatever the plant; its bitterness in the boil is that of its alpha acids, and none is known of
/// one that goes in after it.
#[test]
fn hop_extract_keeps_nothing_and_says_what_is_not_known() {
    let boiled = |line: &str| {
        let lines = Lines {
            boil: line,
            ..PLAIN
        };
        l(lines.predicted().volumes.post_boil)
    };
    let pellets_l = boiled("  20 g northern brewer, pellet, 9 % alpha at 60 min\n");
    let extract_l = boiled("  20 g hop extract, 9 % alpha at 60 min\n");
    let stated_l = boiled("  20 g northern brewer, extract, 9 % alpha at 60 min\n");
    near(extract_l, stated_l, 1e-12, "by its name");
    assert!((pellets_l - extract_l).abs() > 1e-3 || pellets_l >= extract_l);
    let bottled = Lines {
        package: "  add 5 g iso-alpha extract, 30 % alpha\n",
        ..PLAIN
    };
    let found = bottled.predicted();
    assert_eq!(
        places(&found, "extract_without_bitterness"),
        ["recipe.package.additions[0]"]
    );
    assert!(places(&found, "dry_hops_without_bitterness").is_empty());
}
