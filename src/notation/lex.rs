//! One line → tokens.

use super::piece::Piece;
use super::sink::Sink;
use super::tree::{Class, Comment, Token};
use crate::diagnostic::{Code, Diagnostic, Span, TextId};
use crate::quantity::DecimalComma;
use crate::quantity::lexer::{Form, is_space, may_follow_number, number, plain_number};

/// Reads the lines of one text, one at a time.
pub(super) struct Lexer {
    pub(super) id: TextId,
    pub(super) comma: DecimalComma,
}

impl Lexer {
    pub(super) fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.id, start as u32, end as u32)
    }

    /// Appends the tokens of a line; gives the comment behind them.
    pub(super) fn tokens<'a>(
        &self,
        body: &'a str,
        offset: usize,
        tokens: &mut Vec<Token<'a>>,
        sink: &mut Sink,
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
            // A text other than what stands there: quotation marks taken off, spaces closed up.
            let mut own = None;
            let (length, class) = match first {
                '#' => {
                    let text = rest.get(1..).unwrap_or("");
                    let end = start + rest.trim_end_matches(is_space).len();
                    let comment = Comment {
                        text: Piece::Borrowed(text.trim_matches(is_space)),
                        span: self.span(start, end),
                    };
                    drop_last_comma(tokens);
                    return Some(comment);
                }
                ',' => (1, Class::Comma),
                '"' => {
                    let (length, text) = self.quoted(rest, start, sink);
                    own = Some(text);
                    (length, Class::Quoted)
                }
                // `70%pale` and `2x700`: one character belongs to the number before it.
                '%' | 'x' if glued => (1, Class::Word),
                '0'..='9' | '.' | '-' | '–' | '−' | '~' => {
                    if let Some(length) = plain_number(rest) {
                        (length, Class::Number(Form::Plain))
                    } else if let Some((length, form)) = number(rest, self.comma, may_follow_number)
                    {
                        own = rest.get(..length).and_then(closed_up);
                        (length, Class::Number(form))
                    } else {
                        (word_length(rest), Class::Word)
                    }
                }
                _ => (word_length(rest), Class::Word),
            };
            glued = matches!(class, Class::Number(_));
            let (written, after) = rest.split_at(length);
            rest = after;
            // A stray comma separates nothing.
            if class == Class::Comma && tokens.last().is_none_or(Token::is_comma) {
                continue;
            }
            tokens.push(Token {
                text: own.unwrap_or(Piece::Borrowed(written)),
                span: self.span(start, start + length),
                class,
            });
        }
        drop_last_comma(tokens);
        None
    }

    /// Text up to the closing mark, and how far it goes; two marks in a row stand for one inside the text.
    fn quoted<'a>(&self, rest: &'a str, start: usize, sink: &mut Sink) -> (usize, Piece<'a>) {
        let inside = rest.get(1..).unwrap_or("");
        let mut from = 0;
        while let Some(found) = inside.get(from..).and_then(|i| i.find('"')) {
            let at = from + found;
            let after = inside.get(at + 1..).unwrap_or("");
            if after.starts_with('"') {
                from = at + 2;
                continue;
            }
            return (at + 2, unquoted(inside.get(..at).unwrap_or("")));
        }
        let text = inside.trim_end_matches(is_space);
        let span = self.span(start, start + 1 + text.len());
        sink.push(
            Diagnostic::error(
                Code::UnterminatedQuote,
                span,
                "expected a closing `\"` before the end of the line",
            )
            .with_help("close the quotation on the line where it opens"),
        );
        (rest.len(), unquoted(text))
    }
}

/// A number of several words with single blanks between them.
fn closed_up(number: &str) -> Option<Piece<'_>> {
    if !number.contains(is_space) {
        return None;
    }
    let words: Vec<_> = number.split(is_space).filter(|w| !w.is_empty()).collect();
    Some(Piece::from(words.join(" ")))
}

fn unquoted(text: &str) -> Piece<'_> {
    if text.contains('"') {
        Piece::from(text.replace("\"\"", "\""))
    } else {
        Piece::Borrowed(text)
    }
}

fn drop_last_comma(tokens: &mut Vec<Token<'_>>) {
    if tokens.last().is_some_and(Token::is_comma) {
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
