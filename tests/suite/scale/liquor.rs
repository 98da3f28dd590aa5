//! Salts, acid and mash pH of a plan, with figures worked out by hand.

use crate::brewing::weighed;
use wortwright::process::{Assumption, NoMashPh, Side};
use wortwright::quantity::uom::si::{mass::gram, mass::kilogram, volume::liter};
use wortwright::scale::{Change, LiquorPart, Outcome, Plan, Supply};
use wortwright::science::water::Ion;
use wortwright_tests::fixtures::{changed, fixture};

/// One malt of known figures (two-row pale malt: pH 5.6, 40 mEq/(kg pH), from memory of Troester 2009), a bag of 3 L sparge.
pub(crate) fn plan(recipe: &str, plant: &str) -> Plan {
    let changes = [
        ("# water and mash\n", recipe),
        ("  # more of the plant\n", plant),
    ];
    weighed(&changed(&fixture("scale/one_malt"), &changes), "Small")
}

const MASH: &str = "mash\n  100 % two-row pale malt\n  rest 66 C for 60 min\n";
pub(crate) const SOFT: &str = "  water calcium 10 mg/L, magnesium 2 mg/L, sodium 5 mg/L, sulphate 8 mg/L, chloride 5 mg/L, alkalinity 20 mg/L\n";

pub(crate) fn mash_l(plan: &Plan) -> f64 {
    plan.volumes.mash_water.get::<liter>()
}

pub(crate) fn malt_kg(plan: &Plan) -> f64 {
    plan.additions[0].mass.unwrap().get::<kilogram>()
}

fn grams(plan: &Plan, name: &str, part: LiquorPart) -> f64 {
    plan.water
        .additions
        .iter()
        .find(|a| a.name == name && a.into == part)
        .map_or(0.0, |a| a.mass.get::<gram>())
}

#[test]
fn two_wishes_are_met_by_two_salts_in_both_waters() {
    let wishes = "water\n  sulphate 70 mg/L, chloride 45 mg/L\n";
    let plan = plan(&format!("{wishes}{MASH}"), SOFT);
    // By hand: gypsum (70 - 8)/557.9 = 0.11113 g/L and calcium chloride (45 - 5)/482.3 = 0.08294 g/L.
    for (part, litres) in [(LiquorPart::Mash, mash_l(&plan)), (LiquorPart::Sparge, 3.0)] {
        for (name, dose) in [
            ("calcium sulphate dihydrate", 0.11113),
            ("calcium chloride dihydrate", 0.08294),
        ] {
            let found = grams(&plan, name, part);
            assert!(
                (found / litres - dose).abs() < 5e-5,
                "{name}: {found} g in {litres} L"
            );
        }
    }
    let reached = plan.water.reached.unwrap();
    // By hand: 10 + 0.11113 · 232.8 + 0.08294 · 272.6 = 58.48 mg/L.
    assert!((reached.calcium.grams_per_litre() - 0.05848).abs() < 2e-5);
    assert!(
        plan.changes
            .iter()
            .any(|c| matches!(&c.what, Change::WaterBrought { .. }))
    );
    assert!(
        !plan
            .outcomes
            .iter()
            .any(|o| matches!(&o.what, Outcome::IonsMissed { .. }))
    );
    let bought = plan
        .shopping
        .iter()
        .find(|p| p.name == "calcium sulphate dihydrate")
        .expect("gypsum is on the list");
    assert_eq!(bought.supply, Supply::ToBuy);
    let both = grams(&plan, &bought.name, LiquorPart::Mash)
        + grams(&plan, &bought.name, LiquorPart::Sparge);
    assert!((bought.buy_mass.unwrap().get::<gram>() - both).abs() < 1e-9);
}

