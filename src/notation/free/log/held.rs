//! How much is in the fermenter, as far as the litres of a log tell: what a vessel that is filled up takes.

use super::entry::{Entry, Label, Litres, UpTo, What};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::draft::tokens;
use crate::notation::free::told::Told;
use crate::notation::tree::Token;
use crate::quantity::Unit;
use crate::quantity::lexer::AsWritten;

/// The litres that are there.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Held {
    /// Nothing before the wort, or once something went in or out whose litres are not known.
    litres: Option<f64>,
    is_read: bool,
}

impl Held {
    pub(super) fn fill(&mut self, written: &AsWritten) {
        self.litres = Some(litres(written));
    }

    /// After an entry of the beer.
    pub(super) fn take(&mut self, entry: &Entry) {
        match &entry.what {
            What::Shown(_) => self.is_read = true,
            What::Drawn(written) => self.change(Some(-litres(written))),
            What::Added(added) => self.change(added.litres),
            _ => {}
        }
    }

    fn change(&mut self, by: Option<f64>) {
        self.litres = self.litres.zip(by).map(|(own, by)| own + by);
    }

    /// `added 2 L water`, of `topped up to 20 L`.
    pub(super) fn filled(
        &mut self,
        up: &UpTo,
        span: Span,
        told: &mut Vec<Told>,
    ) -> Option<Vec<Token<'static>>> {
        let to = litres(&up.written);
        let Some(by) = self.litres.map(|own| to - own).filter(|by| *by > 0.0) else {
            told.push(Told::Asked(how_much(up, self.litres, span)));
            self.litres = Some(to);
            return None;
        };
        self.litres = Some(to);
        let amount = in_unit(by, up.written.unit);
        let typed = format!("filled up to {}", up.written);
        told.push(Told::Assumed(typed, format!("{amount} that went in"), span));
        let mut written = tokens("added", span);
        written.extend(tokens(&format!("{amount} {}", up.with), span));
        Some(written)
    }

    /// `drawn 1.5 L`, of `lost 1.5 L`: nothing before the beer was read, as nobody knows then what it was.
    pub(super) fn lost(
        &mut self,
        written: &AsWritten,
        span: Span,
        told: &mut Vec<Told>,
    ) -> Option<Vec<Token<'static>>> {
        if !self.is_read {
            self.change(Some(-litres(written)));
            told.push(Told::NotUsed(written.to_string(), span));
            return None;
        }
        self.change(Some(-litres(written)));
        Some(tokens(&format!("drawn {written}"), span))
    }

    /// `racked, 18 L`: the difference is lost, where that is known and something goes in later.
    pub(super) fn left(
        &mut self,
        now: &AsWritten,
        span: Span,
        told: &mut Vec<Told>,
    ) -> Option<Vec<Token<'static>>> {
        let lost = self.litres.map(|own| own - litres(now));
        let Some(lost) = lost.filter(|lost| *lost > 0.0 && self.is_read) else {
            told.push(Told::NotUsed(now.to_string(), span));
            return None;
        };
        self.litres = Some(litres(now));
        let amount = in_unit(lost, now.unit);
        let read = format!("what is left, {amount} having gone");
        told.push(Told::Assumed(now.to_string(), read, span));
        Some(tokens(&format!("drawn {amount}"), span))
    }
}

fn litres(written: &AsWritten) -> f64 {
    written.unit.to_base(written.number)
}

/// To a thousandth, in the unit that the line speaks in.
fn in_unit(litres: f64, unit: Unit) -> AsWritten {
    let number = litres / unit.to_base(1.0);
    AsWritten::plain((number * 1000.0).round() / 1000.0, unit)
}

fn how_much(up: &UpTo, held: Option<f64>, span: Span) -> Diagnostic {
    let there = held.map_or_else(
        || "how much was there before is not known".to_owned(),
        |held| format!("the log has {held:.1} L there before"),
    );
    let message = format!("expected how much went in to reach {}; {there}", up.written);
    let with = up
        .with
        .split(',')
        .next()
        .unwrap_or("water")
        .replace('"', "");
    Diagnostic::error(Code::MissingQuantity, span, message).with_help(format!(
        "write the amount itself, such as `added 2 L {with}`"
    ))
}

/// A vessel filled up before the first gravity holds the wort that this is of.
pub(super) fn fill_first(entries: &mut Vec<Entry>) {
    // Of wort on its way to the fermenter too.
    let first = entries.iter().position(
        |entry| matches!(&entry.what, What::Shown(shown) if !shown.label.is_before_fermenter()),
    );
    let is_wort = |entry: &Entry| matches!(&entry.what, What::Volume(litres) if !litres.label.is_before_fermenter());
    let volumes = entries.iter().position(is_wort);
    let filled = entries
        .iter()
        .position(|entry| matches!(entry.what, What::UpTo(_)));
    let Some(at) = filled else { return };
    let is_before = first.is_none_or(|first| at < first);
    let is_only = volumes.is_none_or(|volume| volume > at)
        && first
            .and_then(|first| entries.get(first))
            .is_some_and(|first| entries.get(at).is_some_and(|own| own.line == first.line));
    if !(is_before || is_only) {
        return;
    }
    if let Some(entry) = entries.get_mut(at)
        && let What::UpTo(up) = &entry.what
    {
        entry.what = What::Volume(Litres {
            written: up.written,
            label: Label::Fermenter,
            warmth: None,
            is_left: false,
        });
    }
    let mut place = 0;
    entries.retain(|entry| {
        let is_kept = place >= at || !is_wort(entry);
        place += 1;
        is_kept
    });
}
