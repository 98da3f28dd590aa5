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
        let path = format!("tests/invalid/{name}");
        let text = fs::read_to_string(&path)
            .unwrap_or_else(|_| panic!("no text shows the code `{code}`: {path}"));
        let (said, codes) = said_of(&name, &text);
        assert!(codes.contains(code), "{name} gives {codes:?}");
        let beside = format!("tests/invalid/{code}.txt");
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
    for entry in fs::read_dir("tests/invalid").unwrap() {
        let path = entry.unwrap().path();
        let stem = path.file_stem().unwrap().to_str().unwrap().to_owned();
        assert!(codes.contains(&stem), "{stem} is no code");
    }
}

#[test]
fn messages_are_lower_case_without_full_stop_and_offer_help() {
    for code in Code::ALL {
        let text = fs::read_to_string(format!("tests/invalid/{}.gyle", code.as_str())).unwrap();
        for diagnostic in read(&[Source::new("text", &text)]).diagnostics {
            let message = &diagnostic.message;
            assert!(!message.ends_with('.'), "{message}");
            assert!(!message.starts_with(char::is_uppercase), "{message}");
            assert!(diagnostic.help.is_some(), "{message}");
        }
    }
}