#[test]
fn the_mash_ph_follows_from_malt_and_water() {
    let found = plan(MASH, SOFT);
    let (kg, l) = (malt_kg(&found), mash_l(&found));
    // By hand per litre: alkalinity 20/50.043 = 0.3997 mEq, of which 0.0501 is free acid at pH 4.3, so carbonate
    // (0.3997 - 0.0501)/(0.9354 - 0.0088) = 0.3773 mmol; down to pH 5.62 it takes 0.3773 (0.9354 - 0.1570) + 0.0024 =
    // 0.2961 mEq. Hardness sets 10/20.039/3.5 + 2/12.1525/7 = 0.1661 mEq free.
    let by_hand = 5.6 + l * (0.2961 - 0.1661) / (40.0 * kg);
    let figure = found.predicted.mash_ph.unwrap().value();
    // Four digits of 0.13 mEq in some 6 L/kg.
    assert!((figure - by_hand).abs() < 1e-4, "{figure} {by_hand}");
    let uncertainty = found.predicted.mash_ph_uncertainty.unwrap().value();
    assert!((0.1..0.11).contains(&uncertainty));
    // Carbonate water lifts it.
    let hard = plan(MASH, "  water calcium 60 mg/L, alkalinity 250 mg/L\n");
    assert!(hard.predicted.mash_ph.unwrap().value() > figure + 0.15);
    assert!(hard.assumptions.iter().any(|a| matches!(&a.what,
        Assumption::WaterReportGaps { side: Side::Target, ions, ph: Some(_) }
            if ions.contains(&Ion::Sulphate) && !ions.contains(&Ion::Calcium))));
    // Flaked spelt has no figures of its own.
    let mixed = MASH.replace(
        "100 % two-row pale malt",
        "80 % two-row pale malt\n  20 % flaked spelt",
    );
    let mixed = plan(&mixed, SOFT);
    assert!(mixed.predicted.mash_ph_uncertainty.unwrap().value() > uncertainty + 0.02);
    assert!(mixed.assumptions.iter().any(
        |a| matches!(&a.what, Assumption::MashPhFromClass { names } if names == &["flaked spelt"])
    ));
}

/// Bicarbonate takes up as much acid as the mash's pH leaves it no charge for, whatever the pH of the water.
#[test]
fn alkali_is_counted_at_the_ph_of_the_mash() {
    for water_ph in ["5.5", "7", "8"] {
        let water = SOFT.replace(
            "alkalinity 20 mg/L",
            &format!("alkalinity 0 mg/L, pH {water_ph}"),
        );
        let found = plan(&format!("{MASH}  pH 5.8\n"), &water);
        // By hand: 10/20.039/3.5 + 2/12.1525/7 = 0.1661 mEq/L set free by hardness; 40 · 0.2 mEq/kg for the malt; with pK 6.35
        // and no carbonate to begin with, 1/(1 + 10^(5.8 - 6.35)) = 0.7801 of the bicarbonate, 11.903 mEq/g, is used up.
        let wanted = (40.0 * 0.2 * malt_kg(&found) + 0.1661 * mash_l(&found)) / 0.7801 / 11.903;
        let grams = grams(&found, "sodium bicarbonate", LiquorPart::Mash);
        // Free protons of the water itself are a few thousandths of a mEq/L.
        assert!(
            (grams / wanted - 1.0).abs() < 0.01,
            "{water_ph}: {grams} {wanted}"
        );
        let reached = found.predicted.mash_ph.unwrap().value();
        assert!((reached - 5.8).abs() < 1e-6, "{reached}");
    }
}

