//! Defaults are said where they matter to the brew at hand, and nowhere else.

use crate::brewing::{predicted, predicted_on, weighed};
use wortwright::process::{Assumption, Defaulted, PlantSize, Side};
use wortwright::speech::{Noted, Speaks, Style};
use wortwright_tests::fixtures::{changed, fixture};

/// The hop of the fixture.
const HOP: &str = "  30 g northern brewer, 9 % alpha at 60 min\n";

fn hopped() -> String {
    fixture("process/hopped")
}

fn unhopped() -> String {
    changed(&hopped(), &[(HOP, "")])
}

/// What is taken for the small plant of a text.
fn taken(recipe: &str, plant: &str) -> Vec<(Defaulted, f64)> {
    let text = format!("{recipe}brewhouse Small\n  batch 10 L into fermenter\n{plant}");
    let plan = weighed(&text, "Small");
    plan.assumptions
        .iter()
        .filter_map(|assumption| match &assumption.what {
            Assumption::PlantDefault {
                side: Side::Target,
                what,
                value,
            } => Some((*what, *value)),
            _ => None,
        })
        .collect()
}

fn is_taken(recipe: &str, plant: &str, what: Defaulted) -> Option<f64> {
    taken(recipe, plant)
        .into_iter()
        .find_map(|(taken, value)| (taken == what).then_some(value))
}

#[test]
fn altitude_is_assumed_where_something_boils() {
    assert_eq!(is_taken(&hopped(), "", Defaulted::Altitude), Some(0.0));
    assert_eq!(
        is_taken(&hopped(), "  altitude 300 m\n", Defaulted::Altitude),
        None
    );
    let raw = "recipe Raw\nbatch 20 L into fermenter\nmash\n  4 kg pale ale malt\nboil 0 min\n";
    assert_eq!(is_taken(raw, "", Defaulted::Altitude), None);
}

#[test]
fn sparge_mixing_is_assumed_where_something_is_sparged() {
    let mixing = |plant: &str| is_taken(&hopped(), plant, Defaulted::SpargeMixing);
    assert_eq!(mixing("  lauter bag, sparge 2 L\n"), Some(1.0));
    assert_eq!(mixing("  lauter batch, sparges 2\n"), Some(1.0));
    assert_eq!(mixing("  lauter bag\n"), None);
    assert_eq!(
        mixing("  lauter batch, sparges 2\n  sparge mixing 80 %\n"),
        None
    );
    // A stated yield leaves it nothing to say.
    assert_eq!(
        mixing("  lauter batch, sparges 2\n  extract yield 80 %\n"),
        None
    );
}

#[test]
fn the_end_of_a_cooling_is_assumed_where_hops_see_it() {
    let cold = |recipe: &str, plant: &str| is_taken(recipe, plant, Defaulted::PitchingTemperature);
    assert_eq!(cold(&hopped(), ""), Some(20.0));
    assert_eq!(cold(&hopped(), "  cool to 18 C in 25 min by coil\n"), None);
    assert_eq!(cold(&hopped(), "  no chill\n"), None);
    assert_eq!(cold(&unhopped(), ""), None);
}

#[test]
fn unchilled_wort_has_a_time_and_a_room() {
    let unchilled = |what| is_taken(&hopped(), "  no chill\n", what);
    assert_eq!(unchilled(Defaulted::UnchilledTime), Some(300.0));
    assert_eq!(unchilled(Defaulted::Room), Some(20.0));
    assert_eq!(is_taken(&hopped(), "", Defaulted::Room), None);
}

/// The assumptions of a recipe on no plant at all, and one of them said.
fn unnamed(recipe: &str) -> Vec<Noted<Assumption>> {
    predicted(recipe).unwrap().assumptions
}

#[test]
fn a_plant_without_a_name_is_of_the_size_of_its_batch() {
    for (batch, size, word) in [
        ("20 L", PlantSize::Small, "typical small"),
        ("2 hL", PlantSize::Small, "typical small"),
        ("20 hL", PlantSize::Commercial, "typical commercial"),
    ] {
        let assumptions = unnamed(&hopped().replace("20 L", batch).replace("30 g", "40 g/hL"));
        let said = assumptions
            .iter()
            .find(|a| matches!(&a.what, Assumption::CommercialPlant { .. }))
            .unwrap();
        assert_eq!(said.what, Assumption::CommercialPlant { size });
        assert!(said.text(Style::default()).contains(word), "{batch}");
        // The defaults are those of that size: 12 % an hour in a small kettle, 5 % in a large one.
        let evaporation = assumptions.iter().find_map(|a| match &a.what {
            Assumption::PlantDefault {
                what: Defaulted::Evaporation,
                value,
                ..
            } => Some(*value),
            _ => None,
        });
        let by_size = if size == PlantSize::Small { 0.12 } else { 0.05 };
        assert_eq!(evaporation, Some(by_size), "{batch}");
    }
}

#[test]
fn a_grain_as_is_of_unknown_moisture_brings_no_water_and_says_so() {
    let odd = "barley of the moon, 78 % extract, 66 % fermentable, 6 EBC";
    let left_out = |line: &str| {
        let recipe = hopped().replace(
            "100 % pale ale malt",
            &format!("60 % pale ale malt\n  40 % {line}"),
        );
        unnamed(&recipe).iter().any(
            |a| matches!(&a.what, Assumption::MoistureLeftOut { name } if name == "barley of the moon"),
        )
    };
    assert!(left_out(odd));
    assert!(!left_out(&format!("{odd}, moisture 4 %")));
}

/// Isomerisation was measured down to 90 °C (Malowicki and Shellhammer 2005): a cooler stand is beyond that, where there are hops.
#[test]
fn rates_beyond_the_measured_are_said_where_hops_see_them() {
    let plant = |model: &str| {
        format!(
            "brewhouse Plant\n  extract yield 90 %\n  evaporation 5 % per hour\n  cool to 20 C through plate in 50 min\n  bitterness {model}\n"
        )
    };
    let of = |recipe: &str, stand: &str, model: &str| {
        let text = format!("{recipe}{stand}{}", plant(model));
        predicted_on(&text, "Plant").assumptions
    };
    let (hot, cool) = ("stand 20 min at 95 C\n", "stand 20 min at 80 C\n");
    let beyond = |recipe: &str, stand: &str, model: &str| {
        of(recipe, stand, model)
            .iter()
            .any(|told| told.what == Assumption::IsomerisationExtrapolated)
    };
    assert!(beyond(&hopped(), cool, "kinetic"));
    assert!(!beyond(&hopped(), hot, "kinetic"));
    assert!(!beyond(&hopped(), cool, "tinseth"));
    assert!(!beyond(&unhopped(), cool, "kinetic"));
    // Tinseth knows nothing of a stand: what goes into it is counted as bringing nothing.
    let left_out = |recipe: &str, stand: &str, model: &str| {
        of(recipe, stand, model).iter().find_map(|a| match &a.what {
            Assumption::StandWithoutBitterness { additions } => Some(*additions),
            _ => None,
        })
    };
    let late = format!("{cool}  2 g/L saaz, 4 % alpha for 20 min\n");
    assert_eq!(left_out(&hopped(), &late, "tinseth"), Some(1));
    assert_eq!(left_out(&hopped(), cool, "tinseth"), Some(0));
    assert_eq!(left_out(&hopped(), &late, "kinetic"), None);
    assert_eq!(left_out(&hopped(), "", "tinseth"), None);
    assert_eq!(left_out(&unhopped(), cool, "tinseth"), None);
}
