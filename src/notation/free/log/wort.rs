//! The wort that went into the fermenter.

use super::entry::{Entry, Label, What};
use crate::diagnostic::Span;
use crate::quantity::lexer::AsWritten;

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
            entry.line <= first.line
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
    let of_one_line = volumes.iter().find_map(|(at, entry, written, _)| {
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
    let (gravity, volume, written, span) = of_one_line.or_else(of_two)?;
    Some(Wort {
        gravity,
        volume,
        written,
        span,
    })
}
