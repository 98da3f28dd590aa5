//! Complaints that any block may make: of what stands twice, of what is left over, of what is missing.

use super::Lower;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::cursor::Cursor;
use crate::notation::tree::Line;

impl Lower<'_> {
    /// Whether this statement stands for the first time; if not, says where it stood.
    pub(super) fn once(&mut self, what: &'static str, at: Span) -> bool {
        let before = self.seen.before(what, at);
        if let Some(first) = before {
            self.twice(what, at, first);
        }
        before.is_none()
    }

    pub(super) fn twice(&mut self, what: &str, at: Span, first: Span) {
        self.push(
            Diagnostic::error(
                Code::DuplicateBlock,
                at,
                format!("expected `{what}` once, found it again"),
            )
            .with_label(first, "first given here")
            .with_help("put both into one, or delete one of them"),
        );
    }

    /// Complains of what is left of a clause.
    pub(super) fn expect_end(&mut self, cursor: Cursor<'_, '_>) {
        if !cursor.is_empty() {
            self.push(
                Diagnostic::error(
                    Code::UnexpectedWords,
                    cursor.span(),
                    format!("expected the line to end here, found `{}`", cursor.text()),
                )
                .with_help("delete these words, or put `#` before them to make them a comment"),
            );
        }
    }

    /// Complains of lines below a line that takes none.
    pub(super) fn expect_no_lines(&mut self, line: &Line<'_>) {
        if let Some(child) = line.lines().next() {
            self.push(
                Diagnostic::error(
                    Code::UnexpectedLines,
                    child.span(),
                    "expected no indented lines under this line",
                )
                .with_label(line.span(), "no indented lines belong under this line")
                .with_help("give the line the same indent as the one above it"),
            );
        }
    }

    pub(super) fn expect_lines(&mut self, line: &Line<'_>, what: &str, example: &str) {
        if line.lines().next().is_none() {
            self.push(
                Diagnostic::warning(
                    Code::EmptyBlock,
                    line.span(),
                    format!("expected lines below `{what}`, found none"),
                )
                .with_help(format!(
                    "indent the lines that belong to it, such as `{example}`"
                )),
            );
        }
    }
}
