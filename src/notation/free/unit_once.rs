//! A unit that stands once for all numbers of a line: `Maris Otter 90, crystal 10 (per cent)`, `Hops, g: 20 saaz, 30 perle`.

use super::bit::{Bit, What};
use super::jotted_unit::spelt;
use super::told::Told;
use crate::notation::cursor::ANY;
use crate::quantity::lexer::{self, AsWritten, Marked};
use crate::quantity::{Dimension, Unit};

/// Gives the numbers of the line the unit that its head or its end says, and takes that away.
pub(super) fn read(bits: &mut Vec<Bit>, told: &mut Vec<Told>) {
    let Some((unit, from, count)) = at_end(bits).or_else(|| in_head(bits)) else {
        return;
    };
    let is_measured = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == unit.dimension())
    };
    let numbers = bits.iter().filter(|bit| bit.bare().is_some()).count();
    if numbers < 2 || bits.iter().any(is_measured) {
        return;
    }
    bits.drain(from..from + count);
    for bit in bits {
        if let What::Bare(number) = bit.what {
            let read = AsWritten::marked(number, unit);
            let typed = number.middle().to_string();
            told.push(Told::Assumed(typed, read.to_string(), bit.span));
            bit.what = What::Quantity(read);
        }
    }
}

/// `(per cent)`, `(kg)`, `all grams` at the end: the unit, where it begins and how many pieces it takes.
fn at_end(bits: &[Bit]) -> Option<(Unit, usize, usize)> {
    let closes = bits.last().is_some_and(|bit| bit.is_mark(')'));
    let end = bits.len() - usize::from(closes);
    (1..=2).find_map(|count| {
        let from = end.checked_sub(count + 1)?;
        let unit = unit(bits.get(from + 1..end)?)?;
        let opens = bits.get(from)?;
        let is_it = opens.is_mark('(') && closes || opens.word() == Some("all");
        is_it.then_some((unit, from, bits.len() - from))
    })
}

/// `Hops, lb:`, `Malt (kg):` at the beginning.
fn in_head(bits: &[Bit]) -> Option<(Unit, usize, usize)> {
    let colon = bits.iter().take(6).position(|bit| bit.is_mark(':'))?;
    let open = bits
        .iter()
        .take(colon)
        .position(|bit| bit.is_mark(',') || bit.is_mark('('))?;
    let closes = usize::from(bits.get(colon - 1).is_some_and(|bit| bit.is_mark(')')));
    let unit = unit(bits.get(open + 1..colon - closes)?)?;
    Some((unit, open, colon - open))
}

/// The unit of weight or share that the pieces say and nothing else.
fn unit(bits: &[Bit]) -> Option<Unit> {
    let words: Vec<&str> = bits.iter().map_while(Bit::word).collect();
    if words.len() != bits.len() || words.is_empty() {
        return None;
    }
    if matches!(words[..], ["%" | "percent"] | ["per", "cent"]) {
        return Some(Unit::Percent);
    }
    let [word] = words[..] else { return None };
    let plain = lexer::unit(|at| (at == 0).then_some(word), ANY).map(|(unit, _)| unit);
    let one = Marked {
        low: 1.0,
        high: None,
        about: false,
    };
    let jotted = || {
        let (unit, _, factor) = spelt(word, one)?;
        ((factor - 1.0).abs() < 1e-9).then_some(unit)
    };
    plain
        .or_else(jotted)
        .filter(|unit| unit.dimension() == Dimension::Mass)
}
