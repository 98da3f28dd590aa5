//! What does the same job: yeast for yeast, husks for husks, what must be ordered where a shop has nothing for it, no gluten
//! where there is none.

use super::kitchen::Kitchen;
use wortwright::catalogue::{Catalogue, EntryRef, StrainTrait};
use wortwright::recipe::Recipe;
use wortwright::speech::{Speaks, Style};
use wortwright::substitute::{Origin, Proposal, SubstituteOptions};
use wortwright_tests::fixtures::{changed, fixture};

fn shown(changes: &[(&str, &str)], missing: &str) -> Vec<Proposal> {
    let kitchen = Kitchen::read(&changed(&fixture("substitute/all_malt"), changes));
    let mut answers = kitchen.propose(&[missing], &SubstituteOptions::default());
    answers.remove(0).proposals
}

fn names(proposals: &[Proposal]) -> Vec<&str> {
    let parts = proposals.iter().flat_map(|proposal| &proposal.parts);
    parts.map(|part| part.name.as_str()).collect()
}

#[test]
fn a_yeast_is_replaced_by_one_that_ferments_like_it() {
    // A yeast's figure is that of a wort of malt alone at 12 °P, and the mash is the one of the figure, 60 min at 65 °C: Scottish ale
    // yeast, 73 %, leaves 12 (1 − 0.73) = 3.24 °P, and American lager yeast, 76 %, 12 (1 − 0.76) = 2.88 °P.
    for (missing, other, plato) in [
        ("irish ale yeast at 19 C", "scottish ale yeast", 3.24),
        ("german lager yeast at 11 C", "american lager yeast", 2.88),
    ] {
        let (name, _) = missing.split_once(" at").unwrap();
        let proposals = shown(&[("irish ale yeast at 19 C", missing)], name);
        let first = &proposals[0];
        assert_eq!(names(&proposals)[0], other, "{name}");
        let left = first.predicted.final_extract.unwrap().plato();
        assert!((left - plato).abs() < 0.02, "{name}: {left}");
    }
}

#[test]
fn no_clean_yeast_is_replaced_by_one_of_clove_or_one_that_eats_dextrins() {
    let proposals = shown(&[], "irish ale yeast");
    assert_eq!(proposals.len(), 5);
    let traits = |name: &str| {
        let catalogue = Catalogue::builtin();
        let Some(EntryRef::Yeast(row)) = catalogue.find(name).map(|found| found.entry) else {
            panic!("{name} is a yeast")
        };
        (row.phenolic, row.diastatic)
    };
    for name in names(&proposals) {
        let clean = (Some(StrainTrait::No), Some(StrainTrait::No));
        assert_eq!(traits(name), clean, "{name}");
    }
    // And a yeast of clove by one of clove.
    let wheat = shown(
        &[("irish ale yeast", "wheat beer yeast")],
        "wheat beer yeast",
    );
    let (phenolic, _) = traits(names(&wheat)[0]);
    assert_eq!(phenolic, Some(StrainTrait::Yes));
}

#[test]
fn a_yeast_that_ferments_warmer_says_so() {
    let proposals = shown(
        &[("irish ale yeast at 19 C", "german ale yeast at 15 C")],
        "german ale yeast",
    );
    let warmer = proposals
        .iter()
        .find(|proposal| proposal.parts[0].name == "american ale yeast")
        .unwrap();
    let mut told = warmer
        .practice
        .iter()
        .map(|told| told.what.text(Style::default()));
    assert!(told.any(|text| text.contains("ferments at 16 °C to 22 °C")));
}

#[test]
fn a_swapped_yeast_is_pitched_at_the_same_temperature() {
    let kitchen = Kitchen::read(&fixture("substitute/all_malt"));
    let proposal = shown(&[], "irish ale yeast").remove(0);
    let swapped = kitchen.recipe.with_swaps(&[proposal.swap]).unwrap();
    let pitch = swapped.fermentation.pitch.unwrap();
    assert_eq!(pitch.ingredient().unwrap().name, "scottish ale yeast");
    assert_eq!(
        pitch.timing,
        kitchen.recipe.fermentation.pitch.unwrap().timing
    );
    assert!(swapped.fermentation.additions.is_empty());
}

