//! How a printed sheet becomes amounts. Here stands what the files below share.

mod compared;
mod final_gravity;
mod hops;
mod impossible;
mod packaging;
mod printed_lines;
mod yields;

use crate::brewing::{BIG, Job, job};
use wortwright::diagnostic::Error;
use wortwright::process::Prediction;
use wortwright_tests::fixtures::{changed, fixture};

const MALT: &str = "pale ale malt, extract 80 % dry, moisture 5 %";
const SMALL: &str = "  batch 10 L into fermenter\n  lauter bag\n  absorption 0.7 L/kg\n  evaporation 2 L/h\n  kettle loss 0.5 L";

/// ICUMSA at 20 °C, kg/L (source in the demo's test).
fn density(w: f64) -> f64 {
    (998.2031
        + w * (385.1761
            + w * (135.3705 + w * (40.9299 + w * (-3.9643 + w * (13.4853 - 17.2890 * w))))))
        / 1000.0
}

/// Extract of the plain source's wort: 20 hL in the fermenter and 40 L left in the kettle.
fn extract_kg(plato: f64) -> f64 {
    2040.0 * density(plato / 100.0) * plato / 100.0
}

/// A sheet, its plain source plant and a small one.
fn on_small(text: &str) -> Job {
    job(
        &format!("{text}\n{BIG}\nbrewhouse Small\n{SMALL}\n"),
        "Small",
    )
}

fn predicted(text: &str) -> Result<Prediction, Error> {
    on_small(text).built()?.as_written()
}

fn sheet(targets: &str, fermentables: &str, hops: &str, rest: &str) -> String {
    changed(
        &fixture("inverse/sheet"),
        &[
            ("# targets", targets),
            ("  # fermentables", fermentables),
            ("  # hops", hops),
            ("  # fermentation", rest),
        ],
    )
}

const YEAST: &str = "  pitch ale yeast, attenuation 78 %";
