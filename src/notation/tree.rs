//! The lossless tree of a text: lines within lines, tokens within lines, comments where they stood.

use super::piece::Piece;
use crate::diagnostic::Span;
use crate::quantity::Number;
use crate::quantity::lexer::Form;
use std::borrow::Cow;

/// A text as a tree of lines. Two documents are equal when they say the same, whatever their spans and spacing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document<'a> {
    pub(super) entries: Vec<Entry<'a>>,
}

/// One line of a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Entry<'a> {
    /// A comment that has a line to itself.
    Comment(Comment<'a>),
    /// A statement or item, with the lines that belong to it.
    Line(Line<'a>),
}

/// A comment, without its `#`.
#[derive(Debug, Clone)]
pub struct Comment<'a> {
    pub(super) text: Piece<'a>,
    pub(super) span: Span,
}

/// A line with its tokens, and the lines indented below it.
#[derive(Debug, Clone, PartialEq)]
pub struct Line<'a> {
    pub(super) tokens: Box<[Token<'a>]>,
    pub(super) comment: Option<Box<Comment<'a>>>,
    pub(super) children: Vec<Entry<'a>>,
}

/// A token and where it stood.
#[derive(Debug, Clone)]
pub struct Token<'a> {
    pub(super) text: Piece<'a>,
    pub(super) span: Span,
    pub(super) class: Class,
}

/// What a token is, its text apart: a tree holds so many tokens that they are kept small.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Class {
    Word,
    Quoted,
    Number(Form),
    Comma,
}

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TokenKind<'t> {
    /// A run of characters without space or comma.
    Word(&'t str),
    /// Text in quotation marks.
    Quoted(&'t str),
    /// A number.
    Number(Number<'t>),
    /// A comma between clauses.
    Comma,
}

impl PartialEq for Comment<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

impl PartialEq for Token<'_> {
    fn eq(&self, other: &Self) -> bool {
        self.class == other.class && self.text == other.text
    }
}

impl<'a> Document<'a> {
    /// The lines without indent, in order.
    pub fn entries(&self) -> &[Entry<'a>] {
        &self.entries
    }

    /// The lines that are not comments.
    pub fn lines(&self) -> impl Iterator<Item = &Line<'a>> {
        lines(&self.entries)
    }

    /// The lines without indent that begin with `keyword`, with what belongs to them, such as all `ingredient` blocks.
    #[must_use]
    pub fn only(&self, keyword: &str) -> Self {
        let kept = self.opened_by(keyword);
        Self {
            entries: kept.cloned().map(Entry::Line).collect(),
        }
    }

    fn opened_by(&self, keyword: &str) -> impl Iterator<Item = &Line<'a>> {
        self.lines().filter(move |line| {
            let first = line.tokens.first();
            first.is_some_and(|token| token.text().eq_ignore_ascii_case(keyword))
        })
    }

    /// The same document, independent of the text it was read from.
    #[must_use]
    pub fn into_owned(self) -> Document<'static> {
        Document {
            entries: own(self.entries),
        }
    }
}

/// Where the logs of texts stand: for each its head, then its lines.
pub(crate) fn log_lines(documents: &[Document<'_>]) -> Vec<Vec<Span>> {
    let logs = documents.iter().flat_map(|text| text.opened_by("log"));
    logs.map(|log| {
        let head = std::iter::once(log.span());
        head.chain(log.lines().map(Line::span)).collect()
    })
    .collect()
}

impl<'a> Line<'a> {
    /// The tokens, commas included.
    pub fn tokens(&self) -> &[Token<'a>] {
        &self.tokens
    }

    /// The comment at the end of the line.
    pub fn comment(&self) -> Option<&Comment<'a>> {
        self.comment.as_deref()
    }

    /// The lines that belong to this one.
    pub fn entries(&self) -> &[Entry<'a>] {
        &self.children
    }

    /// The lines below this one that are not comments.
    pub fn lines(&self) -> impl Iterator<Item = &Self> {
        lines(&self.children)
    }

    /// The runs of tokens between commas.
    pub fn clauses(&self) -> impl Iterator<Item = &[Token<'a>]> {
        self.tokens.split(Token::is_comma)
    }

    /// Where the line stands, without its indent and comment.
    pub fn span(&self) -> Span {
        span_of(&self.tokens).unwrap_or_default()
    }
}

