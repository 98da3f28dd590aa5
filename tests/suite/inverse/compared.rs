//! Every figure and every line of water that a sheet prints is used, or it is told what became of it.

use crate::brewing::{BIG, kg, l, near, plan, predicted};
use wortwright::process::{Assumption, Defaulted, MashInUnused, Prediction, Side, Warning};
use wortwright::scale::{Change, Plan};

/// 350 kg of malt in 20 hL, with more lines of the mash.
fn mashed(lines: &str) -> String {
    format!(
        "recipe Water\nbrewed on Big\nbatch 20 hL into fermenter\nmash\n  350 kg pale ale malt\n  rest 66 C for 60 min\n{lines}\
         boil 60 min\n{BIG}"
    )
}

fn of_water(lines: &str) -> Prediction {
    predicted(&mashed(lines)).unwrap()
}

fn on(lines: &str, plant: &str) -> Plan {
    let text = format!(
        "{}\nbrewhouse Small\n  batch 20 L into fermenter\n{plant}",
        mashed(lines)
    );
    plan(&text, "Small")
}

/// 4 L/kg for 350 kg are 1400 L, and the default of 3 L/kg is no longer assumed.
#[test]
fn a_recipes_mash_in_is_used_where_the_plant_has_none() {
    let usual = of_water("");
    let stated = of_water("  mash in 4 L/kg\n");
    near(l(usual.volumes.mash_water), 1050.0, 1e-9, "3 L/kg");
    near(l(stated.volumes.mash_water), 1400.0, 1e-9, "4 L/kg");
    let assumes = |beer: &Prediction| {
        beer.assumptions.iter().any(|told| {
            matches!(
                told.what,
                Assumption::PlantDefault {
                    what: Defaulted::LiquorRatio,
                    ..
                }
            )
        })
    };
    assert!(assumes(&usual) && !assumes(&stated));
    // On a tun of one's own too, of a plant that has a ratio of its own not.
    let tun = on("  mash in 4 L/kg\n", "  lauter batch, sparges 1\n");
    let grist_kg = kg(tun.additions[0].mass.unwrap());
    near(l(tun.volumes.mash_water), 4.0 * grist_kg, 1e-6, "tun");
    let own = on(
        "  mash in 4 L/kg\n",
        "  lauter batch, sparges 1\n  mash in 2.5 L/kg\n",
    );
    let grist_kg = kg(own.additions[0].mass.unwrap());
    near(l(own.volumes.mash_water), 2.5 * grist_kg, 1e-6, "own ratio");
    assert_eq!(unused(&own), Some(MashInUnused::PlantStatesOwn));
    assert_eq!(unused(&tun), None);
}

fn unused(plan: &Plan) -> Option<MashInUnused> {
    plan.assumptions.iter().find_map(|told| match told.what {
        Assumption::MashInNotUsed {
            side: Side::Target,
            because,
            ..
        } => {
            let place = told.place.as_ref().unwrap().to_string();
            assert_eq!(place, "recipe.mash.liquor_l_per_kg");
            Some(because)
        }
        _ => None,
    })
}

#[test]
fn a_mash_in_that_a_plant_cannot_use_is_told() {
    for (plant, because) in [
        ("  lauter bag\n", MashInUnused::Bag),
        ("  lauter batch, sparges 0\n", MashInUnused::NoSparge),
    ] {
        let plan = on("  mash in 4 L/kg\n", plant);
        assert_eq!(unused(&plan), Some(because), "{plant}");
        assert_eq!(plan.recipe.mash.liquor, None, "{plant}");
    }
}

/// The batch, the absorption and the boil decide all of the water; the printed sparge says how it is split.
#[test]
fn a_printed_sparge_splits_the_water_of_the_source() {
    let (usual, stated) = (of_water(""), of_water("  sparge 900 L at 77 C\n"));
    near(l(stated.volumes.sparge_water), 900.0, 1e-9, "sparge");
    near(
        l(stated.volumes.total_water),
        l(usual.volumes.total_water),
        1e-6,
        "all of the water",
    );
    assert!(stated.warnings.is_empty(), "{:?}", stated.warnings);
    // Both printed: the mash in stays, and what is left for the sparge is told.
    let both = of_water("  mash in 4 L/kg\n  sparge 900 L\n");
    let left_l = l(usual.volumes.total_water) - 1400.0;
    let told = both.warnings.iter().find_map(|told| match told.what {
        Warning::SpargeDisagrees { printed, predicted } => Some((l(printed), l(predicted))),
        _ => None,
    });
    let (printed_l, predicted_l) = told.unwrap();
    near(printed_l, 900.0, 1e-9, "printed");
    near(predicted_l, left_l, 1e-6, "what is left");
}

