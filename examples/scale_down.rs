//! A printed recipe calculated for a small plant, as a brew sheet.
//!
//! ```text
//! cargo run --example scale_down
//! cargo run --example scale_down -- sheet.gyle plant.gyle "Stove top" --units us
//! ```
//!
//! Arguments are the texts, which together hold one recipe and its plants, then the plant to brew on (`--to PLANT`, or
//! the one argument that is no file; without it the only plant that has a batch), then `--units metric|us|imperial`,
//! `--brief` for the pages of the day alone, and `--start 8:30` for its clock. Without a text the demo is scaled down to
//! the stove top. What the stock lacks is replaced by its best substitute.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;

use common::Arguments;
use std::process::ExitCode;
use wortwright::sheet::{SheetLength, SheetOptions};

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let mut sheet = SheetOptions::default();
    let (mut words, mut others) = (std::env::args().skip(1), Vec::new());
    while let Some(word) = words.next() {
        match word.as_str() {
            "--brief" => sheet.length = SheetLength::Brief,
            "--start" => {
                let start = words.next().ok_or("--start needs a time, such as 8:30")?;
                let start = start.parse().map_err(|fault| format!("--start: {fault}"))?;
                sheet.start = Some(start);
            }
            _ => others.push(word),
        }
    }
    let arguments = Arguments::from_words(others.into_iter())?;
    sheet.style = arguments.sheet_options().style;
    let brew = arguments.brew()?;
    let style = sheet.style.unwrap_or_else(|| brew.brewhouse().style());
    let substitutes = brew.substitutes().map_err(|error| error.to_string())?;
    sheet.substitutes = substitutes.best(style);
    let plan = substitutes.taken().and_then(|brew| brew.plan());
    Ok(plan.map_err(|error| error.to_string())?.sheet(&sheet))
}
