//! Hop lines, doses and the headline of bitterness.

use super::{MALT, SMALL, YEAST, sheet};
use crate::brewing::{addition, kg, mass, near, plan_on, sane};
use wortwright::process::Warning;

/// Printed doses are per litre of the printed batch; 50 g/hL of 20 hL are a kilogram.
#[test]
fn printed_doses_are_of_the_printed_batch() {
    let text = sheet(
        "target original 12 P",
        &format!("  100 % {MALT}"),
        "  50 g/hL saaz, 4 % alpha at 10 min",
        YEAST,
    );
    let plan = plan_on(&text, SMALL);
    let saaz = addition(&plan, "saaz");
    near(kg(saaz.source_mass.unwrap()), 1.0, 1e-12, "source");
}

/// A line of so many IBU gives that to the wort; the headline fills an open line with what the others leave.
#[test]
fn hop_lines_and_the_headline_make_the_bitterness() {
    let with = |targets: &str, hops: &str| {
        plan_on(
            &sheet(targets, &format!("  100 % {MALT}"), hops, YEAST),
            SMALL,
        )
    };
    let lines = with(
        "target original 12 P",
        "  24 IBU perle, 8 % alpha at 60 min\n  6 IBU saaz, 4 % alpha at 15 min",
    );
    near(
        lines.source.wort_bitterness.unwrap().ibu(),
        30.0,
        1e-9,
        "lines",
    );
    let open = with(
        "target original 12 P, bitterness 35 IBU",
        "  perle, 8 % alpha at 60 min\n  6 IBU saaz, 4 % alpha at 15 min",
    );
    near(
        open.source.bitterness.unwrap().ibu(),
        35.0,
        1e-9,
        "headline of the beer",
    );
    near(
        open.predicted.bitterness.unwrap().ibu(),
        35.0,
        1e-9,
        "and here",
    );
    let wort = with(
        "target original 12 P, wort bitterness 35 IBU",
        "  perle, 8 % alpha at 60 min\n  6 IBU saaz, 4 % alpha at 15 min",
    );
    near(
        wort.source.wort_bitterness.unwrap().ibu(),
        35.0,
        1e-9,
        "headline of the wort",
    );
    // Yeast and gas leave, so that the beer is a little less than the wort, and more bitter.
    assert!(wort.source.bitterness.unwrap().ibu() > 35.0);
    // Lines against a headline: the lines win, and a tenth apart is remarked on.
    for (headline, remarked) in [(30, false), (32, false), (50, true)] {
        let plan = with(
            &format!("target original 12 P, bitterness {headline} IBU"),
            "  30 IBU perle, 8 % alpha at 60 min",
        );
        near(
            plan.source.wort_bitterness.unwrap().ibu(),
            30.0,
            1e-9,
            "lines win",
        );
        let warned = plan
            .warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::BitternessDisagrees { .. }));
        assert_eq!(warned, remarked, "{headline}");
    }
}

/// Late hops keep g/L of cold wort; bittering falls to nothing and no lower when they alone are too bitter.
#[test]
fn late_hops_keep_their_dose_and_bittering_stops_at_nothing() {
    let text = sheet(
        "target original 12 P",
        &format!("  100 % {MALT}"),
        "  2 IBU perle, 8 % alpha at 60 min\n  180 g/hL saaz, 22 % alpha at 20 min",
        YEAST,
    );
    let plan = plan_on(&text, SMALL);
    // 3.6 kg in 2040 L of wort there, in 10.5 L here.
    near(mass(&plan, "saaz"), 3.6 / 2040.0 * 10.5, 1e-9, "late hop");
    assert!(mass(&plan, "perle") >= 0.0);
    // A plant with a far longer boil-off has a thinner wort on average, so that the same dose is more bitter.
    let hard = plan_on(&text, &SMALL.replace("2 L/h", "40 L/h"));
    assert_eq!(mass(&hard, "perle"), 0.0);
    assert!(
        hard.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::TooBitterWithoutBittering { .. })),
        "{:?}",
        hard.warnings
    );
}

/// A sugar in a hot stand was never in the boil: however long it stands, it thickens no wort in which hops boil.
#[test]
fn a_sugar_in_the_stand_does_not_boil() {
    let with = |timing: &str| {
        let text = sheet(
            "target original 14 P",
            &format!("  360 kg {MALT}"),
            "  30 IBU perle, 8 % alpha at 60 min",
            YEAST,
        )
        .replace(
            "ferment\n",
            &format!("stand 60 min at 80 C\n  40 kg sucrose {timing}\nferment\n"),
        );
        mass(&plan_on(&text, SMALL), "perle")
    };
    near(
        with("for 60 min"),
        with("for 1 min"),
        1e-12,
        "bittering hop",
    );
}

/// Hops in a stand have a figure in both models, and it is a number.
#[test]
fn hops_in_a_stand_have_a_figure_in_both_models() {
    for model in ["tinseth", "kinetic"] {
        let text = sheet(
            "target original 14 P",
            &format!("  100 % {MALT}"),
            "  30 IBU perle, 8 % alpha at 60 min\n  20 g/hL saaz, 4 % alpha at 0 min",
            YEAST,
        )
        .replace(
            "ferment\n",
            "stand 30 min at 85 C\n  100 g/hL cascade, 6 % alpha for 30 min\nferment\n",
        );
        let plan = plan_on(&text, &format!("{SMALL}\n  bitterness {model}"));
        sane(&plan);
        let stand = addition(&plan, "cascade").bitterness.unwrap().ibu();
        assert_eq!(stand > 0.0, model == "kinetic", "{model}: {stand}");
        near(
            plan.predicted.bitterness.unwrap().ibu(),
            plan.source.bitterness.unwrap().ibu(),
            1e-9,
            model,
        );
    }
}
