//! Doses said of the beer or the water: `6 oz per barrel`, `1 lb Fuggle to the barrel`, `40 g citra per hectolitre`.

use super::bit::{Bit, What};
use super::measure::{CASKS, Gallons, which_barrel};
use super::told::Told;
use crate::diagnostic::Span;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// So many words may stand between an amount and what it is said per.
const NEAR: usize = 4;

/// What stands behind an amount in a vessel of which the words are the name too: `per cask` is said of the package.
fn measure_of(word: &str) -> Option<Unit> {
    match word {
        "barrel" | "bbl" => Some(Unit::Barrel),
        // British brewers' short form.
        "brl" => Some(Unit::ImperialBarrel),
        "hl" | "hectolitre" | "hectoliter" => Some(Unit::Hectolitre),
        "gallon" | "gal" => Some(Unit::Gallon),
        _ => None,
    }
}

/// `per firkin`, `per pint bottle`: how much one of them holds.
fn vessel(
    first: Option<&str>,
    second: Option<&str>,
    gallons: Gallons,
) -> Option<(AsWritten, usize)> {
    let cask = first.map(|word| word.trim_end_matches('s'));
    if let Some((_, size)) = CASKS.iter().find(|(own, _)| Some(*own) == cask) {
        return Some((AsWritten::plain(*size, Unit::ImperialGallon), 1));
    }
    let is_pint = first == Some("pint") && second.is_none_or(|word| word.starts_with("bottle"));
    let unit = match gallons {
        Gallons::ByWord | Gallons::ByMetric => Unit::ImperialPint,
        Gallons::Us | Gallons::Unsaid => Unit::Pint,
    };
    is_pint.then(|| {
        (
            AsWritten::plain(1.0, unit),
            1 + usize::from(second.is_some()),
        )
    })
}

/// What an amount is said per at the start of the pieces: the measure, and how many pieces say it.
fn per(bits: &[Bit], is_right_behind: bool, gallons: Gallons) -> Option<(AsWritten, usize)> {
    let word = |at: usize| bits.get(at).and_then(Bit::word);
    let led = match (word(0), word(1)) {
        (Some("to" | "for"), Some("the" | "each" | "every")) => 2,
        (Some("per"), _) => 1,
        (Some("a" | "the" | "each"), _) if is_right_behind => 1,
        _ => 0,
    };
    // `a barrel` was read as one barrel.
    let one = bits
        .get(led)
        .and_then(Bit::quantity)
        .filter(|one| (one.number - 1.0).abs() < 1e-9 && one.range.is_none());
    if let Some(one) = one.filter(|_| led > 0 || is_right_behind) {
        let is_measure = matches!(one.unit, Unit::Barrel | Unit::ImperialBarrel);
        return is_measure.then_some((AsWritten::plain(1.0, one.unit), led + 1));
    }
    let first = word(led).filter(|_| led > 0)?;
    if let Some((size, count)) = vessel(Some(first), word(led + 1), gallons) {
        return Some((size, led + count));
    }
    let unit = measure_of(first)?;
    // `of liquor` says of what.
    let of = matches!(
        (word(led + 1), word(led + 2)),
        (Some("of"), Some("liquor" | "water" | "beer" | "wort"))
    );
    let measure = AsWritten::plain(1.0, unit);
    Some((measure, led + 1 + if of { 2 } else { 0 }))
}

/// Joins weights with the measure that they are said per.
pub(super) fn join(bits: &mut Vec<Bit>, gallons: Gallons, told: &mut Vec<Told>) {
    of_each(bits, gallons);
    let mut at = 0;
    while at < bits.len() {
        if let Some((dose, from, count)) = dose(bits.get(at..).unwrap_or(&[]), gallons) {
            let place = bits.get(at).map(|bit| bit.span).unwrap_or_default();
            let end = bits
                .get(at + from + count - 1)
                .map_or(place, |bit| bit.span);
            let is_asked = dose.is_asked;
            let typed = dose.typed;
            bits.drain(at + from..at + from + count);
            if let Some(bit) = bits.get_mut(at) {
                bit.what = What::Quantity(dose.written);
            }
            tell(&typed, &dose.written, is_asked, place.to(end), told);
        }
        at += 1;
    }
}

/// `4 firkins, 1 oz goldings each`, `pint bottles, 1/2 tsp sugar each`: of each of the vessels that the line names.
fn of_each(bits: &mut [Bit], gallons: Gallons) {
    let named = (0..bits.len()).find(|at| {
        let word = |at: usize| bits.get(at).and_then(Bit::word);
        let next = word(at + 1).filter(|next| next.starts_with("bottle"));
        (word(*at) != Some("pint") || next.is_some()) && vessel(word(*at), next, gallons).is_some()
    });
    let Some(named) = named.and_then(|at| bits.get(at)?.word().map(str::to_owned)) else {
        return;
    };
    let is_amount = |bit: &Bit| {
        bit.quantity()
            .is_some_and(|own| matches!(own.unit.dimension(), Dimension::Mass | Dimension::Volume))
    };
    for at in 1..bits.len() {
        let before = bits.get(at.saturating_sub(NEAR)..at).unwrap_or(&[]);
        let is_each = bits.get(at).and_then(Bit::word) == Some("each");
        let follows = bits.get(at + 1).is_none_or(|next| next.word().is_none());
        let (true, true, true) = (is_each, follows, before.iter().any(is_amount)) else {
            continue;
        };
        if let Some(bit) = bits.get_mut(at) {
            bit.what = What::Word(format!("per {named}"));
        }
    }
}

