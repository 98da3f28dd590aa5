//! Alpha acid units: ounces of hops times per cent of alpha acids, also called home bittering units.

use super::bit::{Bit, What};
use super::names::{Among, Names, Resolved};
use super::said::Part;
use super::told::Told;
use crate::catalogue::{EntryRef, Kind};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

const UNITS: [&str; 4] = ["aau", "aaus", "hbu", "hbus"];

/// The line with ounces for its units: by the alpha acids that it states of the hop, or else by the catalogue's, which are told.
pub(super) fn weighed(bits: &[Bit], names: &Names<'_>, told: &mut Vec<Told>) -> Vec<Bit> {
    let is_unit = |at: usize| {
        let word = bits.get(at + 1).and_then(Bit::word);
        word.is_some_and(|word| UNITS.contains(&word))
            && bits.get(at).is_some_and(|bit| bit.bare().is_some())
    };
    let mut whole = Vec::with_capacity(bits.len() + 2);
    let mut at = 0;
    while let Some(bit) = bits.get(at) {
        let behind = bits.get(at + 2..).unwrap_or(&[]);
        let next = (0..behind.len())
            .find(|more| is_unit(at + 2 + more))
            .unwrap_or(behind.len());
        let own = behind.get(..next).unwrap_or(&[]);
        let units = bit.bare().filter(|_| is_unit(at));
        let hop = units.and_then(|units| Some((units, alpha(own, names)?)));
        let Some((units, (alpha, is_stated))) = hop else {
            if let Some(units) = units {
                told.push(Told::Asked(no_alpha(units.middle(), bit.span)));
            }
            whole.push(bit.clone());
            at += 1;
            continue;
        };
        let ounces = AsWritten::plain(rounded(units.middle() / alpha), Unit::Ounce);
        let span = bits
            .get(at + 1)
            .map_or(bit.span, |unit| bit.span.to(unit.span));
        whole.push(Bit {
            what: What::Quantity(ounces),
            span,
        });
        let share = AsWritten::plain(alpha, Unit::Percent);
        if !is_stated {
            whole.push(Bit {
                what: What::Quantity(share),
                span,
            });
            told.push(Told::Default(
                "alpha acids of the ingredient table".into(),
                format!("{share} alpha"),
                span,
            ));
        }
        told.push(Told::Assumed(
            format!("{} AAU", units.middle()),
            ounces.to_string(),
            span,
        ));
        at += 2;
    }
    whole
}

/// Without its alpha acids nobody can weigh a hop by its units.
fn no_alpha(units: f64, span: Span) -> Diagnostic {
    let message = format!("expected a known hop, or its alpha acids, beside `{units} AAU`");
    Diagnostic::error(Code::UnknownIngredient, span, message).with_help(format!(
        "write `{units} AAU` with the hop's name and alpha, such as `5 % alpha`, or its weight"
    ))
}

/// A thousandth of an ounce is less than scales show.
fn rounded(ounces: f64) -> f64 {
    (ounces * 1000.0).round() / 1000.0
}

/// Per cent of alpha acids of the hop that the pieces name, and whether they state them.
fn alpha(bits: &[Bit], names: &Names<'_>) -> Option<(f64, bool)> {
    let start = bits.iter().position(|bit| bit.word().is_some())?;
    let words: Vec<String> = bits
        .iter()
        .skip(start)
        .map_while(Bit::word)
        .map(str::to_owned)
        .collect();
    let stretch = names.stretch(&words, Part::Boil)?;
    let name = words.get(stretch)?;
    let Some(Resolved::One(known)) = names.among(name, Among::Kinds(&[Kind::Hop])) else {
        return None;
    };
    let is_share = |written: &&AsWritten| {
        written.unit.dimension() == Dimension::Percent && (1.0..=30.0).contains(&written.number)
    };
    if let Some(stated) = bits.iter().filter_map(Bit::quantity).find(is_share) {
        return Some((stated.number, true));
    }
    match names.catalogue.find(&known.name)?.entry {
        EntryRef::Hop(hop) => Some((rounded(hop.alpha()?.percent()), false)),
        _ => None,
    }
}
