//! The mash of a plan from rest to rest, by hand: heat, infusions, decoction, and what a plant cannot do.

use super::liquor::{malt_kg, mash_l, plan};
use crate::brewing::weighed;
use wortwright::process::Assumption;
use wortwright::quantity::uom::si::{energy::kilojoule, mass::kilogram, volume::liter};
use wortwright::quantity::{LiquorRatio, Mass, Temperature, Volume};
use wortwright::scale::{Outcome, Plan};
use wortwright::science::heat::{MashStep, MashStop, StepWork};
use wortwright::speech::{Speaks, Style};
use wortwright_tests::fixtures::{changed, fixture};

/// Two-row pale malt of the catalogue, 4.3 % moisture: 0.38 · 0.957 + 0.043 of water's heat (fit to a trade book, 1984/85).
const RELATIVE_HEAT: f64 = 0.38 * 0.957 + 0.043;
/// Cold water, kg/L (Kell 1975).
const COLD: f64 = 0.9982;

/// Rests, each with what raises the mash to it.
fn mash(rests: &[(u32, &str)]) -> String {
    let lines: String = rests
        .iter()
        .map(|(c, by)| format!("  rest {c} C for 20 min{by}\n"))
        .collect();
    format!("mash\n  100 % two-row pale malt\n{lines}")
}

fn steps(plan: &Plan) -> &[MashStep] {
    &plan.water.mash.as_ref().unwrap().steps
}

fn stops(plan: &Plan) -> Vec<MashStop> {
    plan.outcomes
        .iter()
        .filter_map(|outcome| match &outcome.what {
            Outcome::MashStops { stopped } => Some(*stopped),
            _ => None,
        })
        .collect()
}

#[test]
fn rests_are_reached_as_the_plant_can() {
    let two = "mash\n  100 % two-row pale malt\n  rest 64 C for 40 min\n  rest 72 C for 20 min\n";
    let direct = plan(two, "");
    let steps = &direct.water.mash.as_ref().unwrap().steps;
    assert!(matches!(steps[1].work, StepWork::Heat { .. }));
    assert!(
        direct
            .assumptions
            .iter()
            .any(|a| matches!(&a.what, Assumption::MashHeating { .. }))
    );

    let infused = plan(two, "  heat infusion\n");
    let steps = &infused.water.mash.as_ref().unwrap().steps;
    let (StepWork::MashIn { water: first, at }, StepWork::Infuse { water: second, .. }) =
        (steps[0].work, steps[1].work)
    else {
        panic!("{steps:?}");
    };
    assert_eq!(infused.water.strike, Some(at));
    // All of the mash water is used, 0.9982 kg a litre cold.
    let all = first.get::<kilogram>() + second.get::<kilogram>();
    assert!((all / mash_l(&infused) - 0.9982).abs() < 1e-4);

    let cold = plan(two, "  heat none\n");
    assert!(cold.outcomes.iter().any(|told| told.what
        == Outcome::MashStops {
            stopped: MashStop::NoHeating { rest: 2 }
        }));
    assert!(cold.water.strike.is_some());
}

#[test]
fn three_infusions_follow_the_heat_balance_and_use_up_the_water() {
    let rests = [
        (52, ""),
        (63, " by infusion"),
        (70, " by infusion"),
        (76, " by infusion"),
    ];
    let plan = plan(&mash(&rests), "  mash tun 60 L\n");
    assert_eq!(stops(&plan), []);
    let grain = RELATIVE_HEAT * malt_kg(&plan);
    let StepWork::MashIn { water, at } = steps(&plan)[0].work else {
        panic!("{:?}", steps(&plan));
    };
    let mut there = water.get::<kilogram>();
    // Strike, by hand: 52 + S G (52 - 20)/W.
    let strike = 52.0 + grain * 32.0 / there;
    assert!(
        (at.celsius() - strike).abs() < 1e-6,
        "{} {strike}",
        at.celsius()
    );
    for (step, pair) in steps(&plan)[1..].iter().zip(rests.windows(2)) {
        let StepWork::Infuse { water, at } = step.work else {
            panic!("{step:?}");
        };
        let (from, to) = (f64::from(pair[0].0), f64::from(pair[1].0));
        // University formula sheet: (T2 - T1)(S G + W)/(Th - T2).
        let by_hand = (to - from) * (grain + there) / (at.celsius() - to);
        let water = water.get::<kilogram>();
        assert!((water - by_hand).abs() < 1e-6, "{water} {by_hand}");
        there += water;
        assert!((step.water.get::<kilogram>() - there).abs() < 1e-9);
    }
    // Cold water is 0.9982 kg/L in four figures.
    assert!((there / mash_l(&plan) - COLD).abs() < 1e-4);
    let sheet = plan.sheet(&wortwright::sheet::SheetOptions::default());
    assert_eq!(sheet.matches(", infuse ").count(), 3, "{sheet}");
    assert!(
        sheet.contains("reserved for later infusions, boiling"),
        "{sheet}"
    );
}

