//! Rates in words: `half a gallon an hour`, `0.9 L per kg`.

use super::bit::{Bit, What};
use crate::diagnostic::Span;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// What a volume is said per.
#[derive(Clone, Copy, PartialEq)]
enum Per {
    Hour,
    Kilogram,
    Pound,
}

/// Joins a volume with what it is said per.
pub(super) fn rates(bits: &mut Vec<Bit>) {
    let mut at = 0;
    while at < bits.len() {
        if let Some((rate, taken)) = rate(bits.get(at..).unwrap_or(&[])) {
            let covered = bits.get(at..at + taken).unwrap_or(&[]);
            let span = covered.iter().map(|bit| bit.span).reduce(Span::to);
            let what = What::Quantity(rate);
            let span = span.unwrap_or_default();
            bits.splice(at..at + taken, [Bit { what, span }]);
        }
        at += 1;
    }
}

fn rate(bits: &[Bit]) -> Option<(AsWritten, usize)> {
    let written = bits.first()?.quantity()?;
    if written.unit.dimension() != Dimension::Volume {
        return None;
    }
    let (per, taken) = per(bits.get(1..)?)?;
    Some((over(written, per), taken + 1))
}

/// `an hour`, `/ hr`, `per kilo`, `in an hour`, and how many pieces it takes.
fn per(bits: &[Bit]) -> Option<(Per, usize)> {
    let joins = |bit: &Bit| {
        bit.is_mark('/')
            || matches!(
                bit.word(),
                Some("per" | "a" | "an" | "each" | "every" | "in" | "for")
            )
    };
    // `2.6 litres of liquor to the kilo`
    let words = |at: usize| bits.get(at).and_then(Bit::word);
    if words(0) == Some("of") && matches!(words(1), Some("liquor" | "water")) {
        let from = 2 + usize::from(matches!(words(2), Some("to" | "per")));
        let from = from + usize::from(matches!(words(from), Some("the" | "a" | "each")));
        return match (from, words(from)) {
            (3.., Some("kg" | "kilo" | "kilogram")) => Some((Per::Kilogram, from + 1)),
            (3.., Some("lb" | "pound")) => Some((Per::Pound, from + 1)),
            _ => None,
        };
    }
    let first = bits.first()?;
    let skipped = usize::from(joins(first));
    let unit = bits.get(skipped)?;
    // `an hour` was read as one hour, and `a pound` as one pound.
    let one = unit
        .quantity()
        .filter(|one| (one.number - 1.0).abs() < 1e-9 && one.range.is_none());
    let found = match (one.map(|one| one.unit), unit.word()) {
        (Some(Unit::Hour), _) => Per::Hour,
        (Some(Unit::Pound), _) => Per::Pound,
        (Some(Unit::Kilogram), _) => Per::Kilogram,
        (None, Some("h" | "hr" | "hrs" | "hour" | "hours")) if skipped == 1 => Per::Hour,
        (None, Some("kg" | "kilo" | "kilogram")) if skipped == 1 => Per::Kilogram,
        (None, Some("lb" | "lbs" | "pound" | "#")) if skipped == 1 => Per::Pound,
        _ => return None,
    };
    // `1 L for a kilogram` is a dose, `2 gal in an hour` a rate.
    let is_spell = matches!(first.word(), Some("in" | "for"));
    (!is_spell || found == Per::Hour).then_some((found, skipped + 1))
}

/// A volume over what it is said per, in a unit of its own where there is one.
fn over(volume: &AsWritten, per: Per) -> AsWritten {
    let unit = match (volume.unit, per) {
        (Unit::Litre, Per::Hour) => Unit::LitrePerHour,
        (Unit::Hectolitre, Per::Hour) => Unit::HectolitrePerHour,
        // Whose pints they are is the text's to say, as of gallons.
        (Unit::Gallon | Unit::Pint, Per::Hour) => Unit::GallonPerHour,
        (Unit::Quart, Per::Hour) => Unit::QuartPerHour,
        (Unit::Barrel, Per::Hour) => Unit::BarrelPerHour,
        (Unit::ImperialGallon, Per::Hour) => Unit::ImperialGallonPerHour,
        (Unit::Litre, Per::Kilogram) => Unit::LitrePerKilogram,
        (Unit::Quart, Per::Pound) => Unit::QuartPerPound,
        (Unit::Gallon, Per::Pound) => Unit::GallonPerPound,
        (Unit::ImperialQuart, Per::Pound) => Unit::ImperialQuartPerPound,
        (_, Per::Hour) => Unit::LitrePerHour,
        _ => Unit::LitrePerKilogram,
    };
    let mass = if per == Per::Pound {
        Unit::Pound.to_base(1.0)
    } else {
        1.0
    };
    let hours = if per == Per::Hour { 1.0 } else { mass };
    scaled(
        volume,
        volume.unit.to_base(1.0) / hours / unit.to_base(1.0),
        unit,
    )
}

/// A volume that went in a time, as a rate.
pub(super) fn per_hour(volume: &AsWritten, time: &AsWritten) -> Option<AsWritten> {
    let hours = time.unit.to_base(time.number) / Unit::Hour.to_base(1.0);
    (hours > 0.0).then(|| {
        let rate = over(volume, Per::Hour);
        scaled(&rate, 1.0 / hours, rate.unit)
    })
}

fn scaled(written: &AsWritten, factor: f64, unit: Unit) -> AsWritten {
    // Two factors of one unit divide to 1 but for the last place.
    let factor = if (factor - 1.0).abs() < 1e-12 {
        1.0
    } else {
        factor
    };
    AsWritten {
        number: round(written.number * factor),
        range: written
            .range
            .map(|(low, high)| (round(low * factor), round(high * factor))),
        about: written.about,
        unit,
    }
}

/// Six significant digits, more than anyone reads off a kettle.
fn round(number: f64) -> f64 {
    format!("{number:.5e}").parse().unwrap_or(number)
}
