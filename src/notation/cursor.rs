//! A place among the tokens of a clause, and the quantities that can be read there.

use super::tree::{Line, Token, span_of, text_of};
use crate::diagnostic::Span;
use crate::quantity::lexer::{self, AsWritten};
use crate::quantity::{Dimension, Number, Unit};
use crate::recipe::MEASURED_IN;

/// Every dimension that a line of a recipe can speak of. A power is none: the `w` of `mash 68 w/ 12 L` is no watt.
pub(super) const ANY: &[Dimension] = &[
    Dimension::Mass,
    Dimension::Volume,
    Dimension::Concentration,
    Dimension::VolumePerVolume,
    Dimension::Percent,
    Dimension::VolumePerMass,
    Dimension::VolumePerTime,
    Dimension::Gravity,
    Dimension::Colour,
    Dimension::DiastaticPower,
    Dimension::Bitterness,
    Dimension::GasVolumes,
    Dimension::Temperature,
    Dimension::Time,
    Dimension::Length,
    Dimension::Pressure,
    Dimension::HeatCapacity,
    Dimension::PitchRate,
    Dimension::Equivalents,
    Dimension::Packs,
];

/// A number with its unit, as read from the text.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Measure {
    /// The number in the unit, of a range its middle.
    pub number: f64,
    /// The two ends of a range.
    pub range: Option<(f64, f64)>,
    /// Whether a `~` stands before it.
    pub about: bool,
    /// The unit, of `2 lb 4 oz` the first.
    pub unit: Unit,
    /// Where it stands, unit included.
    pub span: Span,
}

impl Measure {
    pub(super) const fn at(span: Span, written: AsWritten) -> Self {
        Self {
            number: written.number,
            range: written.range,
            about: written.about,
            unit: written.unit,
            span,
        }
    }

    /// So many times as much, without the dust of binary fractions.
    pub(super) fn times(mut self, factor: f64) -> Self {
        let times = |number: f64| (number * factor * 1e9).round() / 1e9;
        self.number = times(self.number);
        self.range = self.range.map(|(low, high)| (times(low), times(high)));
        self
    }

    pub(super) const fn as_written(&self) -> AsWritten {
        AsWritten {
            number: self.number,
            range: self.range,
            about: self.about,
            unit: self.unit,
        }
    }
}

impl Line<'_> {
    /// The numbers with units on this line, in order.
    ///
    /// ```
    /// use wortwright::diagnostic::TextRef;
    /// use wortwright::notation::Document;
    ///
    /// let document = Document::parse(&TextRef::new("text", "5 kg pale ale malt, 6 EBC"));
    /// let line = document.lines().next().expect("a line");
    /// let units: Vec<&str> = line.quantities().map(|quantity| quantity.unit.symbol()).collect();
    /// assert_eq!(units, ["kg", "EBC"]);
    /// ```
    pub fn quantities(&self) -> impl Iterator<Item = Measure> {
        let mut cursor = Cursor::new(self.tokens(), Span::default());
        std::iter::from_fn(move || {
            while !cursor.is_empty() {
                let measure = cursor.measure(ANY);
                let measure = measure.or_else(|| cursor.measure(&[Dimension::Power]));
                if measure.is_some() {
                    return measure;
                }
                cursor.skip(1);
            }
            None
        })
    }
}

/// A place in a run of tokens.
#[derive(Debug, Clone, Copy)]
pub(super) struct Cursor<'t, 'a> {
    tokens: &'t [Token<'a>],
    /// The place to point at when the tokens are used up.
    end: Span,
}

