//! Faults of a request, each with its code and its place.

use super::diagnostics::{AnswerDiagnostic, Location};
use crate::diagnostic::nearest;
use std::ops::Range;

/// More characters of a host's own text than this help nobody in a message.
const SHOWN: usize = 60;

macro_rules! faults {
    ($($(#[$doc:meta])* $variant:ident = $text:literal,)*) => {
        /// The kinds of fault that a request can have.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(super) enum Fault {
            $($(#[$doc])* $variant,)*
        }

        impl Fault {
            const CODES: &'static [&'static str] = &[$($text,)*];

            pub(super) const fn code(self) -> &'static str {
                match self { $(Self::$variant => $text,)* }
            }
        }
    };
}

faults! {
    /// The text is not JSON.
    InvalidJson = "invalid_json",
    /// Brackets within brackets beyond what is read.
    TooDeep = "too_deep",
    /// A field that no request has.
    UnknownField = "unknown_field",
    /// A field that is needed and not there.
    MissingField = "missing_field",
    /// A field that stands twice.
    DuplicateField = "duplicate_field",
    /// A field that does nothing for what is asked.
    FieldWithoutEffect = "field_without_effect",
    /// Two fields that exclude each other.
    ConflictingFields = "conflicting_fields",
    /// A value of another kind than the field takes.
    WrongType = "wrong_type",
    /// A word that the field does not know.
    UnknownValue = "unknown_value",
    /// A value outside its range, or at odds with its neighbours.
    WrongValue = "wrong_value",
    /// A `format` that is not spoken here.
    UnknownFormat = "unknown_format",
    /// Nothing to work on.
    NoRecipe = "no_recipe",
    /// No log to follow.
    NoLog = "no_log",
    /// A proposal that does not fit the recipe.
    ProposalDoesNotFit = "proposal_does_not_fit",
    /// Two plants of one name.
    DuplicatePlant = "duplicate_plant",
    /// Two logs of one name, or two without.
    DuplicateLog = "duplicate_log",
    /// An answer that could not be written down.
    NotWritable = "not_writable",
}

/// Every code of a fault that a request itself can have.
pub const CODES: &[&str] = Fault::CODES;

impl Fault {
    /// The finding at some bytes of the request.
    pub(super) fn at(
        self,
        request: &str,
        bytes: Range<usize>,
        message: String,
    ) -> AnswerDiagnostic {
        AnswerDiagnostic::error(self.code(), message, Location::in_request(request, bytes))
    }

    /// The finding at the key of a member.
    pub(super) fn at_key(self, request: &str, path: &[&str], message: String) -> AnswerDiagnostic {
        AnswerDiagnostic::error(self.code(), message, Location::at_key(request, path))
    }

    /// The finding at the value of a member.
    pub(super) fn at_value(
        self,
        request: &str,
        path: &[&str],
        message: String,
    ) -> AnswerDiagnostic {
        AnswerDiagnostic::error(self.code(), message, Location::at_value(request, path))
    }
}

/// What `serde_json` says of a request that is not JSON, without the place.
pub(super) fn said(error: &serde_json::Error) -> String {
    let said = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    let said = said
        .strip_suffix(&place)
        .unwrap_or(&said)
        .replace("EOF while parsing", "it ends within")
        .replace("expected ident", "expected `true`, `false` or `null`");
    format!("the request is not JSON: {said}")
}

/// The byte up to which `serde_json` had read.
pub(super) fn place(request: &str, error: &serde_json::Error) -> usize {
    byte_of(request, error.line(), error.column())
}

/// The nearest of the known words, or all of them.
pub(super) fn help(what: &str, name: &str, known: &[&str]) -> Option<String> {
    match nearest(clipped(name), known.iter().copied()).first() {
        Some(near) => Some(format!("did you mean `{near}`?")),
        None if known.is_empty() => None,
        None => Some(format!("the {what} `{}`", known.join("`, `"))),
    }
}

/// serde's words for a kind of value, as JSON has them.
pub(super) fn kind(words: &str) -> &str {
    match words {
        "map" | "a map" => "an object",
        "sequence" | "a sequence" => "an array",
        "f64" | "f32" => "a number",
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number that is not negative",
        "option" => "a value or nothing",
        _ if words.starts_with("struct ") => "an object",
        _ if words.starts_with("enum ") => "one of the known words, or an object of one",
        _ if words.starts_with("a tuple") || words.starts_with("tuple ") => {
            "an array of the right length"
        }
        _ if words == "variant identifier" || words == "variant of enum" => {
            "one of the known words"
        }
        _ => words,
    }
}

/// A host's own text, cut to what helps.
pub(super) fn clipped(text: &str) -> &str {
    match text.char_indices().nth(SHOWN) {
        Some((end, _)) => text.get(..end).unwrap_or(text),
        None => text,
    }
}

/// The byte at a line and column as serde counts them: lines from 1, columns in bytes from 1 or, at the start, 0.
fn byte_of(text: &str, line: usize, column: usize) -> usize {
    let line_start = match line.checked_sub(2) {
        None => 0,
        Some(newlines) => text
            .bytes()
            .enumerate()
            .filter(|(_, byte)| *byte == b'\n')
            .nth(newlines)
            .map_or(text.len(), |(at, _)| at + 1),
    };
    (line_start + column).min(text.len())
}
