//! A yeast that goes in after the first.

use crate::brewing::{job, weighed};
use wortwright::process::{Assumption, GasPlan, Prediction, Warning};
use wortwright::quantity::AlcoholByVolume;

fn text(original: &str, yeast: &str, second: &str) -> String {
    format!(
        "recipe Try\nbrewed on Pot\nbatch 20 L into fermenter\noriginal {original}\nmash\n  100 % pale ale malt\n  \
         rest 65 C for 60 min\nboil 60 min\nferment\n  pitch {yeast} at 19 C\n{second}\nbrewhouse Pot\n  \
         extract yield 75 %\n  evaporation 2 L/h\n  kettle loss 0 L\n  fermenter loss 0 L\nbrewhouse Home\n  \
         batch 10 L into fermenter\n  kettle 20 L\n"
    )
}

fn beer(original: &str, yeast: &str, second: &str) -> Prediction {
    let text = text(original, yeast, second);
    job(&text, "Pot").built().unwrap().as_written().unwrap()
}

fn attenuation(found: &Prediction) -> f64 {
    let [original, end] = [found.predicted.original, found.predicted.final_extract];
    1.0 - end.unwrap().plato() / original.unwrap().plato()
}

/// On malt of 12 °P, mashed as the figures are stated for, a beer ends at the attenuation of the drier of both yeasts.
#[test]
fn the_drier_of_two_yeasts_decides() {
    for (first, second, wanted, beyond) in [
        (
            "ale yeast, attenuation 72 %",
            "  pitch ale yeast, attenuation 80 % on day 5",
            0.80,
            8.0,
        ),
        (
            "ale yeast, attenuation 72 %",
            "  pitch ale yeast, attenuation 77 % when 5 P",
            0.77,
            5.0,
        ),
        // Said with `at`, as brewers do; 1.012 is 3.07 °P.
        (
            "ale yeast, attenuation 72 %",
            "  pitch ale yeast, attenuation 77 % at 5 P",
            0.77,
            5.0,
        ),
        (
            "ale yeast, attenuation 72 %",
            "  pitch ale yeast, attenuation 78 % at 1.012",
            0.78,
            6.0,
        ),
        (
            "ale yeast, attenuation 78 %",
            "  add 5 g ale yeast, attenuation 74 % on day 5",
            0.78,
            0.0,
        ),
        // Of bacteria nobody knows an attenuation.
        (
            "ale yeast, attenuation 72 %",
            "  pitch lactobacillus culture on day 5",
            0.72,
            0.0,
        ),
    ] {
        let found = beer("12 P", first, second);
        assert!(
            (attenuation(&found) - wanted).abs() < 1e-6,
            "{second}: {}",
            attenuation(&found)
        );
        let told = found.assumptions.iter().find_map(|told| match &told.what {
            Assumption::LaterYeast { beyond, .. } => Some(beyond.percent()),
            _ => None,
        });
        assert!((told.unwrap() - beyond).abs() < 1e-6, "{second}: {told:?}");
    }
    assert!((attenuation(&beer("12 P", "ale yeast, attenuation 72 %", "")) - 0.72).abs() < 1e-6);
}

/// Brettanomyces breaks down the dextrins of a hot mash, which ale yeast leaves: 90 % of malt by the catalogue, whatever the rest.
#[test]
fn brettanomyces_takes_what_a_hot_mash_left() {
    let hot = |second: &str| {
        let text = text("12 P", "ale yeast, attenuation 75 %", second).replace("65 C", "72 C");
        attenuation(&job(&text, "Pot").built().unwrap().as_written().unwrap())
    };
    assert!((hot("  pitch brettanomyces bruxellensis on day 7") - 0.90).abs() < 2e-3);
    assert!(hot("") < 0.60, "{}", hot(""));
}

/// English ale yeast goes to 9 % by volume, champagne yeast to 16: 22 °P make about 9.5.
#[test]
fn the_stronger_of_two_yeasts_sets_the_limit() {
    let limit = |second: &str| {
        let found = beer("23 P", "english ale yeast, attenuation 76 %", second);
        found.warnings.iter().find_map(|told| match told.what {
            Warning::AlcoholBeyondYeast { usual, .. } => Some(usual),
            _ => None,
        })
    };
    assert_eq!(limit(""), AlcoholByVolume::from_percent(9.0).ok());
    assert_eq!(limit("  pitch champagne yeast on day 5"), None);
}

