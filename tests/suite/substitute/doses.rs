//! How much of a substitute goes in: acid by the pH of where it goes, a spice by its own usual dose, a hop by its oil, and the sheet
//! has what the list has.

use super::kitchen::Kitchen;
use wortwright::catalogue::Allergen;
use wortwright::quantity::{in_kilograms, in_litres};
use wortwright::scale::Plan;
use wortwright::substitute::{Candidates, Part, Practice, Proposal, Proposals, SubstituteOptions};
use wortwright_tests::fixtures::{changed, fixture};

const MALT: &str = "  100 % pale ale malt\n";
const YEAST: &str = "  pitch irish ale yeast at 19 C\n";

fn kitchen(changes: &[(&str, &str)]) -> Kitchen {
    Kitchen::read(&changed(&fixture("substitute/all_malt"), changes))
}

fn found(changes: &[(&str, &str)], missing: &str) -> Proposals {
    let options = SubstituteOptions::default().with_limit(10);
    kitchen(changes).propose(&[missing], &options).remove(0)
}

fn proposed(changes: &[(&str, &str)], missing: &str) -> Vec<Proposal> {
    found(changes, missing).proposals
}

fn part<'a>(proposals: &'a [Proposal], name: &str) -> Option<&'a Part> {
    let mut parts = proposals.iter().flat_map(|proposal| &proposal.parts);
    parts.find(|part| part.name == name)
}

fn names(proposals: &[Proposal]) -> Vec<&str> {
    let leaders = proposals.iter().filter_map(Proposal::leader);
    leaders.collect()
}

/// By hand, with the constants of a handbook: lactic acid pK 3.86, 90.08 g/mol; phosphoric 2.15, 7.20 and 12.35, 97.99 g/mol. A beer of
/// pH 4.3 that takes 15 mEq/L for each unit.
#[test]
fn an_acid_of_the_beer_goes_in_by_the_ph_of_the_beer() {
    let sour = format!("{YEAST}  add 5 mL/L lactic acid 88 %\n");
    let found = found(&[(YEAST, &sour)], "lactic acid 88 %");
    let lactic_l = in_litres(found.volume.unwrap());
    let beer_l = lactic_l / 0.005;
    let lactic_mmol_l = 5.0 * 1.206 * 0.88 / 90.08 * 1000.0;
    let given = |ph: f64| lactic_mmol_l / (1.0 + 10.0_f64.powf(3.86 - ph));
    let (mut low, mut high) = (2.0, 4.3);
    for _ in 0..60 {
        let ph = f64::midpoint(low, high);
        if given(ph) > 15.0 * (4.3 - ph) {
            high = ph;
        } else {
            low = ph;
        }
    }
    let [first, second, third] = [2.15, 7.20, 12.35].map(|pk| 10.0_f64.powf(low - pk));
    let (one, two, three) = (first, first * second, first * second * third);
    let protons = (one + 2.0 * two + 3.0 * three) / (1.0 + one + two + three);
    let phosphoric_mmol_l = given(low) / protons;
    let by_hand_ml_l = phosphoric_mmol_l * 97.99 / 1000.0 / 0.85 / 1.6845;
    let phosphoric = part(&found.proposals, "phosphoric acid 85 %").unwrap();
    let ml_l = 1000.0 * in_litres(phosphoric.volume.unwrap()) / beer_l;
    assert!(
        (ml_l / by_hand_ml_l - 1.0).abs() < 0.01,
        "{ml_l}, {by_hand_ml_l}"
    );
    // The same acid goes first, another one is tasted, and a weak one would dilute the beer.
    assert_eq!(names(&found.proposals)[0], "lactic acid 80 %");
    assert!(found.proposals[0].summary.starts_with("the same beer"));
    let of_phosphoric = found
        .proposals
        .iter()
        .find(|p| p.leader() == Some("phosphoric acid 85 %"));
    assert!(!of_phosphoric.unwrap().summary.starts_with("the same beer"));
    assert!(
        !names(&found.proposals)
            .iter()
            .any(|name| name.ends_with(" 10 %"))
    );
}

