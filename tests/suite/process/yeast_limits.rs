//! What a yeast bears, and hops that feed it.

use crate::brewing::job;
use wortwright::process::Warning;

/// The warnings of 20 L of such a wort with this yeast and more in the fermenter.
fn warned(original: &str, yeast: &str, more: &str) -> Vec<Warning> {
    let text = format!(
        "recipe Try\nbrewed on Pot\nbatch 20 L into fermenter\noriginal {original}\nmash\n  100 % pale ale malt\n  \
         rest 65 C for 60 min\nboil 60 min\nferment\n  pitch {yeast}\n{more}\nbrewhouse Pot\n  batch 20 L into fermenter\n  \
         extract yield 75 %\n  evaporation 2 L/h\n  kettle loss 0 L\n  fermenter loss 0 L\n"
    );
    let found = job(&text, "Pot").built().unwrap().as_written().unwrap();
    found.warnings.into_iter().map(|told| told.what).collect()
}

/// English ale yeast: 9 to 11 % by volume (families of the reference). Its 73 % on malt are 0.60 of the mass: 24 g of 100 give 24 x 0.60 /
/// 2.0665 = 7.0 g of ethanol in 92.6 g of 1.026, 9.8 % by volume. An American one goes to 10 to 12 %.
#[test]
fn a_beer_beyond_its_yeast_is_told() {
    let beyond = |original: &str, yeast: &str| {
        let mut told = warned(original, yeast, "").into_iter();
        told.find_map(|told| match told {
            Warning::AlcoholBeyondYeast {
                alcohol,
                usual,
                most,
                ..
            } => Some((alcohol.percent(), usual.percent(), most.percent())),
            _ => None,
        })
    };
    assert_eq!(beyond("19 P", "english ale yeast"), None);
    let (alcohol, usual, most) = beyond("24 P", "english ale yeast").unwrap();
    assert!((9.7..9.9).contains(&alcohol), "{alcohol}");
    assert!((usual - 9.0).abs() < 1e-9 && (most - 11.0).abs() < 1e-9);
    assert_eq!(beyond("22 P", "american ale yeast"), None);
}

/// Above 18 °P an ordinary pitch is told; one whose rate is stated is the brewer's own.
#[test]
fn a_strong_wort_wants_more_yeast() {
    let strong = |original: &str, yeast: &str| {
        let told = warned(original, yeast, "");
        told.iter()
            .any(|told| matches!(told, Warning::StrongWort { .. }))
    };
    assert!(strong("19 P", "american ale yeast"));
    assert!(!strong("17 P", "american ale yeast"));
    assert!(!strong("19 P", "american ale yeast, 1.2 M/mL/P"));
}

/// 100 g in 20 L are 5 g/L, 20 g one.
#[test]
fn dry_hops_with_yeast_are_told() {
    let creeps =
        |line: &str| warned("12 P", "american ale yeast", line).contains(&Warning::HopCreep);
    assert!(creeps("  add 100 g cascade on day 5 for 3 days"));
    assert!(!creeps("  add 20 g cascade on day 5 for 3 days"));
    assert!(!creeps(""));
}