#[test]
fn acid_brings_the_mash_to_its_ph_and_alkali_lifts_it() {
    let acid = plan(&format!("{MASH}  pH 5.35\n"), SOFT);
    assert!((acid.predicted.mash_ph.unwrap().value() - 5.35).abs() < 1e-6);
    assert!((acid.published.mash_ph.unwrap().value() - 5.35).abs() < 1e-12);
    // By hand at pH 5.35: malt 40 · 0.25 mEq/kg; per litre 0.3773 (0.9354 - 0.0909) + 0.0045 - 0.1661 = 0.1570 mEq; 88 %
    // lactic acid gives up 9.7693 · 0.9687 = 9.464 mEq/g.
    let wanted = (40.0 * 0.25 * malt_kg(&acid) + mash_l(&acid) * 0.1570) / 9.464;
    let found = grams(&acid, "lactic acid 88 %", LiquorPart::Mash);
    assert!((found / wanted - 1.0).abs() < 1e-3, "{found} {wanted}");
    let volume = acid.water.additions[0].volume.unwrap();
    assert!((volume.get::<liter>() - found / 1206.0).abs() < 1e-9);
    assert!(acid.changes.iter().any(|c| matches!(&c.what,
        Change::MashPhSet { name, .. } if name == "lactic acid 88 %")));

    let alkali = plan(&format!("{MASH}  pH 5.8\n"), SOFT);
    assert!(grams(&alkali, "sodium bicarbonate", LiquorPart::Mash) > 1.0);
    assert!((alkali.predicted.mash_ph.unwrap().value() - 5.8).abs() < 1e-6);
    // Its sodium is in the water too: 22.990/84.006 of its mass, on top of 5 mg/L.
    let soda_g_l = grams(&alkali, "sodium bicarbonate", LiquorPart::Mash) / mash_l(&alkali);
    let sodium = alkali.water.reached.unwrap().sodium.grams_per_litre();
    assert!(
        (sodium - 0.005 - soda_g_l * 22.990 / 84.006).abs() < 1e-4,
        "{sodium}"
    );

    // An acid in stock goes first; one that cannot be had is never chosen.
    let stocked = format!("{SOFT}stock\n  200 mL phosphoric acid 10 %\n");
    let other = plan(&format!("{MASH}  pH 5.35\n"), &stocked);
    assert!(grams(&other, "phosphoric acid 10 %", LiquorPart::Mash) > found);
    assert!((other.predicted.mash_ph.unwrap().value() - 5.35).abs() < 1e-6);
    // A liquid is bought by volume, and what the stock holds is taken off in either measure: 1.05 kg/L at 10 %.
    let on_the_list = |plan: &Plan| {
        let of_acid = |p: &&wortwright::scale::Purchase| p.name == "phosphoric acid 10 %";
        plan.shopping
            .iter()
            .find(of_acid)
            .expect("acid is on the list")
            .clone()
    };
    let bought = on_the_list(&other);
    assert_eq!((bought.supply, bought.needed_mass), (Supply::InStock, None));
    let measured = other.water.additions[0].volume.unwrap();
    let needed = bought.needed_volume.unwrap();
    assert!((needed.get::<liter>() / measured.get::<liter>() - 1.0).abs() < 1e-12);
    let by_mass = plan(
        &format!("{MASH}  pH 5.35\n"),
        &format!("{SOFT}stock\n  500 g phosphoric acid 10 %\n"),
    );
    assert_eq!(on_the_list(&by_mass).supply, Supply::InStock);
    let none = plan(
        &format!("{MASH}  pH 5.35\n"),
        &format!("{SOFT}stock\n  none lactic acid 88 %\n"),
    );
    assert_eq!(none.water.additions, []);
    assert!(none.predicted.mash_ph.unwrap().value() > 5.5);
}

