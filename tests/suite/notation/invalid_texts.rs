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

/// Pages with what is asked of them.
const ASKED: [&str; 9] = [
    "Ale\n10 bbl\nmash:\n100 % pale ale malt\n",
    "Ale\n20 L\nmash:\n4 kg pale ale malt\nmash at 152\n",
    "Ale\n20 L\n2 kg wheat malt\n10# pale ale malt\n",
    "brewhouse Small\n  10 % evaporation\n",
    "Ale\n20.5 L\nmash:\n4,5 kg pale ale malt\n",
    "Ale log\n20 L, 1.050\nday 3 8 Bx\n",
    "recipe A\nmash\n  1 kg pale ale malt\nferment\n  add 8 oz apple juice on day 3\n",
    "recipe A\nmash\n  1.250 g pale ale malt\n",
    "recipe A\nmash\n  1 kg pale ale malt\n  1 T gypsum\n",
];

/// What a help says to write, put in the place that it speaks of.
fn mended(text: &str, span: wortwright::diagnostic::Span, help: &str) -> Option<String> {
    let (offer, _) = help.strip_prefix("write `")?.split_once('`')?;
    let before = text.get(..span.start as usize)?;
    let behind = text.get(span.end as usize..)?;
    Some(format!("{before}{offer}{behind}"))
}

/// A help that says what to write is tried: where it is written, its complaint is gone from the line.
#[test]
fn what_a_help_says_to_write_is_read() {
    let of_codes = Code::ALL.iter().map(|code| text_of(*code));
    let texts = of_codes.chain(ASKED.map(str::to_owned));
    let (mut tried, mut failing) = (0, Vec::new());
    for text in texts {
        for found in read(&[TextRef::new("text", &text)]).diagnostics {
            let help = found.help.unwrap_or_default();
            let Some(mended) = mended(&text, found.span, &help) else {
                continue;
            };
            tried += 1;
            let line = found.span.position(&text).line;
            let again = read(&[TextRef::new("text", &mended)]).diagnostics;
            let is_same = |other: &wortwright::diagnostic::Diagnostic| {
                other.code == found.code && other.span.position(&mended).line == line
            };
            if again.iter().any(is_same) {
                failing.push(format!("{}: {help}", found.message));
            }
        }
    }
    assert!(tried > 20, "{tried}");
    assert!(failing.is_empty(), "{failing:#?}");
}
