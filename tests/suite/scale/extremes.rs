//! Extreme but legal recipes and plants: a plan that meets its aim, or a typed outcome or error; never a panic, a
//! figure that is not a number, or a search without end.

use crate::brewing::{BIG, Job, job, l, original, sane};
use wortwright::diagnostic::ErrorKind;
use wortwright::quantity::{Unit, Written};
use wortwright::recipe::Content;
use wortwright::scale::{Outcome, WeighOut};

fn recipe(head: &str, rest: &str) -> String {
    format!("recipe Extreme\nbrewed on Big\n{head}\n{rest}\n")
}

const PLAIN: &str = "
mash
  100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %
  rest 66 C for 60 min
boil 60 min
  30 IBU perle, 8 % alpha at 60 min
ferment
  pitch ale yeast, attenuation 78 %
";
const PLAIN_HEAD: &str = "batch 20 hL into fermenter\ntarget original 12 P, bitterness 30 IBU";

fn on(recipe: &str, small: &str) -> Job {
    job(
        &format!("{recipe}\n{BIG}\nbrewhouse Small\n{small}\n"),
        "Small",
    )
}

/// A plan that re-predicts to the source's strength and fills its batch, or outcomes or an error that say why not.
#[track_caller]
fn meets_or_says(job: &Job) -> &'static str {
    let plan = match job.scaled(WeighOut::Exact) {
        Ok(plan) => plan,
        Err(error) => {
            assert!(
                matches!(
                    error.kind(),
                    ErrorKind::Contradiction
                        | ErrorKind::Incomplete
                        | ErrorKind::PlantIncomplete
                        | ErrorKind::OutOfRange
                ),
                "an error of the recipe or the plant, not of the search: {:?} {error}",
                error.kind()
            );
            return "error";
        }
    };
    sane(&plan);
    if plan
        .outcomes
        .iter()
        .any(|o| matches!(&o.what, Outcome::GravityOutOfReach { .. }))
    {
        return "outcome";
    }
    let wanted = plan.source.original.unwrap().plato();
    assert!(
        (original(&plan) - wanted).abs() <= 1e-7 * wanted.abs(),
        "strength {} for {wanted}, outcomes {:?}",
        original(&plan),
        plan.outcomes
    );
    let printed = job
        .recipe
        .targets
        .original
        .as_ref()
        .map(|w| w.value().plato());
    if let Some(printed) = printed {
        assert!(
            (wanted - printed).abs() <= 1e-7 * printed,
            "the source reads {wanted} for the printed {printed}"
        );
    }
    let batch = job.target.batch.as_ref().unwrap();
    let got = match batch.at {
        wortwright::recipe::BatchPoint::IntoFermenter => plan.volumes.into_fermenter,
        wortwright::recipe::BatchPoint::EndOfBoil => plan.volumes.post_boil,
        wortwright::recipe::BatchPoint::Packaged => plan.volumes.packaged,
    };
    let (got, wanted) = (l(got), l(batch.volume.value()));
    assert!(
        (got - wanted).abs() <= 1e-7 * wanted,
        "{got} L for {wanted} L"
    );
    "plan"
}

const SMALL: &str =
    "  batch 8 L into fermenter\n  lauter bag\n  absorption 0.7 L/kg\n  evaporation 2 L/h";

fn of_strength(plato: f64) -> String {
    recipe(
        &format!("batch 20 hL into fermenter\ntarget original {plato} P, bitterness 30 IBU"),
        PLAIN,
    )
}

/// The malt line of the plain recipe.
const MALT: &str =
    "  100 % pale ale malt, extract 80 % dry, moisture 4 %, 6 EBC, fermentable 66 %\n";
const HOP: &str = "  30 IBU perle, 8 % alpha at 60 min\n";

