//! The lines of a page that is a log, each with when it was written.

use super::date::{Clocks, Stamp, Stamped, stamp, stamp_of_log};
use super::head::Columns;
use crate::notation::free::bit::Bit;
use crate::notation::free::page::Jotted;
use crate::notation::free::scan::{opening_text, scan};
use crate::quantity::lexer::is_space;

/// No date is made of more tokens.
const STAMP: usize = 8;

/// The lines, one that tells of several days parted into them: `5 Nov: 20 L at 1.050; 8 Nov: 1.020`.
pub(super) fn parted(lines: &[Jotted]) -> Vec<Jotted> {
    lines.iter().flat_map(parts).collect()
}

fn parts(typed: &Jotted) -> Vec<Jotted> {
    let own = |tokens: &[crate::notation::tree::Token<'static>], is_below| Jotted {
        tokens: tokens.to_vec(),
        is_right: typed.is_right,
        is_below,
    };
    let mut found = Vec::new();
    let mut from = 0;
    let tokens = &typed.tokens;
    if !typed.is_right {
        // What is known of the part that begins at `from`: how far it was looked at, and whether it measures anything.
        let (mut seen, mut is_measured) = (0, false);
        for at in 1..tokens.len() {
            let ends = tokens
                .get(at - 1)
                .is_some_and(|token| token.text().ends_with([';', ',', '.']));
            if !ends {
                continue;
            }
            let head = |from: usize, to: usize| {
                opening_text(tokens.get(from..to.min(from + STAMP)).unwrap_or(&[]))
            };
            let is_day = matches!(
                stamp(&head(at, tokens.len()), Clocks::Colon).map(|stamped| stamped.stamp),
                Some(Stamp::Day(_) | Stamp::Date { .. } | Stamp::Slashed { .. })
            );
            if !is_day || stamp_of_log(&head(from, at), Clocks::Colon).is_none() {
                continue;
            }
            is_measured |= super::measures(&scan(tokens.get(seen..at).unwrap_or(&[])));
            seen = at;
            if is_measured {
                let before = tokens.get(from..at).unwrap_or(&[]);
                found.push(own(before, typed.is_below && from == 0));
                (from, is_measured) = (at, false);
            }
        }
    }
    found.push(own(
        tokens.get(from..).unwrap_or(&[]),
        typed.is_below && from == 0,
    ));
    found
}

/// When each line was written.
pub(super) fn stamps(lines: &[Jotted], texts: &[String], clocks: Clocks) -> Vec<Option<Stamped>> {
    let said: Vec<Option<Stamped>> = texts
        .iter()
        .map(|text| stamp_of_log(text, clocks))
        .collect();
    let is_day = |stamped: &Stamped| !matches!(stamped.stamp, Stamp::Clock);
    if said.iter().flatten().any(is_day) {
        return said;
    }
    let counted = counted(lines, texts);
    counted.unwrap_or(said)
}

/// `0  1.095  18 C`, `3: 1.020`: rows that begin with a rising count of days.
fn counted(lines: &[Jotted], texts: &[String]) -> Option<Vec<Option<Stamped>>> {
    // Below the heads of columns each number is what its column holds.
    let has_columns = lines
        .iter()
        .any(|typed| Columns::of(&typed.tokens).is_some());
    (!has_columns).then_some(())?;
    let rows: Vec<Option<Stamped>> = lines
        .iter()
        .zip(texts)
        .map(|(typed, text)| {
            let text = text.trim_start_matches(is_space);
            let digits = text.find(|c: char| !c.is_ascii_digit())?;
            let days: u32 = text
                .get(..digits)
                .filter(|digits| digits.len() <= 3)?
                .parse()
                .ok()?;
            let behind = text.get(digits..)?;
            let mark = behind.starts_with([':', ')', '|', '-']);
            let length = digits + usize::from(mark);
            let has_gravity = scan(&typed.tokens)
                .iter()
                .filter_map(Bit::quantity)
                .any(super::jotted_number::is_gravity);
            let ends = mark || behind.starts_with(is_space);
            (ends && has_gravity).then_some(Stamped {
                stamp: Stamp::Day(f64::from(days)),
                length,
            })
        })
        .collect();
    let days: Vec<f64> = rows
        .iter()
        .flatten()
        .filter_map(|stamped| match stamped.stamp {
            Stamp::Day(days) => Some(days),
            _ => None,
        })
        .collect();
    let rises = days.is_sorted() && days.first().is_some_and(|first| *first <= 1.0);
    let is_most = days.len() >= 2 && 2 * days.len() >= lines.len();
    (rises && is_most && days.first() != days.last()).then_some(rows)
}
