//! Small grists, by hand: all grain has 80 % extract as is, so that amounts follow from colour and enzymes alone.

use super::kitchen::{Kitchen, exactly_in_stock, mass_kg, pot};
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::quantity::uom::si::volume::liter;
use wortwright::substitute::{JuiceMatch, NoSubstitute, Proposals};
use wortwright_tests::fixtures::changed;

/// A line's grain: its share, name, and what the text says of it beside the extract.
fn grain(share: u32, name: &str, colour_ebc: f64, rest: &str) -> String {
    format!("  {share} % {name}, 80 % extract as is, {colour_ebc} EBC{rest}\n")
}

/// A lot that never ends.
fn lot(name: &str, colour_ebc: f64, rest: &str) -> String {
    format!("  any {name}, 80 % extract as is, {colour_ebc} EBC{rest}\n")
}

/// 20 L of 12 °P from this grist, on a plant with this line, with this stock.
fn kitchen(grist: &str, plant: &str, stock: &str) -> Kitchen {
    let text = pot(grist, "boil 60 min\n  20 IBU Perle at 60 min\n", stock);
    Kitchen::read(&changed(&text, &[("  # more of the plant\n", plant)]))
}

/// What may stand for a line, each alone.
fn singles(kitchen: &Kitchen, missing: &str) -> Proposals {
    let options = exactly_in_stock().with_most_parts(1);
    kitchen.propose(&[missing], &options).remove(0)
}

#[test]
fn base_malt_of_less_than_two_weighing_steps_is_not_told() {
    // For a kilogram of 12 EBC: a kg of 12.5 EBC and s kg of base malt of 4 EBC, with a + s = 1 and 12.5 a + 4 s = 12.
    // Hence 8.5 a = 8, and s = 1/17.
    let grist = grain(90, "pilsner malt", 4.0, "") + &grain(10, "vienna malt", 12.0, "");
    let stock = lot("light munich malt", 12.5, "") + "  any Cascade\n";
    let on = |plant: &str| kitchen(&grist, plant, &stock);
    let told_kg = |plant: &str| {
        let answer = singles(&on(plant), "vienna malt");
        assert!(answer.proposals[0].feasible);
        assert!(answer.proposals[0].swap.base_malt.is_some());
        answer.proposals[0].slack.map(|mass| mass.get::<kilogram>())
    };
    let by_hand_kg = mass_kg(&on("").printed(), "vienna malt") / 17.0;
    let scale = |steps: f64| format!("  weigh malt {} g\n", 1000.0 * by_hand_kg / steps);
    for plant in [String::new(), scale(2.01)] {
        let told_kg = told_kg(&plant).unwrap();
        assert!((told_kg / by_hand_kg - 1.0).abs() < 1e-9, "{told_kg}");
    }
    assert_eq!(told_kg(&scale(1.99)), None);
    // No base malt gives way for a hop, however finely it could be weighed.
    let hops = singles(&on(""), "Perle");
    assert!(hops.proposals[0].feasible);
    assert_eq!(hops.proposals[0].slack, None);
}

/// From malt of 12.5 EBC the line takes 1/17 of base malt for each kilogram, see above. From malt of 11.5 EBC it is a + s = 1 and
/// 11.5 a + 4 s = 12, so that a = 16/15 and s = -1/15: base malt gives way.
#[test]
fn base_malt_that_is_not_available_takes_no_more() {
    let grist = grain(90, "pilsner malt", 4.0, "") + &grain(10, "vienna malt", 12.0, "");
    let best = |munich_ebc: f64, base: &str| {
        let stock = lot("light munich malt", munich_ebc, "") + base;
        let kitchen = kitchen(&grist, "", &stock);
        let replaced_kg = mass_kg(&kitchen.printed(), "vienna malt");
        let found = singles(&kitchen, "vienna malt").proposals.remove(0);
        let slack = found.slack.map_or(0.0, |mass| mass.get::<kilogram>());
        (found.feasible, slack / replaced_kg)
    };
    for (munich_ebc, by_hand) in [(12.5, 1.0 / 17.0), (11.5, -1.0 / 15.0)] {
        for base in ["", "  any pilsner malt\n", "  none pilsner malt\n"] {
            let (feasible, slack) = best(munich_ebc, base);
            if by_hand > 0.0 && base.contains("none") {
                assert!(!feasible && slack <= 0.0, "{base}: {slack}");
            } else {
                assert!(feasible, "{munich_ebc} {base}");
                assert!((slack / by_hand - 1.0).abs() < 1e-9, "{base}: {slack}");
            }
        }
    }
}

