//! What a stretch of pieces begins with.

use crate::diagnostic::Span;
use crate::notation::free::bit::Bit;
use crate::notation::free::said::{Part, Said, When, trade};
use crate::quantity::lexer::Marked;

pub(super) fn is_filler(word: &str) -> bool {
    trade().is_filler(word)
}

pub(super) fn covered(stretch: &[Bit], count: usize) -> Span {
    let spans = stretch.get(..count).unwrap_or(stretch);
    let first = spans.first().map_or_else(Span::default, |bit| bit.span);
    spans.last().map_or(first, |last| first.to(last.span))
}

fn words(stretch: &[Bit]) -> impl Iterator<Item = &str> + Clone {
    stretch.iter().map_while(Bit::word)
}

pub(super) fn phrase(stretch: &[Bit], part: Part) -> Option<(Vec<&'static Said>, usize)> {
    trade().line(&words(stretch), part)
}

pub(super) fn timing(stretch: &[Bit], part: Part) -> Option<(&'static When, usize)> {
    trade().timing(&words(stretch), part)
}

/// `day 5`, `d5`: the number, and how many pieces it takes.
pub(in crate::notation::free) fn day_of(stretch: &[Bit]) -> Option<(Marked, usize)> {
    let word = stretch.first()?.word()?;
    if word == "day" {
        return Some((stretch.get(1)?.bare()?, 2));
    }
    let digits = word
        .strip_prefix("day")
        .or_else(|| word.strip_prefix('d'))?;
    let low: f64 = digits.parse().ok()?;
    Some((
        Marked {
            low,
            high: None,
            about: false,
        },
        1,
    ))
}
