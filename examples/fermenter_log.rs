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
use wortwright::correct::{Basis, Ledger, LogFault, StepKind, ledger};
use wortwright::diagnostic::{Source, render};
use wortwright::notation::{Document, read};
use wortwright::quantity::{UnitSystem, uom::si::time::day};
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
    let mut words = std::env::args().skip(1);
    let (name, more) = (words.next(), words.next());
    if let Some(word) = more.or_else(|| name.clone().filter(|name| name.starts_with("--"))) {
        return Err(format!(
            "one file with a log is all this takes, found `{word}`"
        ));
    }
    let (name, text) = match name {
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
    // A line that was not understood is missing, and every figure after it would be wrong.
    if !reading.is_usable() {
        return Err("mend the text first; no figure is worked out from a part of it".to_owned());
    }
    let log = reading
        .log
        .as_ref()
        .ok_or("the text holds no log\n  help: write a block that begins with `log`")?;
    let ledger = ledger(log, &catalogue)
        .map_err(|fault| placed(&fault, &reading.documents, &text, &name))?;
    told(&ledger).map_err(|fault| fault.to_string())
}

/// A fault of the log with the line of the text that it stands in.
fn placed(fault: &LogFault, documents: &[Document<'_>], text: &str, name: &str) -> String {
    let log = documents.first().map(|document| document.only("log"));
    let block = log.as_ref().and_then(|log| log.lines().next());
    let line = block.and_then(|block| block.lines().nth(fault.entry).or(Some(block)));
    let place = line.map_or_else(String::new, |line| {
        let (span, position) = (line.span(), line.span().position(text));
        let written = span.slice(text).trim();
        format!("\n  {name}:{}: {written}", position.line)
    });
    format!("{fault}{place}\n  help: {}", fault.help())
}

fn hundredths(days: f64) -> f64 {
    (100.0 * days).round() / 100.0
}

fn told(ledger: &Ledger) -> Result<String, std::fmt::Error> {
    let style = Style::customary(UnitSystem::Metric);
    let mut text = String::from("In the fermenter after each line of the log, at 20 °C:\n");
    for step in &ledger.steps {
        let on = step.day.map_or_else(String::new, |on| {
            format!("day {}", hundredths(on.get::<day>()))
        });
        let what = match step.what {
            StepKind::Pitched => "pitched",
            StepKind::Reading => "read",
            StepKind::Drawn => "drawn",
            _ => "added",
        };
        writeln!(
            text,
            "  {on:8}{what:9}{:>9}  {:>8}  {:.3}",
            style.volume(step.volume),
            style.gravity(step.shown),
            step.shown_gravity.ratio()
        )?;
        if let (Some(name), Some(extract), Some(ethanol)) =
            (&step.name, step.brought_extract, step.gives_ethanol)
        {
            writeln!(
                text,
                "                   {name}: {} of extract, {} of ethanol once fermented",
                style.mass(extract),
                style.mass(ethanol)
            )?;
        }
    }
    let beer = &ledger.alcohol;
    let how = match ledger.basis {
        Basis::Measured => "by the last reading",
        _ => "predicted: no reading after what went in last",
    };
    writeln!(
        text,
        "\nAlcohol: {:.1} % by volume, give or take {:.1} ({how}); {:.1} % by mass",
        beer.by_volume.percent(),
        beer.uncertainty.percent(),
        beer.by_mass.percent()
    )?;
    writeln!(
        text,
        "As if brewed from one wort of {:.1} °P; {:.1} °P of extract are left (a hydrometer shows {:.1} °P)",
        beer.equivalent_original.plato(),
        beer.real_extract.plato(),
        beer.apparent_extract.plato()
    )?;
    writeln!(
        text,
        "Attenuation: {:.0} % apparent, {:.0} % real; {:.0} kcal in 100 mL",
        beer.apparent_attenuation.percent(),
        beer.real_attenuation.percent(),
        beer.energy_kcal_per_100_ml
    )?;
    if !ledger.shortcuts.is_empty() {
        writeln!(text, "\nHandbooks' short ways:")?;
    }
    for shortcut in &ledger.shortcuts {
        writeln!(text, "  {}", shortcut.text())?;
    }
    if !(ledger.remarks.is_empty() && ledger.assumptions.is_empty()) {
        writeln!(text, "\nTaken for granted:")?;
    }
    for assumption in &ledger.assumptions {
        writeln!(text, "  {}", assumption.text(style))?;
    }
    for remark in &ledger.remarks {
        writeln!(text, "  {}", remark.text(style))?;
    }
    Ok(text)
}
