//! The brewing day of a log beside its fermenter: its worts are worts, and what is pitched was in the kettle.

use super::events::sight;
use super::fault::{Fault, LogFault};
use super::run::{Run, Settings, wort};
use crate::inverse::STRONGEST_WORT_PLATO;
use crate::quantity::{Extract, in_litres};
use crate::recipe::{Log, LogEvent, WortReading};
use crate::science::evaporation::cold_volume;
use crate::science::liquid::Liquid;
use crate::speech::shortest;

/// The extract of a wort as read, a part of it, one sigma: of a volume (1.5 %, its marks 3 %) and of a gravity (2 %), rows of
/// `tests/reference/uncertainty.csv`; and how many of them two such may be apart before a log is refused (rule of the crate).
const EXTRACT: f64 = 0.039;
const SIGMAS: f64 = 3.0;

/// Refuses a syrup, and a log in which more extract is pitched than there was after the boil, by more than readings may be off.
pub(super) fn check(log: &Log, run: &Run<'_>, settings: Settings) -> Result<(), LogFault> {
    let most_apart = 1.0 + SIGMAS * EXTRACT.hypot(EXTRACT);
    let mut boiled_kg = None;
    for (entry, (line, after)) in log.entries.iter().zip(&run.after).enumerate() {
        match &line.what {
            LogEvent::FirstWort(reading) | LogEvent::BeforeBoil(reading) => {
                gravity(entry, reading, settings)?;
            }
            LogEvent::AfterBoil(reading) => {
                let extract = gravity(entry, reading, settings)?;
                boiled_kg = extract.and_then(|extract| extract_kg(reading, extract));
            }
            LogEvent::Pitched(_) => {
                let pitched_kg = after.held.liquid.extract_kg;
                if let Some(boiled_kg) = boiled_kg
                    && pitched_kg > boiled_kg * most_apart
                {
                    let fault = Fault::MoreThanBoiled {
                        pitched_kg,
                        boiled_kg,
                    };
                    return Err(LogFault::new(entry, fault));
                }
            }
            _ => {}
        }
    }
    Ok(())
}

/// Extract of a wort as read, which is no syrup.
fn gravity(
    entry: usize,
    reading: &WortReading,
    settings: Settings,
) -> Result<Option<Extract>, LogFault> {
    let Some(shown) = &reading.shown else {
        return Ok(None);
    };
    let sight = sight(shown, reading.instrument, reading.temperature.as_ref());
    let extract = wort(&sight, settings).map_err(|error| LogFault::of(entry, &error))?;
    if (0.0..=STRONGEST_WORT_PLATO).contains(&extract.plato()) {
        return Ok(Some(extract));
    }
    let message = format!(
        "expected the gravity of a wort, from 0 to {STRONGEST_WORT_PLATO} °P, found {} °P",
        shortest(extract.plato(), 2)
    );
    let help = "check the figure and its unit; a gravity is written `1.050` or `12.4 P`";
    let help = Some(help.to_owned());
    Err(LogFault::new(entry, Fault::Figure { message, help }))
}

/// Extract of a wort of which the volume was read too.
fn extract_kg(reading: &WortReading, extract: Extract) -> Option<f64> {
    let read = reading.volume.as_ref()?.value();
    let cold = match &reading.volume_at {
        Some(at) => cold_volume(read, extract, at.value()).ok()?,
        None => read,
    };
    Some(Liquid::wort_of(in_litres(cold), extract.plato() / 100.0).extract_kg)
}
