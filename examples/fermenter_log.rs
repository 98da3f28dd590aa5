//! The true alcohol of a beer to which something was added on the way, from its log.
//!
//! ```text
//! cargo run --example fermenter_log
//! cargo run --example fermenter_log -- log.gyle
//! ```
//!
//! Without a text the demo's log is followed.
#![allow(missing_docs, clippy::print_stdout, clippy::print_stderr)]

#[allow(dead_code, reason = "this example has options of its own")]
mod common;

use common::Arguments;
use std::fmt::Write as _;
use std::process::ExitCode;
use wortwright::job::Job;
use wortwright::ledger::{Basis, Ledger, StepKind};
use wortwright::quantity::{UnitSystem, uom::si::time::day};
use wortwright::speech::{Speaks, Style};

const DEMO: (&str, &str) = (
    "stove-top-log.gyle",
    include_str!("data/stove-top-log.gyle"),
);

fn main() -> ExitCode {
    common::finish(run())
}

fn run() -> Result<String, String> {
    let files: Vec<_> = std::env::args().skip(1).collect();
    if let Some(word) = files.iter().find(|word| word.starts_with("--")) {
        return Err(format!(
            "files with a log are all this takes, found `{word}`"
        ));
    }
    let job = if files.is_empty() {
        Job::read([DEMO]).map_err(|error| error.to_string())?
    } else {
        let arguments = Arguments {
            files,
            ..Arguments::default()
        };
        arguments.job()?
    };
    let ledgers: Result<Vec<_>, _> = job.ledgers().collect();
    let ledgers = ledgers.map_err(|error| error.to_string())?;
    if ledgers.is_empty() {
        return Err(
            "the texts hold no log\n  help: write a block that begins with `log`".to_owned(),
        );
    }
    let told: Result<Vec<_>, _> = ledgers.iter().map(told).collect();
    told.map(|told| told.join("\n"))
        .map_err(|fault| fault.to_string())
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
        "\nAlcohol: {:.1} % by volume ± {:.1} ({how}); {:.1} % by mass",
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
        writeln!(text, "  {}", shortcut.text(style))?;
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
