//! A group that speaks of an ingredient → the item that it says.

use super::draft::{line, tokens};
use super::group::{Figure, Group, Link};
use super::names::{Among, Known, Resolved};
use super::said::{Part, Slot, trade};
use super::sheet::{Sheet, Told};
use crate::catalogue::{EntryRef, Kind};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::lower::{has_figure, is_form_of_fruit, is_form_of_hops, may_label};
use crate::notation::tree::{Line, Token};
use crate::quantity::lexer::AsWritten;
use crate::quantity::{Dimension, Quantity, Unit};

/// Stands for the time of the boil, which may be stated on a later line.
pub(super) const WHOLE_BOIL: &str = "whole-boil";

/// Stands for hops of which only that they are hops is said.
pub(super) const UNNAMED_HOP: &str = "unnamed-hop";

/// Words that say how dark a malt is.
const SHADES: [&str; 5] = ["light", "medium", "dark", "extra", "pale"];

/// An ingredient with what is stated of it.
pub(super) struct Item {
    /// Where it goes in.
    pub(super) part: Part,
    pub(super) kind: Kind,
    name: String,
    name_span: Span,
    amount: Option<(String, Span, AsWritten)>,
    /// Figures of the ingredient: `, 5 EBC`.
    figures: Vec<(String, Span)>,
    timing: Vec<(String, Span)>,
    pub(super) told: Vec<Told>,
}

impl Item {
    /// The ingredient that a group speaks of, if its name is one of those kinds; the group keeps the figures that are left.
    pub(super) fn of(
        sheet: &Sheet<'_>,
        group: &mut Group,
        part: Option<Part>,
        among: Among,
    ) -> Option<Self> {
        let own = group.name.clone()?;
        let name = if own.words == [UNNAMED_HOP] {
            Known {
                name: "hops".to_owned(),
                kind: Kind::Hop,
                figures: Vec::new(),
                form: Vec::new(),
                left_out: Vec::new(),
                is_understood: false,
            }
        } else if own.is_quoted {
            let found = sheet.names.catalogue.find(own.words.first()?)?;
            Known {
                name: found.entry.name().to_owned(),
                kind: found.entry.kind(),
                figures: Vec::new(),
                form: Vec::new(),
                left_out: Vec::new(),
                is_understood: false,
            }
        } else {
            let mut words = own.words.clone();
            words.extend(group.others.iter().cloned());
            let whole = sheet
                .names
                .among(&words, among)
                .filter(|_| !group.others.is_empty());
            let found = match whole {
                Some(found) => {
                    group.others.clear();
                    found
                }
                None => sheet.names.among(&own.words, among)?,
            };
            match found {
                Resolved::One(known) => strong(sheet, group, &own.words, known),
                Resolved::Several(_) if group.amounts().next().is_none() => return None,
                Resolved::Several(names) => {
                    let typed = own.words.join(" ");
                    let message = format!(
                        "expected one ingredient, found `{typed}`, which may be {}",
                        names.join(" or ")
                    );
                    let help = format!("write `{}`", names.join("` or `"));
                    let found = Diagnostic::error(Code::UnknownIngredient, own.span, message);
                    group.doubt = Some(found.with_help(help));
                    return None;
                }
            }
        };
        let part = part.unwrap_or_else(|| sheet.home(name.kind, group));
        let mut item = Self {
            part,
            kind: name.kind,
            name: name.name.clone(),
            name_span: own.span,
            amount: None,
            figures: Vec::new(),
            timing: Vec::new(),
            told: Vec::new(),
        };
        group.name = None;
        item.form(&name.form);
        if item.kind != Kind::Hop {
            // A form of hops, and of nothing else; but `fresh raspberries` are what they are called.
            let is_figure =
                |word: &&String| is_form_of_hops(word) && own.words.first() != Some(*word);
            group
                .others
                .extend(name.form.iter().filter(is_figure).cloned());
        }
        let is_told = |word: &&String| item.kind != Kind::Hop || !is_form_of_hops(word);
        let left_out: Vec<&str> = name
            .left_out
            .iter()
            .filter(is_told)
            .map(String::as_str)
            .collect();
        if !left_out.is_empty() {
            item.told.push(Told::Remark(left_out.join(" "), own.span));
        }
        item.shade(&name.figures, own.span, sheet.is_us);
        item.form(&group.others);
        if matches!(part, Part::Boil | Part::Stand) {
            item.form(sheet.form.as_slice());
        }
        item.colour(group);
        item.nearer_shade(sheet, &own.words);
        item.amount(group, part);
        item.percent(group);
        item.rate(group);
        let boil = sheet.boil_time();
        item.when(group, part, boil.as_deref());
        if item.kind == Kind::Yeast {
            item.warmth(group, part, sheet.is_us);
        }
        item.bare(group, part, own.at, own.at + own.words.len(), sheet.is_us);
        Some(item)
    }

