//! Logs that cannot be, refused at their line, and readings that deserve a look.

use super::entries::{drawn, kilograms_of, ledger, log, of, on_day, pitched, read};
use wortwright::Error;
use wortwright::catalogue::Kind;
use wortwright::diagnostic::ErrorKind;
use wortwright::ledger::{CODES, Remark};
use wortwright::recipe::{Ingredient, Instrument, Log, LogEntry, LogEvent, LogReading};
use wortwright::speech::Noted;

fn fault(entries: impl IntoIterator<Item = LogEntry>) -> Error {
    ledger(&log(entries)).unwrap_err()
}

#[test]
fn impossible_logs_are_refused_with_their_line() {
    let check = |error: &Error, code: &str, text: &str| {
        assert_eq!((error.code(), error.message()), (code, text));
        assert_eq!(error.kind(), ErrorKind::ImpossibleLog);
        assert!(CODES.contains(&code));
        assert!(error.help().is_some_and(|help| !help.is_empty()));
        // The line is the place too, counted from 0.
        let line: usize = text.split([' ', ':']).nth(1).unwrap().parse().unwrap();
        let place = format!("logs[0].entries[{}]", line - 1);
        assert_eq!(error.place().map(ToString::to_string), Some(place));
    };
    let nothing = [];
    check(
        &fault(nothing),
        "nothing_pitched",
        "line 1 of the log: expected a `pitched` line before anything else",
    );
    check(
        &fault([read(3.0)]),
        "nothing_pitched",
        "line 1 of the log: expected a `pitched` line before anything else",
    );
    check(
        &fault([pitched(20.0, 12.0), read(4.0), read(5.0)]),
        "gravity_rises",
        "line 3 of the log: expected a reading of at most 4.00 °P from the wort and additions so far, found 5.00 °P",
    );
    check(
        &fault([pitched(20.0, 12.0), read(-4.0)]),
        "below_fully_fermented",
        "line 2 of the log: expected a reading of at least -2.81 °P, where all extract has become alcohol, found -4.00 °P",
    );
    check(
        &fault([pitched(20.0, 12.0), read(4.0), drawn(20.0)]),
        "drawn_more_than_there",
        "line 3 of the log: expected to draw less than the 19.94 L in the fermenter, found 20.00 L",
    );
    check(
        &fault([
            on_day(0.0, pitched(20.0, 12.0)),
            on_day(5.0, read(4.0)),
            on_day(3.0, drawn(0.1)),
        ]),
        "days_out_of_order",
        "line 3 of the log: expected day 5 or later, found day 3",
    );
    check(
        &fault([on_day(0.0, pitched(20.0, 12.0)), on_day(1.0, drawn(0.1))]),
        "drawn_before_reading",
        "line 2 of the log: expected a reading before beer is drawn, found none since pitching",
    );
    assert_eq!(
        fault([pitched(20.0, 12.0), pitched(1.0, 12.0)]).code(),
        "pitched_twice"
    );
    assert_eq!(fault([pitched(0.0, 12.0)]).code(), "figure");
    let malt = kilograms_of(1.0, Ingredient::new("pale ale malt", Kind::Malt));
    assert_eq!(fault([pitched(20.0, 12.0), malt]).code(), "needs_mash");
    let unknown = kilograms_of(1.0, Ingredient::new("moon sugar", Kind::Sugar));
    // What the catalogue does not know is refused before, where models are checked.
    assert_eq!(fault([pitched(20.0, 12.0), unknown]).code(), "unreadable");
    // Wort drawn on the day of pitching is known; a reading within the error of the instrument is no rise.
    of([
        on_day(0.0, pitched(20.0, 12.0)),
        on_day(0.0, drawn(0.1)),
        read(4.0),
        read(4.1),
    ]);
}

#[test]
fn brix_that_no_refractometer_is_named_for_is_pointed_out() {
    let in_brix = |instrument| {
        let mut reading = LogReading::new("6.5 Bx".parse().unwrap());
        reading.instrument = instrument;
        LogEntry::undated(LogEvent::Reading(reading))
    };
    let remarked = |entry| {
        let entries = vec![pitched(20.0, 12.0), entry];
        ledger(&Log::new(entries)).unwrap().remarks
    };
    let pointed_out = Remark::BrixByHydrometer { entry: 1 };
    let found = remarked(in_brix(Instrument::Hydrometer));
    let [Noted { what, place, .. }] = &found[..] else {
        panic!("{found:?}")
    };
    assert_eq!(*what, pointed_out);
    assert_eq!(place.as_ref().unwrap().to_string(), "logs[0].entries[1]");
    let by_refractometer = remarked(in_brix(Instrument::Refractometer));
    assert!(!by_refractometer.iter().any(|told| told.what == pointed_out));
    assert_eq!(remarked(read(6.5)), []);
}
