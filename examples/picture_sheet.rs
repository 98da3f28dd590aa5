//! A plan as a page of a brewing log with pictures, in one HTML file that needs no network.
//!
//! ```text
//! cargo run --example picture_sheet
//! cargo run --example picture_sheet -- sheet.gyle plant.gyle --to "Stove top" --units us --start 8:30 --out page.html
//! ```
//!
//! The texts together hold a recipe, its plants and a stock; without any the demo is read. `--to` names the plant to
//! brew on, else it is the only one with a batch; `--units metric|us|imperial` and `--start 8:30` are those of its units and its clock. Without
//! `--out` the page goes to `target/picture_sheet.html`.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;
mod picture;

use common::Arguments;
use picture::{PageOptions, sheet};
use std::process::ExitCode;

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let mut out = "target/picture_sheet.html".to_owned();
    let mut options = PageOptions::default();
    let (mut words, mut others) = (std::env::args().skip(1), Vec::new());
    while let Some(word) = words.next() {
        match word.as_str() {
            "--out" => out = words.next().ok_or("--out needs the name of a file")?,
            "--start" => {
                let start = words.next().ok_or("--start needs a time, such as 8:30")?;
                let start = start.parse().map_err(|fault| format!("--start: {fault}"))?;
                options.start = Some(start);
            }
            _ => others.push(word),
        }
    }
    let arguments = Arguments::from_words(others.into_iter())?;
    options.style = arguments.sheet_options().style;
    let html = sheet(&arguments.brew()?, options)?;
    std::fs::write(&out, html).map_err(|fault| format!("cannot write `{out}`: {fault}"))?;
    Ok(format!("wrote {out}\n"))
}
