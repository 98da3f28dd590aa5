//! What a line takes from others, or from its own beginning: `same time`, `with the second hops`, `boil an hour with 20 g saaz`.

use super::bit::{Bit, What};
use super::group::{Figure, Link};
use super::said::{Part, trade};
use super::sheet::{Sheet, Timed};
use crate::catalogue::Kind;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// Which of the additions of hops is meant.
#[derive(Clone, Copy)]
enum Which {
    /// What went in last, whatever it is.
    Before,
    /// The only one.
    Only,
    Number(usize),
    Last,
}

/// Words before `the second hops`.
const WITH: [&[&str]; 4] = [
    &["together", "with", "the"],
    &["along", "with", "the"],
    &["same", "time", "as", "the"],
    &["with", "the"],
];

/// The words at the end of a line that say when by another line, and how many they are.
fn again(bits: &[Bit]) -> Option<(Which, usize)> {
    let words: Vec<&str> = bits.iter().rev().map_while(Bit::word).collect();
    let words: Vec<&str> = words.into_iter().rev().collect();
    if let Some(count) = [&["at", "the", "same", "time"][..], &["same", "time"]]
        .iter()
        .find_map(|end| words.ends_with(end).then_some(end.len()))
    {
        return Some((Which::Before, count));
    }
    (0..words.len()).find_map(|from| {
        let said = words.get(from..)?;
        let with = WITH.iter().find(|with| said.starts_with(with))?;
        let which = match said.get(with.len()..)? {
            ["hops" | "hop"] => Which::Only,
            [which, rest @ ..] if is_addition(rest) => match *which {
                "first" | "1st" => Which::Number(0),
                "second" | "2nd" => Which::Number(1),
                "third" | "3rd" => Which::Number(2),
                "fourth" | "4th" => Which::Number(3),
                "last" | "final" => Which::Last,
                _ => return None,
            },
            _ => return None,
        };
        Some((which, said.len()))
    })
}

fn is_addition(words: &[&str]) -> bool {
    matches!(
        words,
        ["hops" | "hop" | "hopping"] | ["hop" | "hops", "addition" | "charge"]
    )
}

impl Sheet<'_> {
    /// `1 tsp irish moss with the second hops`: the line without these words, and the time of those hops.
    pub(super) fn time_again<'b>(&self, bits: &'b [Bit]) -> (&'b [Bit], Option<Figure>) {
        // A full stop at the end says nothing.
        let stops = bits.iter().rev().take_while(|bit| bit.is_mark('.')).count();
        let line = bits.get(..bits.len() - stops).unwrap_or(bits);
        let is_listed = matches!(self.part, Part::Head | Part::Mash | Part::Boil);
        let Some((which, count)) = again(line).filter(|_| is_listed) else {
            return (bits, None);
        };
        let from = line.len() - count;
        let figure = self.time_of(which).map(|written| Figure {
            written: Some(written),
            bare: None,
            link: Link::At,
            span: line.get(from).map(|bit| bit.span).unwrap_or_default(),
            at: usize::MAX,
        });
        match figure {
            Some(_) => (line.get(..from).unwrap_or(line), figure),
            None => (bits, None),
        }
    }

    fn time_of(&self, which: Which) -> Option<AsWritten> {
        let mut hops: Vec<&str> = Vec::new();
        for timed in self.timed.iter().filter(|timed| timed.is_hop) {
            // What goes in together is one addition.
            if hops.last() != Some(&timed.time.as_str()) {
                hops.push(&timed.time);
            }
        }
        let time = match which {
            Which::Before => self.timed.last().map(|timed| timed.time.as_str()),
            Which::Only => hops.first().copied().filter(|_| hops.len() == 1),
            Which::Number(at) => hops.get(at).copied(),
            Which::Last => hops.last().copied(),
        };
        AsWritten::read(time?, &[Dimension::Time]).ok()
    }

    /// Notes when an ingredient of the boil goes in.
    pub(super) fn note_time(&mut self, kind: Kind, time: Option<&str>) {
        // One without a time parts those behind it from those before it.
        self.timed.push(Timed {
            is_hop: kind == Kind::Hop,
            time: time.unwrap_or_default().to_owned(),
        });
    }
}