#[test]
fn what_brings_too_much_however_little_is_weighed_is_not_offered() {
    // For a kilogram of 6.4 EBC: a kg of 6 EBC and s kg of base malt of 4 EBC, with a + s = 1 and 6 a + 4 s = 6.4, so
    // that a = 1.2 and s = -0.2. There are 9 kg of base malt, of which 3 % may give way: a is at most 1.27. A part is two
    // weighing steps at least.
    let grist = grain(90, "pilsner malt", 4.0, "") + &grain(10, "vienna malt", 6.4, "");
    let stock = lot("pale ale malt", 6.0, "");
    let replaced_kg = mass_kg(&kitchen(&grist, "", &stock).printed(), "vienna malt");
    let with_step = |step: f64| {
        let plant = format!("  weigh malt {} g\n", 1000.0 * replaced_kg * step / 2.0);
        singles(&kitchen(&grist, &plant, &stock), "vienna malt").proposals
    };
    let exact = &with_step(1.19)[0];
    let kg = exact.parts[0].mass.unwrap().get::<kilogram>();
    assert!(exact.feasible && (kg / (1.2 * replaced_kg) - 1.0).abs() < 1e-9);
    let miss = &with_step(1.25)[0];
    let kg = miss.parts[0].mass.unwrap().get::<kilogram>();
    assert!(!miss.feasible && (kg / (1.25 * replaced_kg) - 1.0).abs() < 1e-9);
    assert!(with_step(1.28).is_empty());
}

/// The grist less its last 40 %, which is to be missing: pilsner malt of this power.
fn base(wk: u32) -> String {
    grain(60, "pilsner malt", 4.0, &format!(", {wk} WK"))
}

#[test]
fn a_grist_stays_at_75_wk_or_where_it_was_below() {
    // The candidate has the extract and colour of what it stands for, and takes its place kilogram for kilogram.
    let answer = |base_wk: u32, missing_wk: u32, candidate_wk: f64| {
        let missing = format!(", {missing_wk} WK");
        let grist = base(base_wk) + &grain(40, "vienna malt", 12.0, &missing);
        let stock = lot("light munich malt", 12.0, &format!(", {candidate_wk} WK"));
        singles(&kitchen(&grist, "", &stock), "vienna malt")
    };
    // 0.6 of 100 and 0.4 of 90 are 96 WK; with 0.4 of 37.5 they are 75.
    // 0.6 of 60 and 0.4 of 30 are 48 WK, too few to begin with: no fewer than those.
    for (base_wk, missing_wk, least_wk) in [(100, 90, 37.5), (60, 30, 30.0)] {
        let enough = answer(base_wk, missing_wk, least_wk + 0.1);
        assert!(enough.proposals[0].feasible);
        assert_eq!(enough.no_substitute, None);
        let too_little = answer(base_wk, missing_wk, least_wk - 0.1);
        assert_eq!(
            too_little.no_substitute,
            Some(NoSubstitute::NothingConverts)
        );
        assert!(too_little.proposals.is_empty());
    }
}

