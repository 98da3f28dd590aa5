//! A log played through, line by line.

use super::events::{Brings, Event, Line, Matter, Measure, SCALE_C, Sight};
use super::fault::{Fault, LogFault};
use super::noise::beer_noise_plato;
use crate::diagnostic::Error;
use crate::inverse::{STRONGEST_WORT_PLATO, TRACE_G_L, what_to_write};
use crate::process::Fermenting;
use crate::quantity::{Attenuation, Extract, Temperature};
use crate::recipe::{Instrument, LogEntry, LogEvent};
use crate::science::instruments::{
    Refracted, WortCorrection, hydrometer, refractometer_at_20, refractometer_beer,
    refractometer_wort,
};
use crate::science::liquid::{Fall, Liquid};
use crate::speech::shortest;

/// A reading may lie this far beyond the possible and still count as the nearest possible one, °P: two readings of ±0.001.
const SLACK_PLATO: f64 = 0.5;

/// What a run takes for granted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Settings {
    pub(super) correction: WortCorrection,
    /// Of the wort alone, where no reading tells.
    pub(super) wort_attenuation: f64,
    pub(super) strictness: Strictness,
}

/// Whether an impossible reading ends the run or counts as the nearest possible one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Strictness {
    Strict,
    Lenient,
}

/// What came of a log.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run<'a> {
    /// One for each line.
    pub(super) after: Vec<After<'a>>,
    /// The last line that measured.
    pub(super) measured_at: Option<usize>,
    /// Something that can ferment went in after it, or nothing was measured.
    pub(super) open: bool,
    /// Lines whose refractometer reading lies outside the published fit.
    pub(super) bridged: Vec<usize>,
    /// Readings that no fermentation can have given, and that lie near enough to count as the nearest it can.
    pub(super) moved: Vec<Moved>,
}

/// A reading that counts as another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Moved {
    pub(super) entry: usize,
    pub(super) read: Extract,
    pub(super) counted: Extract,
}

/// A line of the log, and the vessel after it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct After<'a> {
    pub(super) entry: &'a LogEntry,
    pub(super) held: Fermenting,
    /// What the line brought; nothing for one that brings nothing.
    pub(super) brought: Fermenting,
}

impl Run<'_> {
    /// The beer as measured, or, where the last word is not a reading, as predicted.
    pub(super) fn end(&self) -> Liquid {
        let held = self.after.last().map(|last| last.held).unwrap_or_default();
        if self.open {
            let most_kg = held.liquid.extract_kg;
            held.liquid.fermented_kg(held.fermentable_kg.min(most_kg))
        } else {
            held.liquid
        }
    }
}

pub(super) fn play<'a>(lines: &[Line<'a>], settings: Settings) -> Result<Run<'a>, LogFault> {
    let mut run = Run {
        after: Vec::with_capacity(lines.len()),
        measured_at: None,
        open: true,
        bridged: Vec::new(),
        moved: Vec::new(),
    };
    let mut held = Fermenting::default();
    let mut unknown_g_l = 0.0;
    for (index, line) in lines.iter().enumerate() {
        let mut brought = Fermenting::default();
        held = match &line.event {
            Event::BrewDay => held,
            Event::Pitched { volume_l, sight } => {
                let wort = pitched(index, *volume_l, sight, settings)?;
                Fermenting {
                    liquid: wort,
                    fermentable_kg: fermentable_kg(wort, settings),
                }
            }
            Event::Reading(sight) => {
                let (read, bridged) =
                    read(held.liquid, sight, settings).map_err(|e| LogFault::of(index, &e))?;
                if bridged {
                    run.bridged.push(index);
                }
                run.measured_at = Some(index);
                run.open = false;
                let fermented = held.after(consumed(index, held.liquid, read, settings)?);
                let counted = fermented.liquid.apparent_extract();
                if (counted.plato() - read.plato()).abs() > two_readings_plato(sight, read) {
                    let entry = index;
                    run.moved.push(Moved {
                        entry,
                        read,
                        counted,
                    });
                }
                fermented
            }
            Event::Drawn {
                volume_l,
                as_pitched,
            } => {
                if run.measured_at.is_none() && !as_pitched {
                    return Err(LogFault::new(index, Fault::DrawnBeforeReading));
                }
                let held_l = held.liquid.volume_l();
                if *volume_l >= held_l {
                    let drawn_l = *volume_l;
                    let fault = Fault::DrawnMoreThanThere { drawn_l, held_l };
                    return Err(LogFault::new(index, fault));
                }
                held.part(1.0 - volume_l / held_l)
            }
            Event::Added { measure, matter } => match matter {
                Matter::Nothing => held,
                Matter::Unknown => {
                    unknown_g_l +=
                        1000.0 * mass_kg(held.liquid, *measure, 1.0) / held.liquid.volume_l();
                    if unknown_g_l > TRACE_G_L {
                        return Err(LogFault::new(index, brings_unknown(line.entry)));
                    }
                    held
                }
                Matter::Counted(brings) => {
                    brought = bring(held.liquid, *measure, *brings);
                    run.open |= brought.liquid.extract_kg > 0.0;
                    held.with(&brought)
                }
            },
        };
        run.after.push(After {
            entry: line.entry,
            held,
            brought,
        });
    }
    Ok(run)
}

