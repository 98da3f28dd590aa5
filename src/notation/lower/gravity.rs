//! Quantities that are written in a way of their own: gravities, pH.

use super::Lower;
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::cursor::{ANY, Cursor, Measure, unit};
use crate::notation::tree::Token;
use crate::quantity::lexer::{AsWritten, BARE_GRAVITY, near_unit};
use crate::quantity::{Dimension, Extract, Number, Ph, Unit, Written};
use std::fmt::Display;

impl Lower<'_> {
    /// A gravity in °P, °Bx or as a bare specific gravity.
    pub(super) fn gravity(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: impl Display + Copy,
    ) -> Option<Written<Extract>> {
        let measure = self.gravity_measure(cursor, place)?;
        self.written(&measure)
    }

    /// The same, not yet held against its range.
    pub(super) fn gravity_measure(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: impl Display + Copy,
    ) -> Option<Measure> {
        if let Some(measure) = cursor.measure(&[Dimension::Gravity]) {
            // Only an apparent extract falls below zero, and the scale allows for it.
            return Some(measure);
        }
        let here = cursor.here();
        let bare = cursor.number().and_then(Number::marked);
        let followed = |at: usize| cursor.rest().get(at).and_then(Token::word);
        let marked_sg = followed(1).is_some_and(|word| word.eq_ignore_ascii_case("sg"));
        let unit_follows = !marked_sg && unit(cursor.rest().get(1..).unwrap_or(&[]), ANY).is_some();
        let near_unit_follows = followed(1)
            .is_some_and(|word| !marked_sg && near_unit(word, &[Dimension::Gravity]).is_some());
        let Some(bare) = bare.filter(|_| !unit_follows && !near_unit_follows) else {
            self.no_measure(cursor, &[Dimension::Gravity], &place);
            return None;
        };
        let text = cursor.number().map_or("", Number::text).to_owned();
        cursor.skip(1 + usize::from(marked_sg));
        let measure = Measure::at(here, AsWritten::marked(bare, Unit::SpecificGravity));
        let number = measure.number;
        let thousandth = number / 1000.0;
        if BARE_GRAVITY.contains(&number) || (marked_sg && !BARE_GRAVITY.contains(&thousandth)) {
            return Some(measure);
        }
        if BARE_GRAVITY.contains(&thousandth) {
            self.push(
                Diagnostic::error(
                    Code::GravityWithoutPoint,
                    here,
                    format!("expected a gravity {place}, found `{text}`"),
                )
                .with_help(format!("did you mean `{thousandth:.3}`?")),
            );
            return None;
        }
        self.push(
            Diagnostic::error(
                Code::MissingUnit,
                here,
                format!("expected a gravity {place}, found `{text}` without a unit"),
            )
            .with_help(format!(
                "write `{text} P`, or a specific gravity such as `1.050`"
            )),
        );
        None
    }

    /// A pH: a number without a unit.
    pub(super) fn ph(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Written<Ph>> {
        let measure = self.ph_measure(cursor)?;
        self.written(&measure)
    }

    /// The same, not yet held against its range.
    pub(super) fn ph_measure(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Measure> {
        let here = cursor.here();
        let Some(number) = cursor.number() else {
            self.no_number(cursor, &[Dimension::Ph], &"after `pH`");
            return None;
        };
        cursor.skip(1);
        if self.bad_number(number, here) {
            return None;
        }
        let written = AsWritten::marked(number.marked()?, Unit::PhValue);
        Some(Measure::at(here, written))
    }
}