#[test]
fn from_one_litre_to_five_thousand_hectolitres() {
    let plain = recipe(PLAIN_HEAD, PLAIN);
    for batch in ["1 L", "8 L", "5000 hL"] {
        let small = SMALL.replace("8 L", batch);
        assert_eq!(meets_or_says(&on(&plain, &small)), "plan", "{batch}");
    }
    for source in ["1 L", "5000 hL"] {
        // Fixed losses of 40 and 30 L would drown a litre.
        let text = recipe(&PLAIN_HEAD.replace("20 hL", source), PLAIN);
        assert_eq!(meets_or_says(&on(&text, SMALL)), "plan", "{source}");
    }
}

/// Every way to lauter at every strength: within 2 and 35 °P the plan meets its strength or says why not.
#[test]
fn every_strength_in_every_lauter() {
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
fn grain_that_keeps_its_wort() {
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
fn a_thick_mash_of_the_plants_own() {
    let small = "  batch 8 L into fermenter\n  lauter batch, sparges 2\n  mash in 1.6 L/kg";
    assert_eq!(meets_or_says(&on(&of_strength(12.0), small)), "plan");
    assert_eq!(meets_or_says(&on(&of_strength(45.0), small)), "outcome");
}

#[test]
fn any_altitude() {
    let plain = recipe(PLAIN_HEAD, PLAIN);
    for metres in [0, 350, 2000, 5000, 9000] {
        let small = format!("{SMALL}\n  altitude {metres} m");
        assert_eq!(meets_or_says(&on(&plain, &small)), "plan", "{metres}");
    }
}

/// What a boil drives off may exceed what stays; a share of nearly all that is there has no wort to begin with.
#[test]
fn boils_that_drive_off_more_than_stays() {
    let plain = recipe(PLAIN_HEAD, PLAIN);
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
    let long = recipe(PLAIN_HEAD, &PLAIN.replace("boil 60 min", "boil 20 h"));
    assert_eq!(
        meets_or_says(&on(&long, SMALL)),
        "error",
        "5 % an hour for 20 hours"
    );
}

#[test]
fn no_boil_at_all() {
    let unboiled = PLAIN.replace("boil 60 min", "boil 0 min");
    // Bitterness from a hop that does not boil is a contradiction.
    let asked = unboiled.replace("at 60 min", "at 0 min");
    assert_eq!(
        meets_or_says(&on(&recipe(PLAIN_HEAD, &asked), SMALL)),
        "error"
    );
    let dosed = unboiled.replace(
        "30 IBU perle, 8 % alpha at 60 min",
        "30 g/hL perle, 8 % alpha at 0 min",
    );
    let head = "batch 20 hL into fermenter\ntarget original 12 P";
    assert_eq!(meets_or_says(&on(&recipe(head, &dosed), SMALL)), "plan");
}

#[test]
fn no_hops_or_only_late_ones() {
    let head = "batch 20 hL into fermenter\ntarget original 12 P";
    assert_eq!(
        meets_or_says(&on(&recipe(head, &PLAIN.replace(HOP, "")), SMALL)),
        "plan"
    );
    let late = PLAIN.replace(
        "30 IBU perle, 8 % alpha at 60 min",
        "300 g/hL perle, 8 % alpha at 1 min",
    );
    assert_eq!(
        meets_or_says(&on(&recipe(PLAIN_HEAD, &late), SMALL)),
        "plan"
    );
    // No text can say so, and no model of a host.
    let mut barren = on(&recipe(PLAIN_HEAD, PLAIN), SMALL);
    for addition in &mut barren.recipe.boil.additions {
        if let Content::Single(hop) = &mut addition.content {
            hop.facts.alpha = Some(Written::new(0.0, Unit::Percent).unwrap());
        }
    }
    assert_eq!(barren.built().unwrap_err().kind(), ErrorKind::Unreadable);
}

#[test]
fn sugar_in_any_part() {
    for (malt, plato) in [(100, 12.0), (40, 35.0), (1, 12.0), (1, 35.0)] {
        let sugar = 100 - malt;
        let grain = MALT.replace("100 %", &format!("{malt} %"));
        for name in ["sucrose", "honey, 80 % extract", "honey, 30 % extract"] {
            let text = PLAIN
                .replace(MALT, &grain)
                .replace(HOP, &format!("{HOP}  {sugar} % {name} at 10 min\n"));
            let head = PLAIN_HEAD.replace("12 P", &format!("{plato} P"));
            let what = meets_or_says(&on(&recipe(&head, &text), SMALL));
            // Thin syrup alone cannot make a strong wort: the printed strength contradicts it.
            let impossible = name.contains("30 %") && malt < 10 && plato > 30.0;
            assert_eq!(what == "error", impossible, "{malt} {name} {plato}: {what}");
        }
    }
    let only = PLAIN
        .replace(MALT, "")
        .replace(HOP, &format!("{HOP}  100 % sucrose at 10 min\n"));
    assert_eq!(
        meets_or_says(&on(&recipe(PLAIN_HEAD, &only), SMALL)),
        "plan"
    );
    let without_mash = only.replace("mash\n  rest 66 C for 60 min\n", "");
    let small = "  batch 8 L into fermenter\n  no mash\n  evaporation 2 L/h";
    assert_eq!(
        meets_or_says(&on(&recipe(PLAIN_HEAD, &without_mash), small)),
        "plan"
    );
}

#[test]
fn thirty_malts() {
    let malts: Vec<_> = (0..30)
        .map(|i| {
            let (share, ebc) = (100.0 / 30.0, 5 + i * 20);
            format!("  {share:.6} % pale ale malt, {ebc} EBC, moisture 4 %\n")
        })
        .collect();
    let malts = malts.concat();
    let text = recipe(PLAIN_HEAD, &PLAIN.replace(MALT, &malts));
    assert_eq!(meets_or_says(&on(&text, SMALL)), "plan");
}

/// Juice up to nine parts in ten, at every trigger and counted at every point. A packaged batch of which juice is the
/// larger part once missed its volume by a factor of two.
#[test]
fn juice_of_any_volume_at_any_gravity() {
    for share in [1, 12, 30, 60, 90] {
        for trigger in ["when 6 P", "when 40 P", "when 0.5 P", "when -1 P", ""] {
            let juice = format!(
                "{PLAIN}  add {share} % by volume {trigger}\n    100 % apple juice, 12 Bx\n"
            );
            for at in ["into fermenter", "packaged", "at end of boil"] {
                let text = recipe(PLAIN_HEAD, &juice);
                let small = SMALL.replace("into fermenter", at);
                assert_eq!(
                    meets_or_says(&on(&text, &small)),
                    "plan",
                    "{share} {trigger} {at}"
                );
                let head = PLAIN_HEAD.replace("into fermenter", at);
                let text = recipe(&head, &juice);
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
fn losses_larger_than_the_batch() {
    let plain = recipe(PLAIN_HEAD, PLAIN);
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
fn yields_beyond_all_extract() {
    let plain = recipe(PLAIN_HEAD, PLAIN);
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
fn a_source_plant_that_cannot_brew_its_recipe() {
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
            let head = format!(
                "batch 20 hL into fermenter\nshares by {basis}\ntarget original {plato} P, bitterness 30 IBU"
            );
            let text = format!(
                "{}\nbrewhouse Big\n  {plant}\n  evaporation 5 % per hour\nbrewhouse Small\n{}\n",
                recipe(&head, PLAIN),
                SMALL.replace(
                    "lauter bag\n  absorption 0.7 L/kg",
                    "lauter continuous, yield 90 %"
                )
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

#[test]
fn figures_that_make_no_beer() {
    for head in [
        "target original 0 P, bitterness 30 IBU",
        "target original 90 P, bitterness 30 IBU",
        "target original 12 P, final 13 P, bitterness 30 IBU",
        "target original 12 P, final -5 P, bitterness 30 IBU",
        "target original 12 P, final -20 P, bitterness 9000 IBU",
    ] {
        let text = recipe(&format!("batch 20 hL into fermenter\n{head}"), PLAIN);
        meets_or_says(&on(&text, SMALL));
    }
    let empty = PLAIN.replace("extract 80 % dry", "extract 0 % dry");
    assert_eq!(
        meets_or_says(&on(&recipe(PLAIN_HEAD, &empty), SMALL)),
        "error"
    );
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
