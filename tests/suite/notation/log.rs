//! Lines of a log: doses, and what may stand on one line but once.

use super::texts::clean;
use serde_json::Value;
use wortwright::diagnostic::{Severity, TextRef};
use wortwright::exchange::answer;
use wortwright::notation::{Document, read};
use wortwright::recipe::Log;

fn log_of(line: &str) -> String {
    format!("log\n  pitched 10 L at 12 P on day 0\n  {line}\n  reading 2.5 P on day 9\n")
}

/// The codes of the errors and warnings of a log with this line.
fn said(line: &str) -> Vec<(Severity, &'static str)> {
    let text = log_of(line);
    let reading = read(&[TextRef::new("log", &text)]);
    let said = reading.diagnostics.iter();
    said.map(|d| (d.severity, d.code.as_str())).collect()
}

fn alcohol(line: &str) -> f64 {
    let request =
        serde_json::json!({"format": 1, "ask": "ledger", "document": log_of(line)}).to_string();
    let answer: Value = serde_json::from_str(&answer(&request)).unwrap();
    let abv = &answer["result"]["alcohol"]["abv_pct"];
    abv.as_f64().unwrap_or_else(|| panic!("{line}: {answer}"))
}

/// A dose is of what the vessel holds: 10 L as pitched, so 10 g/L is 100 g and 50 mL/L is 500 mL; 500 mL are
/// 500/10.5 = 4.762 % of 10.5 L.
#[test]
fn doses_go_in_as_their_amounts_do() {
    for (dose, amount, accuracy) in [
        ("10 g/L sucrose", "100 g sucrose", 1e-9),
        ("1000 g/hL honey", "100 g honey", 1e-9),
        ("50 mL/L apple juice", "500 mL apple juice", 1e-9),
        ("4.7619 % by volume apple juice", "500 mL apple juice", 1e-4),
    ] {
        let dosed = alcohol(&format!("added {dose}"));
        let added = alcohol(&format!("added {amount}"));
        assert!((dosed - added).abs() < accuracy, "{dose}: {dosed} {added}");
        // Nor is it left out.
        assert!(
            (dosed - alcohol("drawn 0 mL on day 0")).abs() > 0.01,
            "{dose}"
        );
    }
}

#[test]
fn a_dose_is_kept_in_text_and_json() {
    for line in [
        "added 10 g/L sucrose on day 3",
        "added 50 mL/L plum juice",
        "added 5 % by volume plum juice",
        "added 3 g/L cascade",
    ] {
        let text = log_of(line);
        let [log] = clean(&text).logs.try_into().unwrap();
        let json = serde_json::to_string(&log).unwrap();
        assert_eq!(serde_json::from_str::<Log>(&json).unwrap(), log);
        let written = Document::from(&log).to_string();
        assert_eq!(clean(&written).logs, [log], "{written}");
    }
}

#[test]
fn what_cannot_go_in_is_said_in_words_of_the_log() {
    for line in [
        "added 5 % sucrose",
        "added 20 IBU cascade",
        "added 1 L cascade",
        "added 10 mL/L cascade",
        "added 10 % by volume pale ale malt",
        "added 2 packs english ale yeast",
        "added 1 pack apple juice",
    ] {
        assert_eq!(said(line), [(Severity::Error, "wrong_unit")], "{line}");
        let text = log_of(line);
        let reading = read(&[TextRef::new("log", &text)]);
        let help = reading.diagnostics[0].help.as_deref().unwrap();
        // Neither fermentables nor the boil are in a log.
        assert!(!help.contains("share") && !help.contains("boil"), "{help}");
    }
    // What the packs hold is a mass or a volume.
    for line in [
        "added 2 x 11 g english ale yeast",
        "added 2 x 500 mL apple juice",
    ] {
        assert_eq!(said(line), [], "{line}");
        assert!(alcohol(line) > 0.0);
    }
}

