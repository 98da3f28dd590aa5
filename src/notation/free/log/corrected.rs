//! Readings that take the place of others, and one reading in two units.

use super::entry::{Entry, Shown, What};
use super::jotted_number::plato;
use super::words::LogWord;
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::said::trade;
use crate::notation::free::told::Told;
use crate::notation::free::words::has;

/// Two figures nearer than this are one reading: a mark of a hydrometer each way, °P (common practice, no source).
const ONE_READING_PLATO: f64 = 0.4;

/// The same of one that was not corrected for its temperature: a hydrometer shows so much less at 40 °C (from memory).
const WARM_READING_PLATO: f64 = 1.5;

/// Settles the readings of a line, of which `before` are those of the lines before.
pub(super) fn settle(
    found: &mut Vec<Entry>,
    before: &mut [Entry],
    bits: &[Bit],
    told: &mut Vec<Told>,
) {
    let mut at = 0;
    let mut is_settled = false;
    while let Some((first, second)) = pair(found, at) {
        match relation(&first, &second, bits) {
            Relation::Replaced => {
                is_settled = true;
                told.push(replaced(&first, &second));
                found.remove(at_of(found, &first));
            }
            Relation::Same => {
                found.remove(at_of(found, &second));
            }
            Relation::Differ => {
                told.push(Told::Asked(differ(&first, &second)));
                found.remove(at_of(found, &second));
            }
            Relation::None => at += 1,
        }
    }
    let shown = |entry: &Entry| matches!(entry.what, What::Shown(_)) && entry.is_of_the_beer();
    let of_line = found.iter().filter(|entry| shown(entry)).count();
    let says_no = bits.first().and_then(Bit::word) == Some("no") && has(bits, &["was"]);
    if is_settled || of_line != 1 || !(says_no || has(bits, LogWord::Corrects.phrases())) {
        return;
    }
    let own = found.iter().position(shown);
    // The gravity of the wort is corrected by name only.
    let says_original = has(bits, &["og", "original gravity", "starting gravity"]);
    let skipped = usize::from(!says_original);
    let mut readings: Vec<&mut Entry> = before
        .iter_mut()
        .filter(|entry| shown(entry))
        .skip(skipped)
        .collect();
    let earlier = readings.pop();
    if let (Some(own), Some(earlier)) = (own, earlier) {
        let own = found.remove(own);
        if let (What::Shown(new), What::Shown(old)) = (&own.what, &earlier.what) {
            told.push(replaced(old, new));
        }
        earlier.what = own.what;
    }
}

/// The readings number `at` and the one behind it.
fn pair(found: &[Entry], at: usize) -> Option<(Shown, Shown)> {
    let mut shown = found.iter().filter_map(|entry| match &entry.what {
        What::Shown(shown) => Some(shown),
        _ => None,
    });
    let first = shown.nth(at)?.clone();
    Some((first, shown.next()?.clone()))
}

fn at_of(found: &[Entry], wanted: &Shown) -> usize {
    let is_it =
        |entry: &Entry| matches!(&entry.what, What::Shown(shown) if shown.span == wanted.span);
    found.iter().position(is_it).unwrap_or(0)
}

/// What the second of two readings of a line is to the first.
enum Relation {
    Replaced,
    /// The same in another unit, or as near as it can be read.
    Same,
    Differ,
    None,
}

fn relation(first: &Shown, second: &Shown, bits: &[Bit]) -> Relation {
    if first.label != second.label {
        return Relation::None;
    }
    let between: Vec<&Bit> = bits
        .iter()
        .filter(|bit| first.span.end <= bit.span.start && bit.span.end <= second.span.start)
        .collect();
    let behind: Vec<Bit> = bits
        .iter()
        .filter(|bit| first.span.end <= bit.span.start)
        .cloned()
        .collect();
    let is_bracket = between.iter().any(|bit| bit.is_mark('('));
    if has(&behind, LogWord::Corrects.phrases())
        || is_bracket && has(&behind, LogWord::InBrackets.phrases())
    {
        return Relation::Replaced;
    }
    let is_linked = between.iter().all(|bit| match &bit.what {
        Piece::Mark(mark) => matches!(mark, ',' | '/' | '(' | '=' | '|' | '~'),
        Piece::Word(word) => {
            word != "to"
                && (trade().is_filler(word)
                    || LogWord::Reads.phrases().contains(&word.as_str())
                    || matches!(word.as_str(), "or" | "i.e" | "ie"))
        }
        _ => false,
    });
    let by_refractometer = |shown: &Shown| shown.by.is_some_and(|(by, _)| by.contains("refract"));
    if !is_linked || by_refractometer(first) != by_refractometer(second) {
        return Relation::None;
    }
    let (Some(one), Some(two)) = (plato(&first.written), plato(&second.written)) else {
        return Relation::None;
    };
    // `1.048 (read 1.046 at 30 C)`: with its temperature it is farther off.
    let most = if is_bracket && second.warmth.is_some() {
        WARM_READING_PLATO
    } else {
        ONE_READING_PLATO
    };
    let is_near = (one - two).abs() <= most;
    let is_other_unit = first.written.unit != second.written.unit;
    let parts = |bit: &&Bit| !bit.is_mark(',');
    match (is_near, is_other_unit) {
        (true, true) => Relation::Same,
        (true, false) if between.iter().any(parts) => Relation::Same,
        (false, true) => Relation::Differ,
        _ => Relation::None,
    }
}

fn replaced(old: &Shown, new: &Shown) -> Told {
    let read = format!("corrected to {}", new.written);
    Told::Assumed(old.written.to_string(), read, old.span)
}

fn differ(first: &Shown, second: &Shown) -> Diagnostic {
    let message = format!(
        "expected one gravity of a sample, found {} and {}, which differ",
        first.written, second.written
    );
    Diagnostic::error(Code::ConflictingFacts, second.span, message)
        .with_help("delete the one that is wrong, or write each on a line of its own")
}
