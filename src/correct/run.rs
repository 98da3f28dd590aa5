//! A log played through, line by line.

use super::events::{Event, Matter, Measure, SCALE_C, Sight};
use super::fault::{Fault, LogFault};
use super::vessel::{Unreachable, Vessel};
use crate::diagnostic::Error;
use crate::quantity::{Attenuation, Extract, Temperature};
use crate::recipe::Instrument;
use crate::science::density::sucrose_density_20;
use crate::science::instruments::{
    Refracted, WortCorrection, hydrometer, refractometer_beer, refractometer_wort,
};
use crate::wording::shortest;

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

/// What came of each line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Run {
    /// The vessel after each line.
    pub(super) vessels: Vec<Vessel>,
    /// What each line brought, kg; nothing for lines that bring nothing.
    pub(super) brought: Vec<Brought>,
    /// The last line that measured.
    pub(super) measured_at: Option<usize>,
    /// Something that can ferment went in after it, or nothing was measured.
    pub(super) open: bool,
    /// Lines whose refractometer reading lies outside the published fit.
    pub(super) bridged: Vec<usize>,
}

/// What a line brought into the vessel.
#[allow(clippy::struct_field_names, reason = "each field ends in its unit")]
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Brought {
    pub(super) mass_kg: f64,
    pub(super) extract_kg: f64,
    pub(super) fermentable_kg: f64,
}

impl Run {
    /// The beer as measured, or, where the last word is not a reading, as predicted.
    pub(super) fn end(&self) -> Vessel {
        let last = self.vessels.last().copied().unwrap_or_default();
        if self.open {
            last.fermented(last.fermentable_kg.min(last.extract_kg))
        } else {
            last
        }
    }
}

pub(super) fn play(events: &[Event], settings: Settings) -> Result<Run, LogFault> {
    let mut run = Run {
        vessels: Vec::with_capacity(events.len()),
        brought: Vec::with_capacity(events.len()),
        measured_at: None,
        open: true,
        bridged: Vec::new(),
    };
    let mut vessel = Vessel::default();
    for (entry, event) in events.iter().enumerate() {
        let mut brought = Brought::default();
        vessel = match event {
            Event::Pitched { volume_l, sight } => pitched(entry, *volume_l, sight, settings)?,
            Event::Reading(sight) => {
                let (read, bridged) =
                    read(&vessel, sight, settings).map_err(|e| LogFault::of(entry, &e))?;
                if bridged {
                    run.bridged.push(entry);
                }
                run.measured_at = Some(entry);
                run.open = false;
                fallen(entry, &vessel, read, settings)?
            }
            Event::Drawn {
                volume_l,
                as_pitched,
            } => {
                if run.measured_at.is_none() && !as_pitched {
                    return Err(LogFault::new(entry, Fault::DrawnBeforeReading));
                }
                let held_l = vessel.volume_l();
                if *volume_l >= held_l {
                    let drawn_l = *volume_l;
                    let fault = Fault::DrawnMoreThanThere { drawn_l, held_l };
                    return Err(LogFault::new(entry, fault));
                }
                vessel.drawn(volume_l / held_l)
            }
            Event::Added { measure, matter } => match matter {
                None => vessel,
                Some(matter) => {
                    brought = bring(&vessel, *measure, *matter);
                    run.open |= brought.extract_kg > 0.0;
                    vessel.with(brought.mass_kg, matter.extract, matter.fermentability)
                }
            },
        };
        run.vessels.push(vessel);
        run.brought.push(brought);
    }
    Ok(run)
}

