//! Quantities that are written in a way of their own: gravities, carbon dioxide, pH.

use super::Lower;
use super::quantity::{marked, near_unit};
use crate::diagnostic::{Code, Diagnostic};
use crate::notation::cursor::{ANY, Cursor, Measure, unit};
use crate::notation::number::Number;
use crate::notation::tree::Token;
use crate::quantity::{
    CarbonDioxide, Dimension, Extract, Ph, Quantity, SpecificGravity, Unit, Written,
};
use crate::science::density::extract_of;
use std::fmt::Display;

/// Gravities that are taken for specific ones when no unit follows.
const BARE_GRAVITY: std::ops::RangeInclusive<f64> = 0.980..=1.200;

impl Lower<'_> {
    /// A gravity in °P, °Bx or as a bare specific gravity.
    pub(super) fn gravity(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: impl Display + Copy,
    ) -> Option<Written<Extract>> {
        if let Some(measure) = cursor.measure(&[Dimension::Gravity]) {
            // Only an apparent extract falls below zero, and the scale allows for it.
            return self.written(&measure);
        }
        let here = cursor.here();
        let bare = cursor.number().and_then(Number::marked);
        let followed = |at: usize| cursor.rest().get(at).and_then(Token::word);
        let marked_sg = followed(1).is_some_and(|word| word.eq_ignore_ascii_case("sg"));
        let unit_follows = !marked_sg && unit(cursor.rest().get(1..).unwrap_or(&[]), ANY).is_some();
        let near_unit_follows = followed(1)
            .is_some_and(|word| !marked_sg && near_unit(word, &[Dimension::Gravity]).is_some());
        let Some(bare) = bare.filter(|_| !unit_follows && !near_unit_follows) else {
            self.no_measure(cursor, &[Dimension::Gravity], place);
            return None;
        };
        let text = cursor.number().map_or("", Number::text).to_owned();
        cursor.skip(1 + usize::from(marked_sg));
        let measure = Measure::of(bare, Unit::SpecificGravity, here);
        let number = measure.number;
        if BARE_GRAVITY.contains(&number) || (marked_sg && (0.75..=1.6).contains(&number)) {
            let value = SpecificGravity::from_ratio(number).ok()?;
            let written = Written::converted(extract_of(value), number, Unit::SpecificGravity);
            return Some(marked(written, &measure));
        }
        let thousandth = number / 1000.0;
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

    /// Carbon dioxide in g/L or in volumes.
    pub(super) fn carbonation(
        &mut self,
        cursor: &mut Cursor<'_, '_>,
        place: impl Display + Copy,
    ) -> Option<Written<CarbonDioxide>> {
        let measure = self.measure(
            cursor,
            &[Dimension::GasVolumes, Dimension::Concentration],
            place,
        )?;
        let value = CarbonDioxide::from_base(measure.unit.to_base(measure.number));
        self.checked(
            value.map(|value| Written::converted(value, measure.number, measure.unit)),
            &measure,
        )
    }

    /// A pH: a number without a unit.
    pub(super) fn ph(&mut self, cursor: &mut Cursor<'_, '_>) -> Option<Written<Ph>> {
        let here = cursor.here();
        let Some(number) = cursor.number() else {
            self.no_number(cursor, &[Dimension::Ph], "after `pH`");
            return None;
        };
        cursor.skip(1);
        if self.bad_number(number, here) {
            return None;
        }
        let measure = Measure::of(number.marked()?, Unit::PhValue, here);
        self.written(&measure)
    }
}
