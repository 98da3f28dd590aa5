//! Additions of one thing in a row: `saaz 20 g/20 g/10 g at 60/30/5`, `1 oz cascade each at 60, 15 and 0`.

use super::bit::{Bit, What};
use super::said::Part;
use crate::notation::cursor::ANY;
use crate::quantity::lexer::{self, AsWritten, Marked};
use crate::quantity::{Dimension, Unit};
use std::ops::Range;

/// Numbers one behind the other, with the unit that each has or the last has for all.
struct Row {
    figures: Vec<AsWritten>,
    place: Range<usize>,
}

/// No hop goes in more often.
const MOST: usize = 12;

/// The line with an addition for each time of its row, where it has as many amounts as times, or one amount of each.
pub(super) fn apart(bits: &[Bit], part: Part) -> Option<Vec<Bit>> {
    if matches!(part, Part::Ferment | Part::Package | Part::Plant) {
        return None;
    }
    let amounts = (0..bits.len()).find_map(|at| row(bits, at, Dimension::Mass))?;
    let is_outside = |at: &usize| !amounts.place.contains(at);
    let times = (0..bits.len())
        .filter(is_outside)
        .find_map(|at| times(bits, at))?;
    let each = bits.iter().position(|bit| bit.word() == Some("each"));
    let count = times.figures.len();
    let is_one_of_each = amounts.figures.len() == 1 && each.is_some();
    if count < 2 || amounts.figures.len() != count && !is_one_of_each {
        return None;
    }
    let is_name = |at: &usize| is_outside(at) && !times.place.contains(at) && Some(*at) != each;
    let name: Vec<Bit> = (0..bits.len())
        .filter(is_name)
        .filter_map(|at| bits.get(at).cloned())
        .collect();
    let (of_amounts, of_times) = (span(bits, &amounts.place)?, span(bits, &times.place)?);
    let mut whole = Vec::new();
    for (at, time) in times.figures.iter().enumerate() {
        let amount = amounts.figures.get(at).or(amounts.figures.first())?;
        let piece = |what, span| Bit { what, span };
        if at > 0 {
            whole.push(piece(What::Mark('&'), of_times));
        }
        whole.push(piece(What::Quantity(*amount), of_amounts));
        whole.extend(name.iter().cloned());
        whole.push(piece(What::Mark('@'), of_times));
        whole.push(piece(What::Quantity(*time), of_times));
    }
    Some(whole)
}

/// `62/72 C for 40/20 min`: the steps of a mash, each with its time behind it.
pub(super) fn steps(bits: &[Bit], part: Part) -> Option<Vec<Bit>> {
    if !matches!(part, Part::Head | Part::Water | Part::Mash) {
        return None;
    }
    let several = |row: Option<Row>| row.filter(|row| row.figures.len() > 1);
    let heats = (0..bits.len()).find_map(|at| several(row(bits, at, Dimension::Temperature)))?;
    let times =
        (heats.place.end..bits.len()).find_map(|at| several(row(bits, at, Dimension::Time)))?;
    let between = bits.get(heats.place.end..times.place.start)?;
    let is_bridge = between
        .iter()
        .all(|bit| bit.is_mark(',') || bit.word() == Some("for"));
    if !is_bridge || heats.figures.len() != times.figures.len() {
        return None;
    }
    let (of_heats, of_times) = (span(bits, &heats.place)?, span(bits, &times.place)?);
    let mut whole: Vec<Bit> = bits.get(..heats.place.start)?.to_vec();
    for (at, (heat, time)) in heats.figures.iter().zip(&times.figures).enumerate() {
        let piece = |what, span| Bit { what, span };
        if at > 0 {
            whole.push(piece(What::Mark(','), of_heats));
        }
        whole.push(piece(What::Quantity(*heat), of_heats));
        whole.push(piece(What::Quantity(*time), of_times));
    }
    whole.extend(bits.get(times.place.end..)?.iter().cloned());
    Some(whole)
}

fn span(bits: &[Bit], place: &Range<usize>) -> Option<crate::diagnostic::Span> {
    let first = bits.get(place.start)?.span;
    Some(first.to(bits.get(place.end.checked_sub(1)?)?.span))
}

/// The times behind `at`, in minutes where they have no unit; without that word they have one.
fn times(bits: &[Bit], at: usize) -> Option<Row> {
    let leads = bits.get(at)?.is_mark('@') || bits.get(at)?.word() == Some("at");
    let from = at + usize::from(leads);
    let mut row = row(bits, from, Dimension::Time)
        .or_else(|| bare_row(bits, from, Unit::Minute).filter(|_| leads))?;
    let is_left = |time: &AsWritten| {
        (0.0..=240.0).contains(&(time.unit.to_base(time.number))) && time.unit != Unit::Day
    };
    row.place.start = at;
    row.figures.iter().all(is_left).then_some(row)
}

/// The numbers that a row begins with at a piece, and where it ends.
fn numbers(bits: &[Bit], from: usize) -> (Vec<(Marked, Option<Unit>)>, usize) {
    let mut found = Vec::new();
    let mut at = from;
    loop {
        match bits.get(at).map(|bit| &bit.what) {
            Some(What::Bare(number)) => found.push((*number, None)),
            Some(What::Pair(first, second)) => {
                found.extend([*first, *second].map(|number| (plain(number), None)));
            }
            Some(What::Quantity(written)) if written.range.is_none() => {
                found.push((plain(written.number), Some(written.unit)));
            }
            _ => break,
        }
        at += 1;
        if found.len() > MOST {
            break;
        }
        let parts = |bit: &Bit| {
            bit.is_mark('/') || bit.is_mark(',') || bit.is_mark('&') || bit.word() == Some("and")
        };
        let marks = bits
            .get(at..)
            .unwrap_or(&[])
            .iter()
            .take_while(|bit| parts(bit))
            .count();
        let follows = bits.get(at + marks).is_some_and(|bit| {
            matches!(bit.what, What::Bare(_) | What::Pair(..) | What::Quantity(_))
        });
        if marks == 0 || !follows {
            break;
        }
        at += marks;
    }
    (found, at)
}

const fn plain(low: f64) -> Marked {
    Marked {
        low,
        high: None,
        about: false,
    }
}

/// A row whose numbers each have a unit of the dimension, or the last alone has one.
fn row(bits: &[Bit], from: usize, dimension: Dimension) -> Option<Row> {
    let (found, end) = numbers(bits, from);
    let mut place = from..end;
    let mut last = found.last()?.1;
    if last.is_none()
        && let Some(word) = bits.get(end).and_then(Bit::word)
    {
        last = lexer::unit(|at| (at == 0).then_some(word), ANY).map(|(unit, _)| unit);
        place.end += usize::from(last.is_some());
    }
    let unit = last.filter(|unit| unit.dimension() == dimension)?;
    let is_one = |own: &Option<Unit>| own.is_none_or(|own| own.dimension() == dimension);
    found.iter().all(|(_, own)| is_one(own)).then(|| Row {
        figures: found
            .iter()
            .map(|(number, own)| AsWritten::marked(*number, own.unwrap_or(unit)))
            .collect(),
        place,
    })
}

fn bare_row(bits: &[Bit], from: usize, unit: Unit) -> Option<Row> {
    let (found, end) = numbers(bits, from);
    let is_bare = !found.is_empty() && found.iter().all(|(_, own)| own.is_none());
    is_bare.then(|| Row {
        figures: found
            .iter()
            .map(|(number, _)| AsWritten::marked(*number, unit))
            .collect(),
        place: from..end,
    })
}
