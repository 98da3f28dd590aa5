//! Juices keep what their way says, hops their bitterness; counted by hand from the catalogue's figures.

use super::kitchen::{Kitchen, demo, in_stock, mass_kg, pot, whole};
use crate::process::demo_wort::wort_density;
use wortwright::catalogue::{Catalogue, Entry, Hop, HopAroma, OilContent};
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::quantity::uom::si::volume::liter;
use wortwright::quantity::{AlphaAcids, Share};
use wortwright::substitute::{
    Aspect, JuiceMatch, Part, Practice, Proposal, SubstituteOptions, Weights,
};
use wortwright_tests::fixtures::changed;

/// A pale beer with one more line in the fermenter, on a small plant, with a stock.
fn pale(batch: &str, line: &str, stock: &str) -> Kitchen {
    let after = format!("boil 60 min\nferment\n  pitch american ale yeast\n  {line}\n");
    let text = pot("  100 % pilsner malt\n", &after, stock);
    Kitchen::read(&changed(
        &text,
        &[("batch 20 L", &format!("batch {batch}"))],
    ))
}

fn one_part() -> SubstituteOptions {
    in_stock().with_most_parts(1)
}

/// Whether whole fruit is among it, which is weighed.
fn is_fruit(proposal: &Proposal) -> bool {
    let mut parts = proposal.parts.iter();
    parts.any(|part| part.mass.is_some() && part.name != "sucrose")
}

#[test]
fn juices_come_in_three_ways() {
    let kitchen = demo();
    let answer = &kitchen.propose(&["elderberry juice"], &whole())[0];
    for proposal in &answer.proposals {
        let mut ways: Vec<JuiceMatch> = proposal.other_ways.iter().filter_map(|p| p.way).collect();
        ways.extend(proposal.way);
        ways.sort();
        assert!(
            ways.contains(&JuiceMatch::SameVolume) && ways.contains(&JuiceMatch::SameSugar),
            "{ways:?}"
        );
        for way in proposal.other_ways.iter().chain([proposal]) {
            match way.way.unwrap() {
                JuiceMatch::SameSugar => assert!(way.share_by_volume.is_some()),
                // Pulp takes up room beside the liquid, so does acid, and what is thinned shrinks.
                _ => assert_eq!(
                    way.share_by_volume.is_some(),
                    is_fruit(way)
                        || way.parts.iter().any(|part| {
                            part.name.starts_with("lactic") || part.name.ends_with("concentrate")
                        }),
                    "{:?}",
                    way.parts
                ),
            }
        }
    }
    // By hand: litres, and sugar from the catalogue's Brix, of blends of known juices.
    let catalogue = Catalogue::builtin();
    let sugar_kg_l = |name: &str| -> Option<f64> {
        let Entry::Juice(row) = catalogue.find(name)?.entry.to_entry() else {
            return None;
        };
        let share = row.extract?.plato() / 100.0;
        // Density of sucrose solutions at 20 °C, ICUMSA SPS-4 in the fit 1 + share/(258.6 − 227.1 share) (Lincoln,
        // from memory), times that of water; good to 0.1 % below 20 °Bx.
        let density = 0.9982 * (1.0 + 100.0 * share / (258.6 - 227.1 * share));
        Some(share * density * row.fermentability?.fraction())
    };
    let wanted_kg_l = sugar_kg_l("elderberry juice").unwrap();
    let (mut volumes, mut sugars) = (0, 0);
    let mut litres = None;
    for proposal in answer
        .proposals
        .iter()
        .flat_map(|p| p.other_ways.iter().chain([p]))
    {
        let parts = || {
            let each = proposal.parts.iter();
            each.map(|part| (part, part.volume.map_or(0.0, |v| v.get::<liter>())))
        };
        let whole: f64 = parts().map(|(_, l)| l).sum();
        match proposal.way.unwrap() {
            _ if is_fruit(proposal) => {}
            JuiceMatch::SameVolume if parts().all(|(part, _)| part.name != "water") => {
                let same = *litres.get_or_insert(whole);
                assert!((whole / same - 1.0).abs() < 1e-9);
                volumes += 1;
            }
            _ => {}
        }
    }
    for proposal in answer
        .proposals
        .iter()
        .flat_map(|p| p.other_ways.iter().chain([p]))
    {
        if proposal.way != Some(JuiceMatch::SameSugar) {
            continue;
        }
        let sugar: Option<f64> = proposal
            .parts
            .iter()
            .map(|part| Some(part.volume?.get::<liter>() * sugar_kg_l(&part.name)?))
            .sum();
        if let (Some(sugar), Some(litres)) = (sugar, litres) {
            // The fit's own error.
            assert!(
                (sugar / (litres * wanted_kg_l) - 1.0).abs() < 0.002,
                "{sugar}"
            );
            sugars += 1;
        }
    }
    assert!(volumes > 1 && sugars > 1, "{volumes}, {sugars}");
    // The same fermentable sugar makes the same alcohol, but for the water.
    let with_sugar = |p: &Proposal| {
        p.other_ways
            .iter()
            .chain([p])
            .find(|p| {
                matches!(
                    p.way,
                    Some(JuiceMatch::ToppedUpWithSugar | JuiceMatch::ToppedUpWithWater)
                )
            })
            .and_then(|p| p.predicted.alcohol)
    };
    let printed = kitchen.printed().predicted.alcohol.unwrap();
    let mut compared = 0;
    for proposal in &answer.proposals {
        if let Some(alcohol) = with_sugar(proposal) {
            // Sugar for sugar; unfermented solids and water shift the volume by a trace.
            assert!((alcohol.percent() - printed.percent()).abs() < 0.01);
            compared += 1;
        }
    }
    assert!(compared > 0);
}