impl<'t, 'a> Cursor<'t, 'a> {
    /// The start of `tokens`, which follow `before` on their line.
    pub(super) fn new(tokens: &'t [Token<'a>], before: Span) -> Self {
        let last = span_of(tokens).unwrap_or(before);
        Self {
            tokens,
            end: Span::new(last.text, last.end, last.end),
        }
    }

    pub(super) const fn rest(&self) -> &'t [Token<'a>] {
        self.tokens
    }

    pub(super) fn is_empty(&self) -> bool {
        self.tokens.is_empty()
    }

    pub(super) fn peek(&self) -> Option<&'t Token<'a>> {
        self.tokens.first()
    }

    pub(super) fn bump(&mut self) -> Option<&'t Token<'a>> {
        let (first, rest) = self.tokens.split_first()?;
        self.tokens = rest;
        Some(first)
    }

    pub(super) fn skip(&mut self, count: usize) {
        self.tokens = self.tokens.get(count..).unwrap_or(&[]);
    }

    /// Passes over the words of a phrase that comes next.
    pub(super) fn pass(&mut self, phrase: &str) {
        self.skip(phrase.split(' ').count());
    }

    /// Where the next token stands, or where one is missing.
    pub(super) fn here(&self) -> Span {
        self.peek().map_or(self.end, Token::span)
    }

    /// From the next token to the last.
    pub(super) fn span(&self) -> Span {
        span_of(self.tokens).unwrap_or(self.end)
    }

    pub(super) fn text(&self) -> String {
        text_of(self.tokens)
    }

    /// Whether the next words are these, in any case.
    pub(super) fn at(&self, words: &[&str]) -> bool {
        begins(self.tokens, words)
    }

    /// Passes over these words if they come next.
    pub(super) fn eat(&mut self, words: &[&str]) -> bool {
        let found = self.at(words);
        if found {
            self.skip(words.len());
        }
        found
    }

    pub(super) fn number(&self) -> Option<Number<'t>> {
        self.peek()?.number()
    }

    /// A number with a unit of one of these dimensions, if one comes next; `2 lb 4 oz` is one quantity.
    pub(super) fn measure(&mut self, allowed: &[Dimension]) -> Option<Measure> {
        let (mut written, mut span, length) = simple(self.tokens, allowed)?;
        self.skip(length);
        let mut last = written.unit;
        while let Some((more, end, length)) = simple(self.tokens, allowed)
            && written.absorb(last, &more)
        {
            (last, span) = (more.unit, span.to(end));
            self.skip(length);
        }
        Some(Measure::at(span, written))
    }
}

/// Whether the tokens begin with these words, in any case.
pub(super) fn begins(tokens: &[Token<'_>], words: &[&str]) -> bool {
    words.len() <= tokens.len()
        && words.iter().zip(tokens).all(|(word, token)| {
            token
                .word()
                .is_some_and(|found| found.eq_ignore_ascii_case(word))
        })
}

/// Whether the tokens begin with the words of a phrase, in any case.
pub(super) fn opens(tokens: &[Token<'_>], phrase: &str) -> bool {
    let initial = |text: &str| text.as_bytes().first().map(u8::to_ascii_lowercase);
    // Most phrases that a line is held against differ from it in the first letter.
    if tokens.first().and_then(Token::word).and_then(initial) != initial(phrase) {
        return false;
    }
    let mut rest = phrase;
    for token in tokens {
        let word = token.word().unwrap_or("");
        let same = rest
            .get(..word.len())
            .is_some_and(|head| !word.is_empty() && head.eq_ignore_ascii_case(word));
        if !same {
            return false;
        }
        match rest.get(word.len()..) {
            None | Some("") => return true,
            Some(behind) => match behind.strip_prefix(' ') {
                Some(next) => rest = next,
                None => return false,
            },
        }
    }
    false
}

/// One number with its unit, where they stand, and how many tokens they take.
fn simple(tokens: &[Token<'_>], allowed: &[Dimension]) -> Option<(AsWritten, Span, usize)> {
    let (first, rest) = tokens.split_first()?;
    let marked = first.number()?.marked()?;
    let (unit, words) = unit(rest, allowed)?;
    let last = words
        .checked_sub(1)
        .and_then(|at| rest.get(at))
        .unwrap_or(first);
    let written = AsWritten::marked(marked, unit);
    Some((written, first.span.to(last.span), words + 1))
}

/// The longest unit that the words begin with, and how many of them it takes.
pub(super) fn unit(tokens: &[Token<'_>], allowed: &[Dimension]) -> Option<(Unit, usize)> {
    lexer::unit(|at| tokens.get(at).and_then(Token::word), allowed)
}

/// How many tokens at the start of an item are its amount: what the printer sets in the first column.
pub(super) fn amount_length(tokens: &[Token<'_>]) -> usize {
    if begins(tokens, &["any"]) || begins(tokens, &["none"]) {
        return usize::from(tokens.len() > 1);
    }
    let count = match tokens {
        [count, x, ..] if count.is_number() && x.word() == Some("x") => 2,
        _ => 0,
    };
    let mut cursor = Cursor::new(tokens.get(count..).unwrap_or(&[]), Span::default());
    let before = cursor.rest().len();
    let Some(measure) = cursor.measure(MEASURED_IN) else {
        return 0;
    };
    if measure.unit == Unit::Percent {
        let _ = cursor.eat(&["by", "volume"]) || cursor.eat(&["by", "weight"]);
    }
    let length = count + before - cursor.rest().len();
    let joins = tokens.get(length).is_some_and(|token| !token.is_comma());
    if joins { length } else { 0 }
}
