//! Numbers of a log without their point or their unit, and what a gravity is.

use super::words::LogWord;
use crate::notation::free::bit::{Bit, What as Piece};
use crate::notation::free::said::trade;
use crate::notation::free::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Extract, Unit, Written};

/// What the lines before told.
#[derive(Debug, Clone, Copy)]
pub(super) struct Known {
    /// The unit of the last gravity.
    pub(super) unit: Option<Unit>,
    /// Whether the log is one of refractometer readings.
    pub(super) is_refractometer: bool,
    /// Whether a line before tells of the wort that was pitched.
    pub(super) is_fermenting: bool,
    /// The gravity of the wort.
    pub(super) original: Option<AsWritten>,
    /// How much wort there was, litres.
    pub(super) wort_l: Option<f64>,
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

/// `OG 64`, `FG .012`, `50 points`: thousandths above water, where a word says that they are a gravity.
pub(super) fn thousandths(bits: &mut [Bit], known: Known, told: &mut Vec<Told>) {
    let is_plato = matches!(known.unit, Some(Unit::Plato | Unit::Brix));
    for at in 0..bits.len() {
        let word = |at: Option<usize>| at.and_then(|at| bits.get(at)).and_then(Bit::word);
        let mark = at.checked_sub(1).filter(|at| {
            bits.get(*at).is_some_and(|bit| {
                bit.is_mark(':') || bit.is_mark('=') || bit.word() == Some("was")
            })
        });
        let before = word(mark.map_or(at.checked_sub(1), |mark| mark.checked_sub(1)));
        let is_original = matches!(before, Some("og" | "o.g"));
        let is_final = matches!(before, Some("fg" | "f.g" | "sg"));
        // `4 points to go`: how far it is from the end, and no gravity.
        let is_points = matches!(word(Some(at + 1)), Some("points" | "pts" | "gu"))
            && !matches!(word(Some(at + 2)), Some("to" | "left" | "more"));
        let Some(bit) = bits.get_mut(at) else { return };
        let Some(number) = bit
            .bare()
            .filter(|number| number.high.is_none())
            .map(|number| number.low)
        else {
            continue;
        };
        let points = match number {
            _ if !(is_original || is_final || is_points) => continue,
            20.0..=150.0 if number.fract() == 0.0 && (is_original || is_points) => number,
            0.0..=60.0
                if number.fract() == 0.0
                    && number >= 1.0
                    && !is_plato
                    && (is_final || is_points) =>
            {
                number
            }
            0.001..0.15 => 1000.0 * number,
            _ => continue,
        };
        let gravity = (1000.0 + points).round() / 1000.0;
        let written = AsWritten::plain(gravity, Unit::SpecificGravity);
        told.push(Told::Assumed(
            number.to_string(),
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

/// `the gallon of juice`, `a litre of water`: one of a measure.
pub(super) fn one_of(bits: &mut [Bit]) {
    for at in 1..bits.len() {
        let measure = bits
            .get(at)
            .and_then(Bit::word)
            .and_then(|word| match word {
                "gallon" => Some(Unit::Gallon),
                "quart" => Some(Unit::Quart),
                "pint" => Some(Unit::Pint),
                "litre" | "liter" => Some(Unit::Litre),
                "pound" => Some(Unit::Pound),
                "kilo" | "kilogram" => Some(Unit::Kilogram),
                _ => None,
            });
        let is_one = bits
            .get(at - 1)
            .is_some_and(|bit| matches!(bit.word(), Some("a" | "the" | "another")));
        let is_of = bits.get(at + 1).and_then(Bit::word) == Some("of");
        if let (Some(unit), true, true) = (measure, is_one, is_of)
            && let Some(bit) = bits.get_mut(at)
        {
            bit.what = Piece::Quantity(AsWritten::plain(1.0, unit));
        }
    }
}

/// A gravity in °P.
pub(super) fn plato(written: &AsWritten) -> Option<f64> {
    let shown = Written::<Extract>::stated(*written).ok()?;
    Some(shown.value().plato())
}
