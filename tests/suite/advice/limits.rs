//! What no wort can be and what no vessel holds is told with its figures, and a fermentation that ends elsewhere with what to do.

use crate::brewing::{kg, l, weighed};
use wortwright::advice::{Action, Advice, AdvisedAction, DayReading, Shown};
use wortwright::diagnostic::ErrorKind;
use wortwright::process::Warning;
use wortwright::quantity::Extract;
use wortwright::quantity::uom::si::{f64::Volume, volume::liter};
use wortwright::scale::Plan;
use wortwright::speech::{Speaks, Style};

fn plan() -> Plan {
    let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P, final 3 P\nmash\n  100 % pale ale malt, 80 % extract dry, moisture 4 %\n\
        boil 60 min\nferment\n  pitch ale yeast\n  add 10 g/L sucrose when 4 P\n\
        brewhouse Kitchen\n  batch 10 L into fermenter\n  lauter bag\n  evaporation 2 L/h\n  kettle 14 L\n  mash tun 20 L\n  fermenter 14 L\n";
    weighed(text, "Kitchen")
}

fn plato(value: f64) -> Extract {
    Extract::from_plato(value).unwrap()
}

fn litres(value: f64) -> Volume {
    Volume::new::<liter>(value)
}

fn before_boil(l: f64, p: f64) -> DayReading {
    DayReading::BeforeBoil {
        volume: Some(litres(l)),
        shown: Some(Shown::hydrometer(plato(p))),
    }
}

fn in_fermenter(l: f64, p: f64) -> DayReading {
    DayReading::InFermenter {
        volume: Some(litres(l)),
        shown: Some(Shown::hydrometer(plato(p))),
    }
}

/// By hand: the grist has 0.80 x 0.96 kg of extract in a kilogram, some 1.5 kg in 2 kg. 30 L at 22 °P (1.0898 kg/L) hold 7.19 kg.
#[test]
fn a_wort_of_more_extract_than_its_grain_is_refused_with_figures() {
    let plan = plan();
    let grain_kg = crate::brewing::mass(&plan, "pale ale malt");
    let most_kg = grain_kg * 0.80 * 0.96;
    for reading in [before_boil(30.0, 22.0), in_fermenter(30.0, 22.0)] {
        let error = plan.advise(&reading).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::OutOfModel);
        let message = error.message();
        assert!(message.contains("hold 7.19 kg"), "{message}");
        assert!(
            message.contains(&format!("{most_kg:.2} kg at most")),
            "{message} {most_kg}"
        );
        assert!(
            error.help().unwrap().contains("volume or the gravity"),
            "{error}"
        );
    }
    // All that the grain has, and as much as two instruments may be off: a wort that can be.
    let strength = 100.0 * most_kg / (12.0 * 1.045);
    assert!(plan.advise(&before_boil(12.0, strength)).is_ok());
}

/// By hand: at the boil a wort takes 4 % more room (water 0.9584 kg/L at 100 °C against 0.9982), so that a kettle of 14 L has
/// 0.46 L left beside 13 L of cold wort.
#[test]
fn water_that_the_kettle_does_not_hold_is_not_poured() {
    let plan = plan();
    let planned = plan.volumes.pre_boil_extract.plato();
    let (measured_l, strong) = (13.0, planned + 1.5);
    let advice = plan.advise(&before_boil(measured_l, strong)).unwrap();
    let small = advice.warnings.iter().find_map(|told| match told.what {
        Warning::NoRoomForWater { needed, capacity } => Some((l(needed), l(capacity))),
        _ => None,
    });
    let (needed, capacity) = small.expect("no room");
    assert!(
        needed > capacity && (capacity - 14.0).abs() < 1e-9,
        "{needed} {capacity}"
    );
    let water_l = advice.actions.iter().find_map(|way| match way.action {
        Action::AddWater { water, .. } => Some(l(water)),
        _ => None,
    });
    // 13 L of cold wort are 13.5 L at the boil, which leaves 0.46 L, of cold water 0.44.
    let water_l = water_l.unwrap();
    assert!((water_l - 0.44).abs() < 0.06, "{water_l}");
    // With a larger kettle all of it goes in and nothing is said.
    let roomy = plan.advise(&before_boil(10.0, strong)).unwrap();
    assert!(roomy.warnings.is_empty(), "{:?}", roomy.warnings);
}

