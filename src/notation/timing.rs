//! Where the timing of a line begins: the last run of keyword, number and fitting unit.

use super::cursor::{Cursor, begins};
use super::tree::Token;
use crate::diagnostic::Span;
use crate::quantity::Dimension;

/// Phrases in one timing: `at 20 C`, `on day 5 for 3 days`.
const MOST_PHRASES: usize = 4;

/// A keyword that opens a timing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Keyword {
    At,
    For,
    When,
    OnDay,
    AtFirstWort,
}

impl Keyword {
    pub(super) const fn text(self) -> &'static str {
        match self {
            Self::At => "at",
            Self::For => "for",
            Self::When => "when",
            Self::OnDay => "on day",
            Self::AtFirstWort => "at first wort",
        }
    }

    /// What fits behind it.
    pub(super) const fn fits(self) -> &'static [Dimension] {
        match self {
            Self::At => &[Dimension::Time, Dimension::Temperature],
            Self::For => &[Dimension::Time],
            Self::When => &[Dimension::Gravity],
            Self::OnDay | Self::AtFirstWort => &[],
        }
    }
}

/// The keyword at the start of the tokens, and how many of them it takes.
pub(super) fn keyword(tokens: &[Token<'_>]) -> Option<(Keyword, usize)> {
    let (first, rest) = tokens.split_first()?;
    let word = first.word()?;
    let is = |keyword: &str| word.eq_ignore_ascii_case(keyword);
    let (word, length) = if is("at") {
        if begins(rest, &["first", "wort"]) {
            return Some((Keyword::AtFirstWort, 3));
        }
        if begins(rest, &["first-wort"]) {
            return Some((Keyword::AtFirstWort, 2));
        }
        (Keyword::At, 1)
    } else if is("for") {
        (Keyword::For, 1)
    } else if is("when") {
        (Keyword::When, 1)
    } else if is("on") && begins(rest, &["day"]) {
        (Keyword::OnDay, 2)
    } else {
        return None;
    };
    tokens
        .get(length)
        .is_some_and(Token::is_number)
        .then_some((word, length))
}

/// How many tokens at the end are timing. A number whose unit does not fit counts too, so that it is reported as a
/// timing and not as an odd name.
pub(super) fn length_at_end(tokens: &[Token<'_>]) -> usize {
    let start = tokens
        .iter()
        .rposition(Token::is_comma)
        .map_or(0, |comma| comma + 1);
    let clause = tokens.get(start..).unwrap_or(&[]);
    (0..clause.len())
        .filter_map(|at| clause.get(at..))
        .find(|rest| keyword(rest).is_some() && is_all_timing(rest))
        .map_or(0, <[Token<'_>]>::len)
}

fn is_all_timing(tokens: &[Token<'_>]) -> bool {
    let mut rest = tokens;
    // No line needs more phrases than these, and the bound keeps reading linear.
    for _ in 0..MOST_PHRASES {
        if rest.is_empty() {
            return true;
        }
        let Some((keyword, length)) = keyword(rest) else {
            return false;
        };
        let mut cursor = Cursor::new(rest, Span::default());
        cursor.skip(length);
        if keyword != Keyword::AtFirstWort && cursor.measure(keyword.fits()).is_none() {
            // The number, and the one word behind it that may be a wrong unit.
            cursor.skip(1);
            let next_is_timing = self::keyword(cursor.rest()).is_some();
            if !next_is_timing && keyword != Keyword::OnDay {
                cursor.skip(1);
            }
        }
        rest = cursor.rest();
    }
    rest.is_empty()
}
