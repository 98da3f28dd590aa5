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

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let arguments = Arguments::from_command_line()?;
    let brew = arguments.brew()?;
    let plan = brew.plan().map_err(|error| error.to_string())?;
    Ok(plan.sheet(&arguments.sheet_options()))
}
