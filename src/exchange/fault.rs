//! Faults of a request, each with its code and its place.

use super::finding::{Finding, Place};
use super::locate;
use crate::diagnostic::nearest;
use serde::de::IgnoredAny;
use serde_json::error::Category;
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
            #[cfg(test)]
            pub(super) const ALL: &'static [Self] = &[$(Self::$variant,)*];

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
    /// An answer that could not be written down.
    NotWritable = "not_writable",
}

impl Fault {
    /// The finding at some bytes of the request.
    pub(super) fn at(self, request: &str, bytes: Range<usize>, message: String) -> Finding {
        Finding::error(self.code(), message, Place::in_request(request, bytes))
    }

    /// The finding at the key of a member.
    pub(super) fn at_key(self, request: &str, path: &[&str], message: String) -> Finding {
        Finding::error(self.code(), message, Place::at_key(request, path))
    }

    /// The finding at the value of a member.
    pub(super) fn at_value(self, request: &str, path: &[&str], message: String) -> Finding {
        Finding::error(self.code(), message, Place::at_value(request, path))
    }
}

/// The finding of an error in reading the request.
pub(super) fn of_json(request: &str, error: &serde_json::Error) -> Finding {
    let end = byte_of(request, error.line(), error.column());
    let whole = error.to_string();
    let place = format!(" at line {} column {}", error.line(), error.column());
    let said = whole.strip_suffix(&place).unwrap_or(&whole);
    let token = locate::token_before(request, end);
    if error.classify() != Category::Data {
        // serde takes a word or an object of one field for a choice, and calls a second one bad syntax.
        if said == "expected value" && serde_json::from_str::<IgnoredAny>(request).is_ok() {
            let message = "expected an object of one field, found another field in it".to_owned();
            return Fault::WrongValue.at(request, end.saturating_sub(1)..end, message);
        }
        return syntax(request, end, said);
    }
    if let Some(name) = said.strip_prefix("missing field ") {
        // The object ends where the error was met; it is the object that lacks something.
        let close = end.saturating_sub(1);
        let open = locate::opening_of(request, close).unwrap_or(close);
        return Fault::MissingField.at(
            request,
            open..open + 1,
            format!("expected a field {name} in this object, found none"),
        );
    }
    if let Some(name) = said.strip_prefix("duplicate field ") {
        let message = format!("the field {name} stands twice");
        return Fault::DuplicateField.at(request, token, message);
    }
    if let Some((name, known)) = unknown(said, "unknown field ") {
        let message = format!("no field here is called `{}`", clipped(name));
        return Fault::UnknownField
            .at(request, token, message)
            .with_help(help("fields are", name, &known));
    }
    if let Some((name, known)) = unknown(said, "unknown variant ") {
        let message = format!("expected one of the known words, found `{}`", clipped(name));
        return Fault::UnknownValue
            .at(request, token, message)
            .with_help(help("words are", name, &known));
    }
    let kinds = said
        .strip_prefix("invalid type: ")
        .or_else(|| said.strip_prefix("invalid value: "))
        .or_else(|| said.strip_prefix("invalid length "));
    if let Some((found, expected)) = kinds.and_then(|kinds| kinds.rsplit_once(", expected ")) {
        let bytes = match found {
            "map" => bracket(request, b'{', end),
            "sequence" => bracket(request, b'[', end),
            _ => token,
        };
        let message = format!(
            "expected {}, found {}",
            kind(expected),
            clipped(kind(found))
        );
        return Fault::WrongType.at(request, bytes, message);
    }
    Fault::WrongValue.at(request, token, said.to_owned())
}

/// The bracket of an object or array that was not expected: ahead, just read, or closed already.
fn bracket(request: &str, open: u8, end: usize) -> Range<usize> {
    let bytes = request.as_bytes();
    let last = end.saturating_sub(1);
    let start = match (bytes.get(end), bytes.get(last)) {
        (Some(ahead), _) if *ahead == open => end,
        (_, Some(b'}' | b']')) => locate::opening_of(request, last).unwrap_or(last),
        _ => last,
    };
    start..start + 1
}

fn syntax(request: &str, end: usize, said: &str) -> Finding {
    let start = end.saturating_sub(1);
    if said == "recursion limit exceeded" {
        return Fault::TooDeep
            .at(
                request,
                start..end,
                "brackets are nested more than 128 deep".to_owned(),
            )
            .with_help(Some("send texts or models, which need far fewer".into()));
    }
    Fault::InvalidJson.at(
        request,
        start..end,
        format!(
            "the request is not JSON: {}",
            said.replace("EOF while parsing", "it ends within")
                .replace("expected ident", "expected `true`, `false` or `null`")
        ),
    )
}

/// The nearest of the known words, or all of them.
pub(super) fn help(what: &str, name: &str, known: &[&str]) -> Option<String> {
    match nearest(clipped(name), known.iter().copied()).first() {
        Some(near) => Some(format!("did you mean `{near}`?")),
        None if known.is_empty() => None,
        None => Some(format!("the {what} `{}`", known.join("`, `"))),
    }
}

/// The unknown name and the known ones of serde's `unknown field …` and `unknown variant …`.
fn unknown<'a>(said: &'a str, prefix: &str) -> Option<(&'a str, Vec<&'a str>)> {
    let rest = said.strip_prefix(prefix)?;
    let (name, known) = match rest.rsplit_once("`, expected ") {
        Some((name, known)) => (name, known),
        None => (rest.rsplit_once("`, there are no")?.0, ""),
    };
    let known = known.split('`').skip(1).step_by(2).collect();
    Some((name.trim_start_matches('`'), known))
}

/// serde's words for a kind of value, as JSON has them.
fn kind(words: &str) -> &str {
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_words_are_read_out_of_a_message() {
        assert_eq!(
            unknown(
                "unknown field `a`, expected one of `b`, `c`",
                "unknown field "
            ),
            Some(("a", vec!["b", "c"]))
        );
        assert_eq!(
            unknown("unknown field `a`, expected `b` or `c`", "unknown field "),
            Some(("a", vec!["b", "c"]))
        );
        assert_eq!(
            unknown(
                "unknown variant `a`, there are no variants",
                "unknown variant "
            ),
            Some(("a", vec![]))
        );
    }

    #[test]
    fn every_code_stands_in_the_docs() {
        let listed = include_str!("codes.md");
        for fault in Fault::ALL {
            let line = format!("| `{}` |", fault.code());
            assert!(listed.contains(&line), "{}", fault.code());
        }
    }
}
