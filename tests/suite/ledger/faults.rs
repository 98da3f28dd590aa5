//! Logs that cannot be, refused at their line, and readings that deserve a look.

use super::entries::{drawn, kilograms_of, ledger, log, of, on_day, pitched, read};
use wortwright::catalogue::Kind;
use wortwright::diagnostic::{ErrorKind, Severity};
use wortwright::ledger::{CODES, Ledger, Remark};
use wortwright::recipe::{Ingredient, Instrument, Log, LogEntry, LogEvent, LogReading};
use wortwright::speech::{Noted, Speaks};
use wortwright::{Error, Job};

fn fault(entries: impl IntoIterator<Item = LogEntry>) -> Error {
    ledger(&log(entries)).unwrap_err()
}

#[test]
fn impossible_logs_are_refused_with_their_line() {
    let check = |error: &Error, code: &str, line: usize, text: &str| {
        assert_eq!((error.code(), error.message()), (code, text));
        assert_eq!(error.kind(), ErrorKind::ImpossibleLog);
        assert!(CODES.contains(&code));
        assert!(error.help().is_some_and(|help| !help.is_empty()));
        // The place counts from 0.
        let place = format!("logs[0].entries[{}]", line - 1);
        assert_eq!(error.place().map(ToString::to_string), Some(place));
    };
    let nothing = [];
    check(
        &fault(nothing),
        "nothing_pitched",
        1,
        "expected a `pitched` line before anything else",
    );
    check(
        &fault([read(3.0)]),
        "nothing_pitched",
        1,
        "expected a `pitched` line before anything else",
    );
    check(
        &fault([pitched(20.0, 12.0), read(4.0), read(5.0)]),
        "gravity_rises",
        3,
        "expected a reading of at most 4.00 °P from the wort and additions so far, found 5.00 °P",
    );
    check(
        &fault([pitched(20.0, 12.0), read(-4.0)]),
        "below_fully_fermented",
        2,
        "expected a reading of at least -2.81 °P, where all extract has become alcohol, found -4.00 °P",
    );
    check(
        &fault([pitched(20.0, 12.0), read(4.0), drawn(20.0)]),
        "drawn_more_than_there",
        3,
        "expected to draw less than the 19.94 L in the fermenter, found 20.00 L",
    );
    check(
        &fault([
            on_day(0.0, pitched(20.0, 12.0)),
            on_day(5.0, read(4.0)),
            on_day(3.0, drawn(0.1)),
        ]),
        "days_out_of_order",
        3,
        "expected day 5 or later, found day 3",
    );
    check(
        &fault([on_day(0.0, pitched(20.0, 12.0)), on_day(1.0, drawn(0.1))]),
        "drawn_before_reading",
        2,
        "expected a reading before beer is drawn, found none since pitching",
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

/// A line of a log that breaks the balance is the one that is refused; what readings may be off breaks none. Counted from 1.
#[test]
fn what_breaks_the_balance_is_refused_at_its_line() {
    let read_5 = "pitched 20 L at 12 P on day 0; reading 3 P on day 5";
    let rest = |lines: &str| format!("{read_5}; {lines}");
    for (lines, refused) in [
        // Nothing makes extract.
        (rest("reading 3.3 P on day 6"), None),
        (rest("reading 4 P on day 6"), Some((3, "gravity_rises"))),
        (
            rest("added 2 L water on day 6; reading 3.6 P on day 7"),
            Some((4, "gravity_rises")),
        ),
        (
            rest("added 1 L spirit, 40 % alcohol on day 6; reading 3 P on day 7"),
            Some((4, "gravity_rises")),
        ),
        (
            "pitched 20 L at 12 P on day 0; reading 14 Bx by refractometer on day 5".to_owned(),
            Some((2, "gravity_rises")),
        ),
        (
            "pitched 20 L at 0 P on day 0; reading -3 P on day 5".to_owned(),
            Some((2, "below_fully_fermented")),
        ),
        (
            "pitched 20 L at 1.050 on day 0; reading 0.980 on day 5".to_owned(),
            Some((2, "below_fully_fermented")),
        ),
        // Nothing comes out that is not there: 20 L less 12 L.
        (rest("drawn 12 L on day 6; drawn 7 L on day 7"), None),
        (
            rest("drawn 12 L on day 6; drawn 9 L on day 7"),
            Some((4, "drawn_more_than_there")),
        ),
        // What is pitched was in the kettle: 2.5 kg are 20 L at 12 °P, 3.3 kg 26 L.
        (
            "after boil 20 L at 12 P; pitched 20 L at 13 P on day 0".to_owned(),
            None,
        ),
        (
            "after boil 20 L at 12 P; pitched 30 L at 8 P on day 0".to_owned(),
            None,
        ),
        (
            "after boil 20 L at 12 P; pitched 26 L at 12 P on day 0".to_owned(),
            Some((2, "more_than_boiled")),
        ),
        (
            "mash pH 5.4; after boil 20 L at 12 P; pitched 20 L at 16 P on day 0".to_owned(),
            Some((3, "more_than_boiled")),
        ),
        // By hand: at 98 °C water takes 1.04 times its room, so that 20 L are 19.2 L; 1.17 times as much is what readings may be off.
        (
            "after boil 20 L at 98 C at 12 P; pitched 23 L at 12 P on day 0".to_owned(),
            Some((2, "more_than_boiled")),
        ),
        (
            "after boil 20 L at 12 P; pitched 23 L at 12 P on day 0".to_owned(),
            None,
        ),
        // No wort is a syrup, in the kettle either.
        (
            "first wort 20 P; before boil 20 L at 60 P; pitched 20 L at 12 P on day 0".to_owned(),
            Some((2, "figure")),
        ),
        // No day comes before that of an earlier line, nor is there water so hot.
        (
            "pitched 20 L at 12 P on day 3; reading 3 P on day 1".to_owned(),
            Some((2, "days_out_of_order")),
        ),
        (rest("reading 3 P at 200 C on day 6"), Some((3, "figure"))),
    ] {
        let text = format!("log\n  {}\n", lines.replace("; ", "\n  "));
        let job = Job::read([("page", text.as_str())]).unwrap();
        let found = job.ledgers().next().unwrap();
        let found = found.err().map(|error| {
            let place = error.place().map(ToString::to_string);
            (place.unwrap_or_default(), error.code().to_owned())
        });
        let refused =
            refused.map(|(line, code)| (format!("logs[0].entries[{}]", line - 1), code.to_owned()));
        assert_eq!(found, refused, "{lines}");
    }
    // What no unit can say is refused by the reader.
    for line in [
        "reading 3 P on day -2",
        "added -1 L water on day 1",
        "added 1 L spirit, 120 % alcohol on day 1",
        "added 1 L plum juice, 120 Bx on day 1",
        "added 1 kg sucrose, 130 % extract on day 1",
        "mash pH 15",
    ] {
        let text = format!("log\n  pitched 20 L at 12 P on day 0\n  {line}\n");
        let error = Job::read([("page", text.as_str())]).unwrap_err();
        assert_eq!(error.kind(), ErrorKind::Unreadable, "{line}");
        assert!(error.to_string().contains("page:3:"), "{line}: {error}");
    }
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

/// The line of the text and what stands in it, wherever the log begins.
#[test]
fn a_refused_reading_shows_its_line_of_the_text() {
    let text = "# a note before it\n\nlog\n  pitched 20 L at 1.050 on day 0\n  reading 1.010 on day 6\n  reading 1.025 on day 9\n";
    let job = Job::read([("page", text)]).unwrap();
    let error = job.ledgers().next().unwrap().unwrap_err();
    let said = error.to_string();
    assert!(said.contains("page:6:"), "{said}");
    assert!(said.contains("reading 1.025 on day 9"), "{said}");
    assert!(!said.contains("line 3"), "{said}");
    assert!(
        error.help().unwrap().contains("delete the reading"),
        "{said}"
    );
}

#[test]
fn a_syrup_is_no_wort() {
    for (at, code) in [(49.0, None), (70.0, Some("figure"))] {
        let followed = ledger(&log([pitched(20.0, at)]));
        assert_eq!(followed.as_ref().err().map(Error::code), code, "{at}");
        if let Err(error) = followed {
            assert!(error.message().contains("from 0 to 50 °P"), "{error}");
            assert!(error.help().unwrap().contains("`1.050`"), "{error}");
        }
    }
}

/// 5 kg of sugar in 20 mL of wort would be 78 % of alcohol, and no yeast lives beyond 20: how far it gets is not known, so that the
/// figure may be off by all that lies above. A spirit that was poured in is no fermentation.
#[test]
fn no_yeast_reaches_the_alcohol_of_a_spirit() {
    let of = |lines: &str| {
        let text = format!("log\n  pitched {lines}");
        let job = Job::read([("log", text)]).unwrap();
        job.ledgers().next().unwrap().unwrap()
    };
    let warned = |ledger: &Ledger| {
        let mut told = ledger.remarks.iter();
        told.any(|told| {
            told.code() == "alcohol_beyond_yeast" && told.severity() == Severity::Warning
        })
    };
    let sugared = of("20 mL at 1.050\n  added 5 kg sugar\n");
    let abv = sugared.alcohol.by_volume.percent();
    assert!(abv > 70.0 && warned(&sugared), "{abv}");
    let off = sugared.alcohol.uncertainty.percent();
    assert!(off > abv - 20.0 && off < abv - 19.0, "{off}");
    let strong = of("20 L at 1.110\n  reading 1.015\n");
    assert!(!warned(&strong) && strong.alcohol.uncertainty.percent() < 0.5);
    let spirit = of("5 L at 1.050\n  reading 1.010\n  added 5 L spirit, 60 % alcohol\n");
    assert!(spirit.alcohol.by_volume.percent() > 30.0 && !warned(&spirit));
}
