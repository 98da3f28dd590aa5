//! What the examples share: command line, reading of texts, and how faults are told.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use wortwright::catalogue::Catalogue;
use wortwright::diagnostic::{Error, Source, render};
use wortwright::notation::{Reading, read};
use wortwright::quantity::UnitSystem;
use wortwright::sheet::SheetOptions;
use wortwright::wording::Style;

/// What the command line says.
#[derive(Debug, Default)]
pub(crate) struct Arguments {
    pub(crate) files: Vec<String>,
    pub(crate) plant: Option<String>,
    pub(crate) units: Option<UnitSystem>,
}

impl Arguments {
    /// `FILE.gyle … [--to PLANT | PLANT] [--units metric|us|imperial]`: what names no file and is no option is the plant.
    pub(crate) fn from_command_line() -> Result<Self, String> {
        let mut found = Self::default();
        let mut words = std::env::args().skip(1);
        while let Some(word) = words.next() {
            match word.as_str() {
                "--to" => found.plant = Some(words.next().ok_or("--to needs the name of a plant")?),
                "--units" => {
                    let unit = words.next().unwrap_or_default();
                    found.units = Some(match unit.as_str() {
                        "metric" => UnitSystem::Metric,
                        "us" => UnitSystem::Us,
                        "imperial" => UnitSystem::Imperial,
                        _ => {
                            return Err(format!(
                                "--units takes metric, us or imperial, found `{unit}`"
                            ));
                        }
                    });
                }
                _ if word.starts_with("--") => {
                    return Err(format!(
                        "no option is called `{word}`; there are --to and --units"
                    ));
                }
                _ if is_file(&word) => found.files.push(word),
                _ if found.plant.is_none() => found.plant = Some(word),
                _ => {
                    return Err(format!(
                        "`{word}` is no file, and the plant is named already"
                    ));
                }
            }
        }
        Ok(found)
    }

    pub(crate) fn sheet_options(&self) -> SheetOptions {
        match self.units {
            Some(units) => SheetOptions::default().with_style(Style::customary(units)),
            None => SheetOptions::default(),
        }
    }

    /// The named files with their texts, or the demo.
    pub(crate) fn texts(&self) -> Result<Vec<(String, String)>, String> {
        if self.files.is_empty() {
            let demo = |name: &str, text: &str| (name.to_owned(), text.to_owned());
            return Ok(vec![
                demo(
                    "saltmarsh-lantern.gyle",
                    include_str!("../data/saltmarsh-lantern.gyle"),
                ),
                demo("stove-top.gyle", include_str!("../data/stove-top.gyle")),
            ]);
        }
        self.files
            .iter()
            .map(|name| {
                let bytes =
                    fs::read(name).map_err(|fault| format!("cannot read `{name}`: {fault}"))?;
                let text = String::from_utf8(bytes)
                    .map_err(|fault| format!("`{name}` is not UTF-8 text: {fault}"))?;
                Ok((name.clone(), text))
            })
            .collect()
    }
}

/// What is there is meant as a file, and so is a name that ends in `.gyle` even if nothing is there.
fn is_file(word: &str) -> bool {
    let path = Path::new(word);
    path.exists()
        || path
            .extension()
            .is_some_and(|e| e.eq_ignore_ascii_case("gyle"))
}

/// Reads the texts, shows what was found in them, and hands the reading on if it can be used.
pub(crate) fn with_reading(
    texts: &[(String, String)],
    job: impl FnOnce(&Reading<'_>) -> Result<String, String>,
) -> Result<String, String> {
    let sources: Vec<_> = texts
        .iter()
        .map(|(name, text)| Source { name, text })
        .collect();
    let reading = read(&sources);
    for diagnostic in &reading.diagnostics {
        eprint!("{}", render(diagnostic, &sources));
    }
    if reading.is_usable() {
        job(&reading)
    } else {
        Err("the texts cannot be used until the errors above are mended".to_owned())
    }
}

/// An error of a call in words.
pub(crate) fn told(error: &Error) -> String {
    match error.help() {
        Some(help) => format!("{error}\n  help: {help}"),
        None => error.to_string(),
    }
}

/// The recipe of a reading.
pub(crate) fn recipe<'a>(
    reading: &'a Reading<'_>,
) -> Result<&'a wortwright::recipe::Recipe, String> {
    reading.recipe.as_ref().ok_or_else(|| {
        "none of the texts holds a recipe\n  help: begin one with a line such as `recipe Saltmarsh Lantern`"
            .to_owned()
    })
}

/// The built-in catalogue with the ingredients that the texts describe.
pub(crate) fn catalogue(reading: &Reading<'_>) -> Catalogue {
    Catalogue::builtin().with(reading.ingredients.iter().cloned())
}

/// Prints the answer, or the fault on standard error with exit code 1.
pub(crate) fn finish(answer: Result<String, String>) -> ExitCode {
    match answer {
        // A reader that has seen enough and closes the pipe is no fault to speak of.
        Ok(text) => match std::io::stdout().write_all(text.as_bytes()) {
            Ok(()) => ExitCode::SUCCESS,
            Err(_) => ExitCode::FAILURE,
        },
        Err(fault) => {
            eprintln!("error: {fault}");
            ExitCode::FAILURE
        }
    }
}