#[test]
fn one_line_has_one_day_one_temperature_and_one_instrument() {
    for line in [
        "reading 1.020 on day 3 on day 4",
        "reading 1.020 at 20 C at 21 C",
        "reading 6 Bx by refractometer by hydrometer",
        "pitched 10 L at 12 P on day 0 on day 1",
        "drawn 1 L on day 3 on day 4",
        "added 100 g sucrose on day 3 on day 4",
    ] {
        assert_eq!(
            said(line),
            [(Severity::Error, "conflicting_facts")],
            "{line}"
        );
    }
    // As with any other figure, the same again is no conflict.
    assert_eq!(said("reading 1.020 at 20 C on day 3 at 68 F"), []);
}

#[test]
fn nothing_on_a_line_is_dropped_in_silence() {
    for line in [
        "drawn 100 mL at 20 C",
        "drawn 100 mL at 1.020 on day 3",
        "drawn 100 mL by refractometer",
    ] {
        assert_eq!(
            said(line),
            [(Severity::Error, "unexpected_words")],
            "{line}"
        );
    }
    assert_eq!(
        said("added 100 g sucrose when 6 P"),
        [(Severity::Error, "wrong_timing")]
    );
    assert_eq!(
        said("added 30 g cascade on day 3 for 4 days"),
        [(Severity::Warning, "wrong_timing")]
    );
}

/// The lines of a brewing day as they are printed, and others that say the same.
#[test]
fn the_brewing_day_stands_in_the_log() {
    for (printed, others) in [
        ("mash pH 5.42", &["mash ph 5.42"][..]),
        ("first wort 7 L at 16 P", &["first wort 7 L, 16 P"]),
        (
            "before boil 12.1 L at 10.6 P",
            &["before boil 12.1 L, 10.6 P"],
        ),
        (
            "before boil 12.6 L at 98 C, 10.6 P at 22 C",
            &[
                "before boil 12.6 L at 98 C at 10.6 P at 22 C",
                "before boil 12.6 L at 98 C, 10.6 P by hydrometer at 22 C",
            ],
        ),
        ("before boil 12.6 L at 98 C", &[]),
        ("after boil 13.4 Bx by refractometer", &[]),
        ("after boil 9.9 L at 13.1 P on day 0", &[]),
        (
            "pitched 8.3 L at 15.7 P",
            &["into fermenter 8.3 L at 15.7 P"],
        ),
    ] {
        let text = format!("log\n  {printed}\n");
        let [log] = clean(&text).logs.try_into().unwrap();
        let written = Document::from(&log).to_string();
        assert_eq!(written, text);
        let json = serde_json::to_string(&log).unwrap();
        assert_eq!(serde_json::from_str::<Log>(&json).unwrap(), log);
        for other in others {
            let same = clean(&format!("log\n  {other}\n")).logs;
            assert_eq!(same, std::slice::from_ref(&log), "{other}");
        }
    }
}

/// The temperature of the wort and that of the sample stay apart.
#[test]
fn a_temperature_is_that_of_the_figure_before_it() {
    let read = |line: &str| {
        let [log] = clean(&format!("log\n  {line}\n")).logs.try_into().unwrap();
        let json = serde_json::to_value(&log).unwrap();
        let wort = &json["entries"][0]["what"]["before_boil"];
        let celsius = |field: &str| wort[field]["value"].as_f64();
        (celsius("volume_at_c"), celsius("temperature_c"))
    };
    let (hot, sample) = (Some(98.0), Some(22.0));
    assert_eq!(
        read("before boil 12.6 L at 98 C, 10.6 P at 22 C"),
        (hot, sample)
    );
    assert_eq!(read("before boil 12.6 L at 98 C, 10.6 P"), (hot, None));
    assert_eq!(read("before boil 12.6 L, 10.6 P at 22 C"), (None, sample));
    assert_eq!(read("before boil 12.6 L at 10.6 P"), (None, None));
}

/// A line that is not of the grammar is read as jotted; what it leaves unused is told.
#[test]
fn a_slip_on_a_line_of_the_brewing_day_is_told() {
    for (line, read_as, unused) in [
        ("before boil 10 P of 12 kg", "before boil 10 P", 1),
        ("after boil 9.9 L at 13 P", "after boil 9.9 L at 13 P", 0),
    ] {
        let text = format!("log\n  {line}\n  pitched 10 L at 12 P\n");
        let reading = read(&[TextRef::new("log", &text)]);
        assert!(reading.is_usable(), "{line}: {:?}", reading.diagnostics);
        let written = Document::from(&reading.logs[0]).to_string();
        assert_eq!(
            written,
            format!("log\n  {read_as}\n  pitched 10 L at 12 P\n")
        );
        let is_unused = |note: &&wortwright::notation::ReadingNote| {
            matches!(note, wortwright::notation::ReadingNote::NotUsed { .. })
        };
        assert_eq!(
            reading.notes.iter().filter(is_unused).count(),
            unused,
            "{line}"
        );
    }
}

