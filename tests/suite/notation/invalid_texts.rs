//! Bad texts: one file for each diagnostic code, with what is said of it beside it.
//!
//! `WORTWRIGHT_WRITE=1 cargo test --test suite invalid` writes the `.txt` files anew; read every changed line.

use std::collections::BTreeSet;
use wortwright::diagnostic::{Code, TextRef, render};
use wortwright::notation::read;
use wortwright_tests::files::{self, below, golden};

const FOLDER: &str = "tests/suite/notation/invalid";

/// The text that shows a code.
fn text_of(code: Code) -> String {
    files::read(&format!("{FOLDER}/{}.gyle", code.as_str()))
}

fn said_of(name: &str, text: &str) -> (String, BTreeSet<&'static str>) {
    let sources = [TextRef::new(name, text)];
    let reading = read(&sources);
    let codes = reading
        .diagnostics
        .iter()
        .map(|diagnostic| diagnostic.code.as_str())
        .collect();
    let all: Vec<String> = reading
        .diagnostics
        .iter()
        .map(|diagnostic| render(diagnostic, &sources))
        .collect();
    (all.join("\n"), codes)
}

#[test]
fn invalid_texts_get_the_diagnostics_beside_them() {
    for code in Code::ALL {
        let (text, code) = (text_of(*code), code.as_str());
        let name = format!("{code}.gyle");
        let (said, codes) = said_of(&name, &text);
        assert!(codes.contains(code), "{name} gives {codes:?}");
        let beside = format!("{FOLDER}/{code}.txt");
        assert_eq!(said, golden(&beside, &said), "{beside}");
    }
}

#[test]
fn every_invalid_text_is_named_after_a_code() {
    let codes: BTreeSet<String> = Code::ALL
        .iter()
        .map(|code| code.as_str().to_owned())
        .collect();
    for path in below(FOLDER, "") {
        let name = path.rsplit('/').next().unwrap();
        let stem = name.split('.').next().unwrap();
        assert!(codes.contains(stem), "{path} shows no code");
    }
}

/// Words by which a help tells the reader what to do.
const ACTIONS: [&str; 23] = [
    "add",
    "begin",
    "check",
    "close",
    "correct",
    "count",
    "delete",
    "did you mean",
    "fix",
    "give",
    "indent",
    "leave out",
    "lengthen",
    "look",
    "move",
    "name",
    "put",
    "read",
    "split",
    "state",
    "take away",
    "use",
    "write",
];

/// A text shows its code and little besides: each of its lines is needed for what is said, or is marked as a neighbour
/// of which nothing must be said.
#[test]
fn every_line_of_an_invalid_text_matters() {
    let mut idle = Vec::new();
    for code in Code::ALL {
        let name = format!("{}.gyle", code.as_str());
        let text = text_of(*code);
        let said = |text: &str| -> Vec<(Code, String, Option<String>)> {
            let reading = read(&[TextRef::new("text", text)]);
            let found = reading.diagnostics.into_iter();
            found
                .map(|found| (found.code, found.message, found.help))
                .collect()
        };
        let whole = said(&text);
        let lines: Vec<&str> = text.lines().collect();
        for (at, line) in lines
            .iter()
            .enumerate()
            .filter(|(_, line)| !line.trim().is_empty() && !line.ends_with("# fine"))
        {
            let kept: Vec<&str> = [&lines[..at], &lines[at + 1..]].concat();
            if said(&kept.join("\n")) == whole {
                idle.push(format!("{name}:{} {line}", at + 1));
            }
        }
    }
    assert!(idle.is_empty(), "{idle:#?}");
}

#[test]
fn messages_are_lower_case_without_full_stop_and_help_says_what_to_do() {
    for code in Code::ALL {
        let text = text_of(*code);
        for diagnostic in read(&[TextRef::new("text", &text)]).diagnostics {
            let message = &diagnostic.message;
            assert!(!message.ends_with('.'), "{message}");
            assert!(!message.starts_with(char::is_uppercase), "{message}");
            let help = diagnostic.help.unwrap_or_default();
            let first_words =
                |part: &str| ACTIONS.iter().any(|action| part.trim().starts_with(action));
            assert!(
                help.split([';', ':', '.']).any(first_words),
                "{message}: {help}"
            );
        }
    }
}
