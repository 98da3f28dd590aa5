//! Souring before the boil as it is jotted: its figures stand on several lines, and make one of the notation.

use super::draft::{line, tokens};
use super::group::{Figure, Group};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::tree::Line;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

/// Heats at which wort is soured and few yeasts are pitched, in degrees Celsius (common practice, no source).
pub(super) const SOURED_AT: std::ops::RangeInclusive<f64> = 30.0..=50.0;

/// Above this pH a wort is as its mash made it; no mash is brought below (common practice, no source).
pub(super) const ACIDIFIED_BELOW_PH: f64 = 5.0;

/// Words of what sours wort.
pub(super) const CULTURES: [&str; 6] = [
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
pub(super) const LEAST_MIN: f64 = 300.0;

/// How long bacteria usually take (common practice, no source).
const USUAL: &str = "2 days";

/// What is known of the souring so far.
#[derive(Debug, Clone, Default)]
pub(super) struct Soured {
    time: Option<(AsWritten, Span)>,
    at: Option<(AsWritten, Span)>,
    /// To which acid brings the wort before the bacteria.
    acidified: Option<(AsWritten, Span)>,
    ph: Option<(AsWritten, Span)>,
    culture: Option<(String, Span)>,
    span: Option<Span>,
}

impl Soured {
    /// Takes what a group says of it, and leaves it the rest.
    pub(super) fn take(&mut self, group: &mut Group) {
        let is_culture = |words: &[String]| {
            let mut words = words.iter();
            words.any(|word| CULTURES.contains(&word.as_str()))
        };
        let named = group
            .name
            .as_ref()
            .map(|name| (name.words.clone(), name.span));
        let named = named.filter(|(words, _)| is_culture(words)).or_else(|| {
            let words: Vec<String> = group
                .others
                .extract_if(.., |word| CULTURES.contains(&word.as_str()))
                .collect();
            is_culture(&words).then(|| (words, group.span.unwrap_or_default()))
        });
        let is_culture = named.is_some();
        if let Some((words, span)) = named {
            let amount = group.figures.iter().position(Figure::is_amount);
            let amount = amount.map(|at| group.figures.remove(at).text());
            // `lacto culture`, by the name that the catalogue has.
            let words = match words.join(" ").as_str() {
                "lacto" | "lacto culture" | "lacto bacteria" => "lactobacillus culture".to_owned(),
                words => words.replace("lacto ", "lactobacillus "),
            };
            let text = amount.map_or_else(|| words.clone(), |much| format!("{much} {words}"));
            self.culture = Some((text, span));
        }
        let before = group.figures.len();
        group.figures.retain(|figure| !self.takes(figure));
        if is_culture || group.figures.len() < before {
            self.span = self.span.or(group.span);
        }
    }

    fn takes(&mut self, figure: &Figure) -> bool {
        // `cool to 95`: no wort is soured at so many degrees Celsius.
        let bare = figure
            .bare
            .filter(|bare| (86.0..=120.0).contains(&bare.middle()))
            .map(|bare| AsWritten::marked(bare, Unit::Fahrenheit));
        let Some(written) = figure.written.or(bare) else {
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
        *slot = Some((written, figure.span));
        true
    }

    /// Bacteria of which nobody says how long they work.
    pub(super) fn question(&self) -> Option<Diagnostic> {
        let (culture, span) = self.culture.as_ref()?;
        if self.time.is_some() || self.ph.is_some() {
            return None;
        }
        let message = format!(
            "expected how long `{culture}` sours the wort, or to which pH; assumed {USUAL}"
        );
        let found = Diagnostic::warning(Code::MissingQuantity, *span, message);
        Some(found.with_help(format!("write `sour for 2 days to pH 3.4 with {culture}`")))
    }

    /// The line of the notation, if there is enough to say.
    pub(super) fn line(&self) -> Option<Line<'static>> {
        let span = self.span?;
        let is_open = self.time.is_none() && self.ph.is_none();
        if is_open && self.culture.is_none() {
            return None;
        }
        let figures = [
            (self.time, "for", true),
            (self.at, "at", true),
            (self.acidified, "from pH", false),
            (self.ph, "to pH", false),
        ];
        let mut whole = tokens("sour", span);
        if is_open {
            whole.extend(tokens(&format!("for {USUAL}"), span));
        }
        for (figure, leads, has_unit) in figures {
            let Some((written, span)) = figure else {
                continue;
            };
            let text = if has_unit {
                written.to_string()
            } else {
                written.number.to_string()
            };
            whole.extend(tokens(&format!("{leads} {text}"), span));
        }
        if let Some((culture, span)) = &self.culture {
            whole.extend(tokens(&format!("with {culture}"), *span));
        }
        Some(line(whole, Vec::new()))
    }
}
