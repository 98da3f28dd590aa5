//! What is stated of an ingredient: its form, its colour, its strength.

use super::Item;
use crate::catalogue::{EntryRef, Kind};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::group::{Figure, Group, Link};
use crate::notation::free::names::{Among, Resolved};
use crate::notation::free::said::Part;
use crate::notation::free::shared::SHARED;
use crate::notation::free::sheet::Sheet;
use crate::notation::free::told::Told;
use crate::notation::lower::{has_figure, is_form_of_fruit, may_label};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, MaltColour, Quantity, Unit};

/// Words that say how dark a malt is.
const SHADES: [&str; 5] = ["light", "medium", "dark", "extra", "pale"];

impl Item {
    /// The form of a hop, of the words that say how it was prepared.
    pub(super) fn form(&mut self, words: &[String]) {
        if self.kind == Kind::Juice {
            let said = |(figure, _): &(String, _)| is_form_of_fruit(figure);
            if self.figures.iter().any(said) {
                return;
            }
            let form = words.iter().find_map(|word| match word.as_str() {
                "thawed" | "frozen" | "crushed" => Some("thawed"),
                "puree" | "pureed" => Some("puree"),
                "pitted" | "stoned" => Some("pitted"),
                "chopped" => Some("chopped"),
                _ => None,
            });
            self.figures
                .extend(form.map(|form| (form.to_owned(), self.name_span)));
            return;
        }
        if self.kind != Kind::Hop || !self.figures.is_empty() {
            return;
        }
        let form = words.iter().find_map(|word| match word.as_str() {
            "pellet" | "pellets" | "t90" | "t45" => Some("pellet"),
            "leaf" | "cone" | "cones" | "whole" | "plug" | "plugs" => Some("whole"),
            "fresh" | "wet" | "green" => Some("fresh"),
            _ => None,
        });
        if let Some(form) = form {
            self.figures.push((form.to_owned(), self.name_span));
        }
    }

    /// The 60 of `crystal 60`: degrees Lovibond or EBC, by its size and the measure of the text.
    pub(super) fn shade(&mut self, figures: &[(f64, Option<Unit>)], span: Span, is_us: bool) {
        let is_grain = matches!(self.kind, Kind::Malt | Kind::Grain);
        for (number, unit) in figures.iter().filter(|_| is_grain) {
            let written = AsWritten::plain(*number, unit.unwrap_or(colour_of(*number, is_us)));
            if written.unit.dimension() == Dimension::Colour {
                self.figures.push((written.to_string(), span));
                if unit.is_none() {
                    self.told
                        .push(Told::Asked(shade_without_unit(*number, span, is_us)));
                }
            }
        }
    }

    /// `40 L` of a malt that has its mass, or a colour with its unit.
    pub(super) fn colour(&mut self, group: &mut Group) {
        let has_mass = group.figures.iter().any(|figure| {
            matches!(
                figure.dimension(),
                Some(Dimension::Mass | Dimension::Percent)
            )
        });
        let may_be = matches!(self.kind, Kind::Malt | Kind::Grain | Kind::Sugar);
        let found = group
            .figures
            .iter()
            .position(|figure| match figure.dimension() {
                Some(Dimension::Colour) => may_be || self.kind == Kind::Juice,
                _ => figure.written.is_some_and(|written| {
                    written.unit == Unit::Litre
                        && has_mass
                        && matches!(self.kind, Kind::Malt | Kind::Grain)
                }),
            });
        let Some(at) = found else { return };
        let figure = group.figures.remove(at);
        let Some(mut written) = figure.written else {
            return;
        };
        if written.unit == Unit::Litre {
            let typed = written.to_string();
            written.unit = Unit::Lovibond;
            self.told
                .push(Told::Assumed(typed, written.to_string(), figure.span));
        }
        self.figures.push((written.to_string(), figure.span));
    }

    /// `crystal 150 EBC`: the grade of that colour.
    pub(super) fn grade(&mut self, sheet: &Sheet<'_>) {
        let read = |(text, _): &(String, Span)| AsWritten::read(text, &[Dimension::Colour]).ok();
        let stated = self.figures.iter().find_map(read);
        let Some(stated) = stated.filter(|_| self.kind == Kind::Malt) else {
            return;
        };
        let colour = MaltColour::clamped(stated.unit.to_base(stated.number));
        let catalogue = sheet.names.catalogue;
        if let Some(found) = catalogue.find(&self.name) {
            let grade = catalogue.grade(found.entry, colour);
            if grade != found.entry {
                grade.name().clone_into(&mut self.name);
            }
        }
    }

    /// `caramel malt dark, 120 EBC`: a word of shade that the line's own colour denies goes.
    pub(super) fn nearer_shade(&mut self, sheet: &Sheet<'_>, words: &[String]) {
        let read = |(text, _): &(String, Span)| AsWritten::read(text, &[Dimension::Colour]).ok();
        let Some(stated) = self
            .figures
            .iter()
            .find_map(read)
            .filter(|_| self.kind == Kind::Malt)
        else {
            return;
        };
        let stated = stated.unit.to_base(stated.number);
        let far = |name: &str| match sheet.names.catalogue.find(name)?.entry {
            EntryRef::Fermentable(malt) => {
                let own = malt.colour?.in_base();
                Some((own / stated).ln().abs())
            }
            _ => None,
        };
        let plain: Vec<String> = words
            .iter()
            .filter(|word| !SHADES.contains(&word.as_str()))
            .cloned()
            .collect();
        if plain.len() == words.len() || plain.is_empty() {
            return;
        }
        let Some(Resolved::One(other)) = sheet.names.among(&plain, Among::Kinds(&[Kind::Malt]))
        else {
            return;
        };
        let (Some(own), Some(others)) = (far(&self.name), far(&other.name)) else {
            return;
        };
        // A colour of half as much again is another shade (common practice, no source).
        if own > 1.5_f64.ln() && others < own {
            self.told.push(Told::Assumed(
                words.join(" "),
                other.name.clone(),
                self.name_span,
            ));
            self.name = other.name;
        }
    }