#[test]
fn a_decoction_takes_its_share_of_the_mash() {
    let plan = plan(
        &mash(&[(52, ""), (64, " by decoction"), (72, " by decoction")]),
        "",
    );
    assert_eq!(stops(&plan), []);
    // University formula sheet: (T2 - T1)/(Td - T1), the mash boiling at 100 °C: 12/48 and 8/36.
    for (step, by_hand) in steps(&plan)[1..].iter().zip([0.25, 8.0 / 36.0]) {
        let StepWork::Decoct { share } = step.work else {
            panic!("{step:?}");
        };
        // At sea level water boils at 99.97 °C.
        assert!(
            (share.fraction() - by_hand).abs() < 5e-4,
            "{share:?} {by_hand}"
        );
    }
    let sheet = plan.sheet(&wortwright::sheet::SheetOptions::default());
    assert!(
        sheet.contains("decoction: boil 25 % of the mash"),
        "{sheet}"
    );
}

#[test]
fn direct_heat_is_what_grain_and_water_take_up() {
    let plan = plan(&mash(&[(52, ""), (64, " by heat"), (78, " by heat")]), "");
    let mass = RELATIVE_HEAT * malt_kg(&plan) + mash_l(&plan) * COLD;
    for (step, rise) in steps(&plan)[1..].iter().zip([12.0, 14.0]) {
        let StepWork::Heat { energy } = step.work else {
            panic!("{step:?}");
        };
        let by_hand = 4.186 * mass * rise;
        // The density of cold water to four figures.
        assert!((energy.get::<kilojoule>() / by_hand - 1.0).abs() < 1e-4);
    }
}

#[test]
fn a_plant_that_cannot_raise_the_mash_gets_no_figure_for_it() {
    let plan = plan(&mash(&[(63, ""), (72, "")]), "  heat none\n");
    assert_eq!(stops(&plan), [MashStop::NoHeating { rest: 2 }]);
    assert_eq!(steps(&plan).len(), 1);
    let sheet = plan.sheet(&wortwright::sheet::SheetOptions::default());
    let (before, after) = sheet.split_once("SHOPPING").unwrap();
    assert!(before.contains("No way given to heat to rest 2"), "{sheet}");
    assert!(!after.contains("infuse"), "{sheet}");
}

#[test]
fn infusions_that_leave_too_thick_a_mash_are_an_outcome() {
    let rests = [(45, ""), (66, " by infusion"), (78, " by infusion")];
    let tun = |liquor: &str| {
        let lauter = format!("lauter batch, sparges 2\n  mash in {liquor} L/kg");
        let text = changed(
            &fixture("scale/one_malt"),
            &[
                ("# water and mash\n", &mash(&rests)),
                ("lauter bag, sparge 3 L", &lauter),
            ],
        );
        weighed(&text, "Small")
    };
    let thick = tun("3");
    let [MashStop::TooThick { left, enough }] = stops(&thick)[..] else {
        panic!("{:?}", stops(&thick));
    };
    // By hand, boiling water of 99.97 °C, per kilogram of grain of S = 0.40666: before each infusion of (S + W) there was
    // (S + W)(Th - T2)/(Th - T1): (0.40666 + 2.9946) · 21.97/33.97 · 33.97/54.97 - 0.40666 = 0.9527 L/kg.
    let by_hand = (RELATIVE_HEAT + 3.0 * COLD) * 21.97 / 54.97 - RELATIVE_HEAT;
    assert!(
        (left.litres_per_kilogram() - by_hand).abs() < 2e-3,
        "{left:?} {by_hand}"
    );
    // Enough for 2 L/kg, the thickest that can be stirred (common practice, no source).
    let wanted = (RELATIVE_HEAT + 2.0) * 54.97 / 21.97 - RELATIVE_HEAT;
    let per_kg = enough.get::<kilogram>() / malt_kg(&thick);
    assert!((per_kg / wanted - 1.0).abs() < 2e-3, "{per_kg} {wanted}");
    // With so much water it goes.
    let thin = tun("5.7");
    assert_eq!(stops(&thin), []);
}

