//! A plan as a page of a brewing log with pictures, in one HTML file that needs no network.
//!
//! ```text
//! cargo run --example picture_sheet
//! cargo run --example picture_sheet -- sheet.gyle plant.gyle --to "Stove top" --out page.html
//! ```
//!
//! The texts together hold a recipe, its plants and a stock; without any the demo is read. `--to` names the plant to
//! brew on, else it is the only one with a batch. Without `--out` the page goes to `target/picture_sheet.html`.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;
mod picture;

use common::Arguments;
use picture::sheet;
use std::process::ExitCode;

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
    let html = sheet(&arguments.brew()?)?;
    std::fs::write(&out, html).map_err(|fault| format!("cannot write `{out}`: {fault}"))?;
    Ok(format!("wrote {out}\n"))
}