#[test]
fn of_an_acid_for_the_mash_the_strongest_goes_first() {
    let mash = format!("{MALT}  4 mL lactic acid 80 %\n");
    let proposals = proposed(&[(MALT, &mash)], "lactic acid 80 %");
    assert_eq!(
        names(&proposals)[..2],
        ["lactic acid 88 %", "lactic acid 10 %"]
    );
}

/// By hand: 0.2 g/L of 0.05 to 0.4 stands two thirds up the range; of another plant a third up, 0.1 × 15^(1/3) = 0.247 g/L of pepper.
#[test]
fn a_spice_goes_in_by_its_own_usual_dose() {
    let boil = "boil 60 min\n  0.2 g/L grains of paradise at 5 min\n";
    let found = found(&[("boil 60 min\n", boil)], "grains of paradise");
    let wanted_g = 1000.0 * in_kilograms(found.mass.unwrap());
    let pepper = part(&found.proposals, "black pepper").unwrap();
    let ratio = 1000.0 * in_kilograms(pepper.mass.unwrap()) / wanted_g;
    let beer_l = 20.0;
    let up = 0.5 * (wanted_g / beer_l / 0.05).ln() / 8.0_f64.ln();
    let by_hand = 0.1 * 15.0_f64.powf(up) * beer_l / wanted_g;
    assert!((ratio / by_hand - 1.0).abs() < 0.01, "{ratio}, {by_hand}");
    assert_eq!(part(&found.proposals, "chilli"), None);
}

#[test]
fn what_the_recipe_has_of_a_spice_is_counted() {
    let boil = |peel: &str| {
        format!(
            "boil 60 min\n  15 g coriander seed at 5 min\n  {peel} bitter orange peel at 5 min\n"
        )
    };
    let of = |peel| proposed(&[("boil 60 min\n", &boil(peel))], "coriander seed");
    // A usual dose is 1.5 g/L at most: 30 g in 20 L.
    assert_eq!(part(&of("31 g"), "bitter orange peel"), None);
    let proposals = of("20 g");
    let more = proposals
        .iter()
        .find(|p| p.leader() == Some("bitter orange peel"))
        .unwrap();
    let tells = |what: &Practice| matches!(what, Practice::OnTopOf { .. });
    assert!(more.practice.iter().any(|told| tells(&told.what)));
}

#[test]
fn a_caution_stands_where_one_chooses() {
    let boil = "boil 60 min\n  15 g bitter orange peel at 5 min\n";
    let proposals = proposed(&[("boil 60 min\n", boil)], "bitter orange peel");
    assert_eq!(names(&proposals)[0], "sweet orange peel");
    let peel = proposals
        .iter()
        .find(|p| p.leader() == Some("grapefruit peel"))
        .unwrap();
    let heeds = |what: &Practice| matches!(what, Practice::Heed { caution, .. } if caution.contains("medicines"));
    assert!(peel.practice.iter().any(|told| heeds(&told.what)));
}

/// Of sulphate 557.9 mg/g are in gypsum and 389.7 in Epsom salt, of calcium 232.8 and 272.6 in the chloride.
#[test]
fn gypsum_goes_by_the_ion_that_another_salt_shares() {
    let mash = format!("{MALT}  10 g gypsum\n");
    let found = found(&[(MALT, &mash)], "gypsum");
    let kg = in_kilograms(found.mass.unwrap());
    for (name, ratio) in [
        ("magnesium sulphate heptahydrate", 557.9 / 389.7),
        ("calcium chloride dihydrate", 232.8 / 272.6),
    ] {
        let salt = part(&found.proposals, name).unwrap();
        let told = in_kilograms(salt.mass.unwrap()) / kg;
        assert!((told / ratio - 1.0).abs() < 1e-9, "{name}: {told}");
    }
    assert_eq!(part(&found.proposals, "calcium sulphate hemihydrate"), None);
    let same = |proposal: &Proposal| proposal.summary.starts_with("the same beer");
    assert!(!found.proposals.iter().any(same));
}

fn bought<'a>(plan: &'a Plan, name: &str) -> &'a wortwright::scale::Purchase {
    let mut shopping = plan.shopping.iter();
    shopping.find(|purchase| purchase.name == name).unwrap()
}