    /// A share beside an amount: alpha acids of a hop, attenuation of a yeast.
    pub(super) fn percent(&mut self, group: &mut Group) {
        let Some(at) = group
            .figures
            .iter()
            .position(|figure| figure.dimension() == Some(Dimension::Percent))
        else {
            return;
        };
        let Some(written) = group.figures.get(at).and_then(|figure| figure.written) else {
            return;
        };
        // A word that says what it is a share of goes before what the kind tells.
        if let Some(label) = group.others.iter().position(|word| may_label(word)) {
            let is_had = group
                .others
                .get(label)
                .is_some_and(|word| has_figure(self.kind, word));
            if is_had {
                let label = group.others.remove(label);
                let dry = group.others.iter().position(|word| word == "dry");
                let basis = dry.map_or("", |at| {
                    group.others.remove(at);
                    " dry"
                });
                let figure = group.figures.remove(at);
                self.figures
                    .push((format!("{written} {label}{basis}"), figure.span));
            }
            return;
        }
        let label = match self.kind {
            Kind::Hop if written.number < 30.0 => "alpha",
            Kind::Yeast if written.number >= 50.0 => "attenuation",
            Kind::Beverage => "alcohol",
            _ => return,
        };
        let figure = group.figures.remove(at);
        self.figures
            .push((format!("{written} {label}"), figure.span));
    }

    /// The pitching rate of a yeast.
    pub(super) fn rate(&mut self, group: &mut Group) {
        let is_rate = |figure: &Figure| figure.dimension() == Some(Dimension::PitchRate);
        if self.kind == Kind::Yeast
            && let Some(at) = group.figures.iter().position(is_rate)
        {
            let figure = group.figures.remove(at);
            self.figures.push((figure.text(), figure.span));
        }
    }

    /// Numbers without unit: alpha acids and minutes of a hop, the shade of a caramel malt.
    pub(super) fn bare(
        &mut self,
        group: &mut Group,
        part: Part,
        name: usize,
        end: usize,
        is_us: bool,
    ) {
        let mut rest = Vec::new();
        let is_pair = group
            .figures
            .iter()
            .filter(|figure| figure.bare.is_some())
            .count()
            > 1;
        for figure in std::mem::take(&mut group.figures) {
            let Some(bare) = figure.bare.filter(|_| figure.link != Link::Day) else {
                rest.push(figure);
                continue;
            };
            let number = bare.middle();
            // `between the two`: few things but hops are jotted with their minutes alone, and those by fives.
            let is_time = self.kind == Kind::Hop || figure.link == Link::At || number % 5.0 == 0.0;
            let has_alpha = self.figures.iter().any(|(text, _)| text.ends_with("alpha"));
            let is_of_name = figure.at == end;
            // `galena (13) at the start`: a mark stands between, and the time is said.
            let is_bracketed = figure.at == end + 1 && !self.timing.is_empty();
            // A name that a heading says stands before all of the line.
            let is_behind = figure.at > name || name >= SHARED || figure.link == Link::At;
            let read = match (self.kind, part) {
                (Kind::Hop, Part::Boil)
                    if figure.link == Link::None
                        && !has_alpha
                        && (number.fract() != 0.0 || is_of_name && is_pair || is_bracketed)
                        && (1.5..=25.0).contains(&number) =>
                {
                    let text = format!("{number} % alpha");
                    self.figures.push((text.clone(), figure.span));
                    text
                }
                (_, Part::Boil)
                    if is_time
                        && is_behind
                        && self.timing.is_empty()
                        && (0.0..=240.0).contains(&number) =>
                {
                    let text = format!("{number} min");
                    self.timing.push((format!("at {text}"), figure.span));
                    text
                }
                (Kind::Malt, Part::Mash | Part::Stock)
                    if is_of_name
                        && (self.amount.is_some() || part == Part::Stock)
                        && (2.0..=700.0).contains(&number) =>
                {
                    self.figures.push((
                        AsWritten::plain(number, colour_of(number, is_us)).to_string(),
                        figure.span,
                    ));
                    self.told
                        .push(Told::Asked(shade_without_unit(number, figure.span, is_us)));
                    continue;
                }
                _ => {
                    rest.push(figure);
                    continue;
                }
            };
            self.told
                .push(Told::Assumed(number.to_string(), read, figure.span));
        }
        group.figures = rest;
    }
}

/// The scale of a malt's colour that a text leaves out: shops that sell by the pound sell by degrees Lovibond, and the shades that
/// others name by EBC are of three digits (common practice, no source).
fn colour_of(number: f64, is_us: bool) -> Unit {
    if is_us || number < 100.0 {
        Unit::Lovibond
    } else {
        Unit::Ebc
    }
}

/// `crystal 60`: shops of one country mean degrees Lovibond, those of another EBC.
fn shade_without_unit(number: f64, span: Span, is_us: bool) -> Diagnostic {
    let assumed = AsWritten::plain(number, colour_of(number, is_us));
    let message = format!("expected a unit after the colour `{number}`; assumed {assumed}");
    Diagnostic::warning(Code::MissingUnit, span, message)
        .with_help(format!("write `{number} lovibond` or `{number} EBC`"))
}
