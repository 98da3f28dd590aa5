//! Whole fruit and puree against the worked cases of the rule: volume, alcohol and racked volume
//! (`ingredients/fruit_examples.csv` of the reference, derived from USDA SR28; its racking share rests on estimates).

use crate::brewing::{l, near, predicted_on};
use wortwright::process::{Assumption, Prediction};

/// Some 20 L of a beer of 5 %, in a plant that loses nothing itself, with what is added when it has fermented.
fn beer(batch_l: f64, abv: f64, later: &str) -> Prediction {
    let plato = if abv > 5.5 { 14 } else { 12 };
    let text = format!(
        "recipe Fruit\nbatch {batch_l} L into fermenter\ntarget original {plato} P, wort alcohol {abv} %\nmash\n  100 % pale ale malt\nboil 60 min\n\
         ferment\n  pitch ale yeast\n{later}brewhouse Small\n  batch {batch_l} L into fermenter\n  extract yield 90 %\n  evaporation 3 L/h\n\
         \x20 kettle loss 0 L\n  fermenter loss 0 L\n"
    );
    predicted_on(&text, "Small")
}

fn abv(prediction: &Prediction) -> f64 {
    prediction.predicted.alcohol.unwrap().percent()
}

/// Each case with its beer, and what the table has of it: grams of sugar, litres mixed and racked, alcohol. The table takes 16.83 g/L of
/// sugar for a per cent of alcohol, where Balling's figures take 2.0665 · 7.89 = 16.31: its fruit gives 3.2 % less of its alcohol.
#[test]
fn fruit_follows_the_worked_cases() {
    for (beer_l, before, line, sugar_g, mixed_l, racked_l, after) in [
        (
            20.0,
            5.0,
            "3 kg raspberry, thawed",
            133.0,
            22.70,
            21.38,
            4.75,
        ),
        (20.0, 5.0, "3 kg raspberry", 133.0, 22.70, 21.38, 4.75),
        (
            20.0,
            5.0,
            "3 kg raspberry, pressed",
            133.0,
            22.70,
            22.10,
            4.75,
        ),
        (20.0, 5.0, "2 kg mango, puree", 273.0, 21.85, 21.49, 5.32),
        (18.0, 6.0, "4.5 kg sour cherry", 344.0, 21.78, 20.38, 5.90),
        // Cores out, as the table weighs them: 2.7 kg.
        (
            20.0,
            5.0,
            "2.7 kg apple, chopped",
            281.0,
            22.52,
            21.33,
            5.19,
        ),
    ] {
        // Some 0.4 % of the wort's volume leaves as gas and yeast.
        let batch_l = 1.004 * beer_l;
        let plain = beer(batch_l, before, "");
        near(abv(&plain), before, 1e-6, line);
        let plain_l = l(plain.volumes.racked);
        assert!((plain_l - beer_l).abs() < 0.1, "{plain_l}");
        let found = beer(batch_l, before, &format!("  add {line} on day 10\n"));
        let (mixed, racked) = (l(found.volumes.after_additions), l(found.volumes.racked));
        let (more_l, left_l) = (mixed - plain_l, racked - plain_l);
        assert!(
            (more_l - (mixed_l - beer_l)).abs() < 0.03,
            "{line}: {more_l}"
        );
        assert!(
            (left_l - (racked_l - beer_l)).abs() < 0.04,
            "{line}: {left_l}"
        );
        let by_balling = after + sugar_g * (1.0 / 16.31 - 1.0 / 16.83) / mixed_l;
        assert!(
            (abv(&found) - by_balling).abs() < 0.015,
            "{line}: {} {by_balling}",
            abv(&found)
        );
    }
}

/// Pitted fruit has no stones: of 4.5 kg, all are cherries, and none of the 0.45 kg of stones keeps beer.
#[test]
fn stones_dissolve_nothing() {
    let of = |form: &str| {
        beer(
            18.1,
            6.0,
            &format!("  add 4.5 kg sour cherry{form} on day 10\n"),
        )
    };
    let (whole, pitted) = (of(""), of(", pitted"));
    let gained_l = l(pitted.volumes.after_additions) - l(whole.volumes.after_additions);
    // 0.45 kg of fruit with 86.13 % of water and 11.5 % of solubles.
    let by_hand_l = 0.45 * (0.8613 / 0.9982 + 0.62 * 0.115);
    assert!(
        (gained_l - by_hand_l).abs() < 0.01,
        "{gained_l} {by_hand_l}"
    );
    let told = |p: &Prediction| {
        let mut kept = p.assumptions.iter().filter_map(|told| match &told.what {
            Assumption::KeptByFruit { kept, .. } => Some(l(*kept)),
            _ => None,
        });
        kept.next()
    };
    // 12 kg/kg of 2.4 % of pulp in 4.05 and 4.5 kg, and half a kilogram for each of stones: 1.39 kg in the table.
    near(
        told(&whole).unwrap(),
        (4.05 * 12.0 * 0.024 + 0.5 * 0.45) / 1.008,
        1e-6,
        "whole",
    );
    near(
        told(&pitted).unwrap(),
        4.5 * 12.0 * 0.024 / 1.008,
        1e-6,
        "pitted",
    );
}

/// Waits for a gravity and is counted while the beer works; juice pressed of it keeps nothing.
#[test]
fn fruit_goes_in_at_a_gravity() {
    let of = |line: &str| beer(20.1, 5.0, &format!("  add {line} when 4 P\n"));
    let fruit = of("3 kg raspberries, thawed");
    assert!(fruit.warnings.is_empty(), "{:?}", fruit.warnings);
    assert!((fruit.predicted.before_addition.unwrap().plato() - 4.0).abs() < 1e-6);
    let kept_l = |p: &Prediction| l(p.predicted.finished.unwrap()) - l(p.volumes.racked);
    assert!((kept_l(&fruit) - 1.31).abs() < 0.02, "{}", kept_l(&fruit));
    near(kept_l(&of("3 L raspberry juice")) + 1.0, 1.0, 1e-9, "juice");
}
