//! Where the timing of a line begins: the last run of keyword, number and fitting unit.

use super::cursor::Cursor;
use super::grammar::{Block, Role, Row, Rule, Table, Takes};
use super::tree::Token;
use crate::diagnostic::Span;
use crate::quantity::Dimension;

/// Phrases in one timing: `at 20 C`, `on day 5 for 3 days`.
const MOST_PHRASES: usize = 4;

/// What opens a timing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Keyword {
    At,
    For,
    When,
    OnDay,
    AtFirstWort,
}

/// Time left in the boil.
pub(super) const LEFT: Role =
    Role::new("time left in the boil", &[Dimension::Time]).among(&[Block::Boil]);
/// What it goes in at.
pub(super) const WARMTH: Role = Role::new("temperature", &[Dimension::Temperature]).among(&[
    Block::Stand,
    Block::Pitch,
    Block::Ferment,
    Block::Package,
]);

const fn row(words: &'static [&'static str], field: &'static str, takes: &'static [Takes]) -> Row {
    Row::new(Block::Timing, words, field).takes(takes)
}

/// What opens a timing, and the items whose line may have it.
pub(super) static TIMINGS: Table<Keyword> = Table(&[
    Rule {
        row: row(
            &["at"],
            "timing.at",
            &[Takes::Figure(LEFT), Takes::Figure(WARMTH)],
        )
        .among(&[
            Block::Boil,
            Block::Stand,
            Block::Pitch,
            Block::Ferment,
            Block::Package,
        ])
        .example(
            Block::Boil,
            "50 g cascade, 5 % alpha at 60 min",
            &[
                "50 g cascade, 5 % alpha at 30 min",
                "50 g cascade, 5 % alpha at 0 min",
            ],
        ),
        read: Keyword::At,
    },
    Rule {
        row: row(
            &["for"],
            "timing.for_min",
            &[Takes::Figure(Role::new("contact time", &[Dimension::Time]))],
        )
        .example(
            Block::Ferment,
            "add 30 g cascade on day 5 for 3 days",
            &[
                "add 30 g cascade on day 5 for 4 days",
                "add 30 g cascade on day 5 for 12 h",
            ],
        ),
        read: Keyword::For,
    },
    Rule {
        row: row(
            &["when"],
            "timing.at",
            &[Takes::Figure(Role::new(
                "gravity on its way down",
                &[Dimension::Gravity, Dimension::Ratio],
            ))],
        )
        .among(&[Block::Ferment, Block::Package])
        .example(
            Block::Ferment,
            "add 1 L plum juice when 6 P",
            &[
                "add 1 L plum juice when 5 P",
                "add 1 L plum juice when 1.020",
            ],
        ),
        read: Keyword::When,
    },
    Rule {
        // Days are counted and have no unit.
        row: row(
            &["on day"],
            "timing.at",
            &[Takes::Figure(Role::new("day after pitching", &[]))],
        )
        .among(&[Block::Ferment, Block::Package, Block::Log])
        .example(
            Block::Ferment,
            "add 30 g cascade on day 5",
            &["add 30 g cascade on day 6", "add 30 g cascade on day 4.5"],
        ),
        read: Keyword::OnDay,
    },
    Rule {
        row: row(&["at first wort", "at first-wort"], "timing.at", &[])
            .among(&[Block::Boil])
            .example(
                Block::Boil,
                "50 g cascade, 5 % alpha at first wort",
                &[
                    "50 g cascade, 5 % alpha at 60 min",
                    "50 g cascade, 5 % alpha at 10 min",
                ],
            ),
        read: Keyword::AtFirstWort,
    },
]);

impl Keyword {
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
    let (rule, length) = opening(tokens)?;
    Some((rule.read, length))
}

/// The rule of the keyword at the start of the tokens, and how many of them its words take.
pub(super) fn opening(tokens: &[Token<'_>]) -> Option<(&'static Rule<Keyword>, usize)> {
    let (rule, words) = TIMINGS.opening(tokens)?;
    let length = words.split(' ').count();
    let fits =
        rule.read == Keyword::AtFirstWort || tokens.get(length).is_some_and(Token::is_number);
    fits.then_some((rule, length))
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
