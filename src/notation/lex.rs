//! One line → tokens.

use super::DecimalComma;
use super::number::{number, plain_number};
use super::sink::Sink;
use super::tree::{Comment, Token, TokenKind};
use crate::diagnostic::{Code, Diagnostic, SourceId, Span};
use crate::quantity::Unit;
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

    /// Appends the tokens of a line; gives the comment behind them.
    pub(super) fn tokens<'a>(
        &mut self,
        body: &'a str,
        offset: usize,
        tokens: &mut Vec<Token<'a>>,
    ) -> Option<Comment<'a>> {
        let mut rest = body;
        let mut glued = false;
        loop {
            let trimmed = trim_start(rest);
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
                    drop_last_comma(tokens);
                    return Some(comment);
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
        drop_last_comma(tokens);
        None
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
        let (word, after) = rest.split_at(word_length(rest));
        (after, TokenKind::Word(Cow::Borrowed(word)))
    }
}

fn drop_last_comma(tokens: &mut Vec<Token<'_>>) {
    if tokens.last().is_some_and(|t| t.kind == TokenKind::Comma) {
        tokens.pop();
    }
}

/// The text without the space at its start. Most of it is single blanks.
pub(super) fn trim_start(text: &str) -> &str {
    let blanks = text.bytes().take_while(|byte| *byte == b' ').count();
    let text = text.get(blanks..).unwrap_or("");
    match text.as_bytes().first() {
        Some(byte) if byte.is_ascii_graphic() => text,
        _ => text.trim_start_matches(is_space),
    }
}

/// How many bytes a word takes: up to a space or a comma.
fn word_length(text: &str) -> usize {
    let plain = |byte: &u8| byte.is_ascii_graphic() && *byte != b',';
    let ascii = text.bytes().take_while(plain).count();
    match text.as_bytes().get(ascii) {
        None | Some(b' ' | b',') => ascii,
        _ => text.find(|c| is_space(c) || c == ',').unwrap_or(text.len()),
    }
}

/// A number, if one stands here and what is glued to it is a unit.
fn unit_behind_number(rest: &str, comma: DecimalComma) -> Option<(&str, TokenKind<'_>)> {
    if !rest.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '–' | '−' | '~'))
    {
        return None;
    }
    if let Some((after, number)) = plain_number(rest) {
        return Some((after, TokenKind::Number(number)));
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
        || Unit::begins(glued)
}
