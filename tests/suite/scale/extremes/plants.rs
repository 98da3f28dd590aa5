//! Plants: sizes, ways to lauter, boils, losses and yields.

use super::{SMALL, meets_or_says, of_strength, on, ordinary};
use crate::brewing::job;
use wortwright::scale::WeighOut;

#[test]
fn plans_go_from_one_litre_to_five_thousand_hectolitres() {
    let plain = ordinary();
    for batch in ["1 L", "8 L", "5000 hL"] {
        let small = SMALL.replace("8 L", batch);
        assert_eq!(meets_or_says(&on(&plain, &small)), "plan", "{batch}");
    }
    for source in ["1 L", "5000 hL"] {
        // Fixed losses of 40 and 30 L would drown a litre.
        let text = ordinary().replace("20 hL", source);
        assert_eq!(meets_or_says(&on(&text, SMALL)), "plan", "{source}");
    }
}

/// Every way to lauter at every strength: within 2 and 35 °P the plan meets its strength or says why not.
#[test]
fn every_strength_in_every_lauter_is_met_or_said_to_be_out_of_reach() {
    let lauters = [
        "lauter bag",
        "lauter bag, sparge 1 L",
        "lauter bag, sparge 50 L",
        "lauter bag\n  kettle 9 L",
        "lauter batch, sparges 1",
        "lauter batch, sparges 1\n  mash tun 6 L",
        "lauter batch, sparges 3\n  sparge mixing 60 %",
        "lauter batch, sparges 2\n  sparge mixing 0 %",
        "lauter batch, sparges 2\n  mash in 1.5 L/kg",
        "lauter batch, sparges 2\n  mash in 20 L/kg",
        "lauter continuous, yield 90 %",
        "extract yield 76 % of grist",
        "extract yield 80 % in fermenter",
        "no mash",
        "lauter bag\n  conversion 0 %",
        "lauter bag\n  tun loss 50 L",
    ];
    let mut plans = 0;
    for plato in [2.0, 6.0, 12.0, 20.0, 25.0, 30.0, 35.0] {
        for lauter in lauters {
            for boil in ["evaporation 2 L/h", "evaporation 10 % per hour"] {
                let small = format!("  batch 8 L into fermenter\n  {lauter}\n  {boil}");
                if meets_or_says(&on(&of_strength(plato), &small)) == "plan" {
                    plans += 1;
                }
            }
        }
    }
    // Were everything an outcome, nothing would have been tested.
    assert!(plans > 100, "{plans}");
}

/// Grain that keeps more wort than it was mashed with: beyond some strength more grain brings nothing. The search
/// once went on without end there and gave figures that were not numbers.
#[test]
fn grain_that_keeps_its_wort_ends_the_search() {
    for plato in [2.0, 12.0, 20.0, 25.0, 30.0, 35.0] {
        for held in ["absorption", "retention"] {
            for amount in [0.0, 1.0, 2.5, 5.0] {
                for lauter in ["bag", "batch, sparges 2", "batch, sparges 0"] {
                    let small = format!(
                        "  batch 8 L into fermenter\n  lauter {lauter}\n  {held} {amount} L/kg\n  evaporation 2 L/h"
                    );
                    let what = meets_or_says(&on(&of_strength(plato), &small));
                    let hopeless = plato > 29.0 && amount > 4.0;
                    assert!(!hopeless || what == "outcome", "{small} {plato}");
                }
            }
        }
    }
}

/// A brewer who mashes in thicker than the usual limit can stir that mash: not every strength is out of reach.
#[test]
fn a_thick_mash_of_the_plants_own_is_kept() {
    let small = "  batch 8 L into fermenter\n  lauter batch, sparges 2\n  mash in 1.6 L/kg";
    assert_eq!(meets_or_says(&on(&of_strength(12.0), small)), "plan");
    assert_eq!(meets_or_says(&on(&of_strength(45.0), small)), "outcome");
}

#[test]
fn every_altitude_has_its_plan() {
    let plain = ordinary();
    for metres in [0, 350, 2000, 5000, 9000] {
        let small = format!("{SMALL}\n  altitude {metres} m");
        assert_eq!(meets_or_says(&on(&plain, &small)), "plan", "{metres}");
    }
}