/// As jotted: gravities and volumes before and after the boil, the pH of the mash.
#[test]
fn a_jotted_brewing_day_is_read() {
    let text = "log\nmash pH 5.4\npre-boil 26 L @ 1.042\npost-boil gravity 1.052\nvolume into fermenter 20 L, OG 1.055\nday 10 1.012\n";
    let [log] = clean(text).logs.try_into().unwrap();
    let written = Document::from(&log).to_string();
    assert_eq!(
        written,
        "log\n  mash pH 5.4\n  before boil 26 L at 1.042\n  after boil 1.052\n  pitched 20 L at 1.055\n  reading 1.012 on day 10\n"
    );
    let text = "log\npreboil volume 27 L at 95 C, 1.048\nOG 1.055 20 L\nfg 1.012\n";
    let [log] = clean(text).logs.try_into().unwrap();
    let written = Document::from(&log).to_string();
    assert!(
        written.contains("before boil 27 L at 95 C, 1.048\n"),
        "{written}"
    );
}

/// The wort before the boil is no beer: the ledger passes over it and says so.
#[test]
fn the_ledger_takes_no_harm_from_the_brewing_day() {
    let of = |text: &str| -> Value {
        let request = serde_json::json!({"format": 1, "ask": "ledger", "document": text});
        serde_json::from_str(&answer(&request.to_string())).unwrap()
    };
    let plain = of(&log_of("drawn 100 mL on day 0"));
    let whole = of(
        "log\n  mash pH 5.4\n  before boil 14 L at 9 P\n  after boil 11 L at 11.6 P\n  into fermenter 10 L at 12 P on day 0\n  drawn 100 mL on day 0\n  reading 2.5 P on day 9\n",
    );
    assert_eq!(plain["result"]["alcohol"], whole["result"]["alcohol"]);
    let steps = |answer: &Value| answer["result"]["steps"].as_array().unwrap().len();
    assert_eq!((steps(&plain), steps(&whole)), (3, 3));
    let told = whole["result"]["remarks"].as_array().unwrap();
    let told = told
        .iter()
        .filter(|told| told["code"] == "brew_day_reading");
    assert_eq!(told.count(), 3);
    let unpitched = of("log\n  before boil 14 L at 9 P\n");
    assert_eq!(unpitched["diagnostics"][0]["code"], "nothing_pitched");
}

/// A mass is no volume, whatever stands on the line: every line of a log that measures is refused with what belongs there, and none
/// becomes a reading of another thing.
#[test]
fn a_figure_of_another_thing_is_refused() {
    for line in [
        "first wort 8 kg at 18 P",
        "before boil 12 kg at 10 P",
        "before boil 12 min at 10 P",
        "after boil 9 kg at 13 P",
        "after boil 10 % at 12 P",
        "into fermenter 8 kg at 12 P on day 0",
        "drawn 120 g on day 3",
        "reading 3 L on day 4",
        "added 3 C sour cherry juice on day 3",
    ] {
        assert_eq!(said(line), [(Severity::Error, "wrong_unit")], "{line}");
    }
    for line in [
        "first wort 8 L at 18 P",
        "before boil 12 L at 95 C, 10 P",
        "before boil 10 P",
        "after boil 14 Bx by refractometer",
        "drawn 120 mL on day 3",
    ] {
        assert_eq!(said(line), [], "{line}");
    }
    // Hot wort has the degrees that are typed.
    let hot = log_of("before boil 27 L 95 C 1.048");
    let jotted = read(&[TextRef::new("log", &hot)]);
    let understood: String = jotted
        .understood()
        .iter()
        .map(ToString::to_string)
        .collect();
    assert!(
        understood.contains("27 L") && understood.contains("95 C"),
        "{understood}"
    );
}
