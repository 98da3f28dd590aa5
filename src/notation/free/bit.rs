//! A piece of a line: a quantity, a word, a mark.

use crate::diagnostic::{Code, Diagnostic, Span};
use crate::quantity::lexer::{AsWritten, Marked};

/// A piece of a line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bit {
    pub(super) what: What,
    pub(super) span: Span,
}

/// What a piece is.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum What {
    /// A number with its unit.
    Quantity(AsWritten),
    /// A number alone.
    Bare(Marked),
    /// `63/40`: two numbers, as a temperature and its minutes are jotted.
    Pair(f64, f64),
    /// A number that cannot be read or can be in two ways, `4,5`: what is wrong with it, and what to write.
    Ambiguous(Code, String, String),
    /// A word in lower case, without the full stop of a short form.
    Word(String),
    /// A word with a capital or a digit in it is kept as typed for messages; a name in quotation marks.
    Quoted(String),
    /// A mark between things.
    Mark(char),
}

impl Bit {
    pub(super) fn word(&self) -> Option<&str> {
        match &self.what {
            What::Word(word) => Some(word),
            _ => None,
        }
    }

    pub(super) fn quantity(&self) -> Option<&AsWritten> {
        match &self.what {
            What::Quantity(quantity) => Some(quantity),
            _ => None,
        }
    }

    pub(super) fn bare(&self) -> Option<Marked> {
        match self.what {
            What::Bare(marked) => Some(marked),
            _ => None,
        }
    }

    /// What is wrong with a number that can be read in two ways.
    pub(super) fn doubt(&self) -> Option<Diagnostic> {
        let What::Ambiguous(code, message, help) = &self.what else {
            return None;
        };
        let found = Diagnostic::error(*code, self.span, message.clone());
        Some(found.with_help(help.clone()))
    }

    pub(super) fn is_mark(&self, mark: char) -> bool {
        self.what == What::Mark(mark)
    }
}
