//! A line of a log as a reading of the day.

use super::{Advice, DayReading, Shown};
use crate::diagnostic::{Error, ErrorKind};
use crate::quantity::{Extract, Temperature, Volume, Written};
use crate::recipe::{Instrument, LogEntry, LogEvent, WortReading};
use crate::scale::Plan;
use crate::science::evaporation::cold_volume;
use crate::science::souring::as_read;

impl Plan {
    /// What to do about a line of the log: the wort before the boil, after it or in the fermenter, the pH of the mash.
    ///
    /// A volume that was read hot is converted to 20 °C.
    ///
    /// # Errors
    ///
    /// `Incomplete` for a line that leaves nothing to decide, such as a reading of the beer; else as [`Plan::advise`].
    ///
    /// ```
    /// use wortwright::{Job, recipe::{LogEntry, LogEvent, WortReading}, speech::Speaks};
    /// # fn main() -> Result<(), wortwright::Error> {
    /// let text = "recipe Plain\nbatch 20 L into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\nboil 60 min\n\
    ///     brewhouse Kitchen\n  batch 10 L into fermenter\n";
    /// let plan = Job::read([("plain", text)])?.on("Kitchen")?.plan()?;
    /// let weak = WortReading::of_gravity("9 P".parse()?);
    /// let advice = plan.advise_log(&LogEntry::undated(LogEvent::BeforeBoil(weak)))?;
    /// assert_eq!(advice.actions[0].action.code(), "measure_first"); // how much of it there is decides what a weak wort needs
    /// # Ok(())
    /// # }
    /// ```
    pub fn advise_log(&self, line: &LogEntry) -> Result<Advice, Error> {
        let worked = &self.brews().target.brewed;
        let reading = match &line.what {
            LogEvent::BeforeBoil(wort) => {
                let planned = as_read(worked.run.wort, worked.lactic_acid_kg).real_extract();
                let (volume, shown) = measured(wort, planned)?;
                DayReading::BeforeBoil { volume, shown }
            }
            LogEvent::AfterBoil(wort) => {
                let planned = as_read(worked.boiled.wort, worked.lactic_acid_kg).real_extract();
                let (volume, shown) = measured(wort, planned)?;
                DayReading::AfterBoil { volume, shown }
            }
            LogEvent::Pitched(pitched) => DayReading::InFermenter {
                volume: Some(pitched.volume.value()),
                shown: Some(shown(
                    pitched.shown,
                    pitched.instrument,
                    pitched.temperature,
                )),
            },
            LogEvent::MashPh(measured) => DayReading::MashPh {
                measured: measured.value(),
                wanted: None,
            },
            _ => {
                return Err(Error::new(
                    ErrorKind::Incomplete,
                    "expected a reading that the day can still act on",
                )
                .with_help(
                    "give the `before boil`, `after boil`, `pitched` or `mash pH` line of the log",
                ));
            }
        };
        self.advise(&reading)
    }
}

fn shown(
    value: Written<Extract>,
    instrument: Instrument,
    at: Option<Written<Temperature>>,
) -> Shown {
    let shown = match instrument {
        Instrument::Hydrometer => Shown::hydrometer(value.value()),
        Instrument::Refractometer => Shown::refractometer(value.value()),
    };
    match at {
        Some(at) => shown.at(at.value()),
        None => shown,
    }
}

/// Volume at 20 °C and gravity of a wort, the volume by the planned gravity where none was read.
fn measured(
    wort: &WortReading,
    planned: Extract,
) -> Result<(Option<Volume>, Option<Shown>), Error> {
    let shown = wort
        .shown
        .map(|value| shown(value, wort.instrument, wort.temperature));
    let extract = match shown {
        Some(shown) => shown.corrected()?,
        None => planned,
    };
    let volume = match (wort.volume, wort.volume_at) {
        (Some(volume), Some(at)) => Some(cold_volume(volume.value(), extract, at.value())?),
        (volume, _) => volume.map(|volume| volume.value()),
    };
    Ok((volume, shown))
}
