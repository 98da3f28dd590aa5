//! Every code that an answer can carry: a list in `tests/golden/codes.txt` that changes only on purpose, and the docs.
//!
//! `WORTWRIGHT_WRITE=1 cargo test --test suite codes` writes the list anew.

use wortwright::advice::Action;
use wortwright::caution::Caution;
use wortwright::diagnostic::{Code, ErrorKind};
use wortwright::learn::{LearnRemark, LearntFigure, NextDay, Slip};
use wortwright::ledger::{self, Remark, ShortcutRule, StepKind};
use wortwright::process::{Assumption, CauseKind, GasPlan, Measurement, Warning};
use wortwright::remedy::Remedy;
use wortwright::scale::{Change, Drift, Outcome};
use wortwright::substitute::{NoSubstitute, Practice, Proposal, WithoutIt};
use wortwright_tests::files::{golden, read};

/// The families of codes by their headings in the docs, from the types.
fn families() -> Vec<(&'static str, Vec<&'static str>)> {
    let of_texts = Code::ALL.iter().map(|code| code.as_str()).collect();
    vec![
        (
            "Diagnostics of a request",
            wortwright::exchange::CODES.to_vec(),
        ),
        ("Diagnostics of a text", of_texts),
        ("Diagnostics of a log", ledger::CODES.to_vec()),
        ("Diagnostics of a refused call", ErrorKind::CODES.to_vec()),
        ("`assumptions`", Assumption::CODES.to_vec()),
        ("`warnings`", Warning::CODES.to_vec()),
        ("`changes`", Change::CODES.to_vec()),
        ("`outcomes`", Outcome::CODES.to_vec()),
        ("`remedies`", Remedy::CODES.to_vec()),
        ("`gas`", GasPlan::CODES.to_vec()),
        ("`proposals`", Proposal::CODES.to_vec()),
        ("`no_substitute`", NoSubstitute::CODES.to_vec()),
        ("`without`", WithoutIt::CODES.to_vec()),
        ("`practice`", Practice::CODES.to_vec()),
        ("`steps`", StepKind::CODES.to_vec()),
        ("`shortcuts`", ShortcutRule::CODES.to_vec()),
        ("`remarks`", Remark::CODES.to_vec()),
        ("`figures` of `learn`", LearntFigure::CODES.to_vec()),
        ("`next_day` of `learn`", NextDay::CODES.to_vec()),
        ("`slipped` of `learn`", Slip::CODES.to_vec()),
        ("`remarks` of `learn`", LearnRemark::CODES.to_vec()),
        ("`advice`", Action::CODES.to_vec()),
        ("`drift`", Drift::CODES.to_vec()),
        ("`causes`", CauseKind::CODES.to_vec()),
        ("`measure`", Measurement::CODES.to_vec()),
        ("`cautions`", Caution::CODES.to_vec()),
    ]
}

#[test]
fn the_codes_are_those_of_the_list() {
    let mut listed = String::new();
    for (family, codes) in families() {
        let family = family.trim_start_matches("Diagnostics ").replace('`', "");
        for code in codes {
            listed.extend([family.as_str(), ": ", code, "\n"]);
        }
    }
    let written = golden("tests/golden/codes.txt", &listed);
    let gone = written.lines().filter(|line| !listed.contains(line));
    let gone: Vec<_> = gone.collect();
    assert!(gone.is_empty(), "hosts may match on {gone:?}");
    assert_eq!(listed, written, "write the list anew");
}

#[test]
fn every_code_stands_in_the_docs() {
    let docs = read("src/exchange/codes.md");
    for (heading, codes) in families() {
        let start = docs.find(&format!("## {heading}\n")).expect(heading);
        let section = &docs[start + 3..];
        let section = &section[..section.find("\n## ").unwrap_or(section.len())];
        let found: Vec<_> = section
            .lines()
            .filter_map(|line| line.strip_prefix("| `")?.split('`').next())
            .collect();
        assert_eq!(found, codes, "{heading}");
    }
}
