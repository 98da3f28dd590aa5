//! Quantities with their complaints: what was expected, what was found, what to write.

use super::Lower;
use crate::diagnostic::{Code, Diagnostic, Error, Span, nearest};
use crate::notation::cursor::{ANY, Cursor, Measure, unit};
use crate::notation::number::{Form, Number};
use crate::notation::tree::Token;
use crate::quantity::{Dimension, Quantity, Unit, Written};
use std::fmt::Display;

impl Lower<'_> {
    /// The quantity that comes next; if there is none, says what was expected at `place`.
    pub(super) fn read<Q: Quantity>(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: impl Display + Copy,
    ) -> Option<Written<Q>> {
        let measure = self.measure(cursor, &[Q::DIMENSION], place)?;
        self.written(&measure)
    }

    /// The measured value on its scale, or a complaint that it lies outside.
    pub(super) fn written<Q: Quantity>(&mut self, measure: &Measure) -> Option<Written<Q>> {
        let written = Written::new(measure.number, measure.unit);
        self.checked(written, measure)
    }

    pub(super) fn checked<Q: Quantity>(
        &mut self,
        written: Result<Written<Q>, Error>,
        measure: &Measure,
    ) -> Option<Written<Q>> {
        match written {
            Ok(written) => Some(marked(written, measure)),
            Err(error) => {
                let message = if measure.unit == Unit::Percent {
                    // A reader thinks in per cent, the scale in fractions.
                    let high = [130.0, 105.0]
                        .into_iter()
                        .find(|high| Q::from_base(high / 100.0).is_ok());
                    let high = high.unwrap_or(100.0);
                    format!(
                        "expected a figure from 0 to {high} %, found {} %",
                        measure.number
                    )
                } else {
                    error.to_string()
                };
                self.out_of_range(message, measure.span);
                None
            }
        }
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
        self.no_measure(cursor, allowed, place);
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
        place: impl Display + Copy,
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
        place: impl Display + Copy,
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
        let text = number.text();
        match number.form {
            Form::Plain | Form::Composed => return false,
            Form::Ambiguous => self.push(
                Diagnostic::error(
                    Code::AmbiguousNumber,
                    span,
                    format!("expected a number with at most one decimal point, found `{text}`"),
                )
                .with_help(readings(text)),
            ),
            Form::TooLong => self.push(
                Diagnostic::error(
                    Code::MalformedNumber,
                    span,
                    "expected a number of at most 30 digits",
                )
                .with_help("leave out digits that no scale can show"),
            ),
            Form::Backwards => self.push(
                Diagnostic::error(
                    Code::MalformedNumber,
                    span,
                    format!("expected a range from low to high, found `{text}`"),
                )
                .with_help("write the smaller number first"),
            ),
        }
        true
    }
}

pub(super) fn marked<Q: Quantity>(written: Written<Q>, measure: &Measure) -> Written<Q> {
    let written = match measure.range {
        Some((low, high)) => written.over_range(low, high),
        None => written,
    };
    if measure.about {
        written.approximately()
    } else {
        written
    }
}

/// What to write, for a message: the kinds of quantity that fit.
pub(super) fn expected(allowed: &[Dimension]) -> String {
    if allowed.len() > 3 {
        return "an amount (`kg`, `g`, `lb`, `oz`, `L`, `g/hL`, `%` …)".into();
    }
    if allowed.first() == Some(&Dimension::GasVolumes) {
        return Dimension::GasVolumes.expected().into();
    }
    let mut text = String::new();
    for dimension in allowed {
        if !text.is_empty() {
            text.push_str(" or ");
        }
        text.push_str(dimension.expected());
    }
    text
}

/// The number with units that fit: `70 %` or `70 kg`.
fn examples(number: &str, allowed: &[Dimension]) -> String {
    let units: Vec<&str> = if allowed.len() > 3 {
        vec!["kg", "%"]
    } else {
        allowed
            .iter()
            .map(|dimension| Unit::base(*dimension).symbol())
            .take(2)
            .collect()
    };
    units
        .iter()
        .map(|unit| format!("{number} {unit}").trim_end().to_owned())
        .collect::<Vec<_>>()
        .join("` or `")
}

/// A number that is no nonsense where such a quantity belongs.
fn likely(allowed: &[Dimension]) -> &'static str {
    match allowed {
        [Dimension::Ph] => "5.4",
        _ => "10",
    }
}

/// The unit that the word resembles most, or those that differ from it in one letter only.
pub(super) fn near_unit(word: &str, allowed: &[Dimension]) -> Option<Vec<&'static str>> {
    /// Longer words are no unit with a letter gone wrong.
    const LONGEST: usize = 24;
    if !(2..=LONGEST).contains(&word.chars().count()) {
        return None;
    }
    let units = || {
        let fitting = Unit::ALL.iter();
        fitting.filter(|unit| allowed.contains(&unit.dimension()))
    };
    let names = |unit: &Unit| std::iter::once(unit.symbol()).chain(unit.aliases().iter().copied());
    let symbols = units().flat_map(names).filter(|symbol| symbol.len() > 1);
    if let Some(near) = nearest(word, symbols).first() {
        return Some(vec![near]);
    }
    // Short symbols have too few letters to resemble one another.
    let slip = |symbol: &&str| symbol.len() > 1 && strsim::osa_distance(word, symbol) == 1;
    let near: Vec<&str> = units()
        .map(|unit| unit.symbol())
        .filter(slip)
        .take(3)
        .collect();
    (!near.is_empty()).then_some(near)
}

/// The digits at the start of a word, and what is glued to them.
pub(super) fn glued(word: &str) -> Option<(&str, &str)> {
    let at = word.find(|c: char| !c.is_ascii_digit() && c != '.')?;
    (at > 0).then(|| word.split_at(at))
}

/// Both readings of a number that can be read in two ways.
fn readings(text: &str) -> String {
    let bare = text.trim_start_matches('~');
    if text.contains(' ') {
        let joined: String = text.split(' ').collect();
        return match bare.split_once(' ') {
            Some((one, rest)) if !rest.contains(' ') && (one == "1" || rest == "000") => format!(
                "write `{joined}` for one number, or a comma between `{one}` and `{rest}` for two"
            ),
            Some((count, size)) if !size.contains(' ') => format!(
                "write `{joined}` for one number, or `{count} x {size}` with the unit for {count} packs"
            ),
            _ => format!("write `{joined}` for one number"),
        };
    }
    let groups: Vec<&str> = bare.split(',').collect();
    let thousands = groups
        .iter()
        .skip(1)
        .all(|group| group.len() == 3 || group.contains('.'));
    let joined: String = groups.concat();
    match groups.as_slice() {
        [whole, part] if thousands => {
            format!("write `{joined}` for thousands, or `{whole}.{part}` for a decimal")
        }
        [whole, part] => {
            format!("write `{whole}.{part}` for a decimal, or `{whole}, {part}` for two figures")
        }
        _ => format!("write `{joined}` for one number, or a space after each comma for several"),
    }
}
