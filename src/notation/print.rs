//! Tree → canonical text: the one printer of the crate.
//!
//! Only spacing is chosen here, never words, so what is printed reads back as the same tree.

use super::cursor::amount_length;
use super::timing;
use super::tree::{Comment, Document, Entry, Line, Token, TokenKind, text_of};
use std::fmt;

/// Columns line up to this width; what is longer pushes the rest to the right.
const WIDEST: usize = 40;

/// Words that open a line without indent and are set in a column of their own.
const HEADS: [&[&str]; 7] = [
    &["recipe"],
    &["source"],
    &["brewed", "on"],
    &["batch"],
    &["target"],
    &["targets"],
    &["shares"],
];

impl fmt::Display for Document<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut out = String::new();
        for (at, entry) in self.entries.iter().enumerate() {
            let before = at.checked_sub(1).and_then(|i| self.entries.get(i));
            let apart =
                |entry: &Entry<'_>| matches!(entry, Entry::Line(line) if !line.children.is_empty());
            // A block stands apart from what surrounds it, a comment with what follows it.
            if before.is_some_and(|b| apart(b) || (apart(entry) && !matches!(b, Entry::Comment(_))))
            {
                out.push('\n');
            }
            write_entries(&mut out, std::slice::from_ref(entry), 0);
        }
        f.write_str(&out)
    }
}

/// Where the columns of a run of lines begin.
#[derive(Clone, Copy, Default)]
struct Columns {
    head: usize,
    body: usize,
}

/// A line cut into what stands in its columns.
struct Parts {
    head: String,
    body: String,
    timing: String,
}

fn write_entries(out: &mut String, entries: &[Entry<'_>], depth: usize) {
    let columns = columns(entries, depth);
    for entry in entries {
        for _ in 0..depth {
            out.push_str("  ");
        }
        match entry {
            Entry::Comment(comment) => write_comment(out, comment),
            Entry::Line(line) => {
                write_line(out, &parts(line, depth), columns);
                if let Some(comment) = &line.comment {
                    out.push_str("  ");
                    write_comment(out, comment);
                }
            }
        }
        out.push('\n');
        if let Entry::Line(line) = entry {
            write_entries(out, &line.children, depth + 1);
        }
    }
}

fn write_comment(out: &mut String, comment: &Comment<'_>) {
    out.push('#');
    if !comment.text.is_empty() {
        out.push(' ');
        out.push_str(&comment.text);
    }
}

fn write_line(out: &mut String, parts: &Parts, columns: Columns) {
    let start = out.len();
    let pad = |out: &mut String, to: usize, from: usize| {
        let width = out.get(from..).map_or(0, |text| text.chars().count());
        for _ in width..to {
            out.push(' ');
        }
    };
    out.push_str(&parts.head);
    if !parts.head.is_empty() && !parts.body.is_empty() {
        pad(out, columns.head, start);
        out.push_str(if columns.head > 0 { "  " } else { " " });
    }
    let body = out.len();
    out.push_str(&parts.body);
    if !parts.timing.is_empty() {
        if !parts.head.is_empty() || !parts.body.is_empty() {
            pad(out, columns.body, body);
            out.push_str(if columns.body > 0 { "  " } else { " " });
        }
        out.push_str(&parts.timing);
    }
}

fn columns(entries: &[Entry<'_>], depth: usize) -> Columns {
    let mut columns = Columns::default();
    if depth == 0 {
        // One column for all heads, so that it does not depend on which of them a text has.
        columns.head = "brewed on".len();
        return columns;
    }
    for entry in entries {
        if let Entry::Line(line) = entry {
            let parts = parts(line, depth);
            let fit = |text: &str| {
                let width = text.chars().count();
                if width > WIDEST { 0 } else { width }
            };
            if !parts.head.is_empty() {
                columns.head = columns.head.max(fit(&parts.head));
                if !parts.timing.is_empty() {
                    columns.body = columns.body.max(fit(&parts.body));
                }
            }
        }
    }
    columns
}

fn parts(line: &Line<'_>, depth: usize) -> Parts {
    let tokens = &line.tokens;
    let head = if depth == 0 {
        HEADS
            .iter()
            .find(|words| {
                words.len() < tokens.len()
                    && words
                        .iter()
                        .zip(tokens)
                        .all(|(word, token)| token.word() == Some(word))
            })
            .map_or(0, |words| words.len())
    } else {
        amount_length(tokens)
    };
    let timing = if head > 0 && depth > 0 {
        timing::length_at_end(tokens.get(head..).unwrap_or(&[]))
    } else {
        0
    };
    let split = tokens.len() - timing;
    Parts {
        head: written(tokens.get(..head).unwrap_or(&[])),
        body: written(tokens.get(head..split).unwrap_or(&[])),
        timing: written(tokens.get(split..).unwrap_or(&[])),
    }
}

/// The tokens as they are written, quotation marks included.
fn written(tokens: &[Token<'_>]) -> String {
    if !tokens.iter().any(Token::is_quoted) {
        return text_of(tokens);
    }
    let mut text = String::new();
    for token in tokens {
        if !text.is_empty() && !token.is_comma() {
            text.push(' ');
        }
        match token.kind() {
            TokenKind::Quoted(quoted) => {
                text.push('"');
                text.push_str(&quoted.replace('"', "\"\""));
                text.push('"');
            }
            _ => text.push_str(token.text()),
        }
    }
    text
}
