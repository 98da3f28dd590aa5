//! What a plan says of hops that cannot meet the bitterness, and of a stock that does not go round.

use crate::brewing::{addition, ibu, job, kg, l, mass, near};
use wortwright::process::Warning;
use wortwright::scale::{Outcome, Plan, Purchase, Supply};
use wortwright_tests::fixtures::{changed, fixture};

fn plan(boil: &str, ferment: &str, stock: &str) -> Plan {
    let changes = [
        ("  # into the boil\n", boil),
        ("  # into the fermenter\n", ferment),
    ];
    let text = changed(&fixture("plain"), &changes) + &fixture("scale/kinetic_plants") + stock;
    job(&text, "Small").exact()
}

/// Iso-alpha-acids follow the alpha acids in proportion, so that half the alpha is half the bitterness. No hop boils that could
/// make up for it.
#[test]
fn without_a_bittering_hop_what_is_missing_is_said() {
    let late = "stand 30 min at 85 C\n  200 g/hL styrian golding, 5 % alpha for 20 min\n";
    let no_hop = |plan: &Plan| {
        plan.outcomes.iter().find_map(|told| match &told.what {
            Outcome::BitternessNotMet {
                wanted, predicted, ..
            } => Some((wanted.ibu(), predicted.ibu())),
            _ => None,
        })
    };
    let same = plan(late, "", "");
    assert!(ibu(&same) > 2.0, "{}", ibu(&same));
    assert_eq!(no_hop(&same), None);
    let weaker = plan(late, "", "stock\n  any styrian golding, 2.5 % alpha\n");
    let (aim, predicted) = no_hop(&weaker).unwrap();
    near(aim, ibu(&same), 1e-6, "aim");
    near(predicted, 0.5 * aim, 1e-3, "half");
    // A twenty-fifth weaker is within half a unit of it, which nobody tastes.
    let slightly = plan(late, "", "stock\n  any styrian golding, 4.8 % alpha\n");
    assert_eq!(no_hop(&slightly), None);
}

/// A bittering hop that closes a gap of less than half a unit has closed it: nothing is too bitter.
#[test]
fn a_small_gap_is_a_gap_that_is_closed() {
    let boil = "  0.3 IBU perle, 8 % alpha at 60 min\n  15 IBU saaz, 4 % alpha at 20 min\n";
    let too_bitter = |plan: &Plan| {
        plan.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::TooBitterWithoutBittering { .. }))
    };
    let found = plan(boil, "", "");
    near(
        found.predicted.bitterness.unwrap().ibu(),
        found.source.bitterness.unwrap().ibu(),
        1e-9,
        "met",
    );
    assert!(mass(&found, "perle") > 0.0);
    assert!(!too_bitter(&found), "{:?}", found.warnings);
    // Stronger late hops overshoot: 15 IBU of 4 % are 16.5 IBU of 4.4 %, more than a unit too much.
    let strong = plan(boil, "", "stock\n  any saaz, 4.4 % alpha\n");
    assert!(too_bitter(&strong));
    assert_eq!(mass(&strong, "perle"), 0.0);
}

fn purchase<'a>(plan: &'a Plan, name: &str) -> &'a Purchase {
    plan.shopping.iter().find(|p| p.name == name).unwrap()
}

/// By hand: as many bags of 30 g as hold what is needed.
#[test]
fn the_packs_that_are_opened_cover_the_need() {
    let stock = "stock\n  5 x 30 g perle, 8 % alpha\n  any saaz\n";
    let boil = "  20 IBU perle, 8 % alpha at 60 min\n";
    let found = plan(boil, "", stock);
    let bought = purchase(&found, "perle");
    let needed_kg = bought.needed_mass.map(kg).unwrap();
    let counts: Vec<_> = bought.open.iter().map(|packs| packs.count).collect();
    assert_eq!(counts, [(needed_kg / 0.03).ceil() as u32], "{needed_kg} kg");
    assert_eq!(bought.open[0].each_mass.map(kg), Some(0.03));
}

/// Packs of unknown size are covered by packs alone: a mass or a volume says nothing of them, nor they of it.
#[test]
fn packs_are_covered_by_packs() {
    let polish = "package\n  add 300 packs polish, brings nothing\n  bottle\n";
    let with = |lot: &str| plan("", polish, &format!("stock\n  {lot}\n"));
    let needed = plan("", polish, "");
    let needed = purchase(&needed, "polish").needed_packs.unwrap().packs();
    for (lot, supply, buy) in [
        ("1 g polish", Supply::ToBuy, Some(needed)),
        ("1 L polish", Supply::ToBuy, Some(needed)),
        ("500 packs polish", Supply::InStock, None),
        ("1 pack polish", Supply::ToBuy, Some(needed - 1.0)),
        ("any polish", Supply::ToBuy, Some(needed)),
        ("none polish", Supply::Missing, Some(needed)),
    ] {
        let plan = with(lot);
        let found = purchase(&plan, "polish");
        assert_eq!(found.supply, supply, "{lot}");
        let found = found.buy_packs.map(wortwright::quantity::PackCount::packs);
        assert_eq!(found.is_some(), buy.is_some(), "{lot}");
        near(found.unwrap_or(0.0), buy.unwrap_or(0.0), 1e-6, lot);
    }
    let plan = plan("", "", "stock\n  5 packs pale ale malt\n");
    assert_ne!(purchase(&plan, "pale ale malt").supply, Supply::InStock);
}

/// Of a lot listed in too small an amount the rest is bought; one that suffices is in stock, and only `none` is missing.
#[test]
fn a_lot_that_does_not_go_round_is_filled_up() {
    let juice = "  add 10 % by volume when 5 P\n    100 % apple juice, 12 Bx\n";
    let with = |stock: &str| plan("", juice, &format!("stock\n{stock}"));
    let needed = plan("", juice, "");
    let malt_kg = kg(addition(&needed, "pale ale malt").mass.unwrap());
    let juice_l = l(addition(&needed, "apple juice").volume.unwrap());
    assert!(malt_kg > 1.5 && malt_kg < 4.0 && juice_l > 1.0 && juice_l < 1.2);
    assert_eq!(purchase(&needed, "apple juice").supply, Supply::ToBuy);
    let short = with("  500 mL apple juice, 12 Bx\n  1 kg pale ale malt\n");
    let (juice, malt) = (
        purchase(&short, "apple juice"),
        purchase(&short, "pale ale malt"),
    );
    assert_eq!(juice.supply, Supply::ToBuy);
    assert_eq!(malt.supply, Supply::ToBuy);
    near(l(juice.buy_volume.unwrap()), juice_l - 0.5, 1e-6, "juice");
    near(kg(malt.buy_mass.unwrap()), malt_kg - 1.0, 1e-6, "malt");
    let more = with(
        "  500 mL apple juice, 12 Bx\n  any apple juice, 12 Bx\n  1 kg pale ale malt\n  any pale ale malt\n",
    );
    for name in ["apple juice", "pale ale malt"] {
        assert_eq!(purchase(&more, name).supply, Supply::ToBuy, "{name}");
    }
    let enough = with("  3 x 500 mL apple juice, 12 Bx\n  5 kg pale ale malt\n");
    for name in ["apple juice", "pale ale malt"] {
        let found = purchase(&enough, name);
        assert_eq!(found.supply, Supply::InStock, "{name}");
        assert_eq!((found.buy_mass, found.buy_volume), (None, None));
    }
    let none = with("  none apple juice\n");
    assert_eq!(purchase(&none, "apple juice").supply, Supply::Missing);
}
