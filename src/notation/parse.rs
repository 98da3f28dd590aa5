//! Text → tree: lines are split and nested here, outside nom, so that a bad line spoils no other.

use super::DecimalComma;
use super::lex::{Lexer, trim_start};
use super::sink::Sink;
use super::tree::{Comment, Document, Entry, Line, Token};
use crate::diagnostic::{Code, Diagnostic, TextId, TextRef};
use crate::quantity::lexer::is_space;

/// Deeper nesting than this is no recipe.
pub(super) const MOST_DEPTH: usize = 64;
/// Characters of a line that are read, spaces not counted, so that the printer's columns make no line too long.
const LONGEST_LINE: usize = 4000;
/// Bytes of a text that are read.
const LONGEST_TEXT: usize = 64 << 20;
/// Columns that a tab counts for.
const TAB: usize = 4;

impl<'a> Document<'a> {
    /// The tree of one text, for a host that only shows or prints it; [`read`](super::read) says what is wrong with it.
    ///
    /// ```
    /// use wortwright::diagnostic::TextRef;
    /// use wortwright::notation::Document;
    ///
    /// let document = Document::parse(&TextRef::new("text", "mash\n 5kg  pale ale malt"));
    /// assert_eq!(document.to_string(), "mash\n  5 kg  pale ale malt\n");
    /// ```
    #[must_use]
    pub fn parse(source: &TextRef<'a>) -> Self {
        let mut sink = Sink::default();
        parse(
            source,
            TextId::default(),
            DecimalComma::default(),
            &mut sink,
        )
    }
}

/// Reads one text.
pub(super) fn parse<'a>(
    source: &TextRef<'a>,
    id: TextId,
    comma: DecimalComma,
    sink: &mut Sink,
) -> Document<'a> {
    Parser::new(source, Lexer { id, comma }).finish(sink)
}