#[test]
fn the_acid_of_an_acid_malt_is_bought_and_in_the_mash() {
    let mash = "  97 % pale ale malt\n  3 % acidulated malt\n";
    let kitchen = kitchen(&[(MALT, mash)]);
    let found = kitchen.propose(&["acidulated malt"], &SubstituteOptions::default());
    let first = &found[0].proposals[0];
    let acid = first.parts.last().unwrap();
    assert_eq!(acid.name, "lactic acid 88 %");
    let swapped = kitchen
        .recipe
        .with_swaps(std::slice::from_ref(&first.swap))
        .unwrap();
    let plan = kitchen.brew_of(&swapped).plan().unwrap();
    let bought_l = in_litres(bought(&plan, "lactic acid 88 %").needed_volume.unwrap());
    let told_l = in_litres(acid.volume.unwrap());
    assert!(
        (bought_l / told_l - 1.0).abs() < 0.01,
        "{bought_l}, {told_l}"
    );
}

#[test]
fn dried_fruit_weighs_what_the_sheet_weighs() {
    let juice = format!("{YEAST}  add 1.5 kg plum juice\n");
    let kitchen = kitchen(&[(YEAST, &juice)]);
    let options = SubstituteOptions::default().with_limit(50);
    let found = kitchen.propose(&["plum juice"], &options).remove(0);
    let dried = found
        .proposals
        .iter()
        .find(|proposal| proposal.leader() == Some("prune"));
    let dried = dried.expect("prunes for plum juice");
    let swapped = kitchen
        .recipe
        .with_swaps(std::slice::from_ref(&dried.swap))
        .unwrap();
    let plan = kitchen.brew_of(&swapped).plan().unwrap();
    let bought = bought(&plan, "prune");
    let told_kg = in_kilograms(dried.parts[0].mass.unwrap());
    let needed_kg = in_kilograms(bought.needed_mass.expect("fruit by its mass"));
    assert!(
        (told_kg / needed_kg - 1.0).abs() < 0.01,
        "{told_kg}, {needed_kg}"
    );
}

#[test]
fn a_yeast_is_held_where_it_ferments() {
    let lager = "  pitch german lager yeast at 10 C\n";
    let text = changed(&fixture("substitute/all_malt"), &[(YEAST, lager)]);
    let kitchen = Kitchen::read(&format!("{text}\nstock\n  any kolsch yeast\n"));
    let options = SubstituteOptions::default().with_candidates(Candidates::Stock);
    let found = kitchen.propose(&["german lager yeast"], &options).remove(0);
    let warm = found
        .proposals
        .iter()
        .find(|p| p.leader() == Some("kolsch yeast"))
        .unwrap();
    assert!((warm.swap.ferments_at.unwrap().celsius() - 13.0).abs() < 1e-9);
    let swapped = kitchen
        .recipe
        .with_swaps(std::slice::from_ref(&warm.swap))
        .unwrap();
    let pitch = swapped.fermentation.pitch.unwrap();
    let Some(wortwright::recipe::At::Temperature(at)) = pitch.timing.at else {
        panic!("a temperature")
    };
    assert!((at.value().celsius() - 13.0).abs() < 1e-9);
}

#[test]
fn a_hop_of_the_recipe_has_the_alpha_of_its_line() {
    let bitter = "  25 IBU Hallertauer Magnum, 14 % alpha at 60 min\n";
    let boil = format!("{bitter}  20 g Nugget, 10 % alpha at 0 min\n");
    let proposals = proposed(&[(bitter, &boil)], "Hallertauer Magnum");
    let nugget = part(&proposals, "Nugget").unwrap();
    assert!((nugget.alpha.unwrap().fraction() - 0.10).abs() < 1e-9);
}

#[test]
fn an_aroma_hop_keeps_near_its_weight() {
    let late = "boil 60 min\n  50 g Nelson Sauvin at 0 min\n";
    let found = found(&[("boil 60 min\n", late)], "Nelson Sauvin");
    let kg = in_kilograms(found.mass.unwrap());
    for proposal in found
        .proposals
        .iter()
        .filter(|proposal| proposal.parts.len() == 1)
    {
        let ratio = in_kilograms(proposal.parts[0].mass.unwrap()) / kg;
        assert!((0.799..=1.301).contains(&ratio), "{ratio}");
    }
    // Growers name these two together.
    assert_eq!(names(&found.proposals)[0], "Hallertau Blanc");
}

