//! Rows of amounts, times and steps, and amounts that are said of each of several.

use super::{added, codes, questions, said, understood};
use crate::diagnostic::Code;

#[test]
fn a_row_of_amounts_and_times_is_an_addition_each() {
    for (typed, wanted) in [
        (
            "Perle 20g/15g/10g at 60/30/5",
            [
                "20 g Perle at 60 min",
                "15 g Perle at 30 min",
                "10 g Perle at 5 min",
            ],
        ),
        (
            "Perle 10/10/15 g @ 60/15/5",
            [
                "10 g Perle at 60 min",
                "10 g Perle at 15 min",
                "15 g Perle at 5 min",
            ],
        ),
        (
            "1 oz cascade each at 60, 15 and 0",
            [
                "1 oz Cascade at 60 min",
                "1 oz Cascade at 15 min",
                "1 oz Cascade at 0 min",
            ],
        ),
        (
            "10 g each of saaz, perle and cascade at 30 min",
            [
                "10 g Saazer at 30 min",
                "10 g Perle at 30 min",
                "10 g Cascade at 30 min",
            ],
        ),
    ] {
        assert_eq!(added(typed), wanted, "{typed}");
    }
    // One amount and two times, or two of which nobody says whose they are.
    assert_eq!(
        codes("Ale\n20 L\n5 kg pale ale malt\nboil 60 min\n2 oz cascade and 1 oz perle at 15/5\n"),
        [Code::AmbiguousNumber]
    );
}

#[test]
fn each_step_of_a_mash_keeps_its_own_time() {
    let steps = [
        "rest 63 C for 40 min",
        "rest 72 C for 20 min",
        "rest 78 C for 10 min",
    ];
    for typed in [
        "Mash in 57 C, 63 C 40 min, 72 C 20 min, mash out 78 C",
        "Mash in 57 C, 63/40, 72/20, mash out 78",
        "mash: 63/40, 72/20, 78",
        "mash 63/72/78 C for 40/20/10 min",
    ] {
        let lines = said(typed);
        let rests: Vec<_> = lines
            .iter()
            .filter(|line| line.starts_with("rest"))
            .collect();
        assert_eq!(rests, steps, "{typed}");
    }
    let held = said("mash 66 C 60 min\nboil 60 min\nprimary 18 C, 22 C 3 days");
    assert!(
        held.contains(&"hold 22 C for 3 days".to_owned()),
        "{held:?}"
    );
    assert!(held.contains(&"hold 18 C".to_owned()), "{held:?}");
}

#[test]
fn the_heat_of_the_water_before_a_comma_is_no_rest() {
    let lines =
        understood("Porter\n10 gal\n20 lb maris otter\nmash in 7.5 gal at 166, 154 for 60\n");
    assert!(
        lines.contains(&"rest 154 F for 60 min".to_owned()),
        "{lines:?}"
    );
    let rests = lines.iter().filter(|line| line.starts_with("rest"));
    assert_eq!(rests.count(), 1, "{lines:?}");
}

#[test]
fn what_goes_into_each_cask_is_a_dose() {
    // 14.17 g in 40.91 L.
    let lines = said("boil 60 min\ncask, dry hop 1/2 oz goldings per firkin");
    assert!(
        lines.contains(&"add 0.346446 g/L East Kent Golding".to_owned()),
        "{lines:?}"
    );
    let bottled = "Ale\n20 L\n5 kg pale ale malt\nboil 60 min\nbottle, 1 tsp sugar each\n";
    assert!(
        questions(bottled)
            .iter()
            .any(|asked| asked.contains("for each container")),
        "{:?}",
        questions(bottled)
    );
}

#[test]
fn a_percentage_behind_an_original_gravity_is_of_extract() {
    let lines = said("original gravity 12.5 %\n5 % alcohol");
    assert!(
        lines.contains(&"target original 12.5 P".to_owned()),
        "{lines:?}"
    );
    assert!(
        lines.contains(&"target alcohol 5 %".to_owned()),
        "{lines:?}"
    );
    let target = said("target 1052 down to 1010");
    assert_eq!(target, ["target original 1.052", "target final 1.01"]);
}

#[test]
fn a_comma_in_brackets_is_one_of_a_number() {
    let lines = said("boil 60 min, all Perle 30 g (7,5 %) at start");
    assert!(
        lines.contains(&"30 g Perle, 7.5 % alpha at 60 min".to_owned()),
        "{lines:?}"
    );
}

#[test]
fn a_page_of_vessels_on_one_line_is_a_plant() {
    let lines = understood(
        "Kitchen: 32 litre boiler, 25 l plastic mash tun with copper manifold, boils off 3 litres/hr, efficiency about 75%.\n",
    );
    for line in ["kettle 32 L", "mash tun 25 L", "evaporation 3 L/h"] {
        assert!(lines.contains(&line.to_owned()), "{line}: {lines:?}");
    }
    let water = understood(
        "Garage\n10 gal kettle\nbatch sparge\ncity water Ca 35 Mg 7 Na 20 SO4 30 Cl 22 HCO3 90\n",
    );
    let wanted = "water calcium 35 mg/L, magnesium 7 mg/L, sodium 20 mg/L, sulphate 30 mg/L, chloride 22 mg/L, bicarbonate 90 mg/L";
    assert!(water.contains(&wanted.to_owned()), "{water:?}");
}

#[test]
fn a_fining_without_an_amount_goes_in_by_its_usual_dose() {
    assert_eq!(
        added("irish moss, 15 min"),
        ["25 g/hL irish moss at 15 min"]
    );
    let pitched = said("mash 66 C\nboil 60 min\npitch at 9 C");
    assert!(
        pitched.contains(&"pitch house yeast at 9 C".to_owned()),
        "{pitched:?}"
    );
}