#[test]
fn a_hop_keeps_its_bitterness() {
    let kitchen = demo();
    let plan = kitchen.printed();
    let printed = plan.predicted.bitterness.unwrap().ibu();
    let replaced_kg = mass_kg(&plan, "northern brewer");
    let answer = &kitchen.propose(&["northern brewer"], &whole())[0];
    assert_eq!(answer.proposals.len(), 5);
    for proposal in &answer.proposals {
        let ibu = proposal.predicted.bitterness.unwrap().ibu();
        assert!((ibu - printed).abs() < 1e-6, "{ibu} for {printed}");
        assert!(proposal.feasible);
        // By hand: what matters at one time of the boil is the alpha acid, 9 % of the printed hop.
        let alpha: f64 = proposal
            .parts
            .iter()
            .map(|part| {
                let found = Catalogue::builtin()
                    .find(&part.name)
                    .unwrap()
                    .entry
                    .to_entry();
                let Entry::Hop(row) = found else {
                    panic!("{} is no hop", part.name)
                };
                part.mass.unwrap().get::<kilogram>() * row.alpha().unwrap().fraction()
            })
            .sum();
        assert!((alpha / (0.09 * replaced_kg) - 1.0).abs() < 1e-9, "{alpha}");
    }
}

/// The hop that is replaced has 0.8 mL/100 g of oil. An aroma hop goes in by its oil, between half and twice as much of it: with
/// r times the oil beyond those it is off by half, squared and weighted.
#[test]
fn a_hop_of_other_oil_is_as_far_as_its_oil_is() {
    let stock = "  any perle\n  any nugget\n  any fuggle\n  any cascade\n";
    let kitchen = pale("20 L", "2 g/L northern brewer on day 3 for 3 days", stock);
    let alike = |(name, oil): (&'static str, f64)| {
        let oil = OilContent::from_millilitres_per_100_grams(oil).unwrap();
        let alpha = AlphaAcids::from_percent(6.0).unwrap();
        let cohumulone = Share::from_percent(30.0).unwrap();
        let mut row = Hop::new(name);
        row.alpha_range = Some((alpha, alpha));
        row.cohumulone_range = Some((cohumulone, cohumulone));
        row.oil_range = Some((oil, oil));
        row.aroma = Some(HopAroma::new([2; 9]).unwrap());
        Entry::from(row)
    };
    let candidates = [
        ("perle", 1.2),
        ("nugget", 1.6),
        ("fuggle", 2.4),
        ("cascade", 0.2),
    ];
    let catalogue = Catalogue::builtin().with(
        candidates
            .into_iter()
            .chain([("northern brewer", 0.8)])
            .map(alike),
    );
    let mut weights = Weights::default();
    weights.hop_oil = 0.3;
    let options = one_part().with_weights(weights);
    let answers = kitchen.propose_from(catalogue, &["northern brewer"], &options);
    let answers = answers.unwrap();
    let proposals = &answers[0].proposals;
    assert_eq!(proposals.len(), candidates.len());
    for (name, oil) in candidates {
        let led_by = |p: &&Proposal| p.leader() == Some(name);
        let proposal = proposals.iter().find(led_by).unwrap();
        let mass = (0.8 / oil).clamp(0.8, 1.3);
        let far = 0.3 * (mass * oil / 0.8 - 1.0_f64).powi(2);
        assert!((proposal.distance - far).abs() < 1e-9, "{name}");
        let parts: Vec<Aspect> = proposal.distance_parts.iter().map(|p| p.what).collect();
        assert!(parts.iter().all(|part| *part == Aspect::Oil), "{name}");
    }
}