/// In water that brings nothing a grist settles at its own pH, by hand the mean by mass and buffering. The catalogue's figures (from
/// memory of Troester 2009): two-row pale malt 5.6 and 40 mEq/(kg pH), caramel malt 25 EBC 5.35, 50 EBC 5.2, 120 EBC 4.8 and 150 EBC
/// 4.7, all 45; vienna malt 5.55 and 40; roasted barley 4.7 and 40. Unmalted grain is taken at 5.8 and 40.
#[test]
fn a_grain_without_figures_takes_those_of_the_nearest_of_its_kind() {
    let nothing = "  water calcium 0 mg/L, alkalinity 0 mg/L\n";
    for (grain, ph, buffering, by_class) in [
        ("caramel malt 150 EBC", 4.7, 45.0, false),
        ("two-row pale malt, pH 5.2", 5.2, 40.0, false),
        // Unmalted, though colour would say otherwise.
        ("flaked spelt", 5.8, 40.0, true),
        // 8 EBC among the base malts: vienna malt at 7.
        ("mild ale malt", 5.55, 40.0, true),
        // 110 EBC among the caramel malts, and a paler lot of it.
        ("caramel wheat malt", 4.8, 45.0, true),
        ("caramel wheat malt, 26 EBC", 5.35, 45.0, true),
        // No toasted malt has figures: 50 EBC among all malts.
        ("biscuit malt", 5.2, 45.0, true),
        // 700 EBC, yet not like chocolate malt: roasted grain of its class.
        ("pale roasted barley", 4.7, 40.0, true),
    ] {
        let mash = MASH.replace(
            "100 % two-row pale malt",
            &format!("60 % two-row pale malt\n  40 % {grain}"),
        );
        let found = plan(&mash, nothing);
        let by_hand = (0.6 * 40.0 * 5.6 + 0.4 * buffering * ph) / (0.6 * 40.0 + 0.4 * buffering);
        let figure = found.predicted.mash_ph.unwrap().value();
        assert!(
            (figure - by_hand).abs() < 2e-3,
            "{grain}: {figure} {by_hand}"
        );
        let said = found
            .assumptions
            .iter()
            .any(|a| matches!(&a.what, Assumption::MashPhFromClass { .. }));
        assert_eq!(said, by_class, "{grain}");
    }
    let husks = MASH
        .replace("100 %", "95 %")
        .replace("malt\n", "malt\n  5 % rice hulls\n");
    let husks = plan(&husks, nothing).predicted.mash_ph.unwrap().value();
    assert!((husks - 5.6).abs() < 2e-3, "{husks}");
}

/// A pH meter is read to 0.02: nothing is stirred in for less, on either side.
#[test]
fn a_mash_that_is_near_its_ph_is_left_alone() {
    let plain = plan(MASH, SOFT).predicted.mash_ph.unwrap().value();
    for (off, treated) in [(0.015, false), (-0.015, false), (0.05, true), (-0.05, true)] {
        let wish = plan(&format!("{MASH}  pH {:.4}\n", plain + off), SOFT);
        assert_eq!(!wish.water.additions.is_empty(), treated, "{off}");
        let reached = wish.predicted.mash_ph.unwrap().value();
        let wanted = if treated { plain + off } else { plain };
        assert!((reached - wanted).abs() < 2e-3, "{reached} {wanted}");
    }
}

#[test]
fn without_a_water_report_nothing_is_made_up() {
    let wishes = "water\n  sulphate 70 mg/L\n";
    let plan = plan(&format!("{wishes}{MASH}  pH 5.35\n"), "");
    assert_eq!(plan.predicted.mash_ph, None);
    assert_eq!(plan.water.additions, []);
    assert!(plan.assumptions.iter().any(|told| told.what
        == Assumption::MashPhNotPredicted {
            side: Side::Target,
            because: NoMashPh::NoWaterReport,
        }));
}

#[test]
fn what_salts_cannot_do_is_an_outcome() {
    let wishes = "water\n  calcium 40 mg/L, alkalinity 20 mg/L\n";
    let found = plan(
        &format!("{wishes}{MASH}"),
        "  water calcium 120 mg/L, alkalinity 260 mg/L\n",
    );
    let missed = found.outcomes.iter().find_map(|o| match &o.what {
        Outcome::IonsMissed { missed } => Some(missed),
        _ => None,
    });
    let ions: Vec<_> = missed.unwrap().iter().map(|m| m.ion).collect();
    assert_eq!(ions, [Ion::Calcium, Ion::Alkalinity]);
    assert!(found.water.additions.is_empty());
}
