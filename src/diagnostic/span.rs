//! Places in a text.

use serde::Serialize;

/// Which of the texts that were read together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct TextId(pub u32);

/// A text with the name by which messages call it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextRef<'a> {
    /// A file name, or any word that a person recognises.
    pub name: &'a str,
    /// The text itself.
    pub text: &'a str,
}

impl<'a> TextRef<'a> {
    /// A text under the name by which messages call it.
    pub const fn new(name: &'a str, text: &'a str) -> Self {
        Self { name, text }
    }
}

/// A half-open range of bytes in one text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Span {
    /// The text.
    pub text: TextId,
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

/// A place as a person counts it: line and column from 1, columns in characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Position {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// Length in characters, within the line; at least 1.
    pub length: usize,
}

impl Span {
    /// The bytes `start..end` of a text.
    pub(crate) const fn new(text: TextId, start: u32, end: u32) -> Self {
        Self { text, start, end }
    }

    /// The smallest span that covers both; `other` must be of the same text, else `self` is returned.
    #[must_use]
    pub(crate) fn to(self, other: Self) -> Self {
        if self.text != other.text {
            return self;
        }
        Self::new(
            self.text,
            self.start.min(other.start),
            self.end.max(other.end),
        )
    }

    /// The text under the span, clamped to the text and to character bounds.
    #[must_use]
    pub fn slice(self, text: &str) -> &str {
        let start = floor_char(text, self.start as usize);
        let end = floor_char(text, self.end as usize).max(start);
        text.get(start..end).unwrap_or("")
    }

    /// Line, column and length as a person counts them.
    #[must_use]
    pub fn position(self, text: &str) -> Position {
        let start = floor_char(text, self.start as usize);
        let before = text.get(..start).unwrap_or("");
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        let rest = text.get(start..).unwrap_or("");
        let line_end = start + rest.find('\n').unwrap_or(rest.len());
        let end = floor_char(text, self.end as usize).clamp(start, line_end);
        let shown = text.get(line_start..start).unwrap_or("");
        Position {
            line: before.bytes().filter(|b| *b == b'\n').count() + 1,
            column: shown.chars().filter(|c| *c != '\u{feff}').count() + 1,
            length: text.get(start..end).unwrap_or("").chars().count().max(1),
        }
    }
}

/// The largest character bound at or before `at`, within the text.
fn floor_char(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, start: u32, end: u32, expected: (usize, usize, usize)) {
        let p = Span::new(TextId(0), start, end).position(text);
        assert_eq!((p.line, p.column, p.length), expected, "{text:?}");
    }

    #[test]
    fn positions_count_characters_from_one() {
        check("abc", 0, 1, (1, 1, 1));
        check("abc\ndef", 5, 7, (2, 2, 2));
        check("abc\r\ndef", 5, 8, (2, 1, 3));
        check("é🍺x", 6, 7, (1, 3, 1));
        check("\u{feff}abc", 3, 4, (1, 1, 1));
        check("abc", 3, 3, (1, 4, 1));
        check("abc\n", 4, 4, (2, 1, 1));
    }

    #[test]
    fn spans_outside_the_text_or_inside_a_character_are_clamped() {
        check("🍺", 1, 3, (1, 1, 1));
        check("ab", 90, 99, (1, 3, 1));
        assert_eq!(Span::new(TextId(0), 1, 99).slice("a🍺"), "🍺");
    }
}
