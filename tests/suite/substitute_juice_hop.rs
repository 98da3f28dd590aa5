//! Juices keep what their way says, hops their bitterness; counted by hand from the catalogue's figures.

use crate::substitute::{demo, mass_kg, whole};
use wortwright::catalogue::{Catalogue, Entry};
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::quantity::uom::si::volume::liter;
use wortwright::substitute::Way;

#[test]
fn juices_come_in_three_ways() {
    let kitchen = demo();
    let answer = &kitchen.propose(&["elderberry juice"], &whole())[0];
    for proposal in &answer.proposals {
        let mut ways: Vec<Way> = proposal.other_ways.iter().filter_map(|p| p.way).collect();
        ways.extend(proposal.way);
        ways.sort();
        assert!(
            ways.contains(&Way::SameVolume) && ways.contains(&Way::SameSugar),
            "{ways:?}"
        );
        for way in proposal.other_ways.iter().chain([proposal]) {
            match way.way.unwrap() {
                Way::SameSugar => assert!(way.share_by_volume.is_some()),
                _ => assert!(way.share_by_volume.is_none()),
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
            Way::SameVolume if parts().all(|(part, _)| part.name != "water") => {
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
        if proposal.way != Some(Way::SameSugar) {
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
    let with_sugar = |p: &wortwright::substitute::Proposal| {
        p.other_ways
            .iter()
            .chain([p])
            .find(|p| matches!(p.way, Some(Way::ToppedUpWithSugar | Way::ToppedUpWithWater)))
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
