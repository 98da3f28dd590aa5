//! The wort that went into the fermenter.

use super::entry::{Entry, Label, What};
use super::jotted_number::plato;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::quantity::lexer::AsWritten;

/// What is weaker may as well be a beer that was read first (common practice, no source).
const WEAKEST_PLATO: f64 = 6.0;

/// The wort that went into the fermenter: which entries say its gravity and its volume.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wort {
    pub(super) gravity: usize,
    pub(super) volume: usize,
    pub(super) written: AsWritten,
    pub(super) span: Span,
}

/// Volume and gravity of one line, or of one day, before the beer was read again.
pub(super) fn wort(entries: &[Entry]) -> Option<Wort> {
    let first = entries.iter().find(|entry| entry.is_of_the_beer());
    let is_of_the_start = |entry: &Entry| {
        first.is_none_or(|first| {
            // `OG 1.050`, and `Volume 20 L` below it.
            let is_below = entry.line <= first.line + 2 && !matches!(entry.what, What::Shown(_));
            entry.line <= first.line
                || is_below && entry.day.is_none() && first.day.is_none()
                || entry.day.is_some()
                    && entry.day.map(|(day, _)| day) == first.day.map(|(day, _)| day)
        })
    };
    let early = || {
        entries
            .iter()
            .enumerate()
            .filter(|(_, entry)| is_of_the_start(entry))
    };
    let volumes = early().filter_map(|(at, entry)| match &entry.what {
        What::Volume(litres) if !litres.label.is_before_fermenter() => {
            Some((at, entry, &litres.written, litres.label))
        }
        _ => None,
    });
    let gravities = || {
        early().filter_map(|(at, entry)| match &entry.what {
            What::Shown(shown) if !shown.label.is_before_fermenter() => Some((at, entry)),
            _ => None,
        })
    };
    let volumes: Vec<_> = volumes.collect();
    // `ended with 5.75 gal, 5.25 in the carboy`: what stands in the fermenter first.
    let mut by_place: Vec<_> = volumes.iter().collect();
    by_place.sort_by_key(|(.., label)| *label != Label::Fermenter);
    let of_one_line = by_place.iter().find_map(|(at, entry, written, _)| {
        let (gravity, _) = gravities().find(|(_, other)| other.line == entry.line)?;
        Some((gravity, *at, **written, entry.span))
    });
    // What stands in the fermenter has the gravity that was knocked out.
    let of_two = || {
        volumes
            .iter()
            .filter(|(.., label)| *label == Label::Fermenter)
            .find_map(|(at, entry, written, _)| {
                let before = gravities().rfind(|(_, other)| other.line <= entry.line);
                let (gravity, _) = before
                    .or_else(|| gravities().find(|(_, other)| other.line == entry.line + 1))?;
                Some((gravity, *at, **written, entry.span))
            })
    };
    // `Ale, 20 L` above, and the gravity of a later line.
    let of_head = || {
        let (at, entry, written, _) = volumes.first()?;
        let (gravity, read) = gravities().next()?;
        let days = entry.day.zip(read.day);
        let is_later = days.is_some_and(|((volume, _), (gravity, _))| volume != gravity);
        let is_wort = match &read.what {
            What::Shown(shown) => plato(&shown.written).is_some_and(|plato| plato >= WEAKEST_PLATO),
            _ => false,
        };
        (is_wort && !is_later).then_some((gravity, *at, **written, entry.span))
    };
    let found = of_one_line.or_else(of_two).or_else(of_head);
    let (gravity, volume, written, span) = found?;
    Some(Wort {
        gravity,
        volume,
        written,
        span,
    })
}

/// What a log with readings lacks to begin with: the wort, or a figure of it.
pub(super) fn lacks(entries: &[Entry]) -> Option<Diagnostic> {
    let start = entries.iter().position(Entry::is_of_the_beer)?;
    let before = entries.get(..start);
    let volume = before
        .unwrap_or(&[])
        .iter()
        .find_map(|entry| match &entry.what {
            What::Volume(litres) if !litres.label.is_before_fermenter() => {
                Some((litres.written, entry.span))
            }
            _ => None,
        });
    let mut shown = entries.iter().filter(|entry| entry.is_of_the_beer());
    let first = shown.next();
    let what = first.and_then(|first| match &first.what {
        What::Shown(shown) => Some((shown.written, first.span)),
        _ => None,
    });
    let (message, help, span) = match (volume, what) {
        (Some((litres, span)), _) => (
            format!("expected the gravity of the wort beside {litres}, found none that can be it"),
            format!("write both on one line, such as `{litres} at 1.050`"),
            span,
        ),
        (None, Some((gravity, span))) if shown.next().is_some() => (
            format!("expected how much wort there was beside its gravity {gravity}, found none"),
            format!("write both on one line, such as `20 L at {gravity}`"),
            span,
        ),
        _ => return None,
    };
    Some(Diagnostic::warning(Code::MissingQuantity, span, message).with_help(help))
}
