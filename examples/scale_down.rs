//! A printed recipe worked out for a small plant, as a brew sheet.
//!
//! ```text
//! cargo run --example scale_down
//! cargo run --example scale_down -- sheet.gyle plant.gyle "Stove top" --units us
//! ```
//!
//! Arguments are the texts, which together hold one recipe and its plants, then the plant to brew on (`--to PLANT`, or
//! the one argument that is no file; without it the only plant that has a batch), then `--units metric|us|imperial`.
//! Without a text the demo is scaled down to the stove top.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

mod common;

use common::Arguments;
use std::process::ExitCode;
use wortwright::notation::Reading;
use wortwright::recipe::Brewhouse;
use wortwright::scale::{ScaleOptions, scale};

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let arguments = Arguments::from_command_line()?;
    let texts = arguments.texts()?;
    common::with_reading(&texts, |reading| sheet(reading, &arguments))
}

fn sheet(reading: &Reading<'_>, arguments: &Arguments) -> Result<String, String> {
    let recipe = common::recipe(reading)?;
    let plants = &reading.brewhouses;
    let source = recipe.plant_among(plants).map_err(|e| common::told(&e))?;
    let target = target(plants, arguments.plant.as_deref())?;
    let options = ScaleOptions::default()
        .with_source(source.cloned())
        .with_stock(reading.stock.clone());
    let catalogue = common::catalogue(reading);
    let plan = scale(recipe, target, &catalogue, &options).map_err(|error| common::told(&error))?;
    Ok(plan.sheet(&arguments.sheet_options().with_catalogue(catalogue)))
}

/// The named plant, else the only one that has a batch.
fn target<'a>(plants: &'a [Brewhouse], name: Option<&str>) -> Result<&'a Brewhouse, String> {
    if let Some(name) = name {
        return Brewhouse::named(name, plants).map_err(|error| common::told(&error));
    }
    let with_batch: Vec<_> = plants
        .iter()
        .filter(|plant| plant.batch.is_some())
        .collect();
    match with_batch.as_slice() {
        [only] => Ok(only),
        [] => Err("no plant has a batch to brew\n  help: add a `brewhouse` block with a line such as `batch 8 L into fermenter`".to_owned()),
        several => {
            let names: Vec<_> = several.iter().map(|plant| plant.name.as_str()).collect();
            Err(format!(
                "several plants could brew this\n  help: choose one with --to: `{}`",
                names.join("`, `")
            ))
        }
    }
}
