//! The final gravity: printed, or from a stated attenuation, or from the catalogue.

use super::{MALT, SMALL, YEAST, predicted, sheet};
use crate::brewing::{final_plato, near, original, plan_on};
use wortwright::process::{Assumption, FermentabilityBasis, Prediction, Warning};

fn basis(found: &Prediction) -> (FermentabilityBasis, f64) {
    found
        .assumptions
        .iter()
        .find_map(|a| match &a.what {
            Assumption::MashFermentability { basis, factor, .. } => Some((*basis, *factor)),
            _ => None,
        })
        .unwrap()
}

/// One factor on the mash meets the printed final; else the stated attenuation counts, else the catalogue's.
#[test]
fn the_final_gravity_is_fitted_in_this_order() {
    let with = |targets: &str, yeast: &str| {
        predicted(&sheet(
            &format!("target original 12 P{targets}"),
            &format!("  100 % {MALT}, fermentable 66 %"),
            "  1 g/hL carrageenan at 10 min",
            &format!("  pitch {yeast}"),
        ))
        .unwrap()
    };
    let printed = with(", final 2.4 P", "ale yeast, attenuation 70 %");
    assert_eq!(basis(&printed).0, FermentabilityBasis::PrintedFinal);
    near(
        printed.predicted.final_extract.unwrap().plato(),
        2.4,
        1e-9,
        "printed",
    );
    let stated = with("", "ale yeast, attenuation 70 %");
    assert_eq!(basis(&stated).0, FermentabilityBasis::StatedAttenuation);
    near(
        stated.predicted.final_extract.unwrap().plato(),
        // Of an all-malt wort held at 65 °C; at 66 °C 0.9923 of what falls then falls.
        12.0 - 0.9923 * 12.0 * 0.70,
        2e-3,
        "stated",
    );
    let usual = with("", "farmhouse ale yeast");
    assert_eq!(basis(&usual).0, FermentabilityBasis::CatalogueAttenuation);
    // The catalogue's 82 % for that yeast.
    near(
        usual.predicted.final_extract.unwrap().plato(),
        12.0 - 0.9923 * 12.0 * 0.82,
        2e-3,
        "usual",
    );
    // Out of reach of any fermentability: said, with the nearest.
    let dry = with(", final -6 P", "ale yeast");
    assert!(
        dry.warnings
            .iter()
            .any(|w| matches!(&w.what, Warning::FinalNotExplained { .. }))
    );
    // All of the extract fermented: 12 °P give 6.15 % by mass and a hydrometer near -2.7 °P (Balling, Tabarié).
    let nearest = dry.predicted.final_extract.unwrap().plato();
    assert!((-3.0..-2.3).contains(&nearest), "{nearest}");
}

/// The same factor serves the target: attenuation is of the wort, so the home plant ends at the same gravity.
#[test]
fn the_factor_of_the_source_serves_the_target() {
    let text = sheet(
        "target original 12 P, final 2.4 P",
        &format!("  90 % {MALT}, fermentable 66 %"),
        "  10 % sucrose at 10 min",
        YEAST,
    );
    let plan = plan_on(&text, SMALL);
    near(final_plato(&plan), 2.4, 1e-9, "final");
    near(original(&plan), 12.0, 1e-9, "original");
}
