//! The true alcohol of a beer to which something was added on the way, from its log.
//!
//! ```text
//! cargo run --example fermenter_log
//! cargo run --example fermenter_log -- log.gyle
//! ```
//!
//! Without a text the demo's log is followed.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

use std::fmt::Write as _;
use std::fs;
use std::process::ExitCode;
use wortwright::catalogue::Catalogue;
use wortwright::correct::{Basis, Ledger, ledger};
use wortwright::diagnostic::{Source, render};
use wortwright::notation::read;
use wortwright::quantity::UnitSystem;
use wortwright::wording::Style;

fn main() -> ExitCode {
    match run() {
        Ok(text) => {
            print!("{text}");
            ExitCode::SUCCESS
        }
        Err(fault) => {
            eprintln!("error: {fault}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<String, String> {
    let (name, text) = match std::env::args().nth(1) {
        Some(name) => {
            let text = fs::read_to_string(&name)
                .map_err(|fault| format!("cannot read `{name}`: {fault}"))?;
            (name, text)
        }
        None => (
            "stove-top-log.gyle".to_owned(),
            include_str!("data/stove-top-log.gyle").to_owned(),
        ),
    };
    let sources = [Source::new(&name, &text)];
    let reading = read(&sources);
    for diagnostic in &reading.diagnostics {
        eprint!("{}", render(diagnostic, &sources));
    }
    let catalogue = Catalogue::builtin().with(reading.ingredients.iter().cloned());
    let log = reading.log.as_ref().ok_or("the text holds no log")?;
    let ledger =
        ledger(log, &catalogue).map_err(|fault| format!("{fault}\n  help: {}", fault.help()))?;
    told(&ledger).map_err(|fault| fault.to_string())
}

fn told(ledger: &Ledger) -> Result<String, std::fmt::Error> {
    let style = Style::customary(UnitSystem::Metric);
    let mut text = String::new();
    for step in &ledger.steps {
        writeln!(text, "{}", step.text(style))?;
    }
    let beer = &ledger.alcohol;
    let how = match ledger.basis {
        Basis::Measured => "measured",
        _ => "predicted",
    };
    writeln!(
        text,
        "\nalcohol {:.2} % ± {:.2} by volume ({how}), {:.2} % by mass",
        beer.by_volume.percent(),
        beer.uncertainty.percent(),
        beer.by_mass.percent()
    )?;
    writeln!(
        text,
        "as if brewed from one wort of {:.2} °P; real extract {:.2} °P; {:.0} kcal in 100 mL",
        beer.equivalent_original.plato(),
        beer.real_extract.plato(),
        beer.energy_kcal_per_100_ml
    )?;
    for shortcut in &ledger.shortcuts {
        writeln!(text, "{}", shortcut.text())?;
    }
    for remark in &ledger.remarks {
        writeln!(text, "note: {}", remark.text(style))?;
    }
    Ok(text)
}
