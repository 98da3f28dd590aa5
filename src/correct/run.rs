//! A log played through, line by line.

use super::events::{Event, Matter, Measure, SCALE_C, Sight};
use super::fault::{Fault, LogFault};
use crate::diagnostic::Error;
use crate::quantity::{Attenuation, Extract, Temperature};
use crate::recipe::Instrument;
use crate::science::density::sucrose_density_20;
use crate::science::instruments::{
    Refracted, WortCorrection, hydrometer, refractometer_beer, refractometer_wort,
};
use crate::science::liquid::Liquid;
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
    /// What the vessel holds after each line.
    pub(super) held: Vec<Liquid>,
    /// Of the extract held at the end, what is thought to ferment.
    pub(super) fermentable_kg: f64,
    /// What each line brought; nothing for lines that bring nothing.
    pub(super) brought: Vec<Brought>,
    /// The last line that measured.
    pub(super) measured_at: Option<usize>,
    /// Something that can ferment went in after it, or nothing was measured.
    pub(super) open: bool,
    /// Lines whose refractometer reading lies outside the published fit.
    pub(super) bridged: Vec<usize>,
}

/// What a line brought into the vessel.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Brought {
    pub(super) liquid: Liquid,
    pub(super) fermentable_kg: f64,
}

impl Run {
    /// The beer as measured, or, where the last word is not a reading, as predicted.
    pub(super) fn end(&self) -> Liquid {
        let last = self.held.last().copied().unwrap_or_default();
        if self.open {
            last.fermented_kg(self.fermentable_kg.min(last.extract_kg))
        } else {
            last
        }
    }
}

pub(super) fn play(events: &[Event], settings: Settings) -> Result<Run, LogFault> {
    let mut run = Run {
        held: Vec::with_capacity(events.len()),
        fermentable_kg: 0.0,
        brought: Vec::with_capacity(events.len()),
        measured_at: None,
        open: true,
        bridged: Vec::new(),
    };
    let mut held = Liquid::default();
    for (entry, event) in events.iter().enumerate() {
        let mut brought = Brought::default();
        held = match event {
            Event::Pitched { volume_l, sight } => {
                let wort = pitched(entry, *volume_l, sight, settings)?;
                run.fermentable_kg = fermentable_kg(wort, settings);
                wort
            }
            Event::Reading(sight) => {
                let (read, bridged) =
                    read(held, sight, settings).map_err(|e| LogFault::of(entry, &e))?;
                if bridged {
                    run.bridged.push(entry);
                }
                run.measured_at = Some(entry);
                run.open = false;
                let consumed_kg = consumed(entry, held, read, settings)?;
                run.fermentable_kg = (run.fermentable_kg - consumed_kg).max(0.0);
                held.fermented_kg(consumed_kg)
            }
            Event::Drawn {
                volume_l,
                as_pitched,
            } => {
                if run.measured_at.is_none() && !as_pitched {
                    return Err(LogFault::new(entry, Fault::DrawnBeforeReading));
                }
                let held_l = held.volume_l();
                if *volume_l >= held_l {
                    let drawn_l = *volume_l;
                    let fault = Fault::DrawnMoreThanThere { drawn_l, held_l };
                    return Err(LogFault::new(entry, fault));
                }
                let left = 1.0 - volume_l / held_l;
                run.fermentable_kg *= left;
                held.part(left)
            }
            Event::Added { measure, matter } => match matter {
                None => held,
                Some(matter) => {
                    brought = bring(held, *measure, *matter);
                    run.open |= brought.liquid.extract_kg > 0.0;
                    run.fermentable_kg += brought.fermentable_kg;
                    held.blended(brought.liquid)
                }
            },
        };
        run.held.push(held);
        run.brought.push(brought);
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
    if wort.mass_kg() <= 0.0 || fraction < 0.0 {
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
        Instrument::Hydrometer => floated(sight)?,
        Instrument::Refractometer => {
            refractometer_wort(Extract::clamped(sight.shown_plato), settings.correction)
        }
    };
    Ok(Extract::clamped(extract.plato() + sight.off_plato))
}

/// The apparent extract that a reading means, and whether it lies outside the published fit.
fn read(held: Liquid, sight: &Sight, settings: Settings) -> Result<(Extract, bool), Error> {
    let (apparent, bridged) = match sight.instrument {
        Instrument::Hydrometer => (floated(sight)?, false),
        Instrument::Refractometer => {
            let everything = held.original_extract();
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

/// Why no amount of fermentation gives a reading; the reading that would still be possible, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Unreachable {
    Above(f64),
    Below(f64),
}

/// Extract that ferments until a hydrometer shows `plato`. A reading within `slack_plato` of the possible counts as the nearest
/// possible one.
fn consumed_kg(held: Liquid, plato: f64, slack_plato: f64) -> Result<f64, Unreachable> {
    let wanted = sucrose_density_20(plato / 100.0);
    if wanted >= held.density_20() {
        let now = held.apparent_plato();
        return if plato - now <= slack_plato {
            Ok(0.0)
        } else {
            Err(Unreachable::Above(now))
        };
    }
    let dry = held.fermented_kg(held.extract_kg);
    if wanted <= dry.density_20() {
        let least = dry.apparent_plato();
        return if least - plato <= slack_plato {
            Ok(held.extract_kg)
        } else {
            Err(Unreachable::Below(least))
        };
    }
    Ok(held.consumed_at_kg(wanted).clamp(0.0, held.extract_kg))
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
    consumed_kg(held, read.plato(), slack_plato).map_err(|unreachable| {
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

fn bring(held: Liquid, measure: Measure, matter: Matter) -> Brought {
    let kg_per_l = sucrose_density_20(matter.extract) / 1000.0;
    let mass_kg = match measure {
        Measure::MassKg(kg) => kg,
        Measure::VolumeL(l) => l * kg_per_l,
        Measure::KgPerLitre(kg) => kg * held.volume_l(),
        Measure::LitrePerLitre(l) => l * held.volume_l() * kg_per_l,
        Measure::ShareByVolume(share) => share / (1.0 - share) * held.volume_l() * kg_per_l,
    };
    let extract_kg = mass_kg * matter.extract;
    Brought {
        liquid: Liquid::solution(mass_kg - extract_kg, extract_kg),
        fermentable_kg: extract_kg * matter.fermentability,
    }
}
