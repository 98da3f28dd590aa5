//! When an ingredient goes in, and at what heat.

use super::{Item, WHOLE_BOIL};
use crate::catalogue::Kind;
use crate::notation::free::group::{Group, Link};
use crate::notation::free::said::{Part, Slot, trade};
use crate::notation::free::told::Told;
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Unit};

impl Item {
    /// When it goes in, and how long it stays.
    pub(super) fn when(&mut self, group: &mut Group, part: Part, boil: Option<&str>) {
        let part = group.when.first().map_or(part, |when| when.part);
        let has_time = group
            .figures
            .iter()
            .any(|figure| figure.dimension() == Some(Dimension::Time));
        for when in std::mem::take(&mut group.when) {
            let timing = match boil {
                Some(boil) => when.line.replace("{boil}", boil),
                None => when.line.to_owned(),
            };
            // Until the time of the boil is known.
            let timing = timing.replace("{boil}", WHOLE_BOIL);
            let is_whole = timing.starts_with("at") && !timing.contains('{');
            if is_whole && !(has_time && part == Part::Boil) && self.timing.is_empty() {
                self.timing.push((timing, group.span.unwrap_or_default()));
            }
        }
        let mut rest = Vec::new();
        for figure in std::mem::take(&mut group.figures) {
            let says = match (figure.dimension(), part) {
                _ if figure.link == Link::Most => None,
                (Some(Dimension::Time), Part::Boil)
                    if self.timing.is_empty()
                        && figure.link != Link::After
                        && figure
                            .written
                            .is_some_and(|written| !is_of_cellar(&written)) =>
                {
                    Some("at")
                }
                // Minutes left are those of a boil.
                (Some(Dimension::Time), Part::Ferment | Part::Package)
                    if figure.link == Link::At
                        && figure
                            .written
                            .is_some_and(|written| written.unit == Unit::Minute) =>
                {
                    None
                }
                // `nutrient 8 oz at 24 h`: when, and not for how long.
                (Some(Dimension::Time), Part::Ferment)
                    if figure.link == Link::At && self.timing.is_empty() =>
                {
                    let days = figure.written.map(|written| {
                        written.unit.to_base(written.number) / Unit::Day.to_base(1.0)
                    });
                    if let Some(days) = days {
                        self.timing.push((format!("on day {days}"), figure.span));
                    }
                    continue;
                }
                // How long the yeast works stands on a line of its own.
                (Some(Dimension::Time), _) if self.kind == Kind::Yeast => None,
                (Some(Dimension::Time), Part::Stand | Part::Ferment | Part::Package) => Some("for"),
                (Some(Dimension::Temperature), Part::Stand | Part::Ferment | Part::Package)
                    if self.timing.iter().all(|(text, _)| text.starts_with("for")) =>
                {
                    Some("at")
                }
                (Some(Dimension::Gravity | Dimension::Ratio), Part::Ferment | Part::Log)
                    if matches!(self.kind, Kind::Juice | Kind::Beverage)
                        && figure.link == Link::None =>
                {
                    if let Some(written) = figure.written {
                        self.figures.push((written.to_string(), figure.span));
                    }
                    continue;
                }
                (Some(Dimension::Gravity | Dimension::Ratio), Part::Ferment)
                    if self.kind != Kind::Yeast || figure.link != Link::None =>
                {
                    Some("when")
                }
                (None, Part::Ferment | Part::Package | Part::Log) if figure.link == Link::Day => {
                    if let Some(day) = figure.bare {
                        self.timing
                            .push((format!("on day {}", day.middle()), figure.span));
                    }
                    continue;
                }
                _ => None,
            };
            match (says, figure.written) {
                (Some(says), Some(written)) => {
                    self.timing.push((format!("{says} {written}"), figure.span));
                }
                _ => rest.push(figure),
            }
        }
        group.figures = rest;
        // `day 7 at 15 C`: when it goes in; the heat is that of the beer.
        let is_dated = self
            .timing
            .iter()
            .any(|(text, _)| text.starts_with("on day") || text.starts_with("when"));
        if is_dated && self.kind != Kind::Yeast {
            let told = &mut self.told;
            self.timing.retain(|(text, span)| {
                let is_heat = text.starts_with("at ");
                if is_heat {
                    told.push(Told::NotUsed(text.replace("at ", ""), *span));
                }
                !is_heat
            });
        }
        // `on day 5 for 3 days`, in this order.
        self.timing.sort_by_key(|(text, _)| text.starts_with("for"));
    }

    /// `US ale yeast, 1 pack, 66`: the heat at which it is pitched, without its unit.
    pub(super) fn warmth(&mut self, group: &mut Group, part: Part, is_us: bool) {
        if !self.timing.is_empty() || !matches!(part, Part::Ferment | Part::Package) {
            return;
        }
        let is_plain = group.others.iter().all(|word| trade().is_how_made(word));
        let found = group.figures.iter().position(|figure| {
            let is_heat = figure.link == Link::At || figure.link == Link::None && is_plain;
            figure.bare.is_some_and(|bare| bare.low >= 6.0) && is_heat
        });
        let Some(at) = found else { return };
        let Some(figure) = group.figures.get(at).copied() else {
            return;
        };
        let Some(bare) = figure.bare else { return };
        let Some(unit) = Slot::Temperature.bare(bare.middle(), Part::Ferment, is_us) else {
            return;
        };
        group.figures.remove(at);
        let written = AsWritten::marked(bare, unit);
        self.told.push(Told::Assumed(
            figure.text(),
            written.to_string(),
            figure.span,
        ));
        self.timing.push((format!("at {written}"), figure.span));
    }
}

/// Whether a time is one of the cellar: no wort boils for days.
pub(in crate::notation::free) const fn is_of_cellar(time: &AsWritten) -> bool {
    matches!(time.unit, Unit::Day | Unit::Week)
        || matches!(time.unit, Unit::Hour) && time.number > 6.0
}
