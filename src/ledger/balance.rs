//! The log's ledger: mass in, mass out, and the true alcohol of a beer to which something was added on the way.
//!
//! Every state is kilograms of water, extract and ethanol. Between two readings an unknown mass of extract ferments by
//! Balling's balance; the reading finds it. What is drawn has the composition of the last reading, with what
//! was added since. When the last word is not a reading but an addition, the rest is predicted: the wort to a stated apparent attenuation,
//! the addition to its own fermentable share.
//!
//! The mass balance holds for anything that was in fact read; it does not know what evaporated with the gas, nor extract that
//! dry hops or fruit pulp brought or held back.

use super::alcohol::{Alcohol, abv_pct, alcohol};
use super::events::{Event, Line, SCALE_C, days, settled};
use super::fault::LogFault;
use super::kettle;
use super::remark::Remark;
use super::run::{After, Run, Settings, Strictness, at_20, play};
use super::shortcut::{Shortcut, shortcuts};
use super::uncertainty::spread;
use crate::catalogue::Catalogue;
use crate::diagnostic::{Place, Severity, codes};
use crate::process::Assumption;
use crate::quantity::{
    AlcoholByVolume, Attenuation, Extract, Mass, SpecificGravity, Temperature, Time, Unit, Volume,
    in_kilograms, kilograms, minutes,
};
use crate::recipe::{Instrument, Log, LogEvent};
use crate::science::attenuation::EXTRACT_PER_ETHANOL;
use crate::science::density::gravity_of;
use crate::science::instruments::WortCorrection;
use crate::speech::{Noted, Speaks, Style};
use serde::Serialize;
use std::sync::Arc;

/// Apparent attenuation of a wort of which nothing is known (common practice, no source).
const USUAL_ATTENUATION: f64 = 0.75;

/// The strongest yeasts stop here, fed little by little, per cent by volume (common practice, no source).
const MOST_ABV_PCT: f64 = 20.0;

/// What a log does not say.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct LedgerOptions {
    /// The factor of the refractometer; 1.04 by default.
    pub wort_correction: WortCorrection,
    /// Apparent attenuation of the wort alone, used only where no reading tells; 75 % by default (common practice, no source).
    pub wort_attenuation: Attenuation,
}

impl Default for LedgerOptions {
    fn default() -> Self {
        Self {
            wort_correction: WortCorrection::default(),
            wort_attenuation: Attenuation::clamped(USUAL_ATTENUATION),
        }
    }
}

impl LedgerOptions {
    /// The same with another factor of the refractometer.
    #[must_use]
    pub const fn with_wort_correction(mut self, correction: WortCorrection) -> Self {
        self.wort_correction = correction;
        self
    }

    /// The same with another apparent attenuation of the wort.
    #[must_use]
    pub const fn with_wort_attenuation(mut self, attenuation: Attenuation) -> Self {
        self.wort_attenuation = attenuation;
        self
    }
}

/// The ledger of a log.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Ledger {
    /// The beer at the end.
    pub alcohol: Alcohol,
    /// Whether that was measured.
    pub basis: Basis,
    /// One for each line of the log that speaks of the fermenter.
    pub steps: Vec<Step>,
    /// What the handbooks' short ways would have said; none where the end is predicted.
    pub shortcuts: Vec<Shortcut>,
    /// What the catalogue stood in for.
    pub assumptions: Vec<Noted<Assumption>>,
    /// What else was taken for granted, or deserves a look.
    pub remarks: Vec<Noted<Remark>>,
}

/// Whether the end of a ledger was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Basis {
    /// By the last reading.
    Measured,
    /// No reading followed what went in last: what can ferment is taken to have fermented.
    Predicted,
}

/// One line of the log that speaks of the fermenter, and the beer after it.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Step {
    /// Time since pitching, if noted.
    #[serde(
        rename = "on_day",
        with = "crate::quantity::json::option::day",
        skip_serializing_if = "Option::is_none"
    )]
    pub day: Option<Time>,
    /// What happened.
    pub what: StepKind,
    /// What was added.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
    /// Volume at 20 °C.
    #[serde(rename = "volume_l", with = "crate::quantity::json::litre")]
    pub volume: Volume,
    /// Water.
    #[serde(rename = "water_kg", with = "crate::quantity::json::kilogram")]
    pub water: Mass,
    /// Extract.
    #[serde(rename = "extract_kg", with = "crate::quantity::json::kilogram")]
    pub extract: Mass,
    /// Ethanol.
    #[serde(rename = "ethanol_kg", with = "crate::quantity::json::kilogram")]
    pub ethanol: Mass,
    /// What a hydrometer would read at 20 °C.
    #[serde(rename = "shown_sg")]
    pub shown_gravity: SpecificGravity,
    /// The same in °P.
    #[serde(rename = "shown_plato")]
    pub shown: Extract,
    /// Extract that an addition brought.
    #[serde(
        rename = "brought_extract_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub brought_extract: Option<Mass>,
    /// Ethanol that it gives once what can ferment in it has fermented.
    #[serde(
        rename = "gives_ethanol_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub gives_ethanol: Option<Mass>,
    /// The line, as an input.
    pub place: Place,
}

