//! What of a mash ferments against the values of its relation and against published figures.

use super::celsius;
use crate::reference::{Case, check, rows};
use wortwright::quantity::uom::si::time::minute;
use wortwright::quantity::{Extract, Time, Volume, uom::si::volume::liter};
use wortwright::science::attenuation::{apparent_attenuation, fermented_share};
use wortwright::science::fermentability::{MashHold, mash_factor};
use wortwright::science::liquid::Liquid;

fn hold(temperature: f64, minutes: f64, heated: bool) -> MashHold {
    MashHold {
        temperature: celsius(temperature),
        time: Time::new::<minute>(minutes),
        heated,
    }
}

/// A mash brought to each rest at once: `62.5x10;72x30`.
fn stepped(profile: &str) -> Vec<MashHold> {
    let number = |text: &str| text.parse::<f64>().unwrap();
    let step = |step: &str| {
        let (temperature, minutes) = step.split_once('x').unwrap();
        hold(number(temperature), number(minutes), false)
    };
    profile.split(';').map(step).collect()
}

/// The relation's own values, computed apart from this crate: they hold the arithmetic. A last rest below 62 °C stands there by the
/// bare relation, which this crate does not use.
#[test]
fn single_rests_are_those_of_the_relation() {
    for row in rows("mash_fermentability_factor.csv") {
        let temperature = row.number("rest_temp_C");
        for minutes in [15.0, 30.0, 45.0, 60.0, 90.0, 120.0] {
            let column = format!("phi_{minutes}_min");
            if temperature >= 62.0 {
                let factor = mash_factor(&[hold(temperature, minutes, true)]);
                row.check(&column, factor);
            }
        }
    }
}

#[test]
fn stepped_mashes_are_those_of_the_relation() {
    for row in rows("mash_fermentability_steps.csv") {
        row.check("phi", mash_factor(&stepped(row.text("profile_C_x_min"))));
    }
}

/// From 50 °C to 72 °C in 22 min (1 °C a minute) the mash passes where sugar forms; brought there at once it does not. Both by the
/// relation in pieces of a degree, worked out apart.
#[test]
fn a_mash_that_is_heated_makes_sugar_on_the_way() {
    let mash = |heated| mash_factor(&[hold(50.0, 15.0, false), hold(72.0, 30.0, heated)]);
    assert!((mash(true) - 0.9604).abs() < 5e-5, "{}", mash(true));
    assert!((mash(false) - 0.7648).abs() < 5e-5, "{}", mash(false));
}

/// Rows to which the relation was fitted hold its arithmetic, and are no evidence: Chandrasekhar's, Hamilton & Lewis's and Harris &
/// `MacWilliam`'s. Muller's bound at 80 °C and Rittenauer's yields of 10 min were not fitted; the latter are yields of sugar at one
/// short time, of another quantity, and miss by 0.077 and, below the range, by more.
#[test]
fn published_figures_and_their_residuals() {
    let factor = |temperature, minutes| mash_factor(&[hold(temperature, minutes, true)]);
    // Fitted: 82, 70, 50 and 30 % of apparent attenuation at 65, 70, 75 and 80 °C (second hand), of 82.
    let fitted = [
        Case::new("70 C", factor(70.0, 60.0), 70.0 / 82.0, 0.023),
        Case::new("75 C", factor(75.0, 60.0), 50.0 / 82.0, 0.018),
        Case::new("80 C", factor(80.0, 60.0), 30.0 / 82.0, 0.011),
        Case::new(
            "30 min at 62.7 C as 60 min at 65.5 C",
            factor(62.7, 30.0) / factor(65.5, 60.0),
            1.0,
            0.002,
        ),
    ];
    check(fitted, &[]);
    assert!(factor(62.7, 60.0) > factor(65.5, 60.0));
    // Not fitted. Muller 1991: over 70 % at 65 °C and under 30 % at 80 °C.
    assert!(factor(80.0, 60.0) / factor(65.0, 60.0) < 30.0 / 70.0);
    let measured = [Case::new("10 min at 63 C", factor(63.0, 10.0), 0.975, 0.06)];
    check(measured, &["10 min at 63 C"]);
}

/// The mass share behind an apparent attenuation. The table takes 0.8192 between apparent and real extract; by Tabarié and the
/// density tables, which the crate uses and which 532 beers as analysed bear out (`beer_means_2009.csv`), that is too little: 1.0 to
/// 1.2 points of the share, 0.1 °P of real extract at 8 °P and 0.2 at 20.
#[test]
fn an_apparent_attenuation_is_a_share_of_the_mass() {
    for row in rows("attenuation_scales.csv") {
        let original = Extract::from_plato(row.number("original_extract_P")).unwrap();
        let apparent = row.number("apparent_attenuation_pct") / 100.0;
        let end = Extract::from_plato(original.plato() * (1.0 - apparent)).unwrap();
        let wort = Liquid::wort(Volume::new::<liter>(1.0), original).unwrap();
        let beer = wort.fermented_to(end).unwrap();
        let shown = apparent_attenuation(original, beer.apparent_extract());
        assert!((shown.fraction() - apparent).abs() < 1e-6);
        let share = fermented_share(original, beer.real_extract()).percent();
        let below = row.number("fermented_share_of_extract_mass_pct") - share;
        assert!((1.0..1.2).contains(&below), "{below}");
    }
}
