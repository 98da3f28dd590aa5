//! Spices and fruit by the piece, as kitchens count them: `2 vanilla beans`, `zest of 2 lemons`, `star anise 2 pieces`.

use super::bit::{Bit, What};
use super::said::trade;
use super::told::Told;
use crate::quantity::Dimension;
use crate::quantity::lexer::AsWritten;
use std::sync::LazyLock;

/// What one of a thing weighs, or gives.
struct Piece {
    one: AsWritten,
    name: Vec<&'static str>,
    /// Words for a piece; an empty one where the name says it.
    words: Vec<&'static str>,
}

static PIECES: LazyLock<Vec<Piece>> = LazyLock::new(|| {
    let rows = include_str!("pieces.txt").lines();
    rows.filter(|row| !row.starts_with('#'))
        .filter_map(piece)
        .collect()
});

fn piece(row: &'static str) -> Option<Piece> {
    let mut fields = row.split(" | ");
    let one = AsWritten::read(fields.next()?, &[Dimension::Mass, Dimension::Volume]).ok()?;
    let name = fields.next()?.split(' ').collect();
    let words = fields.next()?.split(", ");
    let words = words
        .map(|word| if word == "-" { "" } else { word })
        .collect();
    Some(Piece { one, name, words })
}

/// Words for a piece of anything.
const PIECE: [&str; 3] = ["piece", "pc", "whole"];

/// Parts of a fruit, of which the fruit is counted.
const PARTS: [&str; 5] = ["zest", "peel", "juice", "rind", "squeeze"];

/// The line with masses for what is counted.
pub(super) fn weighed(bits: Vec<Bit>, told: &mut Vec<Told>) -> Vec<Bit> {
    let mut whole = Vec::with_capacity(bits.len());
    let mut at = 0;
    while let Some(rest) = bits.get(at..).filter(|rest| !rest.is_empty()) {
        let Some(found) = counted(rest).or_else(|| behind_name(rest)) else {
            whole.extend(rest.first().cloned());
            at += 1;
            continue;
        };
        let spans = rest.iter().take(found.taken).map(|bit| bit.span);
        let Some(span) = spans.reduce(crate::diagnostic::Span::to) else {
            return bits;
        };
        let mut amount = found.piece.one;
        amount.number *= found.count;
        let typed: Vec<String> = rest.iter().take(found.taken).map(shown).collect();
        let name = found.piece.name.join(" ");
        told.push(Told::Assumed(
            typed.join(" "),
            format!("{amount} {name}"),
            span,
        ));
        let bit = |what| Bit { what, span };
        whole.push(bit(What::Quantity(amount)));
        let words = found
            .how
            .iter()
            .copied()
            .chain(found.piece.name.iter().copied());
        whole.extend(words.map(|word| bit(What::Word(word.to_owned()))));
        at += found.taken;
    }
    whole
}

fn shown(bit: &Bit) -> String {
    match &bit.what {
        What::Bare(number) => number.middle().to_string(),
        What::Word(word) => word.clone(),
        _ => String::new(),
    }
}

/// So many of a thing.
struct Found<'b> {
    piece: &'static Piece,
    count: f64,
    /// How it was prepared.
    how: Vec<&'b str>,
    /// How many pieces of the line it takes.
    taken: usize,
}

