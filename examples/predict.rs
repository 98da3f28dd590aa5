//! What the model gives for a recipe, beside what its sheet prints.
//!
//! ```text
//! cargo run --example predict
//! cargo run --example predict -- sheet.gyle --units imperial
//! ```
//!
//! Arguments are the texts, then the plant (`--to PLANT`, or the one argument that is no file; without it the plant that
//! the recipe was brewed on), then `--units metric|us|imperial`. Without a text the demo is predicted.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

mod common;

use common::Arguments;
use std::process::ExitCode;
use wortwright::notation::Reading;
use wortwright::process::predict;
use wortwright::recipe::Brewhouse;

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let arguments = Arguments::from_command_line()?;
    let texts = arguments.texts()?;
    common::with_reading(&texts, |reading| prediction(reading, &arguments))
}

fn prediction(reading: &Reading<'_>, arguments: &Arguments) -> Result<String, String> {
    let recipe = common::recipe(reading)?;
    let plants = &reading.brewhouses;
    let plant = match &arguments.plant {
        Some(name) => Brewhouse::named(name, plants).map(Some),
        None => recipe.plant_among(plants),
    }
    .map_err(|error| common::told(&error))?;
    let prediction = predict(recipe, plant, &common::catalogue(reading))
        .map_err(|error| common::told(&error))?;
    let place = plant.map_or("a commercial plant with usual figures", |plant| &plant.name);
    Ok(format!(
        "{} on {place}\n{}",
        recipe.name,
        prediction.sheet(&arguments.sheet_options())
    ))
}