impl Token<'_> {
    /// What it is.
    pub fn kind(&self) -> TokenKind<'_> {
        match self.class {
            Class::Word => TokenKind::Word(&self.text),
            Class::Quoted => TokenKind::Quoted(&self.text),
            Class::Number(form) => TokenKind::Number(Number {
                text: &self.text,
                form,
            }),
            Class::Comma => TokenKind::Comma,
        }
    }

    /// Where it stood.
    pub const fn span(&self) -> Span {
        self.span
    }

    /// The word, unless it is something else.
    pub(super) fn word(&self) -> Option<&str> {
        match self.class {
            Class::Word => Some(&self.text),
            _ => None,
        }
    }

    /// The number, unless it is something else.
    pub(super) fn number(&self) -> Option<Number<'_>> {
        match self.kind() {
            TokenKind::Number(number) => Some(number),
            _ => None,
        }
    }

    /// Whether it is a number.
    pub(super) const fn is_number(&self) -> bool {
        matches!(self.class, Class::Number(_))
    }

    /// Whether it stands in quotation marks.
    pub(super) const fn is_quoted(&self) -> bool {
        matches!(self.class, Class::Quoted)
    }

    /// Whether it is a comma.
    pub(super) const fn is_comma(&self) -> bool {
        matches!(self.class, Class::Comma)
    }

    /// The text as written, without quotation marks.
    pub fn text(&self) -> &str {
        &self.text
    }
}

impl Comment<'_> {
    /// The text, without `#` and the space around it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Where it stood.
    pub const fn span(&self) -> Span {
        self.span
    }
}

/// The lines among entries.
pub(super) fn lines<'e, 'a>(entries: &'e [Entry<'a>]) -> impl Iterator<Item = &'e Line<'a>> {
    entries.iter().filter_map(|entry| match entry {
        Entry::Line(line) => Some(line),
        Entry::Comment(_) => None,
    })
}

/// From the first token to the last.
pub(super) fn span_of(tokens: &[Token<'_>]) -> Option<Span> {
    Some(tokens.first()?.span.to(tokens.last()?.span))
}

/// The tokens as one text, single spaces between them.
pub(super) fn text_of(tokens: &[Token<'_>]) -> String {
    // As long as it stood in the text: quotation marks and wider gaps make that a little more than enough.
    let length = span_of(tokens).map_or(0, |span| span.end - span.start);
    let mut text = String::with_capacity(length as usize);
    for token in tokens {
        if !text.is_empty() && !token.is_comma() {
            text.push(' ');
        }
        text.push_str(token.text());
    }
    text
}

/// The tokens as one text, which most often is that of a single one.
pub(super) fn words_of<'t>(tokens: &'t [Token<'_>]) -> Cow<'t, str> {
    match tokens {
        [] => Cow::Borrowed(""),
        [one] => Cow::Borrowed(one.text()),
        several => Cow::Owned(text_of(several)),
    }
}

// Depth is bounded by the parser and the builders, so this recursion is too.
pub(super) fn own(entries: Vec<Entry<'_>>) -> Vec<Entry<'static>> {
    entries
        .into_iter()
        .map(|entry| match entry {
            Entry::Comment(comment) => Entry::Comment(own_comment(comment)),
            Entry::Line(line) => Entry::Line(own_line(line)),
        })
        .collect()
}

fn own_comment(comment: Comment<'_>) -> Comment<'static> {
    Comment {
        text: comment.text.into_owned(),
        span: comment.span,
    }
}

pub(super) fn own_token(token: Token<'_>) -> Token<'static> {
    Token {
        text: token.text.into_owned(),
        ..token
    }
}

/// The same line, independent of the text it was read from.
pub(super) fn own_line(line: Line<'_>) -> Line<'static> {
    Line {
        tokens: line.tokens.into_iter().map(own_token).collect(),
        comment: line.comment.map(|comment| Box::new(own_comment(*comment))),
        children: own(line.children),
    }
}