/// `boil 60 min with 20 g saaz`, `boil 20, 1/4 oz hallertau`: what goes in with the boil, and no other time said, is in it from its start.
pub(super) fn with_the_boil(bits: &[Bit]) -> Option<Vec<Bit>> {
    let first = bits
        .first()
        .filter(|bit| matches!(bit.word(), Some("boil")))?;
    let with = bits
        .iter()
        .position(|bit| bit.is_mark(',') || matches!(bit.word(), Some("with" | "w/")))?;
    let (before, behind) = (bits.get(..with)?, bits.get(with + 1..)?);
    let is_spell = |bit: &Bit| {
        bit.bare().is_some()
            || bit
                .quantity()
                .is_some_and(|written| matches!(written.unit, Unit::Minute | Unit::Hour))
    };
    let measures = |bit: &Bit, dimension| {
        bit.quantity()
            .is_some_and(|written| written.unit.dimension() == dimension)
    };
    let is_weighed = behind
        .iter()
        .filter(|bit| measures(bit, Dimension::Mass))
        .count()
        == 1;
    let says_time = behind.iter().enumerate().any(|(at, bit)| {
        let words = behind.get(at..).unwrap_or(&[]).iter().map_while(Bit::word);
        is_spell(bit)
            || measures(bit, Dimension::Time)
            || matches!(bit.word(), Some("last" | "end" | "finish" | "then"))
            || trade().timing(&words, Part::Boil).is_some()
    });
    let is_it = before.iter().filter(|bit| is_spell(bit)).count() == 1
        && before.iter().all(|bit| !measures(bit, Dimension::Mass))
        && behind
            .first()
            .is_some_and(|bit| measures(bit, Dimension::Mass))
        && is_weighed
        && !says_time;
    // A sentence of its own is no more of it.
    let end = behind.iter().position(|bit| {
        matches!(bit.what, What::Mark('.' | ';' | '!')) || matches!(bit.word(), Some("so" | "to"))
    });
    let at = with + 1 + end.unwrap_or(behind.len());
    let said = ["for", "the", "whole", "boil"].map(|word| Bit {
        what: What::Word(word.into()),
        span: first.span,
    });
    let mut whole = bits.to_vec();
    whole.splice(at..at, said);
    is_it.then_some(whole)
}

/// `gravity from 1064 to 1016`: the original and the final one.
pub(super) fn falls(bits: &[Bit]) -> Option<Vec<Bit>> {
    let label = bits
        .iter()
        .position(|bit| matches!(bit.word(), Some("gravity" | "from")))?;
    // At the beginning of the line: elsewhere it may be of a starter, or of another beer.
    (label == 0).then_some(())?;
    let from = 1 + bits
        .iter()
        .skip(1)
        .take_while(|bit| {
            matches!(bit.word(), Some("from" | "of" | "falls" | "falling")) || bit.is_mark(':')
        })
        .count();
    let to = from
        + 1
        + bits
            .iter()
            .skip(from + 1)
            .take_while(|bit| matches!(bit.word(), Some("down")))
            .count();
    bits.get(to).filter(|bit| bit.word() == Some("to"))?;
    let (first, last) = (bits.get(from)?, bits.get(to + 1)?);
    let (high, low) = (gravity(first)?, gravity(last)?);
    // Worts from which beers are made (common practice, no source).
    ((20.0..=200.0).contains(&high) && low < high).then_some(())?;
    let label = |word: &str, bit: &Bit| Bit {
        what: What::Word(word.into()),
        span: bit.span,
    };
    let mut whole = vec![
        label("og", first),
        first.clone(),
        Bit {
            what: What::Mark(';'),
            span: last.span,
        },
        label("fg", last),
        last.clone(),
    ];
    whole.extend(bits.iter().skip(to + 2).cloned());
    Some(whole)
}

/// In points of specific gravity; four to a degree Plato, to see which of two is higher.
fn gravity(bit: &Bit) -> Option<f64> {
    match (&bit.what, bit.bare()) {
        (What::Quantity(written), _) => match written.unit {
            Unit::SpecificGravity => Some((written.number - 1.0) * 1000.0),
            Unit::Plato => Some(written.number * 4.0),
            _ => None,
        },
        (_, Some(bare)) if bare.high.is_none() => (1000.0..=1200.0)
            .contains(&bare.low)
            .then_some(bare.low - 1000.0),
        _ => None,
    }
}
