//! What is noticed of a proposal, what it would be chosen for, and what else a brewer asks.

use super::kitchen::{Kitchen, demo, in_stock, mass_kg, pot};
use wortwright::quantity::uom::si::volume::liter;
use wortwright::substitute::{
    Candidates, Difference, Origin, Practice, Proposal, ProposalRole, Proposals, Sense,
    SubstituteOptions,
};

fn proposals(grist: &str, after: &str, stock: &str, missing: &str) -> Proposals {
    let kitchen = Kitchen::read(&pot(grist, after, stock));
    let options = SubstituteOptions::default();
    kitchen.propose(&[missing], &options).remove(0)
}

fn steps(proposal: &Proposal, sense: Sense) -> f64 {
    let told = proposal.noticed.iter().find(|told| told.sense == sense);
    told.unwrap().steps
}

const BOIL: &str = "boil 60 min\n  20 IBU Perle at 60 min\n";

/// A newcomer has no stock: everything is bought, and something is proposed for every kind of line.
#[test]
fn with_no_stock_a_shop_is_looked_through() {
    let found = proposals(
        "  90 % pale ale malt\n  10 % flaked oats\n",
        BOIL,
        "",
        "flaked oats",
    );
    assert!(found.candidates > 50 && found.proposals.len() == 5);
    for proposal in &found.proposals {
        assert!(
            proposal
                .parts
                .iter()
                .all(|part| part.from == Some(Origin::Shop))
        );
        assert!(proposal.feasible && !proposal.summary.is_empty());
    }
}

/// Colour by hand: what the plan with the proposal in it shows more, in steps of 1 EBC or a tenth, and what the two lots may be off:
/// each 8 % of the colour that caramel malt gives (uncertainty table). By Morey's relation the colour goes with the 0.6859th power of
/// the units that run off, °L = (EBC + 1.2)/2.65.
#[test]
fn a_darker_beer_is_told_in_steps() {
    let grist = "  90 % pale ale malt\n  10 % caramel malt 150 EBC\n";
    let kitchen = Kitchen::read(&pot(grist, BOIL, ""));
    let plan = kitchen.printed();
    let before = plan.predicted.colour.unwrap().ebc();
    let units = |name, ebc: f64| mass_kg(&plan, name) * (ebc + 1.2) / 2.65;
    let pale = units("pale ale malt", 6.0);
    let without = (pale / (pale + units("caramel malt 150 EBC", 150.0))).powf(0.6859);
    // The lot's part is of the wort's colour.
    let wort = plan.predicted.wort_colour.unwrap().ebc();
    let of_lot = 0.08 * wort * (1.0 - without);
    let options = SubstituteOptions::default();
    for proposal in &kitchen.propose(&["caramel malt 150 EBC"], &options)[0].proposals {
        let after = proposal.predicted.colour.unwrap().ebc();
        let step = f64::hypot((0.1 * before).max(1.0), 2.0_f64.sqrt() * of_lot);
        let by_hand = (after - before) / step;
        let told = steps(proposal, Sense::Colour);
        assert!((told / by_hand - 1.0).abs() < 1e-6, "{told}, {by_hand}");
        let told = proposal
            .noticed
            .iter()
            .find(|told| told.sense == Sense::Colour);
        let expected = match by_hand.abs() {
            small if small < 0.5 => Difference::Same,
            little if little < 1.0 => Difference::Hardly,
            _ => Difference::Noticeable,
        };
        assert_eq!(told.unwrap().verdict, expected);
    }
}

/// A role is what a later one is better by than the first, and goes to one at most.
#[test]
fn a_role_tells_from_the_first() {
    let found = demo()
        .propose(&["flaked spelt"], &SubstituteOptions::default())
        .remove(0);
    let mut roles: Vec<ProposalRole> = found
        .proposals
        .iter()
        .flat_map(|proposal| proposal.roles.clone())
        .collect();
    roles.sort();
    let once = {
        let mut once = roles.clone();
        once.dedup();
        once
    };
    assert_eq!(roles, once);
    let [first, others @ ..] = &found.proposals[..] else {
        panic!("a proposal")
    };
    assert!(first.roles.is_empty() && !roles.is_empty());
    let worst = |proposal: &Proposal| proposal.noticed.iter().map(|told| told.verdict).max();
    for other in others {
        if other.roles.contains(&ProposalRole::Closest) {
            assert!(worst(other) < worst(first));
        }
        if other.roles.contains(&ProposalRole::FromStock) {
            assert!(
                other
                    .parts
                    .iter()
                    .all(|part| part.from == Some(Origin::Stock))
            );
            assert!(
                first
                    .parts
                    .iter()
                    .any(|part| part.from != Some(Origin::Stock))
            );
        }
    }
}