/// The printed sparge is of the original brewery. What a plant does with it is told, and its plan prints its own.
#[test]
fn a_plan_says_what_becomes_of_the_printed_sparge() {
    for (plant, sparge_l) in [("  lauter bag, sparge 2 L\n", 2.0), ("  lauter bag\n", 0.0)] {
        let plan = on("  sparge 900 L\n", plant);
        let told = plan.changes.iter().find_map(|told| match told.what {
            Change::SpargeFollowsPlant { source, target } => Some((l(source.unwrap()), l(target))),
            _ => None,
        });
        assert_eq!(told, Some((900.0, sparge_l)), "{plant}");
        let written = plan.recipe.mash.sparge.and_then(|sparge| sparge.volume);
        let written = written.map_or(0.0, |volume| l(volume.value()));
        near(written, sparge_l, 1e-9, plant);
    }
    let batch = on(
        "  mash in 4 L/kg\n  sparge 900 L\n",
        "  lauter batch, sparges 1\n",
    );
    let text = format!("{}\n{}", batch.to_document(), "");
    let again = predicted(&text).unwrap();
    near(
        l(again.volumes.sparge_water),
        l(batch.volumes.sparge_water),
        1e-3,
        "the plan read again",
    );
}

/// A wort of 12 °P, pitched with a yeast that states its attenuation, with printed figures.
fn printed(targets: &str, yeast: &str, boil: &str) -> Prediction {
    predicted(&format!(
        "recipe Printed\nbrewed on Big\nbatch 20 hL into fermenter\ntarget original 12 P{targets}\nmash\n  100 % pale ale malt\n\
         boil 60 min\n{boil}ferment\n  pitch ale yeast{yeast}\n{BIG}"
    ))
    .unwrap()
}

fn codes(beer: &Prediction) -> Vec<&'static str> {
    use wortwright::speech::Speaks;
    beer.warnings.iter().map(Speaks::code).collect()
}

/// An alcohol says how far a beer ferments where no final gravity does.
#[test]
fn a_printed_alcohol_is_met() {
    for (targets, wanted) in [
        (", alcohol 4.6 %", 4.6),
        (", alcohol 5.2 %", 5.2),
        (", wort alcohol 4.6 %", 4.6),
        (", wort alcohol 5.2 %", 5.2),
    ] {
        let beer = printed(targets, "", "");
        near(
            beer.predicted.alcohol.unwrap().percent(),
            wanted,
            1e-9,
            targets,
        );
        assert_eq!(codes(&beer), Vec::<&str>::new(), "{targets}");
    }
    // A final gravity wins, and what it leaves of the alcohol is told: 12 °P down to 2.4 °P apparent is 81 % of 9.6 °P or
    // 7.78 °P real, by Balling 3.89 % by weight and 4.95 % by volume.
    let beer = printed(", final 2.4 P, wort alcohol 4 %", "", "");
    near(
        beer.predicted.alcohol.unwrap().percent(),
        4.95,
        0.08,
        "by hand",
    );
    assert_eq!(codes(&beer), ["wort_alcohol_disagrees"]);
    assert!(codes(&printed(", final 2.4 P, wort alcohol 4.9 %", "", "")).is_empty());
}

/// 2.4 of 12 °P is an apparent attenuation of 80 %.
#[test]
fn figures_beside_a_printed_final_are_compared() {
    for (targets, yeast, code) in [
        (
            ", final 2.4 P, wort final 3.4 P",
            "",
            "wort_final_disagrees",
        ),
        (
            ", final 2.4 P",
            ", attenuation 70 %",
            "attenuation_disagrees",
        ),
        (
            ", wort final 2.4 P",
            ", attenuation 70 %",
            "attenuation_disagrees",
        ),
        (
            ", alcohol 5 %",
            ", attenuation 60 %",
            "attenuation_disagrees",
        ),
    ] {
        assert_eq!(
            codes(&printed(targets, yeast, "")),
            [code],
            "{targets}{yeast}"
        );
    }
    for (targets, yeast) in [
        (", final 2.4 P, wort final 2.4 P", ""),
        (", final 2.4 P", ", attenuation 80 %"),
        ("", ", attenuation 70 %"),
    ] {
        let told = codes(&printed(targets, yeast, ""));
        assert!(told.is_empty(), "{targets}{yeast}: {told:?}");
    }
}

#[test]
fn the_bitterness_of_the_wort_is_compared() {
    let hops = "  30 IBU northern brewer, 9 % alpha at 60 min\n";
    let told = |ibu: f64| codes(&printed(&format!(", wort bitterness {ibu} IBU"), "", hops));
    assert!(told(31.0).is_empty());
    assert_eq!(told(40.0), ["wort_bitterness_disagrees"]);
}

/// 2 kg of extract of 95.5 % are 1.91 kg in 20 L: 95.5 g/L, at 1.0369 kg/L 9.21 °P.
#[test]
fn masses_of_an_extract_recipe_are_held_against_the_gravity() {
    let extract = |plato: f64| {
        predicted(&format!(
            "recipe Extract\nbatch 20 L at end of boil\ntarget original {plato} P\nboil 60 min\n\
             \u{20}\u{20}2 kg dried malt extract, 95.5 % extract as is, 75 % fermentable\n"
        ))
        .unwrap()
    };
    let off = extract(12.0);
    let told = off.warnings.iter().find_map(|told| match told.what {
        Warning::OriginalDisagrees { predicted, .. } => Some(predicted.plato()),
        _ => None,
    });
    near(told.unwrap(), 9.21, 0.01, "what the masses give");
    assert!(!codes(&extract(9.3)).contains(&"original_disagrees"));
}