    /// Kilograms, where it is stated by mass.
    pub(super) fn mass(&self) -> Option<f64> {
        let (_, _, written) = self.amount.as_ref()?;
        (written.unit.dimension() == Dimension::Mass).then(|| written.unit.to_base(written.number))
    }

    pub(super) fn volume(&self) -> Option<(AsWritten, Span)> {
        let (_, span, written) = self.amount.as_ref()?;
        (written.unit.dimension() == Dimension::Volume).then_some((*written, *span))
    }

    /// What its amount measures.
    pub(super) fn dimension(&self) -> Option<Dimension> {
        self.amount
            .as_ref()
            .map(|(_, _, written)| written.unit.dimension())
    }

    /// How long before the end of the boil it goes in: `15 min`.
    pub(super) fn left(&self) -> Option<&str> {
        self.timing
            .iter()
            .find_map(|(text, _)| text.strip_prefix("at "))
    }

    /// Whether it says how much.
    pub(super) fn is_stated(&self) -> bool {
        self.amount.is_some()
    }

    /// `ale yeast, 19 C, two weeks`: the temperature that it is held at, and for how long.
    pub(super) fn hold(&self, group: &mut Group) -> Option<Line<'static>> {
        let is_time = |figure: &Figure| figure.dimension() == Some(Dimension::Time);
        let (warmth, span) = self
            .timing
            .iter()
            .find(|(text, _)| text.starts_with("at "))?;
        let at = group
            .figures
            .iter()
            .position(is_time)
            .filter(|_| self.kind == Kind::Yeast)?;
        let time = group.figures.remove(at);
        let text = format!(
            "hold {} for {}",
            warmth.trim_start_matches("at "),
            time.text()
        );
        Some(line(tokens(&text, span.to(time.span)), Vec::new()))
    }

    /// So many times as much, of a sheet that says how much goes into each of several mashes.
    pub(super) fn in_turns(&mut self, turns: f64) {
        let Some((text, span, written)) = &mut self.amount else {
            return;
        };
        if !matches!(
            written.unit.dimension(),
            Dimension::Mass | Dimension::Volume | Dimension::Packs
        ) {
            return;
        }
        let typed = std::mem::take(text);
        written.number *= turns;
        written.range = written.range.map(|(low, high)| (low * turns, high * turns));
        *text = written.to_string();
        self.told.push(Told::Assumed(typed, text.clone(), *span));
    }

    /// Days count from the pitching of the first yeast: what is said of its own day is of something else.
    pub(super) fn pitched_first(&mut self) {
        self.timing.retain(|(timing, span)| {
            let is_day = timing.starts_with("on day");
            if is_day {
                self.told.push(Told::NotUsed(timing.clone(), *span));
            }
            !is_day
        });
    }

    /// Says at what heat it is pitched, if its own line does not.
    pub(super) fn pitch_at(&mut self, figure: &Figure) {
        if self.timing.is_empty() {
            self.timing
                .push((format!("at {}", figure.text()), figure.span));
        }
    }

    /// The line of the item, below a verb where its part has one.
    pub(super) fn tokens(&self, verb: Option<&str>) -> Vec<Token<'static>> {
        let mut line = Vec::new();
        if let Some(verb) = verb {
            line.extend(tokens(verb, self.name_span));
        }
        if let Some((amount, span, _)) = &self.amount {
            line.extend(tokens(amount, *span));
        }
        line.extend(tokens(&self.name, self.name_span));
        for (figure, span) in &self.figures {
            line.extend(tokens("x, x", *span).into_iter().filter(Token::is_comma));
            line.extend(tokens(figure, *span));
        }
        for (timing, span) in &self.timing {
            line.extend(tokens(timing, *span));
        }
        line
    }

    /// The form of a hop, of the words that say how it was prepared.
    fn form(&mut self, words: &[String]) {
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
    fn shade(&mut self, figures: &[(f64, Option<Unit>)], span: Span, is_us: bool) {
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
    fn colour(&mut self, group: &mut Group) {
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

    /// `caramel malt dark, 120 EBC`: a word of shade that the line's own colour denies goes.
    fn nearer_shade(&mut self, sheet: &Sheet<'_>, words: &[String]) {
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

    fn amount(&mut self, group: &mut Group, part: Part) {
        let is_amount = |figure: &Figure, dimension: Dimension| {
            let is_reached =
                matches!(figure.link, Link::When | Link::To) && dimension != Dimension::Bitterness;
            figure.dimension() == Some(dimension) && !is_reached
        };
        let by_rank: &[Dimension] = if self.kind == Kind::Yeast {
            &[
                Dimension::Packs,
                Dimension::Mass,
                Dimension::Volume,
                Dimension::Concentration,
                Dimension::VolumePerVolume,
            ]
        } else {
            &[
                Dimension::Mass,
                Dimension::Packs,
                Dimension::Concentration,
                Dimension::VolumePerVolume,
                Dimension::Bitterness,
                Dimension::Volume,
            ]
        };
        // Grain is not measured in litres.
        let is_grain = matches!(self.kind, Kind::Malt | Kind::Grain);
        let position = by_rank
            .iter()
            .filter(|dimension| !is_grain || **dimension != Dimension::Volume)
            .filter(|dimension| **dimension != Dimension::Bitterness || self.kind == Kind::Hop)
            .find_map(|dimension| {
                group
                    .figures
                    .iter()
                    .position(|figure| is_amount(figure, *dimension))
            });
        if let Some(at) = position {
            let figure = group.figures.remove(at);
            if let Some(written) = figure.written {
                self.amount = Some((written.to_string(), figure.span, written));
            }
            return;
        }
        // A share of the grist, or of the beer.
        let in_beer = matches!(part, Part::Ferment | Part::Package);
        let has_share = matches!(self.kind, Kind::Malt | Kind::Grain | Kind::Sugar) && !in_beer
            || matches!(self.kind, Kind::Juice) && in_beer;
        let is_by_volume = group
            .others
            .iter()
            .any(|word| matches!(word.as_str(), "volume" | "v/v" | "vol"));
        let at = group
            .figures
            .iter()
            .position(|figure| figure.dimension() == Some(Dimension::Percent));
        if let Some(at) = at.filter(|_| has_share && (!in_beer || is_by_volume)) {
            group
                .others
                .retain(|word| !matches!(word.as_str(), "volume" | "v/v" | "vol"));
            let figure = group.figures.remove(at);
            if let Some(written) = figure.written {
                let by = if in_beer { " by volume" } else { "" };
                self.amount = Some((format!("{written}{by}"), figure.span, written));
            }
        }
    }

    /// A share beside an amount: alpha acids of a hop, attenuation of a yeast.
    fn percent(&mut self, group: &mut Group) {
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
    fn rate(&mut self, group: &mut Group) {
        let is_rate = |figure: &Figure| figure.dimension() == Some(Dimension::PitchRate);
        if self.kind == Kind::Yeast
            && let Some(at) = group.figures.iter().position(is_rate)
        {
            let figure = group.figures.remove(at);
            self.figures.push((figure.text(), figure.span));
        }
    }

    /// When it goes in, and how long it stays.
    fn when(&mut self, group: &mut Group, part: Part, boil: Option<&str>) {
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
    fn warmth(&mut self, group: &mut Group, part: Part, is_us: bool) {
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

    /// Numbers without unit: alpha acids and minutes of a hop, the shade of a caramel malt.
    fn bare(&mut self, group: &mut Group, part: Part, name: usize, end: usize, is_us: bool) {
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
            let is_behind = figure.at > name || figure.link == Link::At;
            let read = match (self.kind, part) {
                (Kind::Hop, Part::Boil)
                    if figure.link == Link::None
                        && !has_alpha
                        && (number.fract() != 0.0 || is_of_name && is_pair)
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
                    if is_of_name && self.amount.is_some() && (2.0..=700.0).contains(&number) =>
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

/// An acid by its strength, which is part of its name: `lactic 88 %`.
fn strong(sheet: &Sheet<'_>, group: &mut Group, words: &[String], acid: Known) -> Known {
    let is_share = |figure: &Figure| figure.dimension() == Some(Dimension::Percent);
    let at = group.figures.iter().position(is_share);
    let Some(at) = at.filter(|_| acid.kind == Kind::Acid) else {
        return acid;
    };
    let mut words = words.to_vec();
    words.extend(group.figures.get(at).map(Figure::text));
    match sheet.names.among(&words, Among::Kinds(&[Kind::Acid])) {
        Some(Resolved::One(known)) if known.figures.is_empty() => {
            group.figures.remove(at);
            known
        }
        _ => acid,
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

/// Whether a time is one of the cellar: no wort boils for days.
pub(super) const fn is_of_cellar(time: &AsWritten) -> bool {
    matches!(time.unit, Unit::Day | Unit::Week)
        || matches!(time.unit, Unit::Hour) && time.number > 6.0
}
