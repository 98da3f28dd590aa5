//! Temperatures of a log: degrees without their scale, and whose a temperature beside a gravity is.

use super::entry::Shown;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::page::Jotted;
use crate::notation::free::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// No beer ferments at more °C: degrees without their scale are those of Fahrenheit, and with it a slip (common practice, no source).
const WARMEST_C: f64 = 45.0;
/// No wort has more °P (common practice, no source).
const STRONGEST_PLATO: f64 = 40.0;
/// What lies nearer to the temperature of an instrument's scale changes its reading by less than it is read to, °C.
const NEAR_SCALE_C: f64 = 3.0;

/// Gives degrees their scale: `68°` of a beer is °F, `3°` where the log is in °P is one. `68 C` is asked about.
pub(super) fn with_scale(
    bits: &mut [Bit],
    typed: &Jotted,
    (unit, is_fermenting): (Option<Unit>, bool),
    told: &mut Vec<Told>,
) {
    let has_gravity = bits
        .iter()
        .filter_map(Bit::quantity)
        .any(super::jotted_number::is_gravity);
    for bit in bits {
        let Some(written) = bit
            .quantity()
            .copied()
            .filter(|written| written.unit == Unit::Celsius)
        else {
            continue;
        };
        let is_named = has_scale(typed, bit.span);
        let degrees = written.number;
        if is_fermenting && is_named && degrees > WARMEST_C && has_gravity {
            told.push(Told::Asked(hot(&written, bit.span)));
            continue;
        }
        let is_plato = unit == Some(Unit::Plato) && !has_gravity && degrees <= STRONGEST_PLATO;
        let unit = match is_named {
            false if is_fermenting && degrees > WARMEST_C => Unit::Fahrenheit,
            false if is_plato => Unit::Plato,
            _ => continue,
        };
        let read = AsWritten { unit, ..written };
        told.push(Told::Assumed(
            format!("{degrees}°"),
            read.to_string(),
            bit.span,
        ));
        bit.what = Piece::Quantity(read);
    }
}

/// Whether a stretch of the line says its scale: `68 C`, `20 degrees celsius`.
fn has_scale(typed: &Jotted, span: Span) -> bool {
    let mut inside = typed
        .tokens
        .iter()
        .filter(|token| token.span().start < span.end && span.start < token.span().end);
    inside.any(|token| {
        let text = token.text().to_lowercase().replace("deg", "");
        text.contains('c')
    })
}

fn hot(written: &AsWritten, span: Span) -> Diagnostic {
    let other = AsWritten {
        unit: Unit::Fahrenheit,
        ..*written
    };
    let message = format!("expected the temperature of a sample of beer, found {written}");
    Diagnostic::error(Code::OutOfRange, span, message).with_help(format!(
        "write `{other}`, or cool the sample and read it again"
    ))
}

/// A temperature beside a gravity that no word says to be that of the sample, and that moves the reading.
pub(super) fn is_of_sample(shown: &Shown, bits: &[Bit]) -> Option<(AsWritten, Span)> {
    let (at, span) = shown.warmth?;
    let place = bits.iter().position(|bit| bit.span == span)?;
    let before = place.checked_sub(1).and_then(|at| bits.get(at));
    let is_said = before.is_some_and(|bit| bit.is_mark('@') || bit.word() == Some("at"));
    let celsius = at.unit.to_base(at.number);
    let is_far = (celsius - 20.0).abs() > NEAR_SCALE_C;
    (at.unit.dimension() == Dimension::Temperature && !is_said && is_far).then_some((at, span))
}