/// Where no line says how thick it is, a mash that boiling water raises gets what its infusions want. By hand for 2.5 L/kg to mash in with:
/// (0.41 + 2.5) · 44.97/21.97 - 0.41 = 5.55 L/kg for 55, 66 and 78 °C, 5.6 in tenths; for 66 °C alone the usual 3. A tun that holds no more
/// is filled, and one whose line says how thick is mashed so.
#[test]
fn a_mash_that_is_infused_gets_the_water_that_it_takes() {
    let tun = |rests: &[(u32, &str)], lines: &str| {
        let lauter = format!("lauter batch, sparges 2\n{lines}");
        let text = changed(
            &fixture("scale/one_malt"),
            &[
                ("# water and mash\n", &mash(rests)),
                ("lauter bag, sparge 3 L", &lauter),
            ],
        );
        weighed(&text, "Small")
    };
    let per_kg = |plan: &Plan| mash_l(plan) / malt_kg(plan);
    let three = [(55, ""), (66, " by infusion"), (78, " by infusion")];
    let infused = tun(&three, "");
    assert_eq!(stops(&infused), []);
    assert!(
        (per_kg(&infused) - 5.6).abs() < 1e-3,
        "{}",
        per_kg(&infused)
    );
    let one = tun(&[(66, "")], "");
    assert!((per_kg(&one) - 3.0).abs() < 1e-3, "{}", per_kg(&one));
    let heated = tun(&[(55, ""), (66, " by heat"), (78, " by heat")], "");
    assert!((per_kg(&heated) - 3.0).abs() < 1e-3, "{}", per_kg(&heated));
    let kg = malt_kg(&infused);
    let small = tun(&three, &format!("  mash tun {:.1} L\n", 5.0 * kg));
    // What the tun holds less 0.67 L/kg for the grain, hot.
    let room = (5.0 * kg / malt_kg(&small) - 0.67) * 0.9736;
    assert!(
        (per_kg(&small) / room - 1.0).abs() < 0.01,
        "{} {room}",
        per_kg(&small)
    );
    assert!(matches!(stops(&small)[..], [MashStop::TooThick { .. }]));
}

/// Grain that is steeped beside malt extract converts nothing that anybody counts on; a mash without enzymes does.
#[test]
fn steeped_grain_wants_no_enzymes() {
    let told = |grain: &str, extract: &str| {
        let text = format!(
            "recipe Steeped\nbatch 20 L into fermenter\nmash\n{grain}  rest 68 C for 30 min\nboil 60 min\n{extract}brewhouse Pot\n  \
             batch 20 L into fermenter\n  lauter bag\n"
        );
        let warnings = weighed(&text, "Pot").warnings;
        warnings
            .iter()
            .any(|told| told.code() == "diastatic_power_low")
    };
    let steeped = "  500 g caramel malt 150 EBC\n  150 g biscuit malt\n";
    assert!(!told(steeped, "  2.7 kg dried malt extract pale\n"));
    assert!(told(steeped, ""));
    assert!(told(
        "  4 kg flaked barley\n",
        "  500 g dried malt extract pale\n"
    ));
}

