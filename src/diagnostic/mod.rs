//! What is wrong with a text or a call, as plain data: where, what, and what to do about it.
//!
//! A host shows findings as an editor does, or prints them; it matches on a code and never on a sentence.
//!
//! ```
//! use wortwright::{Job, diagnostic::{Severity, TextRef, render}, notation::read};
//!
//! let text = "recipe Ale\nbatch 20 L\nmash\n  70  pale ale malt\n";
//! let sources = [TextRef::new("ale", text)];
//! let reading = read(&sources);
//! let found = &reading.diagnostics[0];
//! assert_eq!((found.code.as_str(), found.severity), ("missing_unit", Severity::Error));
//! assert_eq!((found.span.position(text).line, found.span.slice(text)), (4, "70"));
//! println!("{}", render(found, &sources)); // the line, underlined, with the help below it
//! assert_eq!(Job::read(sources).unwrap_err().code(), "unreadable");
//! ```
//!
//! | for | see |
//! |---|---|
//! | a finding in a text: it travels beside what could be read | [`Diagnostic`], [`Code`], [`Severity`] |
//! | where it stands | [`Span`], [`Position`], [`TextId`] |
//! | which input it speaks of | [`Place`] |
//! | the same as lines for a terminal | [`render()`], [`TextRef`], [`Text`] |
//! | the refusal of a call | [`Error`], [`ErrorKind`] |
//!
//! What a plant cannot reach is neither: it stands in the result itself, as an [`Outcome`](crate::scale::Outcome).

mod code;
mod codes;
mod error;
mod nearest;
mod place;
mod render;
mod span;
mod text;

pub use code::Code;
pub(crate) use codes::codes;
pub use error::{Error, ErrorKind};
pub(crate) use nearest::{nearest, nearest_by_words};
pub use place::Place;
pub use render::render;
pub use span::{Position, Span, TextId, TextRef};
pub use text::Text;

use serde::Serialize;

/// How much an entry weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Severity {
    /// To be known: an assumption, a reason, a way on.
    Note,
    /// It can be used; something deserves a look.
    Warning,
    /// It cannot be used, or brewed, as it stands.
    Error,
}

/// A place that matters to a finding, with a word on why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Label {
    /// The place.
    pub span: Span,
    /// Why it matters.
    pub text: String,
}

/// One finding in a text: plain data, with spans in place of the text itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct Diagnostic {
    /// Stable code of the kind of mistake.
    pub code: Code,
    /// Whether the text can still be used.
    pub severity: Severity,
    /// One sentence without a full stop: place, expected, found.
    pub message: String,
    /// Where the mistake is.
    pub span: Span,
    /// The input that is at fault, where it is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
    /// Other places that matter, each with a word on why.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub labels: Vec<Label>,
    /// What to do next.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
}

impl Diagnostic {
    /// An error at `span`.
    #[must_use]
    pub(crate) fn error(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            span,
            place: None,
            labels: Vec::new(),
            help: None,
        }
    }

    /// The same with its spans put elsewhere.
    #[must_use]
    pub(crate) fn moved(mut self, to: impl Fn(Span) -> Span) -> Self {
        self.span = to(self.span);
        for label in &mut self.labels {
            label.span = to(label.span);
        }
        self
    }

    /// A warning at `span`.
    #[must_use]
    pub(crate) fn warning(code: Code, span: Span, message: impl Into<String>) -> Self {
        Self {
            severity: Severity::Warning,
            ..Self::error(code, span, message)
        }
    }

    /// The same diagnostic with a word on what to do next.
    #[must_use]
    pub(crate) fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same diagnostic with one more place that matters.
    #[must_use]
    pub(crate) fn with_label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label {
            span,
            text: text.into(),
        });
        self
    }
}