/// What a boil drives off may exceed what stays; a share of nearly all that is there has no wort to begin with.
#[test]
fn a_boil_may_drive_off_more_than_stays() {
    let plain = ordinary();
    let boils = [
        ("0 L/h", "plan"),
        ("20 L/h", "plan"),
        ("500 L/h", "plan"),
        ("50 % per hour", "plan"),
        ("90 % per hour", "plan"),
        ("97 % per hour", "plan"),
        ("99 % per hour", "error"),
        ("100 % per hour", "error"),
    ];
    for (rate, wanted) in boils {
        let small = SMALL.replace("2 L/h", rate);
        assert_eq!(meets_or_says(&on(&plain, &small)), wanted, "{rate}");
    }
    let long = ordinary().replace("boil 60 min", "boil 20 h");
    assert_eq!(
        meets_or_says(&on(&long, SMALL)),
        "error",
        "5 % an hour for 20 hours"
    );
}

#[test]
fn losses_may_be_larger_than_the_batch() {
    let plain = ordinary();
    for (kettle, fermenter, batch, wanted) in [
        ("3 L", "3 L", "1 L packaged", "plan"),
        ("3 L", "3 L", "1 L into fermenter", "plan"),
        ("0 L", "1.5 L", "1 L packaged", "plan"),
        ("0 L", "0 L", "1 L packaged", "plan"),
        // Nothing would reach the fermenter.
        ("3 L", "3 L", "1 L at end of boil", "error"),
        ("1 L", "0 L", "1 L at end of boil", "error"),
    ] {
        let small = format!(
            "  batch {batch}\n  lauter bag\n  evaporation 2 L/h\n  kettle loss {kettle}\n  fermenter loss {fermenter}"
        );
        assert_eq!(meets_or_says(&on(&plain, &small)), wanted, "{small}");
    }
}

/// More extract than the grist has is refused, whatever the yield is stated of.
#[test]
fn yields_beyond_all_extract_are_refused() {
    let plain = ordinary();
    for (line, wanted) in [
        ("extract yield 76 % of grist", "plan"),
        ("extract yield 95 % of grist", "error"),
        ("extract yield 80 % in fermenter\n  kettle loss 1 L", "plan"),
        (
            "extract yield 100 % in fermenter\n  kettle loss 3 L",
            "error",
        ),
        ("extract yield 0 %", "outcome"),
    ] {
        let small = SMALL.replace("lauter bag", line);
        assert_eq!(meets_or_says(&on(&plain, &small)), wanted, "{line}");
    }
}

/// A source that cannot have made its own beer is a contradiction, not another beer.
#[test]
fn a_source_plant_that_cannot_brew_its_recipe_is_a_contradiction() {
    for (plato, plant, wanted) in [
        (12.0, "lauter bag\n  absorption 0.8 L/kg", "plan"),
        (35.0, "lauter bag\n  absorption 0.8 L/kg", "error"),
        (
            12.0,
            "lauter bag\n  absorption 0.8 L/kg\n  mash tun 500 L",
            "error",
        ),
        (12.0, "no mash", "error"),
        (12.0, "extract yield 0 %", "error"),
    ] {
        for basis in ["weight", "extract"] {
            let shares = format!("shares by {basis}\ntarget original {plato} P");
            let small = SMALL.replace(
                "lauter bag\n  absorption 0.7 L/kg",
                "lauter continuous, yield 90 %",
            );
            let text = format!(
                "{}\nbrewhouse Big\n  {plant}\n  evaporation 5 % per hour\nbrewhouse Small\n{small}\n",
                ordinary().replace("target original 12 P", &shares)
            );
            let job = job(&text, "Small");
            assert_eq!(meets_or_says(&job), wanted, "{text}");
            if let Err(error) = job.scaled(WeighOut::Exact) {
                let said = error.to_string();
                assert!(!said.contains("NaN") && !said.contains("inf "), "{said}");
            }
        }
    }
}
