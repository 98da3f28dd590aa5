//! Logs built in code, entry by entry.

use uom::si::volume::liter;
use wortwright::catalogue::Kind;
use wortwright::ledger::{Ledger, LedgerOptions};
use wortwright::notation::Models;
use wortwright::quantity::{Extract, Fermentability, Unit, Volume, Written, uom};
use wortwright::recipe::{
    Added, Amount, Drawn, Ingredient, Instrument, Log, LogEntry, LogEvent, LogReading, Pitched,
};
use wortwright::science::liquid::Liquid;
use wortwright::{Error, Job};

pub(super) fn plato(value: f64) -> Extract {
    Extract::from_plato(value).unwrap()
}

pub(super) fn pitched(litres: f64, extract: f64) -> LogEntry {
    let volume = Written::new(litres, Unit::Litre).unwrap();
    let pitched = Pitched::new(volume, plato(extract).into());
    LogEntry::undated(LogEvent::Pitched(pitched))
}

pub(super) fn read_with(instrument: Instrument, shown: f64) -> LogEntry {
    let mut reading = LogReading::new(plato(shown).into());
    reading.instrument = instrument;
    LogEntry::undated(LogEvent::Reading(reading))
}

pub(super) fn read(shown: f64) -> LogEntry {
    read_with(Instrument::Hydrometer, shown)
}

pub(super) fn drawn(litres: f64) -> LogEntry {
    let volume = Written::new(litres, Unit::Litre).unwrap();
    LogEntry::undated(LogEvent::Drawn(Drawn::new(volume)))
}

pub(super) fn juice(brix: f64) -> Ingredient {
    let mut juice = Ingredient::new("apple juice", Kind::Juice);
    juice.facts.brix = Some(plato(brix).into());
    juice.facts.fermentability = Some(Fermentability::from_fraction(1.0).unwrap().into());
    juice
}

pub(super) fn sugar() -> Ingredient {
    Ingredient::new("cane sugar", Kind::Sugar)
}

pub(super) fn litres_of(litres: f64, ingredient: Ingredient) -> LogEntry {
    let amount = Amount::Volume(Written::new(litres, Unit::Litre).unwrap());
    LogEntry::undated(LogEvent::Added(Added::new(amount, ingredient)))
}

pub(super) fn kilograms_of(kg: f64, ingredient: Ingredient) -> LogEntry {
    let amount = Amount::Mass(Written::new(kg, Unit::Kilogram).unwrap());
    LogEntry::undated(LogEvent::Added(Added::new(amount, ingredient)))
}

pub(super) fn on_day(day: f64, mut entry: LogEntry) -> LogEntry {
    entry.day = Some(Written::new(day, Unit::Day).unwrap());
    entry
}

pub(super) fn log(entries: impl IntoIterator<Item = LogEntry>) -> Log {
    Log::new(entries)
}

pub(super) fn ledger_with(log: &Log, options: LedgerOptions) -> Result<Ledger, Error> {
    let job = Job::default().with(Models::default().log(log.clone()))?;
    job.ledgers_with(options).next().unwrap()
}

pub(super) fn ledger(log: &Log) -> Result<Ledger, Error> {
    ledger_with(log, LedgerOptions::default())
}

pub(super) fn of(entries: impl IntoIterator<Item = LogEntry>) -> Ledger {
    ledger(&log(entries)).unwrap()
}

pub(super) fn abv(ledger: &Ledger) -> f64 {
    ledger.alcohol.by_volume.percent()
}

/// A litre of wort after it has fermented to a hydrometer's reading.
pub(super) fn fermented(original: Extract, apparent: Extract) -> Liquid {
    let wort = Liquid::wort(Volume::new::<liter>(1.0), original).unwrap();
    wort.fermented_to(apparent).unwrap()
}