/// What a line of a log tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum StepKind {
    /// Wort and yeast went in.
    Pitched,
    /// The beer was measured.
    Reading,
    /// Beer was taken out.
    Drawn,
    /// Something was put in.
    Added,
}

codes! {
    StepKind {
        Pitched = "pitched",
        Reading = "reading",
        Drawn = "drawn",
        Added = "added",
    }
}

impl Speaks for Step {
    fn code(&self) -> &'static str {
        self.what.coded()
    }

    fn severity(&self) -> Severity {
        Severity::Note
    }

    fn place(&self) -> Option<&Place> {
        Some(&self.place)
    }

    fn text(&self, style: Style) -> String {
        let what = match (self.what, &self.name) {
            (StepKind::Pitched, _) => "pitched".to_owned(),
            (StepKind::Reading, _) => "read".to_owned(),
            (StepKind::Drawn, _) => "drawn".to_owned(),
            (StepKind::Added, Some(name)) => format!("{name} added"),
            (StepKind::Added, None) => "added".to_owned(),
        };
        let brings = match (self.brought_extract, self.gives_ethanol) {
            (Some(extract), Some(ethanol)) if in_kilograms(extract) > 0.0 => format!(
                "; it brings {} of extract, and {} of ethanol once that has fermented",
                style.mass(extract),
                style.mass(ethanol)
            ),
            _ => String::new(),
        };
        format!(
            "{what}: {} at {}{brings}",
            style.volume(self.volume),
            style.gravity(self.shown)
        )
    }
}

/// Follows a log from pitching to its last line.
///
/// # Errors
///
/// The first line that no fermentation can have given, with what is wrong with it.
///
/// # Source
///
/// Balling's balance, Tabarié's relation with OIML R 22 and the ICUMSA polynomial, see [`crate::science::attenuation`];
/// readings by [`crate::science::instruments`].
pub(crate) fn ledger_with(
    (number, log): (usize, &Log),
    catalogue: &Catalogue,
    options: LedgerOptions,
) -> Result<Ledger, LogFault> {
    let name = log.key(number);
    followed(log, &name, catalogue, options).map_err(|fault| fault.in_log(&name))
}

fn followed(
    log: &Log,
    name: &Arc<str>,
    catalogue: &Catalogue,
    options: LedgerOptions,
) -> Result<Ledger, LogFault> {
    let mut assumptions = Vec::new();
    let mut remarks = Vec::new();
    let lines = settled((log, name), catalogue, &mut assumptions, &mut remarks)?;
    let settings = Settings {
        correction: options.wort_correction,
        wort_attenuation: options.wort_attenuation.fraction(),
        strictness: Strictness::Strict,
    };
    let run = play(&lines, settings)?;
    kettle::check(log, &run, settings)?;
    let end = run.end();
    let fermented_pct = fermented_abv_pct(&run);
    let beyond_pct = (fermented_pct - MOST_ABV_PCT).max(0.0);
    // How far such a fermentation gets is known by no reading: it may end anywhere above what a yeast bears.
    let uncertainty_pct =
        spread(&lines, &run, settings, |run| abv_pct(run.end())).hypot(beyond_pct);
    if beyond_pct > 0.0 {
        let of_pct = |pct: f64| AlcoholByVolume::clamped(pct / 100.0);
        let (alcohol, most) = (of_pct(abv_pct(end)), of_pct(MOST_ABV_PCT));
        let last = Place::log_entry(name, lines.len().saturating_sub(1));
        remarks.push(Noted::at(
            last,
            Remark::AlcoholBeyondYeast { alcohol, most },
        ));
    }
    remark(&lines, &run, (options, name), &mut remarks);
    remarks.extend(brix_by_hydrometer(log, name));
    Ok(Ledger {
        alcohol: alcohol(end, uncertainty_pct),
        basis: if run.open {
            Basis::Predicted
        } else {
            Basis::Measured
        },
        steps: steps(&run.after, name),
        shortcuts: if run.open {
            Vec::new()
        } else {
            shortcuts(&lines, &run, settings, abv_pct(end))
        },
        assumptions,
        remarks,
    })
}

/// Alcohol that fermentation made, per cent by volume: without what additions brought.
fn fermented_abv_pct(run: &Run<'_>) -> f64 {
    let end = run.end();
    let brought = run
        .after
        .iter()
        .map(|after| after.brought.liquid.ethanol_kg);
    let made = 1.0 - brought.sum::<f64>() / end.ethanol_kg.max(f64::MIN_POSITIVE);
    abv_pct(end) * made.clamp(0.0, 1.0)
}

