//! One line → tokens, read with nom.

use super::DecimalComma;
use super::number::number;
use super::sink::Sink;
use super::tree::{Comment, Token, TokenKind};
use crate::diagnostic::{Code, Diagnostic, SourceId, Span};
use crate::quantity::Unit;
use nom::bytes::complete::take_while1;
use nom::{IResult, Parser};
use std::borrow::Cow;

/// What separates tokens. A byte-order mark inside a text comes from joined files and means nothing.
pub(super) fn is_space(c: char) -> bool {
    c.is_whitespace() || c == '\u{feff}'
}

/// Reads the lines of one text, one at a time.
pub(super) struct Lexer<'s> {
    pub(super) id: SourceId,
    pub(super) comma: DecimalComma,
    pub(super) sink: &'s mut Sink,
}

impl Lexer<'_> {
    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.id, start as u32, end as u32)
    }

    /// The tokens of a line, and the comment behind them.
    pub(super) fn tokens<'a>(
        &mut self,
        body: &'a str,
        offset: usize,
    ) -> (Vec<Token<'a>>, Option<Comment<'a>>) {
        let mut tokens = Vec::new();
        let mut rest = body;
        let mut glued = false;
        loop {
            let trimmed = rest.trim_start_matches(is_space);
            glued = glued && trimmed.len() == rest.len();
            rest = trimmed;
            let start = offset + body.len() - rest.len();
            let Some(first) = rest.chars().next() else {
                break;
            };
            let (after, kind) = match first {
                '#' => {
                    let text = rest.get(1..).unwrap_or("");
                    let end = start + rest.trim_end_matches(is_space).len();
                    let comment = Comment {
                        text: Cow::Borrowed(text.trim_matches(is_space)),
                        span: self.span(start, end),
                    };
                    drop_last_comma(&mut tokens);
                    return (tokens, Some(comment));
                }
                ',' => (rest.get(1..).unwrap_or(""), TokenKind::Comma),
                '"' => self.quoted(rest, start),
                // `70%pale` and `2x700`: one character belongs to the number before it.
                '%' | 'x' if glued => {
                    let (sign, after) = rest.split_at(1);
                    (after, TokenKind::Word(Cow::Borrowed(sign)))
                }
                _ => self.word_or_number(rest),
            };
            glued = matches!(kind, TokenKind::Number(_));
            let end = offset + body.len() - after.len();
            rest = after;
            // A stray comma separates nothing.
            let stray = kind == TokenKind::Comma
                && tokens
                    .last()
                    .is_none_or(|last: &Token<'_>| last.kind == TokenKind::Comma);
            if !stray {
                let span = self.span(start, end);
                tokens.push(Token { kind, span });
            }
        }
        drop_last_comma(&mut tokens);
        (tokens, None)
    }

    /// Text up to the closing mark; two marks in a row stand for one inside the text.
    fn quoted<'a>(&mut self, rest: &'a str, start: usize) -> (&'a str, TokenKind<'a>) {
        let inside = rest.get(1..).unwrap_or("");
        let mut from = 0;
        while let Some(found) = inside.get(from..).and_then(|i| i.find('"')) {
            let at = from + found;
            let after = inside.get(at + 1..).unwrap_or("");
            if after.starts_with('"') {
                from = at + 2;
                continue;
            }
            let text = inside.get(..at).unwrap_or("");
            let text = if text.contains('"') {
                Cow::Owned(text.replace("\"\"", "\""))
            } else {
                Cow::Borrowed(text)
            };
            return (after, TokenKind::Quoted(text));
        }
        let text = inside.trim_end_matches(is_space);
        let span = self.span(start, start + 1 + text.len());
        self.sink.push(
            Diagnostic::error(
                Code::UnterminatedQuote,
                span,
                "expected a closing `\"` before the end of the line",
            )
            .with_help("close the quotation on the line where it opens"),
        );
        (
            "",
            TokenKind::Quoted(Cow::Owned(text.replace("\"\"", "\""))),
        )
    }

    fn word_or_number<'a>(&self, rest: &'a str) -> (&'a str, TokenKind<'a>) {
        if let Some(word) = unit_behind_number(rest, self.comma) {
            return word;
        }
        match word(rest) {
            Ok((after, word)) => (after, TokenKind::Word(Cow::Borrowed(word))),
            // Unreachable for a first character that is neither space nor comma; skip it all the same.
            Err(_) => ("", TokenKind::Word(Cow::Borrowed(rest))),
        }
    }
}

fn drop_last_comma(tokens: &mut Vec<Token<'_>>) {
    if tokens.last().is_some_and(|t| t.kind == TokenKind::Comma) {
        tokens.pop();
    }
}

fn word(input: &str) -> IResult<&str, &str> {
    take_while1(|c| !is_space(c) && c != ',').parse(input)
}

/// A number, if one stands here and what is glued to it is a unit.
fn unit_behind_number(rest: &str, comma: DecimalComma) -> Option<(&str, TokenKind<'_>)> {
    if !rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '–' | '−' | '~'))
    {
        return None;
    }
    number(rest, comma, may_follow_number).map(|(after, number)| (after, TokenKind::Number(number)))
}

/// Whether the text can directly follow a number: a space, a comma, a unit, or the `x` of `2x700 mL`.
fn may_follow_number(after: &str) -> bool {
    let glued = after
        .split(|c| is_space(c) || c == ',')
        .next()
        .unwrap_or("");
    glued.is_empty()
        || glued.starts_with('%')
        || glued
            .strip_prefix('x')
            .is_some_and(|more| more.starts_with(|c: char| c.is_ascii_digit()))
        || is_unit(glued)
}

/// Whether some unit is written so, or begins so.
fn is_unit(word: &str) -> bool {
    let matches = |symbol: &str| {
        let first = symbol.split(' ').next().unwrap_or("");
        !first.is_empty() && first.eq_ignore_ascii_case(word)
    };
    Unit::ALL
        .iter()
        .any(|unit| matches(unit.symbol()) || unit.aliases().iter().any(|alias| matches(alias)))
}
