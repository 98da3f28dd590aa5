//! Diagnostics as an answer says them: with the location as a person counts it.

use super::json_text;
use crate::diagnostic::{Diagnostic, Error, Place, Position, Severity, Span, TextId, TextRef};
use serde::Serialize;
use std::ops::Range;

/// What the request itself is called among the texts.
pub(super) const REQUEST: &str = "request";

/// What stands against a request.
pub(super) type Diagnostics = Vec<AnswerDiagnostic>;

/// A diagnostic of an answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct AnswerDiagnostic {
    severity: Severity,
    code: &'static str,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<String>,
    #[serde(flatten)]
    location: Location,
    /// The field of the models that it speaks of.
    #[serde(skip_serializing_if = "Option::is_none")]
    place: Option<Place>,
    /// Other places that matter.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    labels: Vec<Label>,
}

/// A place in the request or in a text. Without a line the text as a whole is meant.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Location {
    #[serde(rename = "in")]
    text: String,
    #[serde(flatten)]
    position: Option<Position>,
}

#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Label {
    text: String,
    #[serde(flatten)]
    location: Location,
}

impl AnswerDiagnostic {
    pub(super) fn error(code: &'static str, message: String, location: Location) -> Self {
        Self {
            severity: Severity::Error,
            code,
            message,
            help: None,
            location,
            place: None,
            labels: Vec::new(),
        }
    }

    pub(super) fn with_help(mut self, help: Option<String>) -> Self {
        self.help = help;
        self
    }

    /// The same with the field of the models that it speaks of.
    pub(super) fn speaking_of(mut self, place: Option<Place>) -> Self {
        self.place = place;
        self
    }

    /// The diagnostic of a refused call.
    pub(super) fn refusal(error: &Error, location: Location) -> Self {
        Self {
            place: error.place().cloned(),
            ..Self::error(error.code(), error.message().to_owned(), location)
                .with_help(error.help().map(str::to_owned))
        }
    }

    /// A diagnostic of a text.
    pub(super) fn of(diagnostic: Diagnostic, sources: &[TextRef<'_>]) -> Self {
        Self::at(diagnostic, |span| Location::of(span, sources))
    }

    /// A diagnostic whose locations are those that `locate` gives.
    pub(super) fn at(diagnostic: Diagnostic, locate: impl Fn(Span) -> Location) -> Self {
        Self {
            severity: diagnostic.severity,
            code: diagnostic.code.as_str(),
            message: diagnostic.message,
            help: diagnostic.help,
            location: locate(diagnostic.span),
            place: diagnostic.place,
            labels: diagnostic
                .labels
                .into_iter()
                .map(|label| Label {
                    text: label.text,
                    location: locate(label.span),
                })
                .collect(),
        }
    }
}

impl Location {
    /// A place in one of the texts.
    pub(super) fn of(span: Span, sources: &[TextRef<'_>]) -> Self {
        let Some(source) = sources.get(span.text.0 as usize) else {
            return Self::whole(REQUEST);
        };
        Self {
            text: source.name.to_owned(),
            position: Some(span.position(source.text)),
        }
    }

    /// A place in the request.
    pub(super) fn in_request(request: &str, bytes: Range<usize>) -> Self {
        let at = |byte: usize| u32::try_from(byte).unwrap_or(u32::MAX);
        let span = Span::new(TextId::default(), at(bytes.start), at(bytes.end));
        Self {
            text: REQUEST.to_owned(),
            position: Some(span.position(request)),
        }
    }

    /// The key of a member of the request, or the request as a whole where there is none.
    pub(super) fn at_key(request: &str, path: &[&str]) -> Self {
        match json_text::member(request, path) {
            Some(member) => Self::in_request(request, member.key),
            None => Self::whole(REQUEST),
        }
    }

    /// The value of a member of the request, or the request as a whole where there is none.
    pub(super) fn at_value(request: &str, path: &[&str]) -> Self {
        match json_text::member(request, path) {
            Some(member) => Self::in_request(request, member.value),
            None => Self::whole(REQUEST),
        }
    }

    /// What a path of the models leads to, as far as it can be followed in the request.
    pub(super) fn along(request: &str, path: &str) -> Self {
        match json_text::along(request, path) {
            Some(bytes) => Self::in_request(request, bytes),
            None => Self::whole(REQUEST),
        }
    }

    /// A text as a whole.
    pub(super) fn whole(name: &str) -> Self {
        Self {
            text: name.to_owned(),
            position: None,
        }
    }
}
