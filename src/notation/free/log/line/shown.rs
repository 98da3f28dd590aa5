//! What an instrument shows, and how warm the sample is.

use super::Reader;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::What as Piece;
use crate::notation::free::log::entry::{Entry, Shown, What};
use crate::notation::free::log::jotted_number::is_gravity;
use crate::notation::free::log::words::LogWord;
use crate::notation::free::said::{Part, Slot};
use crate::notation::free::told::Told;
use crate::notation::free::words::{Clause, covered, find};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// How the question begins.
pub(in crate::notation::free) const WHICH_INSTRUMENT: &str = "expected an instrument after";

impl Reader<'_, '_, '_> {
    pub(super) fn gravities(&mut self, clause: Clause<'_>, is_topped: bool) {
        // What is read once the vessel is full is of all that is in it.
        let own = find(clause.bits, LogWord::Added.phrases())
            .filter(|_| !is_topped)
            .map(|(at, _)| clause.from + at);
        self.added = self.added.or(own);
        let added = self.added;
        for at in clause.from..clause.from + clause.bits.len() {
            let Some((written, span)) =
                self.quantity(at).filter(|(written, _)| is_gravity(written))
            else {
                continue;
            };
            if self.is_used(at) || added.is_some_and(|added| added < at) {
                continue;
            }
            self.use_bit(at);
            let warmth = self.warmth(at);
            let by = self.instrument(clause, &written, span);
            self.entries.push(Entry::new(
                What::Shown(Shown {
                    written,
                    span,
                    label: self.label,
                    warmth,
                    by,
                }),
                span,
            ));
        }
    }

    fn instrument(
        &mut self,
        clause: Clause<'_>,
        written: &AsWritten,
        span: Span,
    ) -> Option<(&'static str, Span)> {
        let place = |found: Option<(usize, usize)>| {
            let (at, count) = found?;
            covered(clause.bits.get(at..at + count)?)
        };
        if let Some(span) = place(find(clause.bits, LogWord::Raw.phrases())) {
            return Some(("by refractometer", span));
        }
        if let Some(span) = place(find(clause.bits, &["hydrometer"])) {
            return Some(("by hydrometer", span));
        }
        (written.unit == Unit::Brix).then(|| {
            let by = "by refractometer";
            if !self.known.is_refractometer {
                self.sheet
                    .told
                    .push(Told::Asked(which_instrument(written, span)));
            }
            (by, span)
        })
    }

    /// The temperature beside a gravity, with nothing between them but other figures.
    fn warmth(&mut self, gravity: usize) -> Option<(AsWritten, Span)> {
        let (mut found, mut is_said) = (None, false);
        for at in gravity + 1..self.bits.len() {
            let bit = self.bits.get(at)?;
            let is_link = bit.is_mark('@') || bit.word() == Some("at");
            is_said |= is_link && at == gravity + 1;
            let is_warm = bit
                .quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Temperature);
            if is_warm
                || bit.bare().is_some() && (at == gravity + 1 || is_said && at == gravity + 2)
            {
                found = Some(at);
            }
            let is_figure = bit.quantity().is_some_and(|written| !is_gravity(written));
            let is_scale = matches!(bit.word(), Some("sg" | "og" | "fg" | "gravity"));
            let passes = is_link
                || is_figure
                || is_scale
                || matches!(bit.what, Piece::Mark(',' | '/' | '|' | '('));
            if found.is_some() || !passes {
                break;
            }
        }
        let at = found.or_else(|| self.warmth_before(gravity))?;
        if self.is_used(at) {
            return None;
        }
        let bit = self.bits.get(at)?;
        let (written, typed) = match (bit.quantity(), bit.bare()) {
            (Some(written), _) => (*written, None),
            (None, Some(number)) => {
                let unit =
                    Slot::Temperature.bare(number.middle(), Part::Ferment, self.sheet.is_us)?;
                (AsWritten::marked(number, unit), Some(number.middle()))
            }
            _ => return None,
        };
        let span = bit.span;
        if let Some(typed) = typed {
            self.sheet
                .told
                .push(Told::Assumed(typed.to_string(), written.to_string(), span));
        }
        self.use_bit(at);
        Some((written, span))
    }

    /// `66 F 1.024`: before the gravity, if no word says what it is of.
    fn warmth_before(&self, gravity: usize) -> Option<usize> {
        for at in (0..gravity).rev() {
            let bit = self.bits.get(at)?;
            if bit
                .quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Temperature)
            {
                let before = at.checked_sub(1).and_then(|before| self.bits.get(before));
                return before
                    .is_none_or(|before| before.is_mark(',') || before.quantity().is_some())
                    .then_some(at);
            }
            let is_label = bit
                .word()
                .is_some_and(|word| matches!(word, "sg" | "og" | "fg" | "gravity" | "oe"));
            let is_figure = bit.quantity().is_some_and(|written| !is_gravity(written));
            if !(is_label || is_figure || bit.is_mark(',') || bit.is_mark('|')) {
                return None;
            }
        }
        None
    }
}

/// `8 Bx` of a beer that ferments: a refractometer shows its alcohol too.
fn which_instrument(written: &AsWritten, span: Span) -> Diagnostic {
    let message = format!("{WHICH_INSTRUMENT} `{written}`; assumed a refractometer as it stands");
    Diagnostic::warning(Code::MissingQuantity, span, message).with_help(format!(
        "write `{written} by refractometer` or `{written} by hydrometer`"
    ))
}
