//! What a sheet says to do when a reading is off, against the advice that runs the model from that reading.

use wortwright::advice::{Action, DayReading, Shown};
use wortwright::job::Job;
use wortwright::quantity::{
    Extract, Ph, UnitSystem, in_kilograms, in_litres, in_minutes, kilograms,
};
use wortwright::scale::Plan;
use wortwright::science::liquid::Liquid;
use wortwright::sheet::SheetOptions;
use wortwright::speech::Style;
use wortwright_tests::fixtures::{DEMO, DEMO_PLANT};

fn demo_plan() -> Plan {
    let texts = [
        ("saltmarsh-lantern.gyle", DEMO),
        ("stove-top.gyle", DEMO_PLANT),
    ];
    let brew = Job::read(texts).unwrap().on("Stove top").unwrap();
    brew.plan().unwrap()
}

/// The line below the blank of that name.
fn below(sheet: &str, blank: &str) -> String {
    let mut lines = sheet.lines().skip_while(|line| !line.contains(blank));
    let line = lines
        .nth(1)
        .unwrap_or_else(|| panic!("no {blank}: {sheet}"));
    line.trim().to_owned()
}

/// The number in front of these words.
fn number_before(text: &str, words: &str) -> f64 {
    let at = text
        .find(words)
        .unwrap_or_else(|| panic!("no {words}: {text}"));
    let number = text[..at].split_whitespace().last().unwrap();
    number
        .parse()
        .unwrap_or_else(|_| panic!("{number}: {text}"))
}

fn advised<T>(plan: &Plan, reading: &DayReading, pick: impl Fn(&Action) -> Option<T>) -> T {
    let found = plan.advise(reading).unwrap();
    let mut actions = found.actions.iter();
    actions.find_map(|advised| pick(&advised.action)).unwrap()
}

/// Two digits are printed, and a step is a mass balance: a tenth off at most.
fn close(said: f64, advised: f64) {
    assert!((said / advised - 1.0).abs() < 0.1, "{said} {advised}");
}

fn metric(plan: &Plan) -> String {
    plan.sheet(&SheetOptions::default().with_style(Style::customary(UnitSystem::Metric)))
}

#[test]
fn a_gravity_before_the_boil_is_brought_back_as_advised() {
    let plan = demo_plan();
    let line = below(&metric(&plan), "Pre-boil gravity");
    let planned = plan.volumes.pre_boil_extract.plato();
    let read = |plato: f64| DayReading::BeforeBoil {
        volume: Some(plan.volumes.pre_boil),
        shown: Some(Shown::hydrometer(Extract::from_plato(plato).unwrap())),
    };
    let (low, high) = (read(planned - 0.5), read(planned + 0.5));
    let boil = advised(&plan, &low, |action| match action {
        Action::BoilFor { time } => Some(in_minutes(*time)),
        _ => None,
    });
    close(number_before(&line, "min longer"), boil - 75.0);
    let extract = advised(&plan, &low, |action| match action {
        Action::AddDriedExtract { mass, .. } => Some(1000.0 * in_kilograms(*mass)),
        _ => None,
    });
    close(number_before(&line, "g dried malt extract"), extract);
    let water = advised(&plan, &high, |action| match action {
        Action::AddWater { water, .. } => Some(in_litres(*water)),
        _ => None,
    });
    close(number_before(&line, "L water"), water);
}

#[test]
fn a_volume_before_the_boil_is_boiled_down_as_advised() {
    let plan = demo_plan();
    let line = below(&metric(&plan), "Pre-boil volume");
    // The planned extract in half a litre more.
    let wort = Liquid::wort(plan.volumes.pre_boil, plan.volumes.pre_boil_extract).unwrap();
    let thinner = wort.diluted(kilograms(0.5 * 0.998_203)).unwrap();
    let more = DayReading::BeforeBoil {
        volume: Some(thinner.volume()),
        shown: Some(Shown::hydrometer(thinner.real_extract())),
    };
    let boil = advised(&plan, &more, |action| match action {
        Action::BoilFor { time } => Some(in_minutes(*time)),
        _ => None,
    });
    assert!(line.contains("per 0.5 L"), "{line}");
    close(number_before(&line, "min longer"), boil - 75.0);
}