/// By hand: a fermenter of 14 L holds 11.2 L and a quarter of headspace. 10 g/L of sugar in 10 L take 0.06 L of it.
#[test]
fn water_that_the_fermenter_does_not_hold_is_not_poured() {
    let plan = plan();
    let advice = plan.advise(&in_fermenter(10.5, 13.5)).unwrap();
    let waters: Vec<f64> = advice
        .actions
        .iter()
        .filter_map(|way| match way.action {
            Action::AddWater { water, .. } => Some(l(water)),
            _ => None,
        })
        .collect();
    // 10.5 L at 13.5 °P would take 1.3 L to be 12 °P.
    assert!(
        (waters[0] - (11.2 - 0.06 - 10.5)).abs() < 0.03,
        "{waters:?}"
    );
    let told = advice
        .warnings
        .iter()
        .any(|told| matches!(told.what, Warning::FermenterSmall { .. }));
    assert!(told);
    let fits = plan.advise(&in_fermenter(9.0, 13.5)).unwrap();
    assert!(fits.warnings.is_empty());
}

/// A beer that has ended is read a mark lower than it should show: 1.012 where it ends at 1.01204.
#[test]
fn a_reading_just_past_the_end_is_taken_for_the_end() {
    let plan = plan();
    let at = |shown: Extract| DayReading::AdditionAt {
        name: "sucrose".into(),
        shown: Shown::hydrometer(shown),
    };
    // Without the sugar the wort ends here.
    let end = plan.predicted.wort_final.unwrap();
    let just_past = plato(end.plato() - 0.1);
    let way = &plan.advise(&at(just_past)).unwrap().actions[0];
    let before = way.predicted.before_addition.unwrap();
    assert!((before.plato() - end.plato()).abs() < 1e-6, "{before}");
    // Two marks past it is no reading of this beer.
    let far = plan.advise(&at(plato(end.plato() - 0.6)));
    assert_eq!(far.unwrap_err().kind(), ErrorKind::OutOfModel);
}

#[test]
fn a_fermentation_that_ends_elsewhere_is_told_what_to_do() {
    let plan = plan();
    let end = plan.predicted.final_extract.unwrap();
    let stopped = |shown: f64| {
        let shown = Shown::hydrometer(plato(shown));
        plan.advise(&DayReading::Stopped { shown }).unwrap().actions
    };
    let style = Style::default();
    let stuck = stopped(end.plato() + 2.5);
    let text = stuck[0].text(style);
    for word in [style.gravity(plato(end.plato() + 2.5)), style.gravity(end)] {
        assert!(text.contains(&word), "{text}");
    }
    assert!(
        text.contains("rouse")
            && text.contains("fresh active yeast")
            && text.contains("Do not bottle"),
        "{text}"
    );
    let run_away = stopped(end.plato() - 1.0);
    assert!(
        matches!(run_away[0].action, Action::WaitForEnd { .. }),
        "{run_away:?}"
    );
    let text = run_away[0].text(style);
    assert!(
        text.contains("three weeks") && text.contains(&style.gravity(end)),
        "{text}"
    );
    // A litre of beer that went on has more alcohol than planned.
    assert!(run_away[0].predicted.alcohol > plan.predicted.alcohol);
    assert_eq!(stopped(end.plato())[0].action, Action::GoOn);
}

/// Fruit floats up as a cap beside the liquid, as the sheet counts it: a fermenter of 20 L holds 16 L and a quarter of headspace.
#[test]
fn the_cap_of_fruit_takes_room_too() {
    let text = |fruit: &str| {
        format!(
            "recipe Plain\nbatch 10 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt, 80 % extract dry, moisture 4 %\n\
             boil 60 min\nferment\n  pitch ale yeast\n{fruit}\
             brewhouse Kitchen\n  batch 10 L into fermenter\n  lauter bag\n  kettle 20 L\n  fermenter 20 L\n"
        )
    };
    let fruited = weighed(&text("  add 3 kg raspberries when 4 P\n"), "Kitchen");
    let sheet = fruited.to_string();
    let filled = sheet.split("filled to ").nth(1).unwrap();
    let filled_l: f64 = filled.split(' ').next().unwrap().parse().unwrap();
    // 10 L of wort, the juice of the fruit, and its cap.
    let cap_l = filled_l - l(fruited.volumes.after_additions);
    assert!(cap_l > 0.5, "{cap_l}");
    let poured_l = |plan: &Plan| {
        let advice = plan.advise(&in_fermenter(11.0, 14.0)).unwrap();
        advice.actions.iter().find_map(|way| match way.action {
            Action::AddWater { water, .. } => Some(l(water)),
            _ => None,
        })
    };
    // 11 L at 14 °P would take 1.9 L.
    let poured = poured_l(&fruited).unwrap();
    assert!(
        (poured - (16.0 - (filled_l - 10.0) - 11.0)).abs() < 0.06,
        "{poured} {filled_l}"
    );
    assert!(poured_l(&weighed(&text(""), "Kitchen")).unwrap() > 1.6);
}

fn codes(actions: &[AdvisedAction]) -> Vec<&'static str> {
    actions.iter().map(Speaks::code).collect()
}