fn remark(
    lines: &[Line<'_>],
    run: &Run<'_>,
    (options, log): (LedgerOptions, &Arc<str>),
    remarks: &mut Vec<Noted<Remark>>,
) {
    let refracted = |line: &Line<'_>| match &line.event {
        Event::Pitched { sight, .. } | Event::Reading(sight) => {
            sight.instrument == Instrument::Refractometer
        }
        Event::BrewDay | Event::Drawn { .. } | Event::Added { .. } => false,
    };
    if let Some(entry) = lines.iter().position(refracted) {
        let factor = options.wort_correction;
        remarks.push(Noted::at(
            Place::log_entry(log, entry),
            Remark::WortCorrection { factor },
        ));
    }
    let early = run.bridged.iter().copied();
    remarks.extend(early.map(|entry| {
        Noted::at(
            Place::log_entry(log, entry),
            Remark::RefractometerEarly { entry },
        )
    }));
    let off_scale = lines.iter().enumerate();
    remarks.extend(off_scale.filter_map(|(entry, line)| {
        let (sight, event) = match &line.event {
            Event::Pitched { sight, .. } => (sight, "what.pitched"),
            Event::Reading(sight) => (sight, "what.reading"),
            Event::BrewDay | Event::Drawn { .. } | Event::Added { .. } => return None,
        };
        if sight.instrument != Instrument::Refractometer || sight.celsius == SCALE_C {
            return None;
        }
        let corrected = Remark::RefractometerTemperature {
            entry,
            temperature: Temperature::clamped(sight.celsius),
            shown: Extract::clamped(sight.shown_plato),
            corrected: at_20(sight).ok()?,
        };
        let place = Place::log_entry(log, entry).part(event);
        Some(Noted::at(place.field("temperature_c"), corrected))
    }));
    remarks.extend(run.moved.iter().map(|moved| {
        let reading = Place::log_entry(log, moved.entry).part("what.reading");
        let told = Remark::ReadingMoved {
            entry: moved.entry,
            read: moved.read,
            counted: moved.counted,
        };
        Noted::at(reading.field("shown_plato"), told)
    }));
    let drawn = |line: &Line<'_>| matches!(line.event, Event::Drawn { .. });
    if let Some(entry) = lines.iter().position(drawn) {
        remarks.push(Noted::at(
            Place::log_entry(log, entry),
            Remark::DrawnAsLastRead,
        ));
    }
    if run.open {
        let attenuation = options.wort_attenuation;
        remarks.push(Remark::WortAttenuation { attenuation }.into());
    }
}

fn brix_by_hydrometer(log: &Log, name: &Arc<str>) -> impl Iterator<Item = Noted<Remark>> {
    let lines = log.entries.iter().enumerate();
    lines.filter_map(|(entry, line)| {
        let (shown, instrument) = match &line.what {
            LogEvent::Pitched(pitched) => (pitched.shown, pitched.instrument),
            LogEvent::Reading(reading) => (reading.shown, reading.instrument),
            LogEvent::MashPh(_)
            | LogEvent::FirstWort(_)
            | LogEvent::BeforeBoil(_)
            | LogEvent::AfterBoil(_)
            | LogEvent::Drawn(_)
            | LogEvent::Added(_) => return None,
        };
        (shown.unit() == Unit::Brix && instrument == Instrument::Hydrometer).then(|| {
            Noted::at(
                Place::log_entry(name, entry),
                Remark::BrixByHydrometer { entry },
            )
        })
    })
}

fn steps(after: &[After<'_>], log: &Arc<str>) -> Vec<Step> {
    let numbered = after.iter().enumerate();
    numbered
        .filter_map(|(entry, after)| step(after, Place::log_entry(log, entry)))
        .collect()
}

/// What a line did to the beer; nothing for one of the brewing day.
fn step(after: &After<'_>, place: Place) -> Option<Step> {
    let (what, name) = match &after.entry.what {
        LogEvent::MashPh(_)
        | LogEvent::FirstWort(_)
        | LogEvent::BeforeBoil(_)
        | LogEvent::AfterBoil(_) => return None,
        LogEvent::Pitched(_) => (StepKind::Pitched, None),
        LogEvent::Reading(_) => (StepKind::Reading, None),
        LogEvent::Drawn(_) => (StepKind::Drawn, None),
        LogEvent::Added(added) => (StepKind::Added, Some(added.ingredient.name.clone())),
    };
    let day = after.entry.day.as_ref();
    let added = (what == StepKind::Added).then_some(after.brought);
    let held = after.held.liquid;
    let shown = held.apparent_extract();
    Some(Step {
        day: day.map(|day| minutes(1440.0 * days(day))),
        what,
        name,
        volume: held.volume(),
        water: held.water(),
        extract: held.extract(),
        ethanol: held.ethanol(),
        shown_gravity: gravity_of(shown),
        shown,
        brought_extract: added.map(|brought| brought.liquid.extract()),
        gives_ethanol: added.map(|brought| kilograms(brought.fermentable_kg / EXTRACT_PER_ETHANOL)),
        place,
    })
}