#[test]
fn husks_are_replaced_by_as_many_husks() {
    let grist = "  96 % pale ale malt\n  4 % rice hulls\n";
    let proposals = shown(&[("  100 % pale ale malt\n", grist)], "rice hulls");
    assert_eq!(names(&proposals), ["oat hulls"]);
    let [part] = &proposals[0].swap.parts[..] else {
        panic!("one part")
    };
    assert!((part.ratio.ratio() - 1.0).abs() < 1e-12);
}

#[test]
fn what_no_shop_has_is_ordered() {
    let grist = "  70 % pale ale malt\n  30 % beechwood-smoked barley malt\n";
    let proposals = shown(
        &[("  100 % pale ale malt\n", grist)],
        "beechwood-smoked barley malt",
    );
    assert_eq!(names(&proposals)[0], "cherrywood-smoked barley malt");
    assert_eq!(proposals[0].parts[0].from, Some(Origin::SpecialOrder));
    // A base malt is in every shop: nothing is ordered for it.
    let base = shown(&[], "pale ale malt");
    let mut parts = base.iter().flat_map(|proposal| &proposal.parts);
    assert!(parts.all(|part| part.from == Some(Origin::Shop)));
}

#[test]
fn nothing_brings_gluten_into_a_recipe_without() {
    let grist = "  60 % millet malt\n  34 % buckwheat malt\n  6 % caramel millet malt\n";
    let without = shown(&[("  100 % pale ale malt\n", grist)], "caramel millet malt");
    assert!(!without.is_empty());
    for name in names(&without) {
        let cereals = [
            "barley",
            "wheat",
            "rye",
            "spelt",
            "oat",
            "caramel malt",
            "pale",
            "munich",
        ];
        assert!(
            !cereals.iter().any(|cereal| name.contains(cereal)),
            "{name}"
        );
    }
    // Where there is gluten, malt of barley stands for it.
    let grist = "  94 % pale ale malt\n  6 % caramel millet malt\n";
    let with = shown(&[("  100 % pale ale malt\n", grist)], "caramel millet malt");
    assert!(
        names(&with)
            .iter()
            .any(|name| name.starts_with("caramel malt"))
    );
}

#[test]
fn a_yeast_that_nobody_knows_neither_comes_first_nor_asks_for_one_that_ferments_nothing() {
    let proposals = shown(&[("irish ale yeast", "house yeast")], "house yeast");
    assert!(
        !names(&proposals).contains(&"low-alcohol yeast"),
        "{:?}",
        names(&proposals)
    );
    let proposals = shown(&[("irish ale yeast at 19 C", "kveik at 30 C")], "kveik");
    assert!(
        !names(&proposals).contains(&"house yeast"),
        "{:?}",
        names(&proposals)
    );
}

#[test]
fn a_stated_pitching_rate_stays() {
    let line = "pitch irish ale yeast, 1.2 M/mL/P at 19 C";
    let text = changed(
        &fixture("substitute/all_malt"),
        &[("pitch irish ale yeast at 19 C", line)],
    );
    let kitchen = Kitchen::read(&text);
    let mut answers = kitchen.propose(&["irish ale yeast"], &SubstituteOptions::default());
    let proposal = answers.remove(0).proposals.remove(0);
    let rate = |recipe: &Recipe| {
        let pitch = recipe.fermentation.pitch.as_ref().unwrap();
        pitch.ingredient().unwrap().facts.pitch_rate
    };
    let swapped = kitchen.recipe.with_swaps(&[proposal.swap]).unwrap();
    assert!(rate(&swapped).is_some());
    assert_eq!(rate(&swapped), rate(&kitchen.recipe));
}

#[test]
fn a_malt_that_nobody_knows_holds_gluten() {
    let grist = "  94 % barn malt, 80 % extract, 6 EBC, moisture 4 %\n  6 % caramel malt 150 EBC\n";
    let proposals = shown(
        &[("  100 % pale ale malt\n", grist)],
        "caramel malt 150 EBC",
    );
    assert!(
        names(&proposals)
            .iter()
            .any(|name| name.starts_with("caramel malt"))
    );
}

#[test]
fn a_late_hop_is_replaced_by_its_aroma_though_its_bitterness_is_stated() {
    let late = "20 IBU Citra, 12 % alpha at 5 min";
    let proposals = shown(
        &[("25 IBU Hallertauer Magnum, 14 % alpha at 60 min", late)],
        "Citra",
    );
    // The neutral hop for bitterness alone is none of them.
    assert!(
        !names(&proposals).contains(&"Hallertauer Magnum"),
        "{:?}",
        names(&proposals)
    );
}
