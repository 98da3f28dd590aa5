//! Readings of samples that were not at 20 °C, and readings that no fermentation gives.

use super::entries::{ledger, pitched, plato, read};
use wortwright::ledger::{Ledger, Remark};
use wortwright::quantity::Temperature;
use wortwright::recipe::{Instrument, Log, LogEntry, LogEvent, LogReading};

/// A reading by refractometer, of a sample at a temperature.
fn refracted_at(shown: f64, celsius: f64) -> LogEntry {
    let mut reading = LogReading::new(plato(shown).into());
    reading.instrument = Instrument::Refractometer;
    reading.temperature = Some(Temperature::from_celsius(celsius).unwrap().into());
    LogEntry::undated(LogEvent::Reading(reading))
}

/// The table of the OIV has 0.59 too much at 10 °C for 10 %, so that 6.59 °Bx there are 6 °Bx at 20 °C.
#[test]
fn a_refractometers_temperature_counts() {
    let end = |reading: LogEntry| {
        let log = Log::new([pitched(20.0, 12.0), reading]);
        ledger(&log)
    };
    let (cold, at_20) = (
        end(refracted_at(6.59, 10.0)).unwrap(),
        end(refracted_at(6.0, 20.0)).unwrap(),
    );
    let abv = |ledger: &Ledger| ledger.alcohol.by_volume.percent();
    assert!((abv(&cold) - abv(&at_20)).abs() < 1e-9);
    assert!((abv(&end(refracted_at(6.59, 20.0)).unwrap()) - abv(&at_20)).abs() > 0.1);
    let told = cold.remarks.iter().find_map(|told| match told.what {
        Remark::RefractometerTemperature { corrected, .. } => Some((corrected, &told.place)),
        _ => None,
    });
    let (corrected, place) = told.unwrap();
    assert!((corrected.plato() - 6.0).abs() < 1e-9);
    let place = place.as_ref().unwrap().to_string();
    assert!(
        place.ends_with("entries[1].what.reading.temperature_c"),
        "{place}"
    );
    // No table reaches 40 °C.
    let refused = end(refracted_at(6.0, 40.0)).unwrap_err();
    assert_eq!(refused.place().unwrap().to_string(), "logs[0].entries[1]");
    assert!(refused.to_string().contains("40 °C"), "{refused}");
    assert!(
        refused
            .help()
            .unwrap()
            .contains("leave the temperature out"),
        "{refused}"
    );
}

/// 2.4 °P, then more: the gravity of a beer to which nothing was added does not rise. Two readings to 0.001 (0.257 °P there by the
/// ASBC table) differ by 0.36 °P as a rule, the root of two times that, which is no rise; 0.4 °P are told, and the alcohol is that
/// of 2.4 °P.
#[test]
fn a_reading_that_rises_is_told() {
    let of = |last: f64| {
        let log = Log::new([pitched(20.0, 12.0), read(2.4), read(last)]);
        ledger(&log).unwrap()
    };
    let (risen, same) = (of(2.8), of(2.4));
    assert_eq!(risen.alcohol.by_volume, same.alcohol.by_volume);
    let moved = |ledger: &Ledger| {
        ledger.remarks.iter().find_map(|told| match told.what {
            Remark::ReadingMoved {
                entry,
                read,
                counted,
            } => Some((entry, read.plato(), counted.plato())),
            _ => None,
        })
    };
    let (entry, read, counted) = moved(&risen).unwrap();
    assert_eq!(entry, 2);
    assert!((read - 2.8).abs() < 1e-9 && (counted - 2.4).abs() < 1e-9);
    assert_eq!(moved(&same), None);
    assert_eq!(moved(&of(2.3)), None);
    let noise = of(2.7);
    assert_eq!(moved(&noise), None);
    assert_eq!(noise.alcohol.by_volume, same.alcohol.by_volume);
}

/// One reading written down twice: 1.010 is 2.56 °P, and a hydrometer of the trade shows 2.6.
#[test]
fn two_units_of_one_reading_are_no_rise() {
    let log = Log::new([pitched(20.0, 12.0), read(2.56), read(2.6)]);
    assert_eq!(ledger(&log).unwrap().remarks, []);
}
