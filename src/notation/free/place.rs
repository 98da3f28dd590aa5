//! A group that names an ingredient → its line, in the block where it goes in.

use super::draft::{line, tokens};
use super::group::{Figure, Group};
use super::item::{Item, is_of_cellar};
use super::names::Among;
use super::said::{Part, Said};
use super::sheet::{Sheet, Told};
use crate::catalogue::Kind;
use crate::notation::tree::{Entry, Line, Token};
use crate::quantity::lexer::Marked;
use crate::quantity::{Dimension, Unit};

impl Sheet<'_> {
    /// `pitch 2 packs ale yeast`, `dry hop 30 g cascade`
    pub(super) fn item_of(&mut self, said: &Said, group: &mut Group) -> bool {
        let verb = said.line.split(' ').next().unwrap_or("");
        let among = if verb == "pitch" {
            Among::Kinds(&[Kind::Yeast])
        } else if said.phrases().any(|phrase| phrase == "dry hop") {
            Among::Kinds(&[Kind::Hop])
        } else {
            Among::Part(said.part)
        };
        let mut rest = group.clone();
        // `bottled with 7 g/L dextrose`
        let part = if verb == "add" && self.is_packaging && said.part == Part::Ferment {
            Part::Package
        } else {
            said.part
        };
        let Some(item) = Item::of(self, &mut rest, Some(part), among) else {
            group.doubt = rest.doubt;
            return false;
        };
        // `top up with water`: how much is not said, and is said of something else.
        if verb == "add" && !item.is_stated() && item.kind != Kind::Hop {
            return false;
        }
        *group = rest;
        let mut item = item;
        if item.kind == Kind::Yeast
            && let Some(figure) = self.pitched_at.take()
        {
            item.pitch_at(&figure);
        }
        let verb = if verb == "pitch" && self.is_pitched {
            "add"
        } else {
            verb
        };
        self.is_pitched |= verb == "pitch";
        self.part = part;
        let written = item.tokens(Some(verb));
        self.told.extend(item.told);
        self.lines(part).push(line(written, Vec::new()));
        true
    }

    pub(super) fn plain_item(&mut self, group: &mut Group) -> bool {
        if group.is_steeped() {
            group.when.clear();
            self.stand_for(group);
            return self.item_in(group, Some(Part::Stand));
        }
        let when = group.when.first().map(|when| when.part);
        self.item_in(group, when)
    }

    /// Opens a stand as long as the first time of a group.
    fn stand_for(&mut self, group: &mut Group) {
        let is_time = |figure: &Figure| figure.dimension() == Some(Dimension::Time);
        let Some(figure) = group.figures.iter().find(|figure| is_time(figure)) else {
            return;
        };
        let text = format!("stand {}", figure.text());
        self.draft
            .hot
            .push(line(tokens(&text, figure.span), Vec::new()));
    }

    fn item_in(&mut self, group: &mut Group, when: Option<Part>) -> bool {
        let wanted = when.unwrap_or(self.part);
        // Alpha acids without their sign are no time.
        let is_time = |figure: &Figure| {
            let bare = figure.bare.map(Marked::middle);
            figure.dimension() == Some(Dimension::Time)
                || bare.is_some_and(|bare| bare.fract() == 0.0)
        };
        let has_time = group.figures.iter().any(is_time);
        let lead = self.lead.filter(|_| !has_time && when.is_none());
        group.figures.extend(lead);
        let mut rest = group.clone();
        group.figures.retain(|figure| figure.at != usize::MAX);
        let item = Item::of(self, &mut rest, when, Among::Part(wanted))
            .or_else(|| Item::of(self, &mut rest, when, Among::Kinds(&[])));
        let Some(item) = item else {
            group.doubt = rest.doubt;
            return false;
        };
        let mut item = item;
        // `Target goes in at the boil`, said of hops that the sheet has listed.
        if !item.is_stated() && (self.is_listed(&item) || self.is_heading) {
            return false;
        }
        if item.kind == Kind::Yeast
            && let Some(figure) = self.pitched_at.take()
        {
            item.pitch_at(&figure);
        }
        let part = item.part;
        if matches!(part, Part::Mash | Part::Water | Part::Boil)
            && let Some(turns) = self.turns
        {
            item.in_turns(turns);
        }
        if part == Part::Mash && item.kind == Kind::Beverage && self.strike.is_none() {
            self.strike = item.volume();
            if self.strike.is_some() {
                *group = rest;
            }
            return self.strike.is_some();
        }
        // Words on the way, and not how much: a remark, unless a line stands for it alone.
        let is_cold = matches!(
            self.part,
            Part::Boil | Part::Stand | Part::Ferment | Part::Package
        );
        let may_be_open = item.kind == Kind::Hop || item.kind == Kind::Yeast && is_cold;
        // The yeast of the beer, however much is said of it.
        let is_first_yeast = item.kind == Kind::Yeast && !self.is_pitched && is_cold;
        let is_grist = part == Part::Mash && matches!(item.kind, Kind::Malt | Kind::Grain);
        let is_said_alone = rest.others.is_empty() && is_grist && self.part != Part::Head;
        if !item.is_stated()
            && !is_said_alone
            && (!may_be_open || rest.others.len() > 3 && !is_first_yeast)
        {
            return false;
        }
        if item.kind == Kind::Yeast && !item.is_stated() && self.is_packaging {
            return false;
        }
        *group = rest;
        let verb = match (part, item.kind) {
            (Part::Ferment, Kind::Yeast) if !self.is_pitched => Some("pitch"),
            (Part::Ferment | Part::Package, _) => Some("add"),
            _ => None,
        };
        self.is_pitched |= verb == Some("pitch");
        let leads = matches!(
            (part, item.kind),
            (Part::Mash, Kind::Malt | Kind::Grain)
                | (Part::Boil, Kind::Hop)
                | (Part::Ferment, Kind::Yeast)
        );
        if leads && item.is_stated() || item.kind == Kind::Yeast {
            self.part = part;
        }
        if is_grist {
            let mass = item.mass();
            self.grist = self.grist.zip(mass).map(|(sum, mass)| sum + mass);
        }
        if verb == Some("pitch") {
            item.pitched_first();
        }
        let written = line(item.tokens(verb), Vec::new());
        let hold = item.hold(group);
        self.told.extend(item.told);
        if part == Part::Stand {
            self.steep(written);
        } else {
            self.lines(part).push(written);
            self.lines(part).extend(hold);
        }
        true
    }

    /// Whether the boil or the stands have the ingredient already.
    fn is_listed(&self, item: &Item) -> bool {
        let name = item.tokens(None);
        let first = name.first().map_or("", Token::text);
        let has = |line: &Line<'_>| line.tokens().iter().any(|token| token.text() == first);
        item.kind == Kind::Hop
            && (self.draft.boil.lines.iter().any(has)
                || self.draft.hot.iter().any(|stand| stand.lines().any(has)))
    }

    /// The part that an ingredient belongs to where the sheet does not say.
    pub(super) fn home(&self, kind: Kind, group: &Group) -> Part {
        let is_boiled = || {
            let minutes = |figure: &Figure| {
                figure
                    .written
                    .is_some_and(|written| matches!(written.unit, Unit::Minute | Unit::Percent))
            };
            group.figures.iter().any(minutes)
        };
        // What is put into the water goes with it into the mash.
        if self.part == Part::Water && matches!(kind, Kind::Salt | Kind::Acid) {
            return Part::Mash;
        }
        if self.is_fixed {
            return self.part;
        }
        let says = |words: &[&str]| {
            let name = group.name.as_ref();
            name.is_some_and(|name| name.words.iter().any(|word| words.contains(&word.as_str())))
        };
        if kind == Kind::Sugar && says(&["priming"]) {
            return Part::Package;
        }
        let is_of_cellar = group.figures.iter().any(|figure| {
            figure.written.is_some_and(|written| {
                written.unit.dimension() == Dimension::Time && is_of_cellar(&written)
            })
        });
        match (self.part, kind) {
            (Part::Boil | Part::Stand, _) if is_of_cellar => Part::Ferment,
            (Part::Mash, Kind::Botanical) => Part::Boil,
            (Part::Mash, Kind::Aid)
                if says(&["moss", "finings", "fining", "nutrient", "carrageenan"]) =>
            {
                Part::Boil
            }
            // Heat destroys the one, and the other needs it.
            (Part::Head | Part::Mash | Part::Boil | Part::Stand, Kind::Aid)
                if says(&["pectic", "pectinase", "pectolase"]) =>
            {
                Part::Ferment
            }
            (Part::Stand, Kind::Aid)
                if is_boiled() && says(&["moss", "finings", "carrageenan"]) =>
            {
                Part::Boil
            }
            (Part::Ferment | Part::Boil | Part::Stand | Part::Package, Kind::Sugar)
                if self.is_packaging =>
            {
                Part::Package
            }
            (_, Kind::Yeast) => Part::Ferment,
            (
                Part::Head | Part::Water,
                Kind::Malt | Kind::Grain | Kind::Salt | Kind::Acid | Kind::Beverage,
            ) => Part::Mash,
            (Part::Head | Part::Water | Part::Mash, Kind::Hop | Kind::Sugar) => Part::Boil,
            (Part::Head | Part::Water, _) => Part::Boil,
            (Part::Mash, Kind::Juice) => Part::Ferment,
            // Grain is mashed wherever it is listed, and a hop with minutes is boiled.
            (Part::Ferment | Part::Package, Kind::Malt | Kind::Grain) => Part::Mash,
            (Part::Boil, Kind::Malt | Kind::Grain) if self.draft.boil.opening.is_none() => {
                Part::Mash
            }
            (Part::Ferment, Kind::Hop) if is_boiled() => Part::Boil,
            (part, _) => part,
        }
    }

    /// Puts an ingredient into the last stand, or into one of its own.
    pub(super) fn steep(&mut self, item: Line<'static>) {
        let is_stand = |line: &&mut Line<'_>| {
            line.tokens()
                .first()
                .is_some_and(|token| token.text() == "stand")
        };
        if let Some(stand) = self.draft.hot.iter_mut().rev().find(is_stand) {
            let mut below: Vec<_> = std::mem::take(&mut stand.children);
            below.push(Entry::Line(item));
            stand.children = below;
            return;
        }
        let span = item.span();
        self.told
            .push(Told::Default("stand".into(), "20 min".into(), span));
        self.draft
            .hot
            .push(line(tokens("stand 20 min", span), vec![item]));
    }
}