#[test]
fn a_gravity_in_the_fermenter_is_brought_back_as_advised() {
    let plan = demo_plan();
    let line = below(&metric(&plan), "Original gravity, sample");
    let planned = plan.predicted.original.unwrap().plato();
    let read = |plato: f64| DayReading::InFermenter {
        volume: Some(plan.volumes.into_fermenter),
        shown: Some(Shown::hydrometer(Extract::from_plato(plato).unwrap())),
    };
    let extract = advised(&plan, &read(planned - 0.5), |action| match action {
        Action::AddDriedExtract { mass, cold } => Some((1000.0 * in_kilograms(*mass), *cold)),
        _ => None,
    });
    close(number_before(&line, "g dried malt extract"), extract.0);
    let water = advised(&plan, &read(planned + 0.5), |action| match action {
        Action::AddWater { water, cold } => Some((in_litres(*water), *cold)),
        _ => None,
    });
    close(number_before(&line, "L boiled, cooled water"), water.0);
    // Whatever joins cold wort has been boiled.
    assert!(extract.1 && water.1);
    assert!(line.contains("boiled, cooled"), "{line}");
}

#[test]
fn a_mash_ph_is_brought_back_as_advised() {
    let plan = demo_plan();
    let line = below(&metric(&plan), "Mash pH");
    let wanted = Ph::from_value(5.35).unwrap();
    let read = |ph: f64| DayReading::MashPh {
        measured: Ph::from_value(ph).unwrap(),
        wanted: Some(wanted),
    };
    let acid = advised(&plan, &read(5.45), |action| match action {
        Action::AddAcid { volume, .. } => volume.map(|volume| 1000.0 * in_litres(volume)),
        _ => None,
    });
    close(number_before(&line, "mL lactic acid"), acid);
    let soda = advised(&plan, &read(5.25), |action| match action {
        Action::AddAlkali { mass, .. } => Some(1000.0 * in_kilograms(*mass)),
        _ => None,
    });
    close(number_before(&line, "g sodium bicarbonate"), soda);
}

/// Each practice has its own step and units, and nothing of another's.
#[test]
fn every_correction_speaks_the_units_of_its_sheet() {
    let plan = demo_plan();
    for (units, gravity, volume, water) in [
        (UnitSystem::Us, "0.002 low", "per 0.2 gal. ", " fl oz water"),
        (
            UnitSystem::Imperial,
            "0.002 low",
            "per 0.2 imp gal. ",
            " imp fl oz water",
        ),
    ] {
        let sheet = plan.sheet(&SheetOptions::default().with_style(Style::customary(units)));
        let line = below(&sheet, "Pre-boil gravity");
        assert!(line.starts_with(gravity) && line.contains(water), "{sheet}");
        assert!(below(&sheet, "Pre-boil volume").contains(volume), "{sheet}");
    }
}

/// A kettle that drives off 0.1 L in an hour would boil for hours: what is left is said.
#[test]
fn nobody_is_told_to_boil_for_hours() {
    let slow = DEMO_PLANT.replace("evaporation 2.6 L/h", "evaporation 0.1 L/h");
    assert_ne!(slow, DEMO_PLANT);
    let texts = [
        ("saltmarsh-lantern.gyle", DEMO),
        ("stove-top.gyle", slow.as_str()),
    ];
    let plan = Job::read(texts)
        .unwrap()
        .on("Stove top")
        .unwrap()
        .plan()
        .unwrap();
    let sheet = metric(&plan);
    assert!(!sheet.contains("min longer"), "{sheet}");
    assert!(
        below(&sheet, "Pre-boil volume").starts_with("Less but strong"),
        "{sheet}"
    );
    assert!(
        below(&sheet, "Pre-boil gravity").contains("dried malt extract"),
        "{sheet}"
    );
}
