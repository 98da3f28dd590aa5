//! A brew of several mashes, whose sheet says what goes into each: `Each turn:`, `mash 1 + mash 2, each:`.

use super::bit::Bit;
use super::scan::scan;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::tree::{Document, Line};

const MASHES: [&str; 9] = [
    "mash", "mashes", "turn", "turns", "brew", "brews", "gyle", "gyles", "batch",
];

/// Whether a line is a heading of what goes into each mash.
pub(super) fn is_each(bits: &[Bit]) -> bool {
    let is_last = bits.last().is_some_and(|bit| bit.is_mark(':'));
    let says =
        |wanted: &dyn Fn(&str) -> bool| bits.iter().any(|bit| bit.word().is_some_and(wanted));
    let has_figures = bits.iter().any(|bit| bit.quantity().is_some());
    is_last && !has_figures && says(&|word| word == "each") && says(&|word| MASHES.contains(&word))
}

/// Whether an amount is said of each: `10 oz per turn`.
pub(super) fn is_per_turn(bits: &[Bit]) -> bool {
    let is_per = |pair: &[Bit]| {
        let [per, turn] = pair else { return false };
        matches!(per.word(), Some("per" | "each" | "a"))
            && turn.word().is_some_and(|word| MASHES.contains(&word))
    };
    bits.windows(2).any(is_per)
}

/// Whether each of what it heads is a whole brew, with its boil.
pub(super) fn has_boil(bits: &[Bit]) -> bool {
    let is_mash = |bit: &Bit| matches!(bit.word(), Some("mash" | "mashes"));
    !bits.iter().any(is_mash)
}

/// How many mashes a line speaks of: `two mashes`, `double batch`, `mash 1 + mash 2`.
pub(super) fn counted(bits: &[Bit]) -> Option<f64> {
    let is_mash = |bit: Option<&Bit>| {
        bit.and_then(Bit::word)
            .is_some_and(|word| MASHES.contains(&word))
    };
    let numbered = bits
        .windows(2)
        .filter(|pair| is_mash(pair.first()) && pair.get(1).is_some_and(|bit| bit.bare().is_some()))
        .count();
    if numbered > 1 {
        return Some(numbered as f64);
    }
    bits.windows(2).find_map(|pair| {
        let [count, what] = pair else { return None };
        if !is_mash(Some(what)) {
            return None;
        }
        let many = match count.word() {
            Some("double" | "both" | "two") => Some(2.0),
            Some("triple" | "three") => Some(3.0),
            _ => count.bare().map(|bare| bare.low),
        };
        many.filter(|many| (2.0..=6.0).contains(many) && many.fract() == 0.0)
    })
}

/// How many mashes a text speaks of.
pub(super) fn of(document: &Document<'_>) -> Option<f64> {
    fn look<'a>(lines: &mut dyn Iterator<Item = &'a Line<'a>>) -> Option<f64> {
        // Depth is bounded by the parser.
        for line in lines {
            let found = counted(&scan(line.tokens())).or_else(|| look(&mut line.lines()));
            if found.is_some() {
                return found;
            }
        }
        None
    }
    look(&mut document.lines())
}

/// Asks how many there are.
pub(super) fn how_many(span: Span) -> Diagnostic {
    let message = "expected the number of mashes, found the amounts of each";
    Diagnostic::warning(Code::MissingQuantity, span, message)
        .with_help("write the amounts of all mashes, or `two mashes, each:`")
}
