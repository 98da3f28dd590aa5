//! Figures as typed that no line of the notation says: they are told, so that none counts for nothing in silence.

use super::bit::{Bit, What};
use super::said::Part;
use super::scan::scan;
use super::told::Told;
use crate::diagnostic::Span;
use crate::notation::tree::{Document, Line, Token};
use std::collections::BTreeSet;

/// Words before a bare number that only counts things off: `hop 2`, `gyle 214`, `no. 3`.
const NUMBERED: [&str; 21] = [
    "rest", "hop", "hops", "dh", "no", "number", "step", "gyle", "fv", "bbt", "bt", "mash",
    "barrel", "tank", "brew", "turns", "card", "page", "batch", "sheet", "charge",
];

/// Tells the figures of a document that neither what is `said` nor anything told already speaks of. `part` tells which lines
/// stand in a log, where bare numbers are clocks and dates, or in a plant, which tells by itself what has no effect.
pub(super) fn tell(
    document: &Document<'_>,
    said: &Document<'_>,
    part: &dyn Fn(Span) -> Part,
    told: &mut Vec<Told>,
) {
    let covered = Covered::of(said, told);
    let mut unused = Vec::new();
    look(&mut document.lines(), &mut |line| {
        let bits = scan(line.tokens());
        let part = part(line.span());
        if part == Part::Plant {
            return;
        }
        // `a week`, `two tins`: numbers in words are how people talk.
        let typed = line.tokens();
        let digits = |bit: &(usize, &Bit)| {
            let start = bit.1.span.start;
            let at = typed.partition_point(|token| token.span().start < start);
            let token = typed.get(at).filter(|token| token.span().start == start);
            token.is_some_and(Token::is_number)
        };
        let mut numbers = None;
        for (at, bit) in bits.iter().enumerate().filter(digits) {
            let text = match &bit.what {
                What::Quantity(written) => written.to_string(),
                What::Bare(marked) if part != Part::Log && !is_numbering(&bits, at) => {
                    marked.middle().to_string()
                }
                _ => continue,
            };
            let number = text.split(' ').next().unwrap_or("");
            if covered.has(bit.span) {
                continue;
            }
            let numbers = numbers.get_or_insert_with(|| covered.words_of(line.span()));
            if !numbers.contains(number) {
                unused.push(Told::NotUsed(text, bit.span));
            }
        }
    });
    told.extend(unused);
}

/// Every line, with those below it. Depth is bounded by the parser.
fn look<'a, 't: 'a>(
    lines: &mut dyn Iterator<Item = &'a Line<'t>>,
    each: &mut dyn FnMut(&'a Line<'t>),
) {
    for line in lines {
        each(line);
        look(&mut line.lines(), each);
    }
}

/// Whether a number counts its line off: `Rest 1:`, `Hop 2`, `3.`
fn is_numbering(bits: &[Bit], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|before| bits.get(before));
    let behind = bits.get(at + 1);
    let is_led = before
        .and_then(Bit::word)
        .is_some_and(|word| NUMBERED.contains(&word));
    is_led || at == 0 && behind.is_none_or(|mark| matches!(mark.what, What::Mark(_)))
}

/// The stretches of a text that something speaks of.
struct Covered<'s> {
    /// By where they begin, each with the farthest end of those up to it.
    ends: Vec<(Span, u32)>,
    /// What is said, by where it was read.
    words: Vec<(Span, &'s str)>,
}

impl<'s> Covered<'s> {
    fn of(said: &'s Document<'_>, told: &[Told]) -> Self {
        let mut words = Vec::new();
        look(&mut said.lines(), &mut |line| {
            let tokens = line.tokens().iter();
            words.extend(tokens.map(|token| (token.span(), token.text())));
        });
        words.sort_by_key(|(span, _)| (span.text, span.start));
        let mut spans: Vec<Span> = words.iter().map(|(span, _)| *span).collect();
        spans.extend(told.iter().filter_map(|told| match told {
            Told::NotUsed(_, span) | Told::Assumed(_, _, span) | Told::Default(_, _, span) => {
                Some(*span)
            }
            Told::Asked(found) => Some(found.span),
            // Its words alone are kept.
            Told::Remark(..) => None,
        }));
        spans.sort_by_key(|span| (span.text, span.start));
        let mut far = (None, 0);
        let ends = spans.into_iter().map(|span| {
            if far.0 != Some(span.text) {
                far = (Some(span.text), 0);
            }
            far.1 = far.1.max(span.end);
            (span, far.1)
        });
        Self {
            ends: ends.collect(),
            words,
        }
    }

    /// The words that were read in a line: one may say a number of another place of it, as an acid's name does its strength.
    fn words_of(&self, line: Span) -> BTreeSet<&'s str> {
        let from = (line.text, line.start);
        let first = self
            .words
            .partition_point(|(span, _)| (span.text, span.start) < from);
        let inside = self.words.get(first..).unwrap_or(&[]).iter();
        inside
            .take_while(|(span, _)| span.text == line.text && span.start < line.end)
            .flat_map(|(_, word)| word.split(' '))
            .collect()
    }

    fn has(&self, wanted: Span) -> bool {
        let before = self
            .ends
            .partition_point(|(span, _)| (span.text, span.start) < (wanted.text, wanted.end));
        let last = before.checked_sub(1).and_then(|at| self.ends.get(at));
        last.is_some_and(|(span, end)| span.text == wanted.text && *end > wanted.start)
    }
}
