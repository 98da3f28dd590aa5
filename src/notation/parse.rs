//! Text → tree. Lines are split and nested here; the tokens of each line are read with nom.

use super::DecimalComma;
use super::number::number;
use super::sink::Sink;
use super::tree::{Comment, Document, Entry, Line, Token, TokenKind};
use crate::diagnostic::{Code, Diagnostic, Source, SourceId, Span};
use crate::quantity::Unit;
use nom::bytes::complete::take_while1;
use nom::{IResult, Parser};
use std::borrow::Cow;

/// Deeper nesting than this is no recipe.
pub(super) const MOST_DEPTH: usize = 64;
/// Characters of a line that are read, spaces not counted, so that the printer's columns make no line too long.
const LONGEST_LINE: usize = 4000;
/// Bytes of a text that are read.
const LONGEST_TEXT: usize = 64 << 20;
/// Columns that a tab counts for.
const TAB: usize = 4;

/// What separates tokens. A byte-order mark inside a text comes from joined files and means nothing.
pub(super) fn is_space(c: char) -> bool {
    c.is_whitespace() || c == '\u{feff}'
}

/// Reads one text.
pub(super) fn parse<'a>(
    source: &Source<'a>,
    id: SourceId,
    comma: DecimalComma,
    sink: &mut Sink,
) -> Document<'a> {
    let mut builder = Builder {
        id,
        comma,
        sink,
        roots: Vec::new(),
        open: Vec::new(),
        pending: Vec::new(),
        indent_kind: None,
        mixed: false,
        deep: false,
    };
    let text = cut(source.text, LONGEST_TEXT);
    if text.len() < source.text.len() {
        let span = builder.span(text.len(), text.len());
        builder.sink.push(
            Diagnostic::error(Code::TooLong, span, "expected a text of at most 64 MiB")
                .with_help("split it into several texts"),
        );
    }
    let mut offset = 0;
    for line in text.split('\n') {
        builder.line(line, offset);
        offset += line.len() + 1;
    }
    builder.finish()
}

fn cut(text: &str, at: usize) -> &str {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    text.get(..at).unwrap_or(text)
}

/// The part of a line that is read.
fn readable(line: &str) -> &str {
    if line.len() <= LONGEST_LINE {
        return line;
    }
    let end = line
        .char_indices()
        .filter(|(_, c)| !is_space(*c))
        .nth(LONGEST_LINE)
        .map_or(line.len(), |(at, _)| at);
    line.get(..end).unwrap_or(line)
}

struct Builder<'a, 's> {
    id: SourceId,
    comma: DecimalComma,
    sink: &'s mut Sink,
    roots: Vec<Entry<'a>>,
    /// Lines that may still get lines below them, each with its indent.
    open: Vec<(usize, Line<'a>)>,
    /// Comment lines whose place depends on the line that follows.
    pending: Vec<(usize, Comment<'a>)>,
    indent_kind: Option<char>,
    mixed: bool,
    deep: bool,
}

impl<'a> Builder<'a, '_> {
    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.id, start as u32, end as u32)
    }

    fn line(&mut self, whole: &'a str, offset: usize) {
        let line = readable(whole);
        if line.len() < whole.len() {
            let span = self.span(offset + line.len(), offset + whole.len());
            self.sink.push(
                Diagnostic::error(
                    Code::TooLong,
                    span,
                    format!(
                        "expected a line of at most {LONGEST_LINE} characters, spaces not counted"
                    ),
                )
                .with_help("split the line; what lies beyond is not read"),
            );
        }
        let body = line.trim_start_matches(is_space);
        if body.is_empty() {
            return;
        }
        let start = line.len() - body.len();
        let indent = self.indent(line.get(..start).unwrap_or(""), offset);
        let (tokens, comment) = self.tokens(body, offset + start);
        if tokens.is_empty() {
            if let Some(comment) = comment {
                self.pending.push((indent, comment));
            }
            return;
        }
        self.place_comments(indent);
        self.close(indent);
        if self.open.len() >= MOST_DEPTH {
            if !self.deep {
                self.deep = true;
                let span = self.span(offset + start, offset + line.trim_end().len().max(start));
                self.sink.push(
                    Diagnostic::error(
                        Code::TooDeep,
                        span,
                        format!("expected at most {MOST_DEPTH} levels of indent"),
                    )
                    .with_help("indent lines only below the line that they belong to"),
                );
            }
            self.close_one();
        }
        self.open.push((
            indent,
            Line {
                tokens,
                comment,
                children: Vec::new(),
            },
        ));
    }

    fn indent(&mut self, blank: &str, offset: usize) -> usize {
        let mut width = 0;
        let mut mixed = false;
        for c in blank.chars() {
            let kind = if c == '\t' { '\t' } else { ' ' };
            if c == '\u{feff}' {
                continue;
            }
            width += if kind == '\t' { TAB } else { 1 };
            let differs = *self.indent_kind.get_or_insert(kind) != kind;
            mixed |= differs;
            if differs && !self.mixed {
                self.mixed = true;
                let (first, here) = if kind == '\t' {
                    ("spaces", "a tab")
                } else {
                    ("tabs", "a space")
                };
                let span = self.span(offset, offset + blank.len());
                self.sink.push(
                    Diagnostic::error(
                        Code::MixedIndent,
                        span,
                        format!(
                            "expected {first} in this indent as in the lines above, found {here}"
                        ),
                    )
                    .with_help("indent all lines of a text with spaces, or all of them with tabs"),
                );
            }
        }
        // How deep a tab is cannot be known, so a mixed line goes with the line above it.
        if mixed {
            return self
                .open
                .last()
                .map_or(width, |(indent, _)| (*indent).max(1));
        }
        width
    }

    /// Comments stand with the line that follows them, unless they are indented deeper.
    fn place_comments(&mut self, next: usize) {
        for (indent, comment) in std::mem::take(&mut self.pending) {
            self.close(indent.max(next));
            self.add(Entry::Comment(comment));
        }
    }

    /// Closes the lines that cannot have a line of this indent below them.
    fn close(&mut self, indent: usize) {
        while self.open.last().is_some_and(|(open, _)| *open >= indent) {
            self.close_one();
        }
    }

    fn close_one(&mut self) {
        if let Some((_, line)) = self.open.pop() {
            self.add(Entry::Line(line));
        }
    }

    fn add(&mut self, entry: Entry<'a>) {
        match self.open.last_mut() {
            Some((_, parent)) => parent.children.push(entry),
            None => self.roots.push(entry),
        }
    }

    fn finish(mut self) -> Document<'a> {
        self.place_comments(0);
        while !self.open.is_empty() {
            self.close_one();
        }
        Document {
            entries: self.roots,
        }
    }

    /// The tokens of a line, and the comment behind them.
    fn tokens(&mut self, body: &'a str, offset: usize) -> (Vec<Token<'a>>, Option<Comment<'a>>) {
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
    fn quoted(&mut self, rest: &'a str, start: usize) -> (&'a str, TokenKind<'a>) {
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

    fn word_or_number(&self, rest: &'a str) -> (&'a str, TokenKind<'a>) {
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
