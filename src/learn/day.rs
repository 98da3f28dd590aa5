//! A day: its plan, and the lines of its log as readings at 20 °C with their spread.

use super::day_figure::{DayFigure, DayFigures, Later};
use super::remark::{LearnRemark, NotUsed};
use crate::diagnostic::{Error, Place};
use crate::ledger::at_scale;
use crate::process::{Amounts, Bent, Lautering, PITCH, Setup, Stage, Worked, Worts};
use crate::quantity::{
    Extract, SpecificGravity, Temperature, Volume, Written, in_litres, in_minutes,
};
use crate::recipe::{Instrument, Log, LogEntry, LogEvent, WortReading};
use crate::scale::Kept;
use crate::science::density::{extract_of, gravity_of};
use crate::science::evaporation::cold_volume;
use crate::science::instruments::{WortCorrection, refractometer_beer, refractometer_wort};
use crate::speech::Noted;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// Row "volume by dip stick or marks" of `tests/reference/uncertainty.csv`, a part of it, per reading (from memory).
pub(super) const VOLUME: f64 = 0.015;
/// Row "hydrometer, two points checked", g/L, per reading (from memory).
pub(super) const HYDROMETER_G_L: f64 = 1.0;
/// Row "hand refractometer", °Bx, per reading (from memory).
pub(super) const REFRACTOMETER: f64 = 0.15;
/// Row "refractometer after fermentation", °P, model (from memory).
const REFRACTOMETER_IN_BEER: f64 = 0.4;
/// From this day on the last gravity of a log is a final one (common practice, no source).
const FERMENTED_BY_DAY: f64 = 7.0;

/// A plan as it was brewed, and the log of that brew.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct BrewDay {
    /// The plan: see [`Plan::keep`](crate::scale::Plan::keep).
    pub plan: Kept,
    /// What was read on the day, and of the beer.
    pub log: Log,
}

impl BrewDay {
    /// A day.
    #[must_use]
    pub const fn new(plan: Kept, log: Log) -> Self {
        Self { plan, log }
    }
}

/// By what a figure was read; its error is the same on all days.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Tool {
    KettleMarks,
    FermenterMarks,
    Hydrometer,
    Refractometer,
}

impl Tool {
    pub(super) const ALL: [Self; 4] = [
        Self::KettleMarks,
        Self::FermenterMarks,
        Self::Hydrometer,
        Self::Refractometer,
    ];

    /// Its name in a sentence.
    pub(super) const fn name(self) -> &'static str {
        match self {
            Self::KettleMarks => "marks of the kettle",
            Self::FermenterMarks => "marks of the fermenter",
            Self::Hydrometer => "hydrometer",
            Self::Refractometer => "refractometer",
        }
    }
}

/// A figure that was read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reading {
    /// Which line of the log.
    pub(super) entry: usize,
    pub(super) figure: DayFigure,
    /// Litres or °P at 20 °C.
    pub(super) value: f64,
    /// One sigma of it.
    pub(super) sigma: f64,
    pub(super) tool: Tool,
}

/// A brewing day to be learnt from.
#[derive(Debug)]
pub(super) struct Day<'a> {
    pub(super) name: Arc<str>,
    pub(super) setup: &'a Setup,
    pub(super) amounts: &'a Amounts,
    /// The plant with the figures of its lines.
    pub(super) prior: Bent,
    /// What the plant gives by those.
    pub(super) predicted: Worts,
    pub(super) later: Later,
    pub(super) readings: Vec<Reading>,
    /// Whether a volume in the kettle is without its temperature.
    pub(super) is_taken_cold: bool,
}

impl<'a> Day<'a> {
    pub(super) fn of(worked: &'a Worked, prior: Bent, name: &Arc<str>) -> Self {
        Self {
            name: Arc::clone(name),
            setup: &worked.setup,
            amounts: &worked.amounts,
            predicted: worked.setup.worts(&worked.amounts, &prior),
            prior,
            later: Later::Added,
            readings: Vec::new(),
            is_taken_cold: false,
        }
    }