fn pitched(
    entry: usize,
    volume_l: f64,
    sight: &Sight,
    settings: Settings,
) -> Result<Vessel, LogFault> {
    let extract = wort(sight, settings).map_err(|e| LogFault::of(entry, &e))?;
    let fraction = extract.plato() / 100.0;
    let mass_kg = volume_l * sucrose_density_20(fraction) / 1000.0;
    if mass_kg <= 0.0 || fraction < 0.0 {
        return Err(LogFault::new(
            entry,
            Fault::Figure {
                message: format!(
                    "expected a volume above zero of wort from 0 °P, found {} L at {} °P",
                    shortest(volume_l, 3),
                    shortest(extract.plato(), 2)
                ),
                help: None,
            },
        ));
    }
    let wort = Vessel::default().with(mass_kg, fraction, 1.0);
    // Past 100 % apparent attenuation Balling's balance has no wort to take it from: all of the extract ferments then.
    let attenuation = Attenuation::clamped(settings.wort_attenuation);
    let apparent_plato = extract.plato() * (1.0 - attenuation.fraction());
    Ok(match wort.fallen_to(apparent_plato, f64::INFINITY) {
        Ok(beer) => Vessel {
            fermentable_kg: wort.extract_kg - beer.extract_kg,
            ..wort
        },
        Err(_) => wort,
    })
}

/// Extract of the wort from what was shown at pitching.
pub(super) fn wort(sight: &Sight, settings: Settings) -> Result<Extract, Error> {
    let extract = match sight.instrument {
        Instrument::Hydrometer => floated(sight)?,
        Instrument::Refractometer => {
            refractometer_wort(Extract::clamped(sight.shown_plato), settings.correction)
        }
    };
    Ok(Extract::clamped(extract.plato() + sight.off_plato))
}

/// The apparent extract that a reading means, and whether it lies outside the published fit.
fn read(vessel: &Vessel, sight: &Sight, settings: Settings) -> Result<(Extract, bool), Error> {
    let (apparent, bridged) = match sight.instrument {
        Instrument::Hydrometer => (floated(sight)?, false),
        Instrument::Refractometer => {
            let everything = Extract::clamped(vessel.equivalent_original_plato());
            let shown = Extract::clamped(sight.shown_plato);
            let refracted = refractometer_beer(everything, shown, settings.correction);
            let bridged = matches!(refracted, Refracted::Bridged(_));
            (refracted.apparent(), bridged)
        }
    };
    let off = Extract::clamped(apparent.plato() + sight.off_plato);
    Ok((off, bridged))
}

fn floated(sight: &Sight) -> Result<Extract, Error> {
    hydrometer(
        Extract::from_plato(sight.shown_plato)?,
        Temperature::from_celsius(sight.celsius)?,
        Temperature::from_celsius(SCALE_C)?,
    )
}

fn fallen(
    entry: usize,
    vessel: &Vessel,
    read: Extract,
    settings: Settings,
) -> Result<Vessel, LogFault> {
    let slack_plato = match settings.strictness {
        Strictness::Strict => SLACK_PLATO,
        Strictness::Lenient => f64::INFINITY,
    };
    vessel
        .fallen_to(read.plato(), slack_plato)
        .map_err(|unreachable| {
            let fault = match unreachable {
                Unreachable::Above(most) => Fault::GravityRises {
                    read,
                    most: Extract::clamped(most),
                },
                Unreachable::Below(least) => Fault::BelowFullyFermented {
                    read,
                    least: Extract::clamped(least),
                },
            };
            LogFault::new(entry, fault)
        })
}

fn bring(vessel: &Vessel, measure: Measure, matter: Matter) -> Brought {
    let kg_per_l = sucrose_density_20(matter.extract) / 1000.0;
    let mass_kg = match measure {
        Measure::MassKg(kg) => kg,
        Measure::VolumeL(l) => l * kg_per_l,
        Measure::KgPerLitre(kg) => kg * vessel.volume_l(),
        Measure::LitrePerLitre(l) => l * vessel.volume_l() * kg_per_l,
        Measure::ShareByVolume(share) => share / (1.0 - share) * vessel.volume_l() * kg_per_l,
    };
    let extract_kg = mass_kg * matter.extract;
    Brought {
        mass_kg,
        extract_kg,
        fermentable_kg: extract_kg * matter.fermentability,
    }
}
