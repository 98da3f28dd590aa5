//! The error of a call: one opaque type for the whole crate.

use std::fmt;

/// Why a call was refused. Match on [`Error::kind`]; hosts in other languages use [`Error::code`].
#[derive(Debug, Clone, PartialEq)]
pub struct Error {
    detail: Box<Detail>,
}

#[derive(Debug, Clone, PartialEq)]
struct Detail {
    kind: ErrorKind,
    message: String,
    help: Option<String>,
}

/// The kinds of refusal, each with what to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ErrorKind {
    /// A figure lies outside the range of its quantity: mend the figure.
    OutOfRange,
    /// A text is no number with a unit that fits there, or the unit measures something else: write one of the units named.
    NotAQuantity,
    /// A relation was asked outside its published range: stay inside it.
    OutOfModel,
    /// A solver was given an interval that holds no root: the bracket and both values are in the message.
    NoRoot,
    /// The recipe lacks a figure that the job needs: the message names it and where to write it.
    Incomplete,
    /// Two facts of the recipe exclude each other: the message names both.
    Contradiction,
    /// A name that neither the catalogue nor the recipe knows: near names are in the help.
    UnknownName,
    /// The plant has no batch size, or lacks a figure that has no default.
    PlantIncomplete,
}

impl ErrorKind {
    /// The stable code of this kind, such as `out_of_range`.
    pub const fn code(self) -> &'static str {
        match self {
            Self::OutOfRange => "out_of_range",
            Self::NotAQuantity => "not_a_quantity",
            Self::OutOfModel => "out_of_model",
            Self::NoRoot => "no_root",
            Self::Incomplete => "incomplete",
            Self::Contradiction => "contradiction",
            Self::UnknownName => "unknown_name",
            Self::PlantIncomplete => "plant_incomplete",
        }
    }
}

impl Error {
    /// An error of `kind` with its message: lower case, no full stop, place, expected and found.
    pub(crate) fn new(kind: ErrorKind, message: impl Into<String>) -> Self {
        Self {
            detail: Box::new(Detail {
                kind,
                message: message.into(),
                help: None,
            }),
        }
    }

    /// The same error with a word on what to do next.
    #[must_use]
    pub(crate) fn with_help(mut self, help: impl Into<String>) -> Self {
        self.detail.help = Some(help.into());
        self
    }

    /// The kind of refusal.
    pub fn kind(&self) -> ErrorKind {
        self.detail.kind
    }

    /// The stable code, for hosts in other languages.
    pub fn code(&self) -> &'static str {
        self.detail.kind.code()
    }

    /// What to do next, where there is something to say.
    pub fn help(&self) -> Option<&str> {
        self.detail.help.as_deref()
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.detail.message)
    }
}

impl std::error::Error for Error {}