/// The stock is all there is: what it does not list is missing too, and what it holds stands in for it.
#[test]
fn a_beer_from_the_stock_buys_nothing() {
    let grist = "  80 % pilsner malt\n  20 % flaked oats\n";
    let stock = "  9 kg pale ale malt\n  2 kg flaked barley\n  100 g Nugget\n";
    let kitchen = Kitchen::read(&pot(grist, BOIL, stock));
    let found = kitchen.propose(&[], &SubstituteOptions::default().from_stock());
    let names: Vec<&str> = found.iter().map(|line| line.name.as_str()).collect();
    assert_eq!(names, ["pilsner malt", "flaked oats", "Perle"]);
    let leaders: Vec<_> = found
        .iter()
        .map(|line| line.proposals[0].leader().unwrap())
        .collect();
    assert_eq!(leaders, ["pale ale malt", "flaked barley", "Nugget"]);
    assert!(kitchen.propose(&[], &in_stock()).is_empty());
}

/// Lactose is sweet because yeast leaves it: nothing that ferments stands in for it, and it stands in for nothing that does.
#[test]
fn sweetness_never_becomes_alcohol() {
    for candidates in [Candidates::Shop, Candidates::Catalogue] {
        let options = SubstituteOptions::default()
            .with_candidates(candidates)
            .with_limit(50);
        let propose = |sugar: &str| {
            let boil = format!("boil 60 min\n  5 % {sugar} at 10 min\n  20 IBU Perle at 60 min\n");
            let kitchen = Kitchen::read(&pot("  95 % pale ale malt\n", &boil, ""));
            kitchen.propose(&[sugar], &options).remove(0).proposals
        };
        let names = |proposals: Vec<Proposal>| -> Vec<String> {
            proposals
                .into_iter()
                .flat_map(|p| p.parts)
                .map(|part| part.name)
                .collect()
        };
        assert!(
            names(propose("lactose"))
                .iter()
                .all(|name| name == "maltodextrin")
        );
        let for_sucrose = names(propose("sucrose"));
        assert!(!for_sucrose.is_empty());
        assert!(
            for_sucrose
                .iter()
                .all(|name| name != "lactose" && name != "maltodextrin")
        );
    }
}

/// Acid malt is there for its acid: whatever takes its place, an acid goes with it.
#[test]
fn acid_goes_with_what_replaces_acid_malt() {
    let grist = "  97 % pale ale malt\n  3 % acidulated malt\n";
    let found = proposals(grist, BOIL, "", "acidulated malt");
    for proposal in &found.proposals {
        let acid = proposal
            .practice
            .iter()
            .find_map(|practice| match &practice.what {
                Practice::AddAcid { volume, .. } => Some(1000.0 * volume.get::<liter>()),
                _ => None,
            });
        // 3 % of some 4.2 kg are 126 g with 1 to 2 g of lactic acid in 100 g (common practice), 90 g/mol and 11.5 mEq/mL, and
        // as much again for the buffering of what stands in.
        let ml = acid.unwrap();
        assert!((1.0..8.0).contains(&ml), "{ml} mL");
    }
}

/// A hop that boils for half an hour is there for its bitterness, as one that boils a little longer: the same stand in for it.
#[test]
fn half_an_hour_is_a_bittering_hop() {
    let names = |minutes: &str| -> Vec<String> {
        let boil = format!(
            "boil 60 min\n  20 IBU Hallertauer Magnum at 60 min\n  1.5 g/L Saazer at {minutes} min\n"
        );
        let found = proposals("  100 % pilsner malt\n", &boil, "", "Saazer");
        let parts = found.proposals.iter().flat_map(|proposal| &proposal.parts);
        parts.map(|part| part.name.clone()).collect()
    };
    assert_eq!(names("30"), names("30.01"));
    assert_ne!(names("30"), names("5"));
}

/// A bittering hop is replaced by its alpha acids, an aroma hop by its oil.
#[test]
fn hops_are_replaced_by_what_they_are_for() {
    let boil = "boil 60 min\n  20 IBU Hallertauer Magnum at 60 min\n  1.5 g/L Saazer at 5 min\n";
    let grist = "  100 % pilsner malt\n";
    let aroma = proposals(grist, boil, "", "Saazer");
    let first = &aroma.proposals[0];
    assert_eq!(first.parts.len(), 1);
    // One of the circle of Saazer.
    let circle = [
        "Spalter",
        "Tettnanger",
        "Lubelski",
        "Saaz Late",
        "Sterling",
        "Select",
    ];
    assert!(
        circle.contains(&first.leader().unwrap()),
        "{:?}",
        first.leader()
    );
    let bitter = proposals(grist, boil, "", "Hallertauer Magnum");
    for proposal in &bitter.proposals {
        assert_eq!(proposal.parts.len(), 1);
        assert!(steps(proposal, Sense::Bitterness).abs() < 0.1);
    }
}