    /// The name of the yeast that is pitched.
    pub(super) fn yeast(&self) -> Option<&'a str> {
        let mut items = self.setup.formula.items.values();
        let yeast =
            items.find(|item| item.place.stage == Stage::Ferment && item.place.index == PITCH);
        yeast.map(|item| item.ingredient.name.as_str())
    }

    /// The figures that were read.
    pub(super) fn read(&self) -> DayFigures {
        let mut read = DayFigures::default();
        for reading in &self.readings {
            read.set(reading.figure, reading.value);
        }
        read
    }

    /// The lines of the log; `is_yeast_known` where the final gravity tells of the yeast of all days.
    pub(super) fn read_log(
        &mut self,
        log: &Log,
        is_yeast_known: bool,
        remarks: &mut Vec<Noted<LearnRemark>>,
    ) -> Result<(), Error> {
        let lines = log.entries.iter().enumerate();
        let is_read = |(_, line): &(usize, &LogEntry)| matches!(line.what, LogEvent::Reading(_));
        let last = lines.clone().rfind(is_read).map(|(entry, _)| entry);
        for (entry, line) in lines {
            let place = Place::log_entry(&self.name, entry);
            let unused = self
                .line(entry, line)
                .and_then(|unused| match (&line.what, unused) {
                    (LogEvent::Reading(_), None) if last != Some(entry) => {
                        Ok(Some(NotUsed::NotFinal))
                    }
                    (LogEvent::Reading(_), None) if !is_yeast_known => {
                        Ok(Some(NotUsed::OtherYeast))
                    }
                    (LogEvent::Reading(_), None) => self.final_gravity(log, entry, line),
                    (_, unused) => Ok(unused),
                })
                .map_err(|error| error.about_at_least(place.clone()))?;
            remarks.extend(unused.map(|because| {
                Noted::at(
                    place,
                    LearnRemark::LineNotUsed {
                        log: self.name.to_string(),
                        entry,
                        because,
                    },
                )
            }));
        }
        Ok(())
    }

    /// Reads a line of the brewing day; why it is not used, where it is not.
    fn line(&mut self, entry: usize, line: &LogEntry) -> Result<Option<NotUsed>, Error> {
        use DayFigure as F;
        match &line.what {
            LogEvent::MashPh(_) => return Ok(Some(NotUsed::MashPh)),
            LogEvent::FirstWort(_) if self.prior.plant.lautering == Lautering::NoMash => {
                return Ok(Some(NotUsed::NoMash));
            }
            LogEvent::FirstWort(wort) => {
                self.wort(entry, wort, (F::FirstWort, F::FirstWortExtract))?;
                if self.prior.plant.known_yield.is_some() {
                    self.readings
                        .retain(|reading| reading.figure != F::FirstWortExtract);
                    return Ok(wort.shown.map(|_| NotUsed::KnownYield));
                }
            }
            LogEvent::BeforeBoil(wort) => {
                self.wort(entry, wort, (F::PreBoil, F::PreBoilExtract))?;
            }
            LogEvent::AfterBoil(wort) => {
                self.wort(entry, wort, (F::PostBoil, F::PostBoilExtract))?;
            }
            LogEvent::Pitched(pitched) => {
                let volume = in_litres(pitched.volume.value());
                self.push_volume(entry, F::IntoFermenter, volume);
                let sight = (pitched.shown, pitched.instrument, pitched.temperature);
                self.push_gravity(entry, F::Original, sight)?;
            }
            LogEvent::Drawn(_) | LogEvent::Added(_) => return Ok(Some(NotUsed::InTheFermenter)),
            LogEvent::Reading(_) => {}
        }
        Ok(None)
    }

    fn wort(
        &mut self,
        entry: usize,
        wort: &WortReading,
        (volume, gravity): (DayFigure, DayFigure),
    ) -> Result<(), Error> {
        if let Some(shown) = wort.shown {
            let sight = (shown, wort.instrument, wort.temperature);
            self.push_gravity(entry, gravity, sight)?;
        }
        if let Some(read) = wort.volume {
            let same = |reading: &&Reading| reading.entry == entry && reading.figure == gravity;
            let measured = self.readings.iter().find(same).map(|reading| reading.value);
            let planned = gravity.of(&self.predicted, self.later);
            let plato = measured.unwrap_or(planned);
            self.is_taken_cold |= wort.volume_at.is_none();
            let cold = cold(read.value(), wort.volume_at, plato)?;
            self.push_volume(entry, volume, in_litres(cold));
        }
        Ok(())
    }

    fn push_volume(&mut self, entry: usize, figure: DayFigure, value: f64) {
        let tool = match figure {
            DayFigure::IntoFermenter => Tool::FermenterMarks,
            _ => Tool::KettleMarks,
        };
        let sigma = VOLUME * value;
        self.push(Reading {
            entry,
            figure,
            value,
            sigma,
            tool,
        });
    }

    fn push(&mut self, reading: Reading) {
        if reading.sigma > 0.0 && reading.value.is_finite() {
            self.readings.push(reading);
        }
    }

    fn push_gravity(&mut self, entry: usize, figure: DayFigure, sight: Sight) -> Result<(), Error> {
        let shown = at_20(sight)?;
        let (value, sigma, tool) = match sight.1 {
            Instrument::Hydrometer => (shown.plato(), hydrometer_plato(shown), Tool::Hydrometer),
            Instrument::Refractometer => {
                let wort = refractometer_wort(shown, WortCorrection::default());
                (wort.plato(), REFRACTOMETER, Tool::Refractometer)
            }
        };
        self.push(Reading {
            entry,
            figure,
            value,
            sigma,
            tool,
        });
        Ok(())
    }

    /// The last gravity of the log, where it is that of the finished beer.
    fn final_gravity(
        &mut self,
        log: &Log,
        entry: usize,
        line: &LogEntry,
    ) -> Result<Option<NotUsed>, Error> {
        let LogEvent::Reading(reading) = &line.what else {
            return Ok(None);
        };
        let day = line
            .day
            .as_ref()
            .map(|day| in_minutes(day.value()) / 1440.0);
        let goes_on = |line: &LogEntry| matches!(line.what, LogEvent::Added(_));
        let is_followed = log.entries.iter().skip(entry).any(goes_on);
        if day.is_some_and(|day| day < FERMENTED_BY_DAY) || is_followed {
            return Ok(Some(NotUsed::NotFinal));
        }
        let is_added = log.entries.iter().any(goes_on);
        let adds = self.predicted.finished != self.predicted.without_additions;
        self.later = match (is_added, adds) {
            (true, false) => return Ok(Some(NotUsed::OtherAdditions)),
            (true, true) => Later::Added,
            (false, _) => Later::LeftOut,
        };
        let shown = at_20((reading.shown, reading.instrument, reading.temperature))?;
        let (value, sigma, tool) = match reading.instrument {
            Instrument::Hydrometer => (shown.plato(), hydrometer_plato(shown), Tool::Hydrometer),
            Instrument::Refractometer => {
                let original = DayFigure::Original.of(&self.predicted, self.later);
                let original = Extract::clamped(original);
                let beer = refractometer_beer(original, shown, WortCorrection::default());
                let sigma = REFRACTOMETER.hypot(REFRACTOMETER_IN_BEER);
                (beer.apparent().plato(), sigma, Tool::Refractometer)
            }
        };
        let figure = DayFigure::FinalExtract;
        self.push(Reading {
            entry,
            figure,
            value,
            sigma,
            tool,
        });
        Ok(None)
    }
}

/// What an instrument shows, which it is, and at what temperature.
type Sight = (Written<Extract>, Instrument, Option<Written<Temperature>>);

fn at_20((shown, instrument, at): Sight) -> Result<Extract, Error> {
    match at {
        Some(at) => at_scale(instrument, shown.value(), at.value()),
        None => Ok(shown.value()),
    }
}

fn cold(volume: Volume, at: Option<Written<Temperature>>, plato: f64) -> Result<Volume, Error> {
    match at {
        Some(at) => cold_volume(volume, Extract::clamped(plato), at.value()),
        None => Ok(volume),
    }
}

/// One sigma of a hydrometer's reading, °P.
pub(super) fn hydrometer_plato(shown: Extract) -> f64 {
    // Water weighs 0.9982 kg/L at 20 °C: a gram per litre is a thousandth of the gravity to 0.2 %.
    let next = gravity_of(shown).ratio() + HYDROMETER_G_L / 1000.0;
    SpecificGravity::from_ratio(next).map_or(f64::INFINITY, |next| {
        extract_of(next).plato() - shown.plato()
    })
}
