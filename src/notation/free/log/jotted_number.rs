//! Numbers of a log without their point or their unit, and what a gravity is.

use super::words::LogWord;
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::said::trade;
use crate::notation::free::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// What the lines before told.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    /// The unit of the last gravity.
    pub(super) unit: Option<Unit>,
    /// Whether the log is one of refractometer readings.
    pub(super) is_refractometer: bool,
}

/// `1034`, `1011.5`: a gravity without its point.
pub(super) fn points(bits: &mut [Bit], told: &mut Vec<Told>) {
    let mut before: Option<String> = None;
    for bit in bits {
        let is_number = before.as_deref().is_some_and(|word| {
            matches!(
                word,
                "no" | "nr" | "gyle" | "brew" | "batch" | "sud" | "lot"
            )
        });
        before = bit.word().map(str::to_owned);
        let Some(points) = bit
            .bare()
            .filter(|number| !is_number && (985.0..=1200.0).contains(&number.middle()))
        else {
            continue;
        };
        let mut written = AsWritten::marked(points, Unit::SpecificGravity);
        written.number /= 1000.0;
        written.range = written
            .range
            .map(|(low, high)| (low / 1000.0, high / 1000.0));
        told.push(Told::Assumed(
            points.middle().to_string(),
            written.to_string(),
            bit.span,
        ));
        bit.what = Piece::Quantity(written);
    }
}

/// A number alone behind the date, in the unit of the gravities before it; and one behind a gravity, which is its temperature.
pub(super) fn alone(bits: &mut [Bit], known: Known, told: &mut Vec<Told>) {
    let is_gravity = |bit: &Bit| bit.quantity().is_some_and(is_gravity);
    let Some(unit) = known
        .unit
        .filter(|unit| unit.dimension() == Dimension::Gravity)
    else {
        return;
    };
    if bits.iter().any(is_gravity) {
        return;
    }
    let first = bits.iter().position(|bit| bit.bare().is_some());
    let Some(at) = first else { return };
    let plain = |bit: &Bit| {
        bit.word()
            .is_none_or(|word| trade().is_filler(word) || LogWord::Reads.phrases().contains(&word))
    };
    let ends = |bit: &&Bit| !matches!(bit.what, Piece::Mark(',' | '.' | ';'));
    let is_plain = bits.get(..at).unwrap_or(&[]).iter().all(plain);
    let follows = bits
        .get(at + 1..)
        .unwrap_or(&[])
        .iter()
        .take_while(ends)
        .all(plain);
    if let Some(bit) = bits.get_mut(at).filter(|_| is_plain && follows)
        && let Some(number) = bit
            .bare()
            .filter(|number| (0.0..=30.0).contains(&number.middle()))
    {
        let written = AsWritten::marked(number, unit);
        told.push(Told::Assumed(
            number.middle().to_string(),
            written.to_string(),
            bit.span,
        ));
        bit.what = Piece::Quantity(written);
    }
}

pub(super) fn is_gravity(written: &AsWritten) -> bool {
    matches!(
        written.unit.dimension(),
        Dimension::Gravity | Dimension::Ratio
    )
}
