//! What is told of a text beside the lines that it says.

use crate::diagnostic::{Diagnostic, Span};
use crate::notation::note::ReadingNote;
use crate::quantity::lexer::BARE_GRAVITY;

/// A remark of the writer, or a figure that was not used.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::notation) enum Told {
    /// Words that say nothing which a recipe can hold.
    Remark(String, Span),
    /// A figure that no line uses.
    NotUsed(String, Span),
    /// A figure without its unit, and how it was read.
    Assumed(String, String, Span),
    /// A figure that is not stated, and what was assumed.
    Default(String, String, Span),
    /// What can be read in two ways.
    Asked(Diagnostic),
}

impl Told {
    /// As a note of the reading; a question is none.
    pub(in crate::notation) fn note(self) -> Option<ReadingNote> {
        Some(match self {
            Self::Remark(text, span) => ReadingNote::Remark { text, span },
            Self::NotUsed(typed, span) => ReadingNote::NotUsed { typed, span },
            Self::Assumed(typed, read, span) | Self::Default(typed, read, span) => {
                let read = with_thousandths(read);
                ReadingNote::ReadAs { typed, read, span }
            }
            Self::Asked(..) => return None,
        })
    }
}

/// `1.04`: a specific gravity is told by its thousandths.
fn with_thousandths(read: String) -> String {
    let is_gravity = |number: &f64| BARE_GRAVITY.contains(number);
    match read.parse().ok().filter(is_gravity) {
        Some(number) if read.len() < 5 && read.contains('.') => format!("{number:.3}"),
        _ => read,
    }
}