/// `2 vanilla beans`, `3 pc cardamom`, `12 heads fresh elderflower`, `zest of 2 lemons`
fn counted(bits: &[Bit]) -> Option<Found<'_>> {
    let word = |at: usize| bits.get(at).and_then(Bit::word);
    let part = word(0).filter(|part| PARTS.contains(part) && word(1) == Some("of"));
    let from = if part.is_some() { 2 } else { 0 };
    let (count, length) = match number(bits.get(from..)?) {
        Some(found) => found,
        // `juice of the lemon`
        None if part.is_some() && word(2) == Some("the") => (1.0, 1),
        None => return None,
    };
    let from = from + length;
    let words: Vec<&str> = bits
        .get(from..)?
        .iter()
        .map_while(Bit::word)
        .take(6)
        .collect();
    if let Some(part) = part {
        let part = if part == "squeeze" { "juice" } else { part };
        let name = [singular(words.first()?), part.to_owned()];
        let piece = PIECES
            .iter()
            .find(|piece| piece.name.iter().eq(name.iter()))?;
        return Some(Found {
            piece,
            count,
            how: Vec::new(),
            taken: from + 1,
        });
    }
    let how = words
        .iter()
        .take_while(|word| trade().is_how_made(word) || **word == "more")
        .count();
    let (before, named) = words.split_at(how);
    let fit = |named: &[&str]| {
        PIECES
            .iter()
            .find_map(|piece| Some((piece, piece.length(named)?)))
    };
    if let Some((piece, length)) = fit(named) {
        let how = before
            .iter()
            .copied()
            .filter(|word| *word != "more")
            .collect();
        return Some(Found {
            piece,
            count,
            how,
            taken: from + before.len() + length,
        });
    }
    // `3 pc cardamom`: the word for a piece goes before.
    let word = singular(named.first()?);
    let rest = named.get(1..)?;
    let skipped = rest
        .iter()
        .take_while(|word| **word == "of" || trade().is_how_made(word))
        .count();
    let (between, name) = rest.split_at(skipped);
    let piece = PIECES.iter().find(|piece| {
        let is_word = piece.words.contains(&word.as_str()) || PIECE.contains(&word.as_str());
        is_word && piece.begins(name)
    })?;
    let how = between
        .iter()
        .copied()
        .filter(|word| *word != "of")
        .collect();
    let taken = from + before.len() + 1 + skipped + piece.name.len();
    Some(Found {
        piece,
        count,
        how,
        taken,
    })
}

/// `star anise 2 pieces`, `vanilla 120 beans`, `vanilla bean 2`
fn behind_name(bits: &[Bit]) -> Option<Found<'_>> {
    let words: Vec<&str> = bits.iter().map_while(Bit::word).take(4).collect();
    let piece = PIECES.iter().find(|piece| piece.begins(&words))?;
    let at = piece.name.len();
    let is_word = |bit: Option<&Bit>| {
        let word = singular(bit.and_then(Bit::word).unwrap_or(""));
        !word.is_empty() && (piece.words.contains(&word.as_str()) || PIECE.contains(&word.as_str()))
    };
    if let [word, count] = bits.get(at..)?
        && is_word(Some(word))
        && let Some(count) = count.bare()
    {
        return Some(Found {
            piece,
            count: count.middle(),
            how: Vec::new(),
            taken: at + 2,
        });
    }
    let at = at + usize::from(bits.get(at).is_some_and(|bit| bit.is_mark(',')));
    let count = bits.get(at)?.bare()?.middle();
    is_word(bits.get(at + 1)).then(|| Found {
        piece,
        count,
        how: Vec::new(),
        taken: at + 2,
    })
}

impl Piece {
    fn begins(&self, words: &[&str]) -> bool {
        words.len() >= self.name.len()
            && self
                .name
                .iter()
                .zip(words)
                .all(|(own, word)| *own == *word || *own == singular(word))
    }

    /// How many of the words say a piece of it.
    fn length(&self, words: &[&str]) -> Option<usize> {
        self.begins(words).then_some(())?;
        let next = words.get(self.name.len()).map(|word| singular(word));
        if next.is_some_and(|next| !next.is_empty() && self.words.contains(&next.as_str())) {
            return Some(self.name.len() + 1);
        }
        self.words.contains(&"").then_some(self.name.len())
    }
}

/// How many: a number, `a`, `half a`.
fn number(bits: &[Bit]) -> Option<(f64, usize)> {
    let first = bits.first()?;
    if let Some(number) = first.bare() {
        return (0.1..=500.0)
            .contains(&number.middle())
            .then_some((number.middle(), 1));
    }
    let next = bits.get(1).and_then(Bit::word);
    match (first.word()?, next) {
        ("half", Some("a" | "an")) => Some((0.5, 2)),
        ("half", _) => Some((0.5, 1)),
        ("a" | "an" | "one", _) => Some((1.0, 1)),
        _ => None,
    }
}

/// One of them.
fn singular(word: &str) -> String {
    if let Some(stem) = word.strip_suffix("ies") {
        return format!("{stem}y");
    }
    let stem = word
        .strip_suffix('s')
        .filter(|stem| stem.len() > 2 && !stem.ends_with('s'));
    stem.unwrap_or(word).to_owned()
}
