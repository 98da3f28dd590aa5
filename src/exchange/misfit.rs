//! A value of a request that does not fit, and where it stands.

use super::diagnostics::AnswerDiagnostic;
use super::fault::{self, Fault, clipped, kind};
use super::json_text;
use serde::de::{Expected, Unexpected};
use serde_json::Value;
use std::fmt;
use std::ops::Range;

/// A value that does not fit.
#[derive(Debug)]
pub(super) struct Misfit(Box<Details>);

#[derive(Debug)]
struct Details {
    fault: Fault,
    message: String,
    help: Option<String>,
    /// The bracket of what was found in place of something else.
    bracket: Option<u8>,
    /// How far the text had been read.
    end: Option<usize>,
}

impl Misfit {
    pub(super) fn new(fault: Fault, message: String) -> Self {
        Self(Box::new(Details {
            fault,
            message,
            help: None,
            bracket: None,
            end: None,
        }))
    }

    pub(super) fn not_one_field(found: &str) -> Self {
        let message = format!("expected an object of one field, found {found}");
        Self::new(Fault::WrongValue, message)
    }

    pub(super) fn not_json(text: &str, error: &serde_json::Error) -> Self {
        Self::new(Fault::InvalidJson, fault::said(error)).at(fault::place(text, error))
    }

    pub(super) fn end(&self) -> usize {
        self.0.end.unwrap_or_default()
    }

    /// With the place up to which the text had been read, if it has none yet.
    #[inline(never)]
    pub(super) fn at(mut self, end: usize) -> Self {
        self.0.end.get_or_insert(end);
        self
    }

    pub(super) fn with_help(mut self, help: Option<String>) -> Self {
        self.0.help = help;
        self
    }

    pub(super) fn is_unknown_field(&self) -> bool {
        self.0.fault == Fault::UnknownField
    }

    pub(super) fn help(&self) -> Option<&str> {
        self.0.help.as_deref()
    }

    /// What does not fit, in the text.
    pub(super) fn bytes(&self, text: &str) -> Range<usize> {
        let end = self.end();
        let last = end.saturating_sub(1);
        match (self.0.fault, self.0.bracket) {
            (Fault::TooDeep | Fault::InvalidJson, _) => last..end,
            // The object ends where it was found wanting; it is the object that lacks something.
            (Fault::MissingField, _) => {
                let open = json_text::opening_of(text, last).unwrap_or(last);
                open..open + 1
            }
            (Fault::WrongType, Some(open)) => bracket(text, open, end),
            _ => json_text::token_before(text, end),
        }
    }

    pub(super) fn finding(self, text: &str) -> AnswerDiagnostic {
        let bytes = self.bytes(text);
        let details = *self.0;
        (details.fault)
            .at(text, bytes, details.message)
            .with_help(details.help)
    }
}

/// The bracket of an object or array that was not expected: ahead, just read, or closed already.
fn bracket(text: &str, open: u8, end: usize) -> Range<usize> {
    let bytes = text.as_bytes();
    let last = end.saturating_sub(1);
    let start = match (bytes.get(end), bytes.get(last)) {
        (Some(ahead), _) if *ahead == open => end,
        (_, Some(b'}' | b']')) => json_text::opening_of(text, last).unwrap_or(last),
        _ => last,
    };
    start..start + 1
}

impl fmt::Display for Misfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.message)
    }
}

impl std::error::Error for Misfit {}

impl serde::de::Error for Misfit {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::new(Fault::WrongValue, message.to_string())
    }

    fn invalid_type(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        let bracket = match found {
            Unexpected::Map => Some(b'{'),
            Unexpected::Seq => Some(b'['),
            _ => None,
        };
        let found = match found {
            Unexpected::Unit => "null".to_owned(),
            Unexpected::Float(value) => format!("floating point `{}`", Value::from(value)),
            found => found.to_string(),
        };
        let (expected, found) = (expected.to_string(), clipped(kind(&found)));
        let message = format!("expected {}, found {found}", kind(&expected));
        let mut misfit = Self::new(Fault::WrongType, message);
        misfit.0.bracket = bracket;
        misfit
    }

    fn invalid_value(found: Unexpected<'_>, expected: &dyn Expected) -> Self {
        Self::invalid_type(found, expected)
    }

    fn invalid_length(length: usize, expected: &dyn Expected) -> Self {
        let expected = expected.to_string();
        let message = format!("expected {}, found {length}", kind(&expected));
        Self::new(Fault::WrongType, message)
    }

    fn unknown_variant(name: &str, known: &'static [&'static str]) -> Self {
        let message = format!("expected one of the known words, found `{}`", clipped(name));
        Self::new(Fault::UnknownValue, message).with_help(fault::help("words are", name, known))
    }

    fn unknown_field(name: &str, known: &'static [&'static str]) -> Self {
        let message = format!("no field here is called `{}`", clipped(name));
        Self::new(Fault::UnknownField, message).with_help(fault::help("fields are", name, known))
    }

    fn missing_field(name: &'static str) -> Self {
        let message = format!("expected a field `{name}` in this object, found none");
        Self::new(Fault::MissingField, message)
    }

    fn duplicate_field(name: &'static str) -> Self {
        let message = format!("the field `{name}` is given twice");
        Self::new(Fault::DuplicateField, message)
    }
}
