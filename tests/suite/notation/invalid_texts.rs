//! Bad texts: one file for each diagnostic code, with what is said of it beside it.
//!
//! `WORTWRIGHT_WRITE=1 cargo test invalid` writes the `.txt` files anew; read every changed line.

use std::collections::BTreeSet;
use std::fs;
use wortwright::diagnostic::{Code, Source, render};
use wortwright::notation::read;

fn said_of(name: &str, text: &str) -> (String, BTreeSet<&'static str>) {
    let sources = [Source::new(name, text)];
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
    let write = std::env::var_os("WORTWRIGHT_WRITE").is_some();
    for code in Code::ALL {
        let code = code.as_str();
        let name = format!("{code}.gyle");
        let path = format!("suite/notation/invalid/{name}");
        let text = fs::read_to_string(&path)
            .unwrap_or_else(|_| panic!("no text shows the code `{code}`: {path}"));
        let (said, codes) = said_of(&name, &text);
        assert!(codes.contains(code), "{name} gives {codes:?}");
        let beside = format!("suite/notation/invalid/{code}.txt");
        if write {
            fs::write(&beside, &said).unwrap();
        }
        let expected = fs::read_to_string(&beside).unwrap();
        assert_eq!(said, expected, "{beside}");
    }
}

#[test]
fn every_invalid_text_is_named_after_a_code() {
    let codes: BTreeSet<String> = Code::ALL
        .iter()
        .map(|code| code.as_str().to_owned())
        .collect();
    for entry in fs::read_dir("suite/notation/invalid").unwrap() {
        let path = entry.unwrap().path();
        let stem = path.file_stem().unwrap().to_str().unwrap().to_owned();
        assert!(codes.contains(&stem), "{stem} is no code");
    }
}

/// Words by which a help tells the reader what to do.
const ACTIONS: [&str; 21] = [
    "add",
    "begin",
    "check",
    "close",
    "count",
    "delete",
    "did you mean",
    "give",
    "indent",
    "leave out",
    "lengthen",
    "look",
    "mend",
    "move",
    "name",
    "put",
    "read",
    "split",
    "state",
    "take away",
    "write",
];

/// A text shows its code and little besides: each of its lines is needed for what is said, or is marked as a neighbour
/// of which nothing must be said.
#[test]
fn every_line_of_an_invalid_text_matters() {
    let mut idle = Vec::new();
    for code in Code::ALL {
        let name = format!("{}.gyle", code.as_str());
        let text = fs::read_to_string(format!("suite/notation/invalid/{name}")).unwrap();
        let said = |text: &str| -> Vec<(Code, String, Option<String>)> {
            let reading = read(&[Source::new("text", text)]);
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
        let text =
            fs::read_to_string(format!("suite/notation/invalid/{}.gyle", code.as_str())).unwrap();
        for diagnostic in read(&[Source::new("text", &text)]).diagnostics {
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
