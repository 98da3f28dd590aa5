//! A plan as a page of a brewing log with pictures, in one HTML file that needs no network.
//!
//! ```text
//! cargo run --release --example picture_sheet
//! cargo run --release --example picture_sheet -- sheet.gyle plant.gyle --to "Stove top" --out page.html
//! ```
//!
//! The texts together hold a recipe, its plants and a stock; without any the demo is read. `--to` names the plant to
//! brew on, else it is the first one with a batch. Without `--out` the page goes to `target/picture_sheet.html`.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;
mod picture;

use common::{Arguments, told};
use picture::{Brewing, Offer, page};
use std::process::ExitCode;
use wortwright::notation::Reading;
use wortwright::recipe::{Brewhouse, Recipe};
use wortwright::scale::{ScaleOptions, scale};
use wortwright::substitute::{Proposals, SubstituteOptions, propose};

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let mut arguments = Arguments::default();
    let mut out = "target/picture_sheet.html".to_owned();
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        match word.as_str() {
            "--to" => arguments.plant = Some(words.next().ok_or("--to needs the name of a plant")?),
            "--out" => out = words.next().ok_or("--out needs the name of a file")?,
            _ if word.starts_with("--") => return Err(format!("no option is called `{word}`")),
            _ => arguments.files.push(word),
        }
    }
    let html = common::with_reading(&arguments.texts()?, |reading| {
        sheet(reading, arguments.plant.as_deref())
    })?;
    std::fs::write(&out, html).map_err(|fault| format!("cannot write `{out}`: {fault}"))?;
    Ok(format!("wrote {out}\n"))
}

fn sheet(reading: &Reading<'_>, plant: Option<&str>) -> Result<String, String> {
    let recipe = common::recipe(reading)?;
    let plants = &reading.brewhouses;
    let source = recipe.plant_among(plants).map_err(|e| told(&e))?;
    let target = match plant {
        Some(name) => Brewhouse::named(name, plants).map_err(|e| told(&e))?,
        None => plants
            .iter()
            .find(|plant| plant.batch.is_some())
            .ok_or("no plant has a batch to brew")?,
    };
    let catalogue = common::catalogue(reading);
    let stock = &reading.stock;
    let options = ScaleOptions::default()
        .with_source(source.cloned())
        .with_stock(stock.clone());
    let scaled = |recipe: &Recipe| scale(recipe, target, &catalogue, &options);
    let plan = scaled(recipe).map_err(|e| told(&e))?;
    let wanted = SubstituteOptions::default();
    let found =
        propose(recipe, source, target, &[], stock, &catalogue, &wanted).map_err(|e| told(&e))?;
    let mut letters = ('A'..='Z').map(String::from);
    let offer = |found: Proposals| Offer {
        marks: letters.by_ref().take(found.proposals.len()).collect(),
        plans: found
            .proposals
            .iter()
            .map(|proposal| {
                let swapped = recipe.with_swaps(std::slice::from_ref(&proposal.swap));
                scaled(&swapped.ok()?).ok()
            })
            .collect(),
        found,
    };
    let offers: Vec<_> = found.into_iter().map(offer).collect();
    page(&Brewing {
        plan: &plan,
        offers: &offers,
        catalogue: &catalogue,
        style: target.style(),
    })
}
