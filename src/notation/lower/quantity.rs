//! Quantities with their complaints: what was expected, what was found, what to write.

use super::Lower;
use crate::diagnostic::{Code, Diagnostic, Error, Span};
use crate::notation::cursor::{ANY, Cursor, Measure, unit};
use crate::notation::tree::Token;
use crate::quantity::lexer::{Form, examples, expected, near_unit};
use crate::quantity::{Dimension, Number, Quantity, Written};
use std::fmt::Display;

impl Lower<'_> {
    /// The quantity that comes next; if there is none, says what was expected at `place`.
    pub(super) fn read<Q: Quantity>(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: impl Display + Copy,
    ) -> Option<Written<Q>> {
        let measure = self.measure(cursor, Q::WRITTEN_AS, place)?;
        self.written(&measure)
    }

    /// The measured value on its scale, or a complaint that it lies outside.
    pub(super) fn written<Q: Quantity>(&mut self, measure: &Measure) -> Option<Written<Q>> {
        let written = Written::stated(measure.as_written());
        written.map_err(|error| self.refused(&error, measure)).ok()
    }

    fn refused(&mut self, error: &Error, measure: &Measure) {
        self.out_of_range(error.message().to_owned(), measure.span);
    }

    pub(super) fn out_of_range(&mut self, message: String, span: Span) {
        self.push(
            Diagnostic::error(Code::OutOfRange, span, message)
                .with_help("check the figure and its unit"),
        );
    }

    /// A number with a unit of one of the dimensions, or a complaint. A wrong one is passed over, so that it is
    /// complained of once.
    pub(super) fn measure(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        allowed: &[Dimension],
        place: impl Display + Copy,
    ) -> Option<Measure> {
        if let Some(measure) = cursor.measure(allowed) {
            return self.with_sign(measure, place);
        }
        self.no_measure(cursor, allowed, &place);
        None
    }

    /// The measure, unless it is below zero and may not be.
    pub(super) fn with_sign(
        &mut self,
        measure: Measure,
        place: impl Display + Copy,
    ) -> Option<Measure> {
        // The shores of the Dead Sea lie 430 m below the sea; an altitude's own range sees to the rest.
        let signed = [Dimension::Temperature, Dimension::Length];
        if measure.number < 0.0 && !signed.contains(&measure.unit.dimension()) {
            self.push(
                Diagnostic::error(
                    Code::OutOfRange,
                    measure.span,
                    format!(
                        "expected a figure above zero {place}, found {}",
                        measure.number
                    ),
                )
                .with_help("only a temperature or an altitude may be below zero; delete the sign"),
            );
            return None;
        }
        Some(measure)
    }

    pub(super) fn no_measure(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        allowed: &[Dimension],
        place: &dyn Display,
    ) {
        let expected = expected(allowed);
        let here = cursor.here();
        let Some(number) = cursor.number() else {
            self.no_number(cursor, allowed, place);
            return;
        };
        if self.bad_number(number, here) {
            cursor.skip(1);
            if let Some((_, words)) = unit(cursor.rest(), ANY) {
                cursor.skip(words);
            }
            return;
        }
        let shown = number.text().to_owned();
        cursor.skip(1);
        if let Some((found, words)) = unit(cursor.rest(), ANY) {
            let end = cursor.rest().get(words - 1).map_or(here, Token::span);
            self.push(
                Diagnostic::error(
                    Code::WrongUnit,
                    here.to(end),
                    format!(
                        "expected {expected} {place}, found `{shown} {}`",
                        found.symbol()
                    ),
                )
                .with_help(format!("write `{}`", examples(&shown, allowed))),
            );
            cursor.skip(words);
            return;
        }
        if let Some(word) = cursor.peek().and_then(Token::word)
            && !self.sink.is_full()
            && let Some(near) = near_unit(word, allowed)
        {
            let message = format!("expected {expected} {place}, found `{shown} {word}`");
            self.unknown_unit(cursor.here(), message, &shown, &near);
            cursor.skip(1);
            return;
        }
        self.push(
            Diagnostic::error(
                Code::MissingUnit,
                here,
                format!("expected a unit after `{shown}`: {expected}"),
            )
            .with_help(format!("write `{}`", examples(&shown, allowed))),
        );
    }

    pub(super) fn no_number(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        allowed: &[Dimension],
        place: &dyn Display,
    ) {
        let expected = expected(allowed);
        let here = cursor.here();
        let Some(token) = cursor.bump() else {
            self.push(
                Diagnostic::error(
                    Code::MissingQuantity,
                    here,
                    format!("expected {expected} {place}, found the end"),
                )
                .with_help(format!(
                    "add it there, such as `{}`",
                    examples(likely(allowed), allowed)
                )),
            );
            return;
        };
        // `5XYZ`: a figure with something glued to it that is no unit.
        if let Some((digits, glued)) = glued(token.text()) {
            let message = format!("expected {expected} {place}, found `{}`", token.text());
            match near_unit(glued, allowed) {
                Some(near) => self.unknown_unit(here, message, digits, &near),
                None => self.push(
                    Diagnostic::error(Code::UnknownUnit, here, message)
                        .with_help(format!("write {expected}")),
                ),
            }
            return;
        }
        self.push(
            Diagnostic::error(
                Code::MissingQuantity,
                here,
                format!("expected {expected} {place}, found `{}`", token.text()),
            )
            .with_help("write a number with its unit there"),
        );
        // What follows belongs to the same slip.
        cursor.skip(usize::MAX);
    }

    pub(super) fn unknown_unit(
        &mut self,
        span: Span,
        message: String,
        number: &str,
        near: &[&str],
    ) {
        let meant = near.iter().map(|unit| format!("`{number} {unit}`"));
        let meant = meant.collect::<Vec<_>>().join(", or ");
        self.push(
            Diagnostic::error(Code::UnknownUnit, span, message)
                .with_help(format!("did you mean {meant}?")),
        );
    }

    /// Complains of a number that is no value.
    pub(super) fn bad_number(&mut self, number: Number<'_>, span: Span) -> bool {
        let code = match number.form {
            Form::Ambiguous => Code::AmbiguousNumber,
            _ => Code::MalformedNumber,
        };
        let fault = number.fault();
        if let Some((message, help)) = &fault {
            self.push(Diagnostic::error(code, span, message).with_help(help));
        }
        fault.is_some()
    }
}

/// A number that is no nonsense where such a quantity belongs.
fn likely(allowed: &[Dimension]) -> &'static str {
    match allowed {
        [Dimension::Ph] => "5.4",
        _ => "10",
    }
}

/// The digits at the start of a word, and what is glued to them.
pub(super) fn glued(word: &str) -> Option<(&str, &str)> {
    let at = word.find(|c: char| !c.is_ascii_digit() && c != '.')?;
    (at > 0).then(|| word.split_at(at))
}
