//! Souring before the boil as it is jotted: its figures stand on several lines, and make one of the notation.

use super::draft::{line, tokens};
use super::group::{Figure, Group};
use crate::diagnostic::Span;
use crate::notation::tree::Line;
use crate::quantity::Dimension;
use crate::quantity::lexer::AsWritten;

/// Heats at which wort is soured and few yeasts are pitched, in degrees Celsius (common practice, no source).
pub(super) const SOURED_AT: std::ops::RangeInclusive<f64> = 30.0..=50.0;

/// Above this pH a wort is as its mash made it; no mash is brought below (common practice, no source).
pub(super) const ACIDIFIED_BELOW_PH: f64 = 5.0;

/// Words of what sours wort.
const CULTURES: [&str; 6] = [
    "lacto",
    "lactobacillus",
    "yoghurt",
    "yogurt",
    "plantarum",
    "lactic bacteria",
];
/// A wort at a higher pH is brought there by acid, before the bacteria.
const SOURED_BELOW_PH: f64 = 4.2;
/// Bacteria take hours, min (common practice, no source); what takes less is a boil before them.
const LEAST_MIN: f64 = 300.0;

/// What is known of the souring so far.
#[derive(Debug, Clone, Default)]
pub(super) struct Soured {
    time: Option<AsWritten>,
    at: Option<AsWritten>,
    /// To which acid brings the wort before the bacteria.
    acidified: Option<AsWritten>,
    ph: Option<AsWritten>,
    culture: Option<String>,
    span: Option<Span>,
}

impl Soured {
    /// Takes what a group says of it, and leaves it the rest.
    pub(super) fn take(&mut self, group: &mut Group) {
        let named = group.name.as_ref().filter(|name| {
            let mut words = name.words.iter();
            words.any(|word| CULTURES.contains(&word.as_str()))
        });
        let is_culture = named.is_some();
        if let Some(name) = named {
            let amount = group.figures.iter().position(Figure::is_amount);
            let amount = amount.map(|at| group.figures.remove(at).text());
            let words = name.words.join(" ");
            self.culture =
                Some(amount.map_or_else(|| words.clone(), |much| format!("{much} {words}")));
        }
        let before = group.figures.len();
        group.figures.retain(|figure| !self.takes(figure));
        if is_culture || group.figures.len() < before {
            self.span = self.span.or(group.span);
        }
    }

    fn takes(&mut self, figure: &Figure) -> bool {
        let Some(written) = figure.written else {
            return false;
        };
        let value = written.unit.to_base(written.number);
        let slot = match written.unit.dimension() {
            Dimension::Temperature if SOURED_AT.contains(&value) => &mut self.at,
            Dimension::Time if value >= LEAST_MIN => &mut self.time,
            Dimension::Ph if value < SOURED_BELOW_PH => &mut self.ph,
            Dimension::Ph if value <= ACIDIFIED_BELOW_PH => &mut self.acidified,
            _ => return false,
        };
        *slot = Some(written);
        true
    }

    /// The line of the notation, if there is enough to say.
    pub(super) fn line(&self) -> Option<Line<'static>> {
        let span = self.span?;
        if self.time.is_none() && self.ph.is_none() {
            return None;
        }
        let clauses = [
            Some("sour".to_owned()),
            self.time.map(|time| format!("for {time}")),
            self.at.map(|at| format!("at {at}")),
            self.acidified.map(|ph| format!("from pH {}", ph.number)),
            self.ph.map(|ph| format!("to pH {}", ph.number)),
            self.culture
                .as_ref()
                .map(|culture| format!("with {culture}")),
        ];
        let clauses: Vec<String> = clauses.into_iter().flatten().collect();
        Some(line(tokens(&clauses.join(" "), span), Vec::new()))
    }
}