/// A text that is to be understood.
pub(super) enum Text<'a> {
    /// Its tree.
    Tree(Document<'a>),
    /// Nothing of it is read yet.
    Unread(Parser<'a>),
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

/// Reads a text statement by statement, so that each can be understood while its lines are still at hand.
pub(super) struct Parser<'a> {
    lexer: Lexer,
    /// What is not read yet; nothing once the last line is read.
    rest: Option<&'a str>,
    /// Where it begins in the text.
    offset: usize,
    /// Whether the text is longer than what is read of it.
    is_cut: bool,
    /// What is complete: entries without indent, then what belongs to each of the open lines in turn.
    closed: Vec<Entry<'a>>,
    /// Lines that may still get lines below them, each in the one before it.
    open: Vec<Open<'a>>,
    /// Comment lines whose place depends on the line that follows.
    pending: Vec<(usize, Comment<'a>)>,
    indent_kind: Option<char>,
    mixed: bool,
    deep: bool,
    /// The tokens of the line at hand; the tree gets them in a list of the right size.
    tokens: Vec<Token<'a>>,
}

/// A line that may still get lines below it.
struct Open<'a> {
    line: Line<'a>,
    indent: usize,
    /// Where the entries that belong to it begin among those that are complete.
    first: usize,
}

impl<'a> Parser<'a> {
    pub(super) fn new(source: &TextRef<'a>, lexer: Lexer) -> Self {
        let text = cut(source.text, LONGEST_TEXT);
        Self {
            lexer,
            rest: Some(text),
            offset: 0,
            is_cut: text.len() < source.text.len(),
            closed: Vec::new(),
            open: Vec::new(),
            pending: Vec::new(),
            indent_kind: None,
            mixed: false,
            deep: false,
            tokens: Vec::new(),
        }
    }

    /// Reads until a statement without indent is complete; gives it, with comments around it, and nothing at the end.
    pub(super) fn statement(&mut self, sink: &mut Sink) -> Option<&[Entry<'a>]> {
        let before = self.roots();
        while self.roots() == before {
            let rest = self.rest?;
            // Lines are short: looking at each byte is quicker than a search that is made for long stretches.
            let end = rest.bytes().position(|byte| byte == b'\n');
            let (line, behind) = rest.split_at(end.unwrap_or(rest.len()));
            self.line(line, self.offset, sink);
            self.offset += line.len() + 1;
            self.rest = behind.get(1..);
            if self.rest.is_none() {
                self.end(sink);
            }
        }
        self.closed.get(before..self.roots())
    }

    /// How many entries without indent are complete.
    fn roots(&self) -> usize {
        let root = self.open.first();
        root.map_or(self.closed.len(), |open| open.first)
    }

    /// The tree of the text, once the rest is read.
    pub(super) fn finish(mut self, sink: &mut Sink) -> Document<'a> {
        while self.statement(sink).is_some() {}
        Document {
            entries: self.closed,
        }
    }

    fn line(&mut self, whole: &'a str, offset: usize, sink: &mut Sink) {
        let line = readable(whole);
        if line.len() < whole.len() {
            let span = self.lexer.span(offset + line.len(), offset + whole.len());
            sink.push(
                Diagnostic::error(
                    Code::TooLong,
                    span,
                    format!(
                        "expected a line of at most {LONGEST_LINE} characters, spaces not counted"
                    ),
                )
                .with_help("split the line; the rest is ignored"),
            );
        }
        let body = trim_start(line);
        if body.is_empty() {
            return;
        }
        let start = line.len() - body.len();
        let indent = self.indent(line.get(..start).unwrap_or(""), offset, sink);
        let comment = self
            .lexer
            .tokens(body, offset + start, &mut self.tokens, sink);
        if self.tokens.is_empty() {
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
                let span = self
                    .lexer
                    .span(offset + start, offset + line.trim_end().len().max(start));
                sink.push(
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
        let mut tokens = Vec::with_capacity(self.tokens.len());
        tokens.append(&mut self.tokens);
        let line = Line {
            tokens: tokens.into_boxed_slice(),
            comment: comment.map(Box::new),
            children: Vec::new(),
        };
        self.open.push(Open {
            line,
            indent,
            first: self.closed.len(),
        });
    }

    fn indent(&mut self, blank: &str, offset: usize, sink: &mut Sink) -> usize {
        if self.indent_kind == Some(' ') && blank.bytes().all(|byte| byte == b' ') {
            return blank.len();
        }
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
                let span = self.lexer.span(offset, offset + blank.len());
                sink.push(
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
            return self.open.last().map_or(width, |open| open.indent.max(1));
        }
        width
    }

    /// Comments stand with the line that follows them, unless they are indented deeper.
    fn place_comments(&mut self, next: usize) {
        for (indent, comment) in std::mem::take(&mut self.pending) {
            self.close(indent.max(next));
            self.closed.push(Entry::Comment(comment));
        }
    }

    /// Closes the lines that cannot have a line of this indent below them.
    fn close(&mut self, indent: usize) {
        while self.open.last().is_some_and(|open| open.indent >= indent) {
            self.close_one();
        }
    }

    fn close_one(&mut self) {
        if let Some(Open {
            mut line, first, ..
        }) = self.open.pop()
        {
            // In a list of the right size.
            line.children = self.closed.split_off(first);
            self.closed.push(Entry::Line(line));
        }
    }

    fn end(&mut self, sink: &mut Sink) {
        self.place_comments(0);
        while !self.open.is_empty() {
            self.close_one();
        }
        if self.is_cut {
            let end = self.offset - 1;
            let span = self.lexer.span(end, end);
            sink.push(
                Diagnostic::error(Code::TooLong, span, "expected a text of at most 64 MiB")
                    .with_help("split it into several texts"),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::tree::text_of;

    /// The tree as nested text: tokens apart by `|`, lines below in brackets, comments behind `#`.
    fn shown(entries: &[Entry<'_>]) -> String {
        let lines: Vec<String> = entries
            .iter()
            .map(|entry| match entry {
                Entry::Comment(comment) => format!("#{}", comment.text()),
                Entry::Line(line) => {
                    let tokens: Vec<&str> = line.tokens.iter().map(Token::text).collect();
                    let below = if line.children.is_empty() {
                        String::new()
                    } else {
                        format!("[{}]", shown(&line.children))
                    };
                    let comment = line.comment.as_ref().map(|c| format!("#{}", c.text()));
                    format!("{}{}{below}", tokens.join("|"), comment.unwrap_or_default())
                }
            })
            .collect();
        lines.join(";")
    }

    fn check(text: &str, expected: &str) {
        let mut sink = Sink::default();
        let source = TextRef::new("", text);
        let document = parse(&source, TextId(0), DecimalComma::Refused, &mut sink);
        assert_eq!(shown(&document.entries), expected, "{text:?}");
    }

    #[test]
    fn lines_nest_by_their_indent() {
        check("a\n  b\n    c\n  d\ne", "a[b[c];d];e");
        check("a\n    b\n  c\n", "a[b;c]");
        check("  a\nb", "a;b");
        check("a\r\n\tb\r\n\r\n\tc\r\n", "a[b;c]");
    }

    #[test]
    fn comments_stand_with_the_line_they_precede() {
        check("a\n# x\n  b\n", "a[#x;b]");
        check("a\n  b\n# x\nc", "a[b];#x;c");
        check("a\n  b\n  # x\nc", "a[b;#x];c");
        check("a # x # y\n#\n", "a#x # y;#");
        check("a \"# no\" #yes", "a|# no#yes");
    }

    #[test]
    fn tokens_of_a_line() {
        check("70%pale", "70|%|pale");
        check("5.5 EBC,4 % moisture", "5.5|EBC|,|4|%|moisture");
        check("2x700mL 7th 5kq 80/20", "2|x|700|mL|7th|5kq|80/20");
        check("4,5 kg,, a ,", "4,5|kg|,|a");
        check("1 000 g 1  1/2 oz", "1 000|g|1 1/2|oz");
        check("4,5th", "4|,|5th");
        check("\"a \"\"b\"\"\" c", "a \"b\"|c");
        check("2024-05-01 fine-grind", "2024-05-01|fine-grind");
    }

    #[test]
    fn a_name_of_words_joins_with_single_spaces() {
        let source = TextRef::new("", "pale   ale\u{a0}malt, x");
        let document = parse(
            &source,
            TextId(0),
            DecimalComma::Refused,
            &mut Sink::default(),
        );
        let line = document.lines().next().unwrap();
        assert_eq!(text_of(&line.tokens), "pale ale malt, x");
    }
}