/// Acid that makes a mild juice as tart is poured: lactic acid of 88 % is measured by volume, at 1.2 kg/L.
#[test]
fn lactic_acid_beside_a_juice_is_poured() {
    let kitchen = pale(
        "20 L",
        "add 10 % by volume sour cherry juice, 12 Bx when 5 P",
        "  any apple juice, 12 Bx, 3 g/L acidity\n  any lactic acid 88 %\n",
    );
    let answer = &kitchen.propose(&["sour cherry juice"], &in_stock())[0];
    let all = answer
        .proposals
        .iter()
        .flat_map(|p| p.other_ways.iter().chain([p]));
    let acids = all.flat_map(|p| {
        p.parts
            .iter()
            .filter(|part| part.name == "lactic acid 88 %")
    });
    let mut poured = 0;
    for acid in acids {
        assert!(acid.mass.is_none());
        assert!(acid.volume.unwrap().get::<liter>() > 0.0);
        poured += 1;
    }
    assert!(poured > 0, "{:?}", answer.proposals);
}

/// Two concentrations on either side of 40 °Bx, each for a juice of 12 °Bx at the same volume. A litre of the weaker
/// one, too, holds more than 0.4 kg of extract.
#[test]
fn a_concentrate_is_thinned_to_the_strength_of_what_it_stands_for() {
    let stock = "  any plum juice, 38 Bx\n  any sour cherry juice, 42 Bx\n";
    assert!(0.38 * wort_density(0.38) > 0.40);
    for batch in ["10 L", "20 L", "40 L"] {
        let kitchen = pale(
            batch,
            "add 8 % by volume apple juice, 12 Bx when 5 P",
            stock,
        );
        let plan = kitchen.printed();
        let printed = plan.additions.iter().find(|a| a.name == "apple juice");
        let replaced_l = printed.unwrap().volume.unwrap().get::<liter>();
        let answer = &kitchen.propose(&["apple juice"], &one_part())[0];
        let same_volume = |name: &str| -> (Vec<(String, f64)>, Vec<f64>) {
            let proposal = answer
                .proposals
                .iter()
                .flat_map(|p| p.other_ways.iter().chain([p]))
                .find(|p| p.way == Some(JuiceMatch::SameVolume) && p.parts[0].name == name)
                .unwrap();
            let litres = |part: &Part| part.volume.unwrap().get::<liter>();
            let parts = proposal.parts.iter();
            let advised = proposal.practice.iter().filter_map(|p| match &p.what {
                Practice::ThinWithWater { water, .. } => Some(*water),
                _ => None,
            });
            (
                parts
                    .map(|part| (part.name.clone(), litres(part)))
                    .collect(),
                advised.collect(),
            )
        };
        // The density of water is published with seven digits.
        let near = |found: f64, wanted: f64| (found / wanted - 1.0).abs() < 1e-7;

        let (parts, advised) = same_volume("plum juice");
        assert_eq!(parts.len(), 1, "{batch}: {parts:?}");
        assert!(near(parts[0].1, replaced_l), "{batch}: {parts:?}");
        assert!(advised.is_empty(), "{batch}: {advised:?}");

        let (parts, advised) = same_volume("sour cherry juice");
        let [(_, juice_l), (other, water_l)] = &parts[..] else {
            panic!("{batch}: {parts:?}")
        };
        assert_eq!(other, "water");
        // Of the whole mass 12/42 is concentrate and 30/42 water.
        let whole_kg = replaced_l * wort_density(0.12);
        let by_hand_l = whole_kg * 30.0 / 42.0 / wort_density(0.0);
        assert!(
            near(*water_l, by_hand_l),
            "{batch}: {water_l} L for {by_hand_l} L"
        );
        let (juice_kg, water_kg) = (juice_l * wort_density(0.42), water_l * wort_density(0.0));
        assert!(near(juice_kg + water_kg, whole_kg), "{batch}");
        assert!(near(0.42 * juice_kg, 0.12 * whole_kg), "{batch}");
        // What is advised is water for a litre of the concentrate.
        assert_eq!(advised.len(), 1);
        assert!(near(advised[0], water_l / juice_l), "{batch}: {advised:?}");
    }
}
