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

#[allow(
    dead_code,
    reason = "what a recipe gives where it was printed needs no plant to brew on"
)]
mod common;

use common::Arguments;
use std::process::ExitCode;

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let arguments = Arguments::from_command_line()?;
    let job = arguments.job()?;
    let prediction = match &arguments.plant {
        Some(name) => job.on(name).and_then(|brew| brew.predict()),
        None => job.as_written(),
    };
    let prediction = prediction.map_err(|error| error.to_string())?;
    let name = job.recipe().map_or("", |recipe| &recipe.name);
    let printed_on = job.printed_on().map(|plant| plant.name.as_str());
    let place = arguments.plant.as_deref().or(printed_on);
    let place = place.unwrap_or("a brewhouse of its size with usual figures");
    let sheet = prediction.sheet(&arguments.sheet_options());
    Ok(format!("{name} on {place}\n{sheet}"))
}