#[test]
fn a_mash_out_hotter_than_boiling_water_allows_is_an_outcome() {
    // At 4500 m water boils at 85 °C.
    let rests = [(66, ""), (85, " by infusion")];
    let plan = plan(&mash(&rests), "  altitude 4500 m\n");
    assert_eq!(stops(&plan), [MashStop::WaterTooCool { rest: 2 }]);
    assert!(plan.volumes.mash_water.get::<liter>() > 0.0);
}

/// By hand: the bed of grain at 66 °C with the 0.8 L/kg of wort that a bag keeps, and 3 L of water at 77 °C, which is never hotter,
/// however little there is of it. Two portions of batch sparging meet the bed one after the other; a continuous sparge has no bed that
/// is stirred.
#[test]
fn sparge_water_is_77_and_its_bed_follows() {
    let of = |plant: &str| {
        let lines = format!("  absorption 0.8 L/kg\n  altitude 0 m\n{plant}");
        plan(&mash(&[(66, "")]), &lines)
    };
    let mixed = |bed_c: f64, bed: f64, water: f64| (bed * bed_c + water * 77.0) / (bed + water);
    let three = of("");
    let bed = (RELATIVE_HEAT + 0.8) * malt_kg(&three);
    let by_hand = mixed(66.0, bed, 3.0 * COLD);
    assert!(by_hand > 69.0 && by_hand < 72.0, "{by_hand}");
    let celsius = |plan: &Plan| plan.water.sparged_bed.map(Temperature::celsius);
    assert!(
        (celsius(&three).unwrap() - by_hand).abs() < 0.01,
        "{three:?}"
    );
    assert_eq!(three.water.sparge.unwrap().celsius(), 77.0);
}

/// What stops a mash is said with its figures and with what to do.
#[test]
fn a_brewer_is_told_what_stops_the_mash() {
    let said = |stopped, parts: &[&str]| {
        let text = Outcome::MashStops { stopped }.text(Style::default());
        for part in parts {
            assert!(text.contains(part), "{text}: no {part}");
        }
    };
    let needed = Temperature::from_celsius(104.0).unwrap();
    said(
        MashStop::StrikeTooHot {
            needed: Some(needed),
        },
        &["104", "use more water", "preheat grain"],
    );
    said(
        MashStop::StrikeTooHot { needed: None },
        &["Even boiling strike water is too cool", "use more of it"],
    );
    said(
        MashStop::TooThick {
            left: LiquorRatio::from_litres_per_kilogram(1.4).unwrap(),
            enough: Mass::new::<kilogram>(17.0),
        },
        &["1.4 L/kg", "17.0 L", "heat the mash"],
    );
    said(
        MashStop::VesselFull {
            rest: 3,
            needed: Volume::new::<liter>(31.0),
            capacity: Volume::new::<liter>(25.0),
        },
        &[
            "rest 3",
            "capacity 25",
            "needed 31",
            "Use less water or brew less",
        ],
    );
    said(
        MashStop::WaterTooCool { rest: 2 },
        &["Rest 2 is too hot", "heat the mash"],
    );
    said(
        MashStop::NoHeating { rest: 2 },
        &["No way given to heat to rest 2", "drop it"],
    );
}

/// Half a litre over the bag of a pot is a sparge, and stands in the plan's own text.
#[test]
fn a_small_sparge_is_written_down() {
    let text = "recipe Pot\nbatch 1000 L into fermenter\nbrewed on Works\ntarget original 12 P\nmash\n  100 % pale ale malt\n  \
        rest 66 C for 60 min\n  sparge 500 L at 76 C\nboil 60 min\nferment\n  pitch american ale yeast\nbrewhouse Works\n  \
        extract yield 85 %\nbrewhouse Home\n  batch 3 L into fermenter\n  lauter bag, sparge 0.5 L\n  evaporation 1 L/h\n";
    let plan = wortwright::Job::read([("pot", text)])
        .and_then(|job| job.on("Home")?.plan())
        .unwrap();
    assert!((plan.volumes.sparge_water.get::<liter>() - 0.5).abs() < 1e-9);
    let written = plan.recipe.mash.sparge.and_then(|sparge| sparge.volume);
    assert_eq!(
        written.map(|volume| volume.to_string()),
        Some("0.5 L".to_owned())
    );
}