fn pitched(
    entry: usize,
    volume_l: f64,
    sight: &Sight,
    settings: Settings,
) -> Result<Liquid, LogFault> {
    let extract = wort(sight, settings).map_err(|e| LogFault::of(entry, &e))?;
    let fraction = extract.plato() / 100.0;
    let wort = Liquid::wort_of(volume_l, fraction);
    if wort.mass_kg() <= 0.0 || !(0.0..=STRONGEST_WORT_PLATO).contains(&extract.plato()) {
        let help = "check both and their units; a gravity is written `1.050` or `12.4 P`";
        return Err(LogFault::new(
            entry,
            Fault::Figure {
                message: format!(
                    "expected a volume above zero of wort from 0 to {STRONGEST_WORT_PLATO} °P, found {} L at {} °P",
                    shortest(volume_l, 3),
                    shortest(extract.plato(), 2)
                ),
                help: Some(help.to_owned()),
            },
        ));
    }
    Ok(wort)
}

/// What ferments of a wort that is left alone.
fn fermentable_kg(wort: Liquid, settings: Settings) -> f64 {
    // Past 100 % apparent attenuation Balling's balance has no wort to take it from: all of the extract ferments then.
    let attenuation = Attenuation::clamped(settings.wort_attenuation).fraction();
    let end = 100.0 * wort.strength() * (1.0 - attenuation);
    consumed_kg(wort, end, f64::INFINITY).unwrap_or(wort.extract_kg)
}

/// Extract of the wort from what was shown at pitching.
pub(super) fn wort(sight: &Sight, settings: Settings) -> Result<Extract, Error> {
    let extract = match sight.instrument {
        Instrument::Hydrometer => at_20(sight)?,
        Instrument::Refractometer => refractometer_wort(at_20(sight)?, settings.correction),
    };
    Ok(Extract::clamped(extract.plato() + sight.off_plato))
}

/// The apparent extract that a reading means, and whether it lies outside the published fit.
fn read(held: Liquid, sight: &Sight, settings: Settings) -> Result<(Extract, bool), Error> {
    let (apparent, bridged) = match sight.instrument {
        Instrument::Hydrometer => (at_20(sight)?, false),
        Instrument::Refractometer => {
            let everything = held.original_extract();
            let shown = at_20(sight)?;
            let refracted = refractometer_beer(everything, shown, settings.correction);
            let bridged = matches!(refracted, Refracted::Bridged(_));
            (refracted.apparent(), bridged)
        }
    };
    let off = Extract::clamped(apparent.plato() + sight.off_plato);
    Ok((off, bridged))
}

/// By how much two readings may differ that show the same beer: the root of two times what one may be off, °P.
fn two_readings_plato(sight: &Sight, read: Extract) -> f64 {
    std::f64::consts::SQRT_2 * beer_noise_plato(sight.instrument, read)
}

/// What an instrument showed, at the temperature of its scale.
pub(super) fn at_20(sight: &Sight) -> Result<Extract, Error> {
    let temperature = Temperature::from_celsius(sight.celsius)?;
    at_scale(
        sight.instrument,
        Extract::clamped(sight.shown_plato),
        temperature,
    )
}

/// A reading of a sample at some temperature, corrected to the temperature of the instrument's scale.
pub(crate) fn at_scale(
    instrument: Instrument,
    shown: Extract,
    temperature: Temperature,
) -> Result<Extract, Error> {
    match instrument {
        Instrument::Hydrometer => hydrometer(shown, temperature, Temperature::clamped(SCALE_C)),
        Instrument::Refractometer => refractometer_at_20(shown, temperature),
    }
}

/// Extract that ferments until a hydrometer shows `plato`. A reading within `slack_plato` of the possible counts as the nearest
/// possible one.
fn consumed_kg(held: Liquid, plato: f64, slack_plato: f64) -> Result<f64, Fall> {
    held.falls_to_kg(plato, held.extract_kg)
        .or_else(|fall| match fall {
            Fall::AlreadyBelow(now) if plato - now <= slack_plato => Ok(0.0),
            Fall::EndsAbove(least) if least - plato <= slack_plato => Ok(held.extract_kg),
            _ => Err(fall),
        })
}

fn consumed(
    entry: usize,
    held: Liquid,
    read: Extract,
    settings: Settings,
) -> Result<f64, LogFault> {
    let slack_plato = match settings.strictness {
        Strictness::Strict => SLACK_PLATO,
        Strictness::Lenient => f64::INFINITY,
    };
    consumed_kg(held, read.plato(), slack_plato).map_err(|fall| {
        let fault = match fall {
            Fall::AlreadyBelow(most) => Fault::GravityRises {
                read,
                most: Extract::clamped(most),
            },
            Fall::EndsAbove(least) => Fault::BelowFullyFermented {
                read,
                least: Extract::clamped(least),
            },
        };
        LogFault::new(entry, fault)
    })
}

/// What is said of an addition that nobody knows.
fn brings_unknown(entry: &LogEntry) -> Fault {
    let name = match &entry.what {
        LogEvent::Added(added) => added.ingredient.name.clone(),
        _ => String::new(),
    };
    let help = what_to_write(&name, None);
    Fault::BringsUnknown { name, help }
}

/// Kilograms of an addition that weighs so much per litre.
fn mass_kg(held: Liquid, measure: Measure, kg_per_l: f64) -> f64 {
    match measure {
        Measure::MassKg(kg) => kg,
        Measure::VolumeL(l) => l * kg_per_l,
        Measure::KgPerLitre(kg) => kg * held.volume_l(),
        Measure::LitrePerLitre(l) => l * held.volume_l() * kg_per_l,
        Measure::ShareByVolume(share) => share / (1.0 - share) * held.volume_l() * kg_per_l,
    }
}

fn bring(held: Liquid, measure: Measure, brings: Brings) -> Fermenting {
    let per_kg = brings.per_kg();
    let kg = mass_kg(held, measure, per_kg.density_20() / 1000.0);
    Fermenting {
        liquid: per_kg.part(kg),
        fermentable_kg: kg * brings.extract * brings.fermentability,
    }
}