#[test]
fn lines_together_leave_75_wk() {
    // 0.6 of 100 WK are 60; with 0.2 of 90 for either line there are 21 WK to spare. A candidate for both brings the grist
    // to 75 when it has 37.5 WK. For one line alone it may have none: 60 and 0.2 of 90 are 78.
    let found = |wk: f64| {
        let grist = base(100)
            + &grain(20, "vienna malt", 12.0, ", 90 WK")
            + &grain(20, "dark munich malt", 12.0, ", 90 WK");
        let stock = lot("light munich malt", 12.0, &format!(", {wk} WK"));
        let kitchen = kitchen(&grist, "", &stock);
        let missing = ["vienna malt", "dark munich malt"];
        kitchen.sets(&missing, &exactly_in_stock())
    };
    let enough = found(37.6);
    assert_eq!((enough.combinations.len(), enough.impossible), (1, 0));
    let too_little = found(37.4);
    assert_eq!(
        (too_little.combinations.len(), too_little.impossible),
        (0, 1)
    );
}

#[test]
fn a_miss_is_shown_where_nothing_fits() {
    // 12 EBC from 12.5 EBC and base malt of 4 EBC; none from two malts of 4 EBC, which miss 8 EBC of each kilogram.
    let grist = grain(90, "pilsner malt", 4.0, "") + &grain(10, "vienna malt", 12.0, "");
    let pale = lot("pale ale malt", 4.0, "");
    let both = kitchen(&grist, "", &(lot("light munich malt", 12.5, "") + &pale));
    let shown = singles(&both, "vienna malt").proposals;
    let [fits] = &shown[..] else {
        panic!("{shown:?}")
    };
    assert!(fits.feasible && fits.leader() == Some("light munich malt"));
    let kitchen = kitchen(&grist, "", &pale);
    let shown = singles(&kitchen, "vienna malt").proposals;
    let [misses] = &shown[..] else {
        panic!("{shown:?}")
    };
    assert!(!misses.feasible && misses.leader() == Some("pale ale malt"));
    assert!(misses.gravity_residual_pct.abs() < 1e-9);
    let plan = kitchen.printed();
    // By Morey's relation of the units that run off: 25/12.7 EBC for one SRM, °L = (EBC + 1.2)/2.65, 8.3454 kg/L to a pound
    // per US gallon. The lot has the extract of what it replaces, so that nothing else moves.
    let reached = plan.predicted.extract_yield.unwrap().fraction() / 0.75;
    let wort_l = plan.volumes.post_boil.get::<liter>();
    let ebc = |vienna: f64| {
        let lovibond = |name, ebc: f64| mass_kg(&plan, name) * (ebc + 1.2) / 2.65;
        let units = lovibond("pilsner malt", 4.0) + lovibond("vienna malt", vienna);
        25.0 / 12.7 * 1.4922 * (8.345_404 * units * reached / wort_l).powf(0.6859)
    };
    let by_hand = ebc(4.0) - ebc(12.0);
    assert!((misses.colour_residual_ebc / by_hand - 1.0).abs() < 1e-4);
}

#[test]
fn a_juice_that_fits_in_one_way_is_no_miss_in_another() {
    // 2 L or so of 12 °Bx. Of 24 °Bx about half has the sugar, and 1.2 L are no 2 L. What does not ferment comes
    // short in either way.
    let kitchen = Kitchen::read(&pot(
        "  100 % pilsner malt\n",
        "ferment\n  pitch american ale yeast at 20 C\n  \
         add 10 % by volume plum juice, 12 Bx, 90 % fermentable when 5 P\n",
        "  1.2 L apple juice, 12 Bx, 0 % fermentable\n  1.2 L sour cherry juice, 24 Bx, 90 % fermentable\n",
    ));
    let shown = singles(&kitchen, "plum juice").proposals;
    let told: Vec<_> = shown
        .iter()
        .map(|p| (p.leader().unwrap(), p.way.unwrap(), p.feasible))
        .collect();
    assert_eq!(told, [("sour cherry juice", JuiceMatch::SameSugar, true)]);
}
