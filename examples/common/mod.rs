//! What the examples share: command line, reading of texts, and how faults are told.

use std::fs;
use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use wortwright::job::{Brew, Job};
use wortwright::quantity::UnitSystem;
use wortwright::sheet::SheetOptions;
use wortwright::speech::{Speaks as _, Style};

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
        Self::from_words(std::env::args().skip(1))
    }

    /// The same from words that are given.
    pub(crate) fn from_words(mut words: impl Iterator<Item = String>) -> Result<Self, String> {
        let mut found = Self::default();
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
                        "no option is called `{word}`; the options are --to and --units"
                    ));
                }
                _ if is_file(&word) => found.files.push(word),
                _ if found.plant.is_none() => found.plant = Some(word),
                _ => {
                    return Err(format!("no file `{word}`, and the plant is named already"));
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

    /// The job of the named files, or of the demo; warnings are shown, and what was assumed in reading.
    pub(crate) fn job(&self) -> Result<Job, String> {
        let job = Job::read(self.texts()?).map_err(|error| error.to_string())?;
        eprint!("{}", job.warnings());
        for note in job.notes() {
            eprintln!("note: {}", note.text(Style::default()));
        }
        Ok(job)
    }

    /// The job on the named plant, else on the only one that has a batch.
    pub(crate) fn brew(&self) -> Result<Brew, String> {
        let job = self.job()?;
        let brew = match &self.plant {
            Some(name) => job.on(name),
            None => job.only_plant().and_then(|plant| job.on(&plant.name)),
        };
        brew.map_err(|error| error.to_string())
    }

    /// The named files with their texts, or the demo.
    fn texts(&self) -> Result<Vec<(String, String)>, String> {
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

/// Prints the answer, or the fault on standard error with exit code 1.
pub(crate) fn finish(answer: Result<String, String>) -> ExitCode {
    match answer {
        // A reader that has seen enough and closes the pipe is no fault to speak of.
        Ok(text) => match std::io::stdout().write_all(text.as_bytes()) {
            Ok(()) => ExitCode::SUCCESS,
            Err(_) => ExitCode::FAILURE,
        },
        Err(fault) => {
            let mark = if fault.starts_with("error") || fault.starts_with("warning") {
                ""
            } else {
                "error: "
            };
            eprintln!("{mark}{fault}");
            ExitCode::FAILURE
        }
    }
}
