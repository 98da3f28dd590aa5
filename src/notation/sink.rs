//! Where findings are collected, up to a bound.

use crate::diagnostic::{Code, Diagnostic, Severity, Span};

/// More findings than this help nobody.
const MOST: usize = 100;

/// Bytes of a message or help that are shown; a line quoted in it may be far longer.
const LONGEST: usize = 400;

/// Findings in the order in which they were made.
#[derive(Debug, Default)]
pub(super) struct Sink {
    found: Vec<Diagnostic>,
    left_out: usize,
    last: Option<Diagnostic>,
    /// Where something was found that a line in another form may say.
    formal: Vec<(Span, Severity)>,
}

impl Sink {
    pub(super) fn push(&mut self, mut diagnostic: Diagnostic) {
        // Before what follows from an open quotation is passed over: where it is closed, the line is looked at once more too.
        if is_formal(diagnostic.code) {
            self.formal.push((diagnostic.span, diagnostic.severity));
        }
        if self.is_told(&diagnostic) {
            return;
        }
        if self.found.len() < MOST {
            shorten(&mut diagnostic.message);
            if let Some(help) = &mut diagnostic.help {
                shorten(help);
            }
            self.found.push(diagnostic);
        } else {
            self.left_out += 1;
            // An error among those left out must still make the reading unusable.
            if self
                .last
                .as_ref()
                .is_none_or(|last| last.severity < diagnostic.severity)
            {
                self.last = Some(diagnostic);
            }
        }
    }

    /// Whether it speaks of a quotation that is known to lack its end: whatever else is odd of it follows from that.
    fn is_told(&self, diagnostic: &Diagnostic) -> bool {
        let (place, start) = (diagnostic.span.text, diagnostic.span.start);
        self.found.iter().any(|found| {
            found.code == Code::UnterminatedQuote
                && (found.span.text, found.span.start) == (place, start)
        })
    }

    /// Where something was found that a line in another form may say, in order, and how grave it is.
    pub(super) fn formal(&self) -> Vec<(Span, Severity)> {
        let mut formal = self.formal.clone();
        formal.sort_unstable_by_key(|(span, _)| (span.text, span.start));
        formal
    }

    pub(super) fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// Whether further findings are only counted, so that nobody need look for near names.
    pub(super) fn is_full(&self) -> bool {
        self.found.len() >= MOST
    }

    pub(super) fn finish(mut self) -> Vec<Diagnostic> {
        if let Some(mut last) = self.last {
            last.code = Code::TooMany;
            last.message = format!("{} more findings are not listed", self.left_out);
            last.labels.clear();
            last.help = Some("fix the errors above and read again".into());
            self.found.push(last);
        }
        self.found
    }
}

/// Whether a finding is about the form of a line and not about what it says.
const fn is_formal(code: Code) -> bool {
    matches!(
        code,
        Code::UnknownKeyword
            | Code::WrongBlock
            | Code::UnexpectedWords
            | Code::UnexpectedLines
            | Code::MissingUnit
            | Code::MissingQuantity
            | Code::MissingName
            | Code::UnknownUnit
            | Code::WrongUnit
            | Code::WrongTiming
            | Code::UnknownAttribute
            | Code::UnknownIngredient
            | Code::MissingAlpha
            | Code::GravityWithoutPoint
            | Code::LitresForColour
            | Code::EmptyBlock
    )
}

/// Cuts a text that quotes too much, and closes the quotation.
fn shorten(text: &mut String) {
    if text.len() <= LONGEST {
        return;
    }
    let mut end = LONGEST;
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    text.truncate(end);
    text.push('…');
    if text.matches('`').count() % 2 == 1 {
        text.push('`');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_quotations_are_cut_and_closed() {
        let mut text = format!("found `{}` there", "é".repeat(300));
        shorten(&mut text);
        assert_eq!(text, format!("found `{}…`", "é".repeat(196)));
        let mut short = "found `a`".to_owned();
        shorten(&mut short);
        assert_eq!(short, "found `a`");
    }
}
