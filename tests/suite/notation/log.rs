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
