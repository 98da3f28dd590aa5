//! Where the wort of a line was when it was measured.

use super::entry::{Label, Moment};
use super::jotted_number::is_gravity;
use super::words::LogWord;
use crate::notation::free::bit::Bit;
use crate::notation::free::words::{begins, has};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// A mash of another pH is none, or the number no pH.
const MASH_PH_VALUES: std::ops::RangeInclusive<f64> = 4.0..=7.0;

/// Whether a line gives a figure of the brewing day.
pub(super) fn says_of_brew_day(bits: &[Bit]) -> bool {
    let is_measured =
        |written: &AsWritten| is_gravity(written) || written.unit.dimension() == Dimension::Volume;
    let is_figure = |bit: &Bit| bit.quantity().is_some_and(is_measured);
    let is_of_wort = matches!(label(bits), Label::Wort(_)) && bits.iter().any(is_figure);
    is_of_wort || mash_ph(bits).is_some()
}

/// `mash pH 5.4`: which piece is the pH.
pub(super) fn mash_ph(bits: &[Bit]) -> Option<(usize, AsWritten)> {
    let is_ph = |written: &&AsWritten| {
        written.unit == Unit::PhValue && MASH_PH_VALUES.contains(&written.number)
    };
    let mut figures = bits.iter().enumerate();
    let found = figures.find_map(|(at, bit)| Some((at, *bit.quantity().filter(is_ph)?)));
    found.filter(|_| has(bits, LogWord::Mash.phrases()))
}

/// Where the wort of a clause was.
pub(super) fn label(bits: &[Bit]) -> Label {
    // Where the last of the phrases ends: `pre boil` says more than the `boil` in it.
    let end = |phrases: &[&str]| {
        let ends = |at: usize| {
            let here = bits.get(at..)?;
            let counts = phrases.iter().filter_map(|phrase| begins(here, phrase));
            counts.max().map(|count| at + count)
        };
        (0..bits.len()).filter_map(ends).max()
    };
    let found = [
        (end(LogWord::Hot.phrases()), Label::Hot),
        (
            end(LogWord::FirstWort.phrases()),
            Label::Wort(Moment::FirstWort),
        ),
        (
            end(LogWord::BeforeBoil.phrases()),
            Label::Wort(Moment::BeforeBoil),
        ),
        (
            end(LogWord::AfterBoil.phrases()),
            Label::Wort(Moment::AfterBoil),
        ),
        (end(LogWord::Out.phrases()), Label::Out),
        (end(LogWord::Cold.phrases()), Label::Fermenter),
    ];
    let (at, label) = found
        .into_iter()
        .max_by_key(|(at, _)| *at)
        .unwrap_or((None, Label::Open));
    if at.is_some() { label } else { Label::Open }
}
