//! A diagnostic as plain text, for terminals and logs.

use super::{Diagnostic, Severity, Span, TextRef};
use std::fmt::Write as _;

/// The longest piece of a source line that is shown, in characters.
const SHOWN: usize = 160;

/// The diagnostic as lines of plain text: what, where, the line with the place marked, help.
///
/// `sources` are the texts in the order in which they were read.
///
/// ```text
/// error[missing_unit]: expected a unit after `70`
///   --> sheet.gyle:4:3
///    4 |   70   pale malt
///      |   ^^
///   help: write `70 %` or `70 kg`
/// ```
#[must_use]
pub fn render(diagnostic: &Diagnostic, sources: &[TextRef<'_>]) -> String {
    let severity = match diagnostic.severity {
        Severity::Note => "note",
        Severity::Warning => "warning",
        Severity::Error => "error",
    };
    let mut out = format!(
        "{severity}[{}]: {}\n",
        diagnostic.code.as_str(),
        diagnostic.message
    );
    place(&mut out, diagnostic.span, None, sources);
    for label in &diagnostic.labels {
        place(&mut out, label.span, Some(&label.text), sources);
    }
    if let Some(help) = &diagnostic.help {
        let _ = writeln!(out, "  help: {help}");
    }
    out
}

/// The place of a span with its line, marked.
pub(super) fn place(out: &mut String, span: Span, label: Option<&str>, sources: &[TextRef<'_>]) {
    let Some(source) = sources.get(span.text.0 as usize) else {
        return;
    };
    let at = span.position(source.text);
    let note = label.map(|l| format!(" {l}")).unwrap_or_default();
    let _ = writeln!(out, "  --> {}:{}:{}{note}", source.name, at.line, at.column);
    let line = source.text.lines().nth(at.line - 1).unwrap_or("");
    // A tab is shown as one space so that the mark stands under its place.
    let line: String = line
        .trim_start_matches('\u{feff}')
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    // A long line is shown from a little before the mark.
    let skip = if at.column > SHOWN { at.column - 40 } else { 1 };
    let piece: String = line.chars().skip(skip - 1).take(SHOWN).collect();
    let column = at.column - skip;
    let width = at
        .length
        .min(piece.chars().count().saturating_sub(column))
        .max(1);
    let _ = writeln!(out, "{:>5} | {}", at.line, piece.trim_end());
    let _ = writeln!(out, "      | {}{}", " ".repeat(column), "^".repeat(width));
}