/// 300 g of steeped crystal malt, 75 % extract, bring at most 0.22 kg beside the 1.91 kg of the extract above: 12 °P, 2.5 kg in 20 L, are
/// told and no yield beyond all extract is asked of the grain.
#[test]
fn steeped_grain_answers_for_no_printed_gravity() {
    let steeped = predicted(
        "recipe Extract\nbatch 20 L at end of boil\ntarget original 12 P\n\
         mash\n  300 g caramel malt 120 EBC\n  rest 68 C for 30 min\nboil 60 min\n\
         \u{20}\u{20}2 kg dried malt extract, 95.5 % extract as is, 75 % fermentable\n",
    )
    .unwrap();
    let told = steeped.warnings.iter().find_map(|told| match told.what {
        Warning::OriginalDisagrees { predicted, .. } => Some(predicted.plato()),
        _ => None,
    });
    let told = told.unwrap();
    assert!((9.21..10.3).contains(&told), "{told}");
}

/// Without a mash nothing can be fitted to a printed final gravity, so that one which the extract does not have is told. By hand: 9 of
/// 12 g ferment and leave 3 g in 100 − 9 (0.9565 + 0.11)/2.0665 = 95.4 g, 3.15 °P real; 3.15 = 0.1808 · 12 + 0.8192 A gives 1.19 °P. That is Balling's law
/// for the apparent extract; Tabarié's of the densities lies within 0.2 °P of it.
#[test]
fn a_final_gravity_that_extract_does_not_give_is_told() {
    let of = |sugar: &str, printed: &str| {
        let beer = predicted(&format!(
            "recipe Extract\nbatch 20 L at end of boil\ntarget {printed}\nboil 60 min\n\
             \u{20}\u{20}2.65 kg {sugar}, 95.5 % extract as is, 75 % fermentable\nferment\n  pitch ale yeast\n"
        ))
        .unwrap();
        beer.warnings.iter().find_map(|told| match told.what {
            Warning::FinalNotExplained { nearest, .. } => {
                Some((told.place.as_ref().unwrap().to_string(), nearest.plato()))
            }
            _ => None,
        })
    };
    let nearest = |printed: &str| of("honey", printed);
    for (printed, place) in [
        ("final 3 P", "recipe.targets.final_plato"),
        ("wort final 3 P", "recipe.targets.wort_final_plato"),
    ] {
        let (found, plato) = nearest(printed).unwrap();
        assert_eq!(found, place);
        near(plato, 1.19, 0.15, printed);
    }
    let fits = nearest("final 3 P").unwrap().1;
    assert_eq!(nearest(&format!("final {fits} P")), None);
    // What a maltster's mash made of malt extract is as open as that of any mash.
    assert_eq!(of("dried malt extract", "final 3 P"), None);
}

/// Both printed colours are held against the grist: 12 °P of pale ale malt are about 8 EBC, and nothing in it makes 60 of them.
#[test]
fn both_printed_colours_are_compared() {
    let places = |targets: &str| {
        let beer = printed(targets, "", "");
        let told = beer
            .warnings
            .iter()
            .filter(|told| matches!(told.what, Warning::ColourNotExplained { .. }));
        told.map(|told| told.place.as_ref().unwrap().to_string())
            .collect::<Vec<_>>()
    };
    let (beer, wort) = (
        "recipe.targets.colour_ebc",
        "recipe.targets.wort_colour_ebc",
    );
    assert_eq!(places(", colour 60 EBC"), [beer]);
    assert_eq!(places(", wort colour 60 EBC"), [wort]);
    assert_eq!(places(", colour 60 EBC, wort colour 60 EBC"), [beer, wort]);
    assert_eq!(places(", colour 8 EBC, wort colour 60 EBC"), [wort]);
    assert_eq!(places(", colour 60 EBC, wort colour 8 EBC"), [beer]);
    // The plan offers one remedy, for the beer.
    let text = format!(
        "{}\nbrewhouse Small\n  batch 20 L into fermenter\n  lauter batch, sparges 1\n",
        mashed("").replace("mash\n", "target colour 60 EBC, wort colour 60 EBC\nmash\n")
    );
    let plan = plan(&text, "Small");
    let outcomes = plan.outcomes.iter().filter_map(|told| match &told.what {
        wortwright::scale::Outcome::ColourNotExplained { remedies, .. } => {
            Some((told.place.as_ref().unwrap().to_string(), remedies.len()))
        }
        _ => None,
    });
    let outcomes: Vec<_> = outcomes.collect();
    assert_eq!(outcomes, [(beer.to_owned(), 1), (wort.to_owned(), 0)]);
}
