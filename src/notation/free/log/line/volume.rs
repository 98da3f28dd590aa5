//! What a volume is of: wort or beer that is there, a sample, or what was lost.

use super::Reader;
use crate::diagnostic::Span;
use crate::notation::free::bit::Bit;
use crate::notation::free::log::entry::{Entry, Label, Litres, What};
use crate::notation::free::log::jotted_number::is_gravity;
use crate::notation::free::log::words::{LogWord, removes};
use crate::notation::free::words::{Clause, find, has};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// More is no sample (common practice, no source).
const SAMPLE_L: f64 = 0.6;

/// `sample 4 oz` is drawn by volume.
fn as_volume(written: AsWritten, is_drawn: bool) -> AsWritten {
    let unit = match written.unit {
        Unit::Ounce if is_drawn => Unit::FluidOunce,
        unit => unit,
    };
    AsWritten { unit, ..written }
}

impl Reader<'_, '_, '_> {
    pub(super) fn volumes(&mut self, clause: Clause<'_>) {
        let has = |words: LogWord| has(clause.bits, words.phrases());
        let is_fermenting = self.known.is_fermenting;
        let is_drawn = has(LogWord::Drawn);
        let is_removed = has(LogWord::NotBeer) && removes(clause.bits);
        let is_lost = is_fermenting && !is_drawn && (has(LogWord::Lost) || is_removed);
        let is_elsewhere = self.is_packaged || has(LogWord::Each) || !is_lost && has(LogWord::Lost);
        let not_beer = [LogWord::NotBeer, LogWord::Yeast]
            .iter()
            .filter_map(|words| find(clause.bits, words.phrases()))
            .map(|(at, _)| clause.from + at)
            .min()
            .filter(|_| !is_lost && !is_drawn);
        let shown = clause
            .bits
            .iter()
            .position(|bit| bit.quantity().is_some_and(is_gravity));
        let shown = shown.map(|at| clause.from + at);
        let is_moved = has(LogWord::Moved) && !is_fermenting && self.label != Label::Fermenter;
        let is_state = find(clause.bits, &["now", "volume", "remaining"]).is_some();
        let is_put = has(LogWord::Added) && !(has(LogWord::Moved) && is_fermenting);
        if is_elsewhere || !is_drawn && !is_lost && (is_put || is_moved) {
            return;
        }
        for at in clause.from..clause.from + clause.bits.len() {
            let Some((written, span)) = self
                .quantity(at)
                .map(|(written, span)| (as_volume(written, is_drawn), span))
                .filter(|(written, _)| written.unit.dimension() == Dimension::Volume)
            else {
                continue;
            };
            // `20 L at 1.050, 200 ml slurry`: before the gravity it is wort, and yeast behind it.
            let is_wort =
                not_beer.is_none_or(|yeast| shown.is_some_and(|shown| at < shown && shown < yeast));
            if self.is_used(at) || !is_wort {
                continue;
            }
            self.use_bit(at);
            let is_open = !self.label.is_before_fermenter();
            // `1.010 (100 ml)`: so little beside a reading is what was read.
            let is_sample = is_fermenting
                && clause.bits.len() == 1
                && written.unit.to_base(written.number) <= SAMPLE_L
                && self.has_shown();
            // `2 L left for bottles` are there.
            let left = find(clause.bits, &["left"]).map(|(left, _)| clause.from + left);
            let is_lost = is_lost && left.is_none_or(|left| left < at);
            let what = if is_open && is_lost {
                What::Lost(written)
            } else if is_open && (is_drawn || is_sample) {
                What::Drawn(self.times(at, clause.from, written))
            } else {
                let is_kept = matches!(self.label, Label::Wort(_));
                let warmth = is_kept.then(|| self.warmth_of_volume(at)).flatten();
                What::Volume(Litres {
                    written,
                    label: self.label,
                    warmth,
                    is_left: is_fermenting && (has(LogWord::Moved) || is_state),
                })
            };
            self.entries.push(Entry::new(what, span));
        }
    }

    fn has_shown(&self) -> bool {
        let is_shown = |entry: &Entry| matches!(entry.what, What::Shown(_));
        self.entries.iter().any(is_shown)
    }

    /// `two samples of 100 ml`: so many times as much.
    fn times(&mut self, at: usize, from: usize, written: AsWritten) -> AsWritten {
        let counted = |at: &usize| {
            let number = self.bits.get(*at)?.bare()?.middle();
            let is_count = number.fract() == 0.0 && (2.0..=12.0).contains(&number);
            let of = self.bits.get(at + 1).and_then(Bit::word);
            (is_count && matches!(of, Some("samples" | "bottles" | "jars" | "of")))
                .then_some(number)
        };
        let found = (from..at).find_map(|at| Some((at, counted(&at)?)));
        let Some((place, count)) = found else {
            return written;
        };
        self.use_bit(place);
        AsWritten::plain(written.number * count, written.unit)
    }

    /// `27 L at 95 C`, `27 L @ 95 C`, `27 L, 95 C`: the temperature right behind a volume.
    fn warmth_of_volume(&mut self, volume: usize) -> Option<(AsWritten, Span)> {
        let links = |bit: &Bit| bit.is_mark('@') || bit.is_mark(',') || bit.word() == Some("at");
        let is_linked = self.bits.get(volume + 1).is_some_and(links);
        let at = volume + 1 + usize::from(is_linked);
        let (written, span) = self.quantity(at)?;
        if written.unit.dimension() != Dimension::Temperature || self.is_used(at) {
            return None;
        }
        self.use_bit(at);
        Some((written, span))
    }
}
