//! The error of a call: one opaque type for the whole crate.

use super::codes::codes;
use super::render::place as render_place;
use super::{Diagnostic, Place, Severity, Span, Text, TextRef, render};
use std::convert::Infallible;
use std::fmt;

/// Why a call was refused. Match on [`Error::kind`]; hosts in other languages use [`Error::code`].
///
/// It prints what is wrong and what to do, and where texts could not be read, each of their errors under its line. Its `Debug`
/// is the same, so that a `main` that returns it shows a person what to correct:
///
/// ```
/// use wortwright::job::Job;
/// let error = Job::read([("ale", "recipe Ale\nbatch 20 L\nmash\n  70  pale ale malt\n")]).unwrap_err();
/// assert_eq!(error.code(), "unreadable");
/// assert!(format!("{error:?}").contains("\n  --> ale:4:3\n    4 |   70  pale ale malt\n"));
/// ```
#[derive(Clone, PartialEq)]
pub struct Error {
    detail: Box<Detail>,
}

#[derive(Clone, PartialEq)]
struct Detail {
    kind: ErrorKind,
    code: &'static str,
    message: String,
    help: Option<String>,
    place: Option<Place>,
    span: Option<Span>,
    diagnostics: Vec<Diagnostic>,
    texts: Vec<Text>,
}

/// The kinds of refusal, each with what to do next.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ErrorKind {
    /// A figure lies outside the range of its quantity: correct the figure.
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
    /// The texts hold errors: they stand in [`Error::diagnostics`], each with its place.
    Unreadable,
    /// No fermentation can have given this log: the code of its fault is that of the error.
    ImpossibleLog,
}

codes! {
    ErrorKind {
        OutOfRange = "out_of_range",
        NotAQuantity = "not_a_quantity",
        OutOfModel = "out_of_model",
        NoRoot = "no_root",
        Incomplete = "incomplete",
        Contradiction = "contradiction",
        UnknownName = "unknown_name",
        PlantIncomplete = "plant_incomplete",
        Unreadable = "unreadable",
        ImpossibleLog = "impossible_log",
    }
}

impl ErrorKind {
    /// The stable code of this kind, such as `out_of_range`.
    pub const fn code(self) -> &'static str {
        self.coded()
    }
}

impl Error {
    /// An error of `kind` with its message: lower case, no full stop, place, expected and found.
    pub(crate) fn new(kind: ErrorKind, message: impl Into<String>) -> Self {
        Self {
            detail: Box::new(Detail {
                kind,
                code: kind.code(),
                message: message.into(),
                help: None,
                place: None,
                span: None,
                diagnostics: Vec::new(),
                texts: Vec::new(),
            }),
        }
    }

    /// The refusal of texts that cannot be used as they are.
    pub(crate) fn unreadable(diagnostics: Vec<Diagnostic>, texts: Vec<Text>) -> Self {
        let is_error = |found: &&Diagnostic| found.severity == Severity::Error;
        let message = match diagnostics.iter().filter(is_error).count() {
            1 => "1 error in the texts".to_owned(),
            count => format!("{count} errors in the texts"),
        };
        let mut error = Self::new(ErrorKind::Unreadable, message);
        error.detail.diagnostics = diagnostics;
        error.detail.texts = texts;
        error
    }

    /// The same error with a word on what to do next.
    #[must_use]
    pub(crate) fn with_help(mut self, help: impl Into<String>) -> Self {
        self.detail.help = Some(help.into());
        self
    }

    /// The same error with the input that it speaks of.
    #[must_use]
    pub(crate) fn about(mut self, place: Place) -> Self {
        self.detail.place = Some(place);
        self
    }

    /// The same error, about that place unless it already speaks of a closer one.
    #[must_use]
    pub(crate) fn about_at_least(self, place: Place) -> Self {
        match self.place() {
            Some(_) => self,
            None => self.about(place),
        }
    }

    /// The same error with the place in the texts that it speaks of.
    #[must_use]
    pub(crate) fn at(mut self, place: Option<Span>, texts: &[Text]) -> Self {
        self.detail.span = place;
        self.detail.texts = texts.to_vec();
        self
    }

    /// The same error with a code more precise than that of its kind.
    #[must_use]
    pub(crate) fn with_code(mut self, code: &'static str) -> Self {
        self.detail.code = code;
        self
    }

    /// The kind of refusal.
    pub fn kind(&self) -> ErrorKind {
        self.detail.kind
    }

    /// The stable code, for hosts in other languages.
    pub fn code(&self) -> &'static str {
        self.detail.code
    }

    /// What is wrong, without the help: lower case, no full stop.
    pub fn message(&self) -> &str {
        &self.detail.message
    }

    /// What to do next, where there is something to say.
    pub fn help(&self) -> Option<&str> {
        self.detail.help.as_deref()
    }

    /// The input that it speaks of, where there is one.
    pub fn place(&self) -> Option<&Place> {
        self.detail.place.as_ref()
    }

    /// The place in the texts that it speaks of, where there is one.
    pub fn span(&self) -> Option<Span> {
        self.detail.span
    }

    /// The texts that its spans point into.
    pub fn texts(&self) -> &[Text] {
        &self.detail.texts
    }

    /// What is wrong with the texts, in their order, warnings too; empty where no text is at fault.
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.detail.diagnostics
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sources: Vec<TextRef<'_>> = self.detail.texts.iter().map(Text::borrowed).collect();
        let shown = first_of_each_line(&self.detail.diagnostics, &sources);
        for diagnostic in &shown {
            f.write_str(&render(diagnostic, &sources))?;
        }
        f.write_str(&self.detail.message)?;
        let more = self.detail.diagnostics.len() - shown.len();
        if more > 0 {
            write!(
                f,
                "; {more} more on the same lines, which may follow from these"
            )?;
        }
        if let Some(span) = self.detail.span {
            let mut lines = String::from("\n");
            render_place(&mut lines, span, None, &sources);
            f.write_str(lines.trim_end())?;
        }
        match &self.detail.help {
            Some(help) => write!(f, "\n  help: {help}"),
            None => Ok(()),
        }
    }
}

/// What is shown of a line is the first thing that is wrong with it, errors before warnings: what else is found there mostly follows
/// from that.
fn first_of_each_line<'d>(found: &'d [Diagnostic], sources: &[TextRef<'_>]) -> Vec<&'d Diagnostic> {
    let line = |diagnostic: &Diagnostic| {
        let text = sources.get(diagnostic.span.text.0 as usize);
        let at = text.map(|text| diagnostic.span.position(text.text).line);
        (diagnostic.span.text, at)
    };
    let mut shown: Vec<&Diagnostic> = Vec::new();
    for diagnostic in found {
        let here = line(diagnostic);
        match shown.iter_mut().find(|other| line(other) == here) {
            Some(first) if first.severity < diagnostic.severity => *first = diagnostic,
            Some(_) => {}
            None => shown.push(diagnostic),
        }
    }
    shown
}

impl fmt::Debug for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl std::error::Error for Error {}

/// For calls that take what is already a quantity as well as what must be read as one.
impl From<Infallible> for Error {
    fn from(never: Infallible) -> Self {
        match never {}
    }
}