fn tell(typed: &str, written: &AsWritten, is_asked: bool, span: Span, told: &mut Vec<Told>) {
    if is_asked {
        told.push(Told::Asked(which_barrel(
            &AsWritten::plain(1.0, Unit::Barrel),
            span,
        )));
    }
    told.push(Told::Assumed(typed.to_owned(), written.to_string(), span));
}

/// A weight in so much beer.
struct Dose {
    written: AsWritten,
    typed: String,
    /// Whether it is not said whose barrels they are.
    is_asked: bool,
}

/// The dose that begins here, and where what it is said per begins and how long that is.
fn dose(bits: &[Bit], gallons: Gallons) -> Option<(Dose, usize, usize)> {
    let weight = bits
        .first()?
        .quantity()
        .filter(|own| matches!(own.unit.dimension(), Dimension::Mass | Dimension::Volume))?;
    let (measure, from, count) = (1..=NEAR + 1).find_map(|from| {
        let between = bits.get(1..from)?;
        let is_name = between.iter().all(|bit| bit.word().is_some());
        // `each` of vessels that the line names.
        let each = bits.get(from).and_then(Bit::word);
        if let Some(named) = each.and_then(|word| word.strip_prefix("per ")) {
            let bottle = (named == "pint").then_some("bottle");
            let (size, _) = vessel(Some(named), bottle, gallons).filter(|_| is_name)?;
            return Some((size, from, 1));
        }
        let (measure, count) = per(bits.get(from..)?, from == 1, gallons).filter(|_| is_name)?;
        Some((measure, from, count))
    })?;
    let unit = measure.unit;
    let is_vessel = matches!(unit, Unit::ImperialPint | Unit::Pint) || measure.number > 1.0;
    // A volume in a barrel is a loss as well as a dose.
    if weight.unit.dimension() == Dimension::Volume && !is_vessel {
        return None;
    }
    let is_asked = unit == Unit::Barrel && matches!(gallons, Gallons::Unsaid | Gallons::ByMetric);
    let unit = match (gallons, unit) {
        (Gallons::ByWord, Unit::Barrel) => Unit::ImperialBarrel,
        (Gallons::ByWord | Gallons::ByMetric, Unit::Gallon) => Unit::ImperialGallon,
        (_, unit) => unit,
    };
    let measure = AsWritten { unit, ..measure };
    let written = over(weight, &measure);
    let typed = if is_vessel {
        format!("{weight} in each {measure}")
    } else {
        format!("{weight} per {}", unit.symbol())
    };
    let dose = Dose {
        written,
        typed,
        is_asked,
    };
    Some((dose, from, count))
}

/// A weight over a measure, in a unit of its own where there is one.
fn over(weight: &AsWritten, measure: &AsWritten) -> AsWritten {
    let one = (measure.number - 1.0).abs() < 1e-9;
    let unit = match (weight.unit, measure.unit) {
        (own, _) if own.dimension() == Dimension::Volume => Unit::MillilitrePerLitre,
        _ if !one => Unit::GramPerLitre,
        (Unit::Pound, Unit::Barrel) => Unit::PoundPerBarrel,
        (Unit::Ounce, Unit::Barrel) => Unit::OuncePerBarrel,
        (Unit::Gram, Unit::Barrel) => Unit::GramPerBarrel,
        (Unit::Pound, Unit::ImperialBarrel) => Unit::PoundPerImperialBarrel,
        (Unit::Ounce, Unit::ImperialBarrel) => Unit::OuncePerImperialBarrel,
        (Unit::Pound, Unit::Gallon) => Unit::PoundPerGallon,
        (Unit::Ounce, Unit::Gallon) => Unit::OuncePerGallon,
        (Unit::Gram, Unit::Gallon) => Unit::GramPerGallon,
        (Unit::Ounce, Unit::ImperialGallon) => Unit::OuncePerImperialGallon,
        (Unit::Gram, Unit::Hectolitre) => Unit::GramPerHectolitre,
        (Unit::Kilogram, Unit::Hectolitre) => Unit::KilogramPerHectolitre,
        _ => Unit::GramPerLitre,
    };
    let mut dose = *weight;
    dose.unit = unit;
    if matches!(unit, Unit::GramPerLitre | Unit::MillilitrePerLitre) {
        // Base units of mass and volume are the kilogram and the litre.
        let litres = measure.unit.to_base(measure.number);
        let factor = weight.unit.to_base(1.0) * 1000.0 / litres;
        let round = |number: f64| {
            format!("{:.5e}", number * factor)
                .parse()
                .unwrap_or(number * factor)
        };
        dose.number = round(weight.number);
        dose.range = weight.range.map(|(low, high)| (round(low), round(high)));
    }
    dose
}