#[test]
fn a_usual_share_is_no_wall_where_the_recipe_has_more() {
    // Black barley is usually 6 % at most.
    let stout = "  90 % pale ale malt\n  10 % roasted barley\n";
    let proposals = proposed(&[(MALT, stout)], "roasted barley");
    let alone: Vec<_> = proposals
        .iter()
        .filter(|proposal| proposal.parts.len() == 1)
        .collect();
    assert_eq!(alone[0].leader(), Some("black barley"));
    // Within its own share it is not used for more of another job.
    let light = "  90 % pale ale malt\n  10 % munich malt\n";
    let proposals = proposed(&[(MALT, light)], "munich malt");
    assert!(!names(&proposals).contains(&"black barley"));
}

#[test]
fn a_beer_of_rye_stays_one_of_rye() {
    let rye = "  80 % pale ale malt\n  20 % rye malt\n";
    let proposals = proposed(&[(MALT, rye)], "rye malt");
    assert_eq!(names(&proposals)[0], "flaked rye");
    // Maize has no taste to be named for.
    let cream = "  80 % pale ale malt\n  20 % flaked maize\n";
    let proposals = proposed(&[(MALT, cream)], "flaked maize");
    assert_eq!(names(&proposals)[0], "flaked rice");
}

#[test]
fn a_new_allergen_goes_behind() {
    let dark = "  94 % pale ale malt\n  6 % chocolate malt\n";
    let proposals = proposed(&[(MALT, dark)], "chocolate malt");
    assert!(proposals[0].allergens_gained.is_empty());
    let wheat = proposals
        .iter()
        .find(|p| p.leader() == Some("chocolate wheat malt"))
        .unwrap();
    assert_eq!(wheat.allergens_gained, [Allergen::Wheat]);
}

/// A sugar ferments with its sweetness.
#[test]
fn no_sugar_that_ferments_makes_the_beer_sweeter() {
    let boil = "boil 60 min\n  10 % invert sugar syrup at 10 min\n";
    let malt = "  90 % pale ale malt\n";
    let proposals = proposed(
        &[("boil 60 min\n", boil), (MALT, malt)],
        "invert sugar syrup",
    );
    let sucrose = proposals
        .iter()
        .find(|p| p.leader() == Some("sucrose"))
        .unwrap();
    assert!(
        sucrose.summary.starts_with("the same beer"),
        "{}",
        sucrose.summary
    );
}

#[test]
fn of_those_that_do_the_job_the_less_noticed_goes_first() {
    for (malt, missing) in [
        (
            "  90 % pale ale malt\n  10 % roasted barley\n",
            "roasted barley",
        ),
        ("  80 % pale ale malt\n  20 % flaked oats\n", "flaked oats"),
        (
            "  92 % pale ale malt\n  8 % caramel malt 150 EBC\n",
            "caramel malt 150 EBC",
        ),
    ] {
        let proposals = proposed(&[(MALT, malt)], missing);
        let worst = |proposal: &Proposal| proposal.noticed.iter().map(|told| told.verdict).max();
        let does_another = |proposal: &Proposal| {
            let mut parts = proposal.distance_parts.iter();
            parts.any(|part| part.what == wortwright::substitute::Aspect::ChangeOfFunction)
        };
        let single = |p: &&Proposal| p.parts.len() == 1 && p.slack.is_none() && !does_another(p);
        let verdicts: Vec<_> = proposals.iter().filter(single).map(worst).collect();
        assert!(verdicts.is_sorted(), "{missing}: {verdicts:?}");
    }
}

#[test]
fn colour_of_roast_malt_tells_of_roast() {
    let dark = "  92 % pale ale malt\n  8 % caramel malt 300 EBC\n";
    let text = changed(&fixture("substitute/all_malt"), &[(MALT, dark)]);
    let kitchen = Kitchen::read(&format!("{text}\nstock\n  1 kg chocolate malt\n"));
    let options = SubstituteOptions::default().with_candidates(Candidates::Stock);
    let found = kitchen
        .propose(&["caramel malt 300 EBC"], &options)
        .remove(0);
    let first = &found.proposals[0];
    let tells = |what: &Practice| matches!(what, Practice::TastesOfRoast { .. });
    assert!(first.practice.iter().any(|told| tells(&told.what)));
}