#[test]
fn it_stands_on_the_sheet_in_its_turn_and_in_the_plans_text() {
    let text = text(
        "12 P",
        "american ale yeast",
        "  pitch 10 g champagne yeast on day 5",
    );
    let plan = weighed(&text, "Home");
    let sheet = plan.to_string();
    assert!(sheet.contains("On day 5, add:"), "{sheet}");
    let ticked = sheet
        .lines()
        .find(|line| line.contains("champagne yeast"))
        .unwrap();
    assert!(sheet.contains("pitch american ale yeast at "), "{sheet}");
    assert!(
        ticked.contains("5.0 g") || ticked.contains("5 g"),
        "{ticked}"
    );
    assert_eq!(sheet.matches("at 19 °C (measured").count(), 1, "{sheet}");
    let document = plan.to_document().to_string();
    assert!(document.contains("pitch 5"), "{document}");
    let again = weighed(&document, "Home");
    assert_eq!(again.recipe.fermentation, plan.recipe.fermentation);
    // Two to pitch at once are one too many.
    let text = self::text("12 P", "american ale yeast", "  pitch champagne yeast");
    let fault = wortwright::Job::read([("text", text.as_str())]).unwrap_err();
    assert!(
        fault
            .to_string()
            .contains("expected one yeast without a time"),
        "{fault}"
    );
}

/// A second yeast that nobody names is counted as one of which nothing is known, however it is said.
#[test]
fn a_second_yeast_without_a_name_goes_no_further() {
    for line in [
        "  second yeast on day 5",
        "  pitch second yeast on day 5",
        "  pitch a second yeast on day 5",
        "  add a second yeast when 4 P",
        "  add yeast on day 5",
        "  pitch another yeast when 4 P",
        "  add 5 g second yeast on day 5",
    ] {
        let found = beer("12 P", "ale yeast, attenuation 72 %", line);
        assert!((attenuation(&found) - 0.72).abs() < 1e-6, "{line}");
        let mut told = found.assumptions.iter();
        assert!(
            told.any(|told| matches!(told.what, Assumption::LaterYeast { .. })),
            "{line}"
        );
    }
}

/// A yeast in the bottle that takes what the first left ferments it there. By hand: on malt of 12 °P, 75 % leaves 3.0 °P and brettanomyces,
/// 90 %, 1.2; of a litre that is about 15 g of extract by Balling (0.82 x 18 g, less what alcohol hides), 7 g of gas as of hexose on the safe side,
/// and 0.9 % more alcohol. A yeast that goes no further brings none.
#[test]
fn a_yeast_in_the_bottle_takes_what_the_first_left() {
    let bottled = |line: &str| {
        let found = beer(
            "12 P",
            "ale yeast, attenuation 75 %",
            &format!("  hold 20 C for 10 days\npackage\n  bottles, carbonate 5 g/L\n{line}"),
        );
        let Some(GasPlan::Conditioned { from_additions, .. }) = found.gas.clone() else {
            panic!("{line}")
        };
        let over = found
            .warnings
            .iter()
            .any(|told| matches!(told.what, Warning::PackageOverLimit { .. }));
        let abv = found.predicted.alcohol.unwrap().percent();
        (found, from_additions.grams_per_litre(), abv, over)
    };
    let (plain, none, abv, over) = bottled("");
    assert!(none.abs() < 1e-9 && !over);
    let (brett, gas, more, over) = bottled("  add 2 g brettanomyces bruxellensis\n");
    assert!((attenuation(&brett) - 0.90).abs() < 2e-3);
    assert!((6.5..7.8).contains(&gas) && over, "{gas}");
    assert!((more - abv - 0.9).abs() < 0.1, "{more} {abv}");
    let told = brett.assumptions.iter();
    let mut told = told.filter(|told| matches!(told.what, Assumption::LaterYeast { .. }));
    assert!(told.next().is_some());
    let (same, gas, ..) = bottled("  add 2 g ale yeast, attenuation 74 %\n");
    assert!(gas.abs() < 1e-9);
    assert!((attenuation(&same) - attenuation(&plain)).abs() < 1e-9);
}
