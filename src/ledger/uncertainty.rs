//! How far the alcohol may lie from the figure given, one sigma: each reading and each amount is moved by its own sigma, the log is played
//! again, and the squares of the differences are summed, with that of the relation between extracts and alcohol.
//!
//! One sigma each, rows of `tests/reference/uncertainty.csv` where one is named, else common practice without a source. The fits of a
//! refractometer disagree by twice as much where they do not reach (`noise`).

use super::events::{Event, Line, Matter, Measure};
use super::noise::{BRIX, FIT, GRAVITY, VOLUME_READ, in_plato};
use super::run::{Run, Settings, Strictness, play};
use crate::recipe::Instrument;

/// Of a weighed amount, as a share of it (common practice, no source).
const WEIGHT: f64 = 0.01;
/// Of the alcohol that extracts give, per cent by volume: row "alcohol from extracts (formula)" (derived).
const FORMULA: f64 = 0.10;
/// Of a refractometer's reading where no published fit reaches, specific gravity.
const BRIDGE: f64 = 0.004;
/// Of the apparent attenuation of a wort that nobody measured (common practice, no source).
const ATTENUATION: f64 = 0.05;

/// What can be off in a line.
#[derive(Debug, Clone, Copy)]
enum Doubt {
    Amount,
    Gravity,
    Fit,
    Extract,
}

/// One sigma of an alcohol in per cent by volume, which `answer` finds in a run.
pub(super) fn spread(
    lines: &[Line<'_>],
    run: &Run<'_>,
    settings: Settings,
    answer: impl Fn(&Run<'_>) -> f64,
) -> f64 {
    let settings = Settings {
        strictness: Strictness::Lenient,
        ..settings
    };
    let given = answer(run);
    let played = |lines: &[Line<'_>], settings: Settings| {
        play(lines, settings).map_or(given, |run| answer(&run))
    };
    let mut squares = FORMULA * FORMULA;
    let mut moved = lines.to_vec();
    for (index, line) in lines.iter().enumerate() {
        let bridged = run.bridged.contains(&index);
        for doubt in [Doubt::Amount, Doubt::Gravity, Doubt::Fit, Doubt::Extract] {
            let mut with = |by: f64| {
                let changed = nudged(&line.event, doubt, by, bridged)?;
                let place = moved.get_mut(index)?;
                place.event = changed;
                let value = played(&moved, settings);
                if let Some(place) = moved.get_mut(index) {
                    place.event = line.event.clone();
                }
                Some(value)
            };
            if let (Some(more), Some(less)) = (with(1.0), with(-1.0)) {
                squares += (0.5 * (more - less)).powi(2);
            }
        }
    }
    if run.open {
        let with = |by: f64| {
            let wort_attenuation = settings.wort_attenuation + by * ATTENUATION;
            let settings = Settings {
                wort_attenuation,
                ..settings
            };
            played(lines, settings)
        };
        squares += (0.5 * (with(1.0) - with(-1.0))).powi(2);
    }
    squares.sqrt()
}

/// The line with one thing off by one sigma, up (1) or down (−1); none where that thing is not in it.
fn nudged(event: &Event, doubt: Doubt, by: f64, bridged: bool) -> Option<Event> {
    let mut event = event.clone();
    match (&mut event, doubt) {
        (Event::Pitched { volume_l, .. } | Event::Drawn { volume_l, .. }, Doubt::Amount) => {
            *volume_l *= 1.0 + by * VOLUME_READ;
        }
        (Event::Pitched { sight, .. } | Event::Reading(sight), Doubt::Gravity) => {
            match sight.instrument {
                Instrument::Hydrometer => {
                    sight.off_plato += in_plato(sight.shown_plato, by * GRAVITY);
                }
                Instrument::Refractometer => sight.shown_plato += by * BRIX,
            }
        }
        (Event::Reading(sight), Doubt::Fit) if sight.instrument == Instrument::Refractometer => {
            let fit = if bridged { BRIDGE } else { FIT };
            sight.off_plato += in_plato(sight.shown_plato, by * fit);
        }
        (
            Event::Added {
                measure,
                matter: Matter::Counted(_),
            },
            Doubt::Amount,
        ) => *measure = weighed(*measure, by),
        (
            Event::Added {
                matter: Matter::Counted(brings),
                ..
            },
            Doubt::Extract,
        ) => {
            let extract = brings.extract + by * brings.extract_spread;
            brings.extract = extract.clamp(0.0, 1.0 - brings.ethanol);
        }
        _ => return None,
    }
    Some(event)
}

fn weighed(measure: Measure, by: f64) -> Measure {
    let (volume, weight) = (1.0 + by * VOLUME_READ, 1.0 + by * WEIGHT);
    match measure {
        Measure::MassKg(kg) => Measure::MassKg(kg * weight),
        Measure::KgPerLitre(kg) => Measure::KgPerLitre(kg * weight),
        Measure::VolumeL(l) => Measure::VolumeL(l * volume),
        Measure::LitrePerLitre(l) => Measure::LitrePerLitre(l * volume),
        Measure::ShareByVolume(share) => Measure::ShareByVolume((share * volume).min(0.999)),
    }
}
