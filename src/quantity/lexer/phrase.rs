//! Units of one word or several, and what to write in place of one that does not fit.

use crate::diagnostic::nearest;
use crate::quantity::{Dimension, Unit};

/// Words of the longest unit, such as `imp fl oz` or `litres per imperial gallon`.
const UNIT_WORDS: usize = 4;

/// Words that begin a unit of several words.
const BEGIN_UNIT: [&str; 8] = [
    "fl", "fluid", "imp", "imperial", "us", "degrees", "lb/imp", "oz/imp",
];

/// The longest unit that the words begin with, and how many of them it takes; `word` gives each by its place.
pub(crate) fn unit<'t>(
    word: impl Fn(usize) -> Option<&'t str>,
    allowed: &[Dimension],
) -> Option<(Unit, usize)> {
    let first = word(0)?;
    let several = BEGIN_UNIT
        .iter()
        .any(|begin| begin.eq_ignore_ascii_case(first))
        || word(1) == Some("per")
        || first.eq_ignore_ascii_case("per");
    if several {
        let words: Vec<&str> = (0..UNIT_WORDS).map_while(word).collect();
        if let Some(found) = of_several_words(&words, allowed) {
            return Some(found);
        }
    }
    Unit::find(first, allowed).map(|unit| (unit, 1))
}

fn of_several_words(words: &[&str], allowed: &[Dimension]) -> Option<(Unit, usize)> {
    (2..=words.len()).rev().find_map(|count| {
        let joined = words.get(..count)?.join(" ");
        let unit = Unit::find(&joined, allowed).or_else(|| quotient(&joined, allowed))?;
        Some((unit, count))
    })
}

/// `litres per hour` is `L/h`.
fn quotient(words: &str, allowed: &[Dimension]) -> Option<Unit> {
    let (over, under) = words.split_once(" per ")?;
    let plain = &[Dimension::Mass, Dimension::Volume, Dimension::Time];
    let (over, under) = (Unit::find(over, plain)?, Unit::find(under, plain)?);
    Unit::find(&format!("{}/{}", over.symbol(), under.symbol()), allowed)
}

/// What to write, for a message: the kinds of quantity that fit.
pub(crate) fn expected(allowed: &[Dimension]) -> String {
    if allowed.len() > 3 {
        return "an amount (`kg`, `g`, `lb`, `oz`, `L`, `g/hL`, `%` …)".into();
    }
    if allowed.first() == Some(&Dimension::GasVolumes) {
        return Dimension::GasVolumes.expected().into();
    }
    let mut text = String::new();
    for expected in allowed.iter().map(|dimension| dimension.expected()) {
        // A gravity and a ratio are expected in the same words.
        if text == expected {
            continue;
        }
        if !text.is_empty() {
            text.push_str(" or ");
        }
        text.push_str(expected);
    }
    text
}

/// The number with units that fit: `70 %` or `70 kg`.
pub(crate) fn examples(number: &str, allowed: &[Dimension]) -> String {
    let units: Vec<&str> = if allowed.len() > 3 {
        vec!["kg", "%"]
    } else {
        allowed
            .iter()
            .map(|dimension| Unit::base(*dimension).symbol())
            .filter(|symbol| !symbol.is_empty() || allowed.len() == 1)
            .take(2)
            .collect()
    };
    units
        .iter()
        .map(|unit| format!("{number} {unit}").trim_end().to_owned())
        .collect::<Vec<_>>()
        .join("` or `")
}

/// The unit that the word resembles most, or those that differ from it in one letter only.
pub(crate) fn near_unit(word: &str, allowed: &[Dimension]) -> Option<Vec<&'static str>> {
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