/// A kettle of 14 L: 13.8 L of cold wort are 14.4 L at the boil (4 %), and 16 L cannot have stood in it.
#[test]
fn a_wort_that_its_kettle_does_not_hold_is_told() {
    let plan = plan();
    let small = |advice: &Advice| {
        advice.warnings.iter().find_map(|told| match told.what {
            Warning::KettleSmall { needed, capacity } => Some((l(needed), l(capacity))),
            _ => None,
        })
    };
    let hot = plan.advise(&before_boil(13.8, 8.5)).unwrap();
    let (needed, capacity) = small(&hot).expect("no warning");
    assert!((needed - 13.8 * 1.042).abs() < 0.05 && (capacity - 14.0).abs() < 1e-9);
    assert!(
        !codes(&hot.actions).contains(&"add_dried_extract"),
        "{hot:?}"
    );
    let beyond = plan.advise(&before_boil(16.0, 7.0)).unwrap();
    assert_eq!(codes(&beyond.actions), ["measure_first", "go_on"]);
    assert!(small(&beyond).is_some());
    let fits = plan.advise(&before_boil(12.0, 8.5)).unwrap();
    assert!(small(&fits).is_none(), "{:?}", fits.warnings);
}

/// A fermenter of 14 L holds 11.2 L with a quarter of headspace: 11.5 L take no dried extract. Beside 11 L the sugar takes 0.06 L, of
/// which fermenting to 4 °P gives 0.03 L back (3 per mille of 10 L): 0.17 L are room for 0.27 kg, at 0.62 L/kg and 4.5 % of water.
#[test]
fn a_dose_that_the_fermenter_does_not_hold_is_not_advised() {
    let plan = plan();
    let full = plan.advise(&in_fermenter(11.5, 10.5)).unwrap();
    assert_eq!(codes(&full.actions), ["go_on"]);
    let told = |advice: &Advice| {
        let mut warnings = advice.warnings.iter();
        warnings.any(|told| matches!(told.what, Warning::FermenterSmall { .. }))
    };
    assert!(told(&full), "{:?}", full.warnings);
    let nearly = plan.advise(&in_fermenter(11.0, 9.5)).unwrap();
    let dose = nearly.actions.iter().find_map(|way| match way.action {
        Action::AddDriedExtract { mass, .. } => Some(kg(mass)),
        _ => None,
    });
    let by_hand = 0.17 / (0.62 * 0.955 + 0.045);
    assert!((dose.unwrap() - by_hand).abs() < 0.02, "{dose:?} {by_hand}");
    assert!(told(&nearly));
    assert!(!told(&plan.advise(&in_fermenter(10.0, 10.5)).unwrap()));
}

/// The planned boil of 60 min and an hour more are the most that is advised. 12 L at 8 °P hold 0.99 kg of extract, 12 °P of 8.2 kg:
/// 4.2 L of water boil off in more than two hours.
#[test]
fn nobody_boils_for_hours() {
    let advice = plan().advise(&before_boil(12.0, 8.0)).unwrap();
    assert_eq!(
        codes(&advice.actions),
        ["measure_first", "go_on", "add_dried_extract"]
    );
    let sooner = plan().advise(&before_boil(12.0, 9.3)).unwrap();
    let boil = sooner.actions.iter().find(|way| way.code() == "boil_for");
    let boil = boil.unwrap();
    let said = boil.text(Style::default());
    assert!(
        said.contains("it leaves") && said.contains("into the fermenter, 10.0 L planned"),
        "{said}"
    );
}

/// By hand: a ninth of 10 L of wort, 1.1 L, and a quarter of headspace want 13.9 L. Juice of 9 Bx (1.0340 kg/L) has the sugar of the
/// planned 13 Bx (1.0507) in 13 · 1.0507/(9 · 1.0340) = 1.468 times as much: 0.52 L and 0.65 L of room more, beyond 14 L.
#[test]
fn a_juice_that_the_fermenter_does_not_hold_is_not_advised() {
    let ways = |capacity: &str| {
        let changes = [(
            "  kettle loss 0 L",
            &*format!("  kettle loss 0 L\n  fermenter {capacity}"),
        )];
        let reading = DayReading::Juice {
            name: "sour cherry juice".into(),
            shown: Shown::hydrometer(plato(9.0)),
        };
        super::advice(&super::plan_with(&changes), &reading)
    };
    let (small, roomy) = (ways("14 L"), ways("15 L"));
    assert_eq!(codes(&small.actions), ["use_juice", "sweeten_juice"]);
    let told = small.warnings.iter().find_map(|told| match told.what {
        Warning::FermenterSmall { needed, .. } => Some(l(needed)),
        _ => None,
    });
    let by_hand = 1.25 * (10.0 + 10.0 / 9.0 * 1.468);
    assert!((told.unwrap() - by_hand).abs() < 0.1, "{told:?} {by_hand}");
    assert_eq!(
        codes(&roomy.actions),
        ["use_juice", "use_juice", "sweeten_juice"]
    );
    assert!(roomy.warnings.is_empty());
}
