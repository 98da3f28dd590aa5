//! Pieces of a line between marks, and the phrases in them.

use super::bit::{Bit, What};
use crate::diagnostic::Span;

/// Pieces without a mark that parts them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Clause<'b> {
    pub(super) bits: &'b [Bit],
    /// Where it begins among the pieces of the line.
    pub(super) from: usize,
    /// The mark before it.
    pub(super) mark: Option<char>,
}

/// The clauses of a line.
pub(super) fn clauses(bits: &[Bit]) -> Vec<Clause<'_>> {
    let parts = |bit: &Bit| {
        matches!(
            bit.what,
            What::Mark(
                ',' | ';' | '.' | '|' | '(' | ')' | '>' | '+' | '&' | '!' | '?' | ':' | '-' | '='
            )
        )
    };
    let mut mark = None;
    let mut clauses = Vec::new();
    let mut from = 0;
    for stretch in bits.split_inclusive(parts) {
        let (body, end) = match stretch.split_last() {
            Some((last, body)) if parts(last) => (body, Some(last)),
            _ => (stretch, None),
        };
        if !body.is_empty() {
            clauses.push(Clause {
                bits: body,
                from,
                mark,
            });
            mark = None;
        }
        from += stretch.len();
        // Of `->` the arrow counts.
        mark = match end.map(|bit| &bit.what) {
            Some(What::Mark(own)) => Some(*own),
            _ => mark,
        };
    }
    clauses
}

/// How many pieces a phrase takes that the stretch begins with.
pub(super) fn begins(stretch: &[Bit], phrase: &str) -> Option<usize> {
    let mut count = 0;
    for word in phrase.split(' ') {
        let bit = stretch.get(count)?;
        let is_word = bit.word() == Some(word);
        if !(is_word || word == "&" && bit.is_mark('&')) {
            return None;
        }
        count += 1;
    }
    Some(count)
}

/// Where one of the phrases stands: the piece that it begins at and how many it takes; the longest of the first place.
pub(super) fn find(bits: &[Bit], phrases: &[&str]) -> Option<(usize, usize)> {
    (0..bits.len()).find_map(|at| {
        let here = bits.get(at..)?;
        let count = phrases
            .iter()
            .filter_map(|phrase| begins(here, phrase))
            .max()?;
        Some((at, count))
    })
}

pub(super) fn has(bits: &[Bit], phrases: &[&str]) -> bool {
    find(bits, phrases).is_some()
}

/// From the first piece to the last.
pub(super) fn covered(bits: &[Bit]) -> Option<Span> {
    let first = bits.first()?.span;
    Some(bits.iter().fold(first, |span, bit| span.to(bit.span)))
}

/// The rows of a file of words: what each speaks of, and its phrases.
pub(super) fn rows(text: &str) -> impl Iterator<Item = (&str, Vec<&str>)> {
    let rows = text.lines().filter(|row| !row.starts_with('#'));
    rows.filter_map(|row| {
        let (name, phrases) = row.split_once(" | ")?;
        Some((name, phrases.split(", ").collect()))
    })
}

#[cfg(test)]
mod tests {
    use super::rows;
    use crate::notation::free::{log, plant};

    #[test]
    fn every_row_of_words_is_read() {
        for (text, read) in [
            (include_str!("log/words.txt"), log::count_of_words()),
            (include_str!("plant/words.txt"), plant::count_of_words()),
        ] {
            let typed = text.lines().filter(|row| !row.starts_with('#')).count();
            assert_eq!((rows(text).count(), read), (typed, typed));
        }
    }
}
