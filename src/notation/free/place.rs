//! A group that names an ingredient → its line, in the block where it goes in.

use super::draft::{line, tokens};
use super::group::{Figure, Group, Link};
use super::item::{Item, is_of_cellar};
use super::names::Among;
use super::phrase::GRIST;
use super::said::{Part, Said};
use super::sheet::Sheet;
use super::told::Told;
use crate::catalogue::Kind;
use crate::diagnostic::Span;
use crate::notation::tree::{Entry, Line, Token, text_of};
use crate::quantity::lexer::{AsWritten, Marked};
use crate::quantity::{Dimension, Unit};

/// Degrees Celsius from which on wort stands and is not cooled for its yeast (common practice, no source).
const HOT_C: f64 = 60.0;
/// Degrees Celsius from which on wort boils, wherever it does (rule of the crate).
const BOIL_C: f64 = 99.0;

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
        let is_timed = group.figures.iter().any(|figure| {
            matches!(figure.link, Link::Day | Link::When)
                && figure.dimension() != Some(Dimension::Time)
        });
        let mut rest = group.clone();
        rest.figures.extend(
            // Minutes that lead lines of the boil are none of the fermenter's.
            self.lead.filter(|lead| {
                let is_cellar = matches!(lead.link, Link::Day | Link::When);
                is_cellar && !is_timed && said.part == Part::Ferment
            }),
        );
        // `bottled with 7 g/L dextrose`
        let is_sugar = |group: &Group| {
            let name = group.name.as_ref();
            name.is_some_and(|name| self.names.resolve(&name.words, &[Kind::Sugar]).is_some())
        };
        let is_filled = self.is_filled || self.is_packaging && is_sugar(group);
        let part = if verb == "add" && is_filled && said.part == Part::Ferment {
            Part::Package
        } else {
            said.part
        };
        let Some(item) = Item::of(self, &mut rest, Some(part), among) else {
            group.doubt = rest.doubt;
            return false;
        };
        let mut item = item;
        if !self.is_fixed && rest.others.len() < 3 {
            item.usual_dose(self.names.catalogue);
        }
        // `top up with water`: how much is not said, and is said of something else.
        if verb == "add" && !item.is_stated() && item.kind != Kind::Hop {
            return false;
        }
        rest.figures.retain(|figure| figure.at != usize::MAX);
        *group = rest;
        item.alpha_of_lot(&mut self.lots);
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

    /// `cool it down and add 4 gallons of cider`: from here on the wort boils no more.
    pub(super) fn note_cooling(&mut self, group: &Group) {
        let is_hot = |figure: &Figure| {
            let heat = figure
                .written
                .filter(|written| written.unit.dimension() == Dimension::Temperature);
            heat.is_some_and(|heat| heat.unit.to_base(heat.number) >= HOT_C)
        };
        let cools = ["cool", "chill"]
            .iter()
            .any(|verb| group.phrase.starts_with(verb));
        if cools && matches!(self.part, Part::Boil | Part::Stand) {
            self.is_cooled = !group.figures.iter().any(is_hot);
        }
    }

    pub(super) fn plain_item(&mut self, group: &mut Group) -> bool {
        if group.is_steeped() {
            group.when.clear();
            self.stand_for(group);
            return self.item_in(group, Some(Part::Stand));
        }
        if self.stands_hot(group) {
            return self.item_in(group, Some(Part::Stand));
        }
        // `saison yeast, start 20 C`: no yeast goes into the boil.
        if self.is_yeast(group) && Self::is_told_of(group) {
            group
                .when
                .retain(|when| !matches!(when.part, Part::Boil | Part::Stand));
        }
        let when = group.when.first().map(|when| when.part);
        self.item_in(group, when)
    }

    /// Whether yeast is meant that ferments, and none that feeds another.
    fn is_told_of(group: &Group) -> bool {
        group.figures.iter().all(|figure| {
            figure
                .written
                .is_none_or(|written| written.unit != Unit::Minute)
        })
    }

    /// Opens the stand that an addition to the boil says by itself: `30 g saaz for 15 min at 85 C`.
    fn stands_hot(&mut self, group: &Group) -> bool {
        let is_heat = |figure: &&Figure| {
            let heat = figure
                .written
                .filter(|written| written.unit.dimension() == Dimension::Temperature);
            heat.is_some_and(|heat| (HOT_C..BOIL_C).contains(&heat.unit.to_base(heat.number)))
        };
        let is_spell = |figure: &&Figure| {
            figure
                .written
                .is_some_and(|written| matches!(written.unit, Unit::Minute | Unit::Hour))
        };
        let heat = group.figures.iter().find(is_heat);
        let time = group.figures.iter().find(is_spell);
        let (Some(heat), Some(time)) = (heat, time) else {
            return false;
        };
        if self.part != Part::Boil
            || self.is_fixed
            || !group.when.is_empty()
            || self.is_yeast(group)
        {
            return false;
        }
        let text = format!("stand {} at {}", time.text(), heat.text());
        self.open_stand(&text, time.span.to(heat.span));
        self.is_stand_open = false;
        true
    }

    /// Opens a stand as long as the first time of a group.
    fn stand_for(&mut self, group: &mut Group) {
        let is_time = |figure: &Figure| figure.dimension() == Some(Dimension::Time);
        let Some(figure) = group.figures.iter().find(|figure| is_time(figure)) else {
            return;
        };
        self.open_stand(&format!("stand {}", figure.text()), figure.span);
    }

    /// Opens a stand, unless the last one is the same.
    fn open_stand(&mut self, text: &str, span: Span) {
        let last = self.draft.hot.last().map(|stand| text_of(stand.tokens()));
        if last.is_none_or(|last| last != text) {
            let stand = line(tokens(text, span), Vec::new());
            self.draft.hot.push(stand);
        }
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
        // Minutes that lead lines of the boil are none of the yeast's.
        let is_yeast = self.is_yeast(group);
        let lead = self.lead.filter(|lead| {
            let fits = !is_yeast || matches!(lead.link, Link::Day | Link::When);
            fits && !has_time && when.is_none()
        });
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
        item.alpha_of_lot(&mut self.lots);
        let is_dosed = matches!(item.part, Part::Boil | Part::Ferment | Part::Package);
        if is_dosed && !self.is_fixed && !self.is_heading && rest.others.len() < 3 {
            item.usual_dose(self.names.catalogue);
        }
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
        // `1 tsp sugar each`: of how many bottles nobody knows.
        if part == Part::Package && (group.is_per_container || group.is_of_each) {
            item.told.extend(item.of_each().map(Told::Asked));
        }
        if part == Part::Water && item.kind == Kind::Beverage {
            return false;
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
        let is_called_yeast = group
            .name
            .as_ref()
            .is_some_and(|name| name.words.iter().any(|word| word == "yeast"));
        // `bottle with fresh champagne yeast` goes in, `bottling yeast` alone does not say that it does.
        let is_bottling = group
            .name
            .as_ref()
            .is_some_and(|name| name.words.iter().any(|word| word == "bottling"));
        if item.kind == Kind::Yeast
            && !item.is_stated()
            && self.is_packaging
            && !(self.is_pitched && is_called_yeast && (self.is_filled || !is_bottling))
        {
            return false;
        }
        if item.is_stated() {
            self.last.clone_from(&group.name);
        }
        if part == Part::Boil {
            self.note_time(item.kind, item.left());
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
            if group.phrase != "steep" {
                self.once.insert(GRIST.to_owned());
            }
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
            let said = item_stand(&written);
            self.steep(written);
            if let Some(said) = said {
                self.set_stand(&said);
            }
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
                // `@ 15`: minutes that are left.
                figure.bare.is_some() && figure.link == Link::At
                    || figure
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
            figure.link == Link::Day
                || figure.written.is_some_and(|written| {
                    written.unit.dimension() == Dimension::Time && is_of_cellar(&written)
                })
        });
        match (self.part, kind) {
            (Part::Boil | Part::Stand, _) if is_of_cellar => Part::Ferment,
            (Part::Boil | Part::Stand, Kind::Juice | Kind::Sugar | Kind::Aid)
                if self.is_cooled && !is_boiled() && !self.is_packaging =>
            {
                Part::Ferment
            }
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
            (Part::Stand | Part::Ferment, Kind::Aid)
                if is_boiled() && says(&["moss", "finings", "carrageenan", "nutrient"]) =>
            {
                Part::Boil
            }
            // What clears beer would be boiled to nothing.
            (Part::Head | Part::Mash | Part::Boil | Part::Stand, Kind::Aid)
                if !self.is_filled
                    && says(&["gelatin", "gelatine", "isinglass", "kieselsol", "chitosan"]) =>
            {
                Part::Ferment
            }
            (Part::Ferment | Part::Boil | Part::Stand | Part::Package, Kind::Sugar)
                if self.is_packaging =>
            {
                Part::Package
            }
            (Part::Ferment | Part::Boil | Part::Stand | Part::Package, kind)
                if self.is_filled
                    && !matches!(kind, Kind::Malt | Kind::Grain)
                    && (self.is_pitched || kind != Kind::Yeast) =>
            {
                Part::Package
            }
            // A second yeast on a line of bottles and their sugar.
            (Part::Ferment | Part::Package, Kind::Yeast)
                if self.is_packaging && self.is_pitched =>
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
            (Part::Boil | Part::Stand, Kind::Malt | Kind::Grain)
                if self.draft.boil.opening.is_none() || group.amounts().next().is_some() =>
            {
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
        self.is_stand_open = true;
        self.draft
            .hot
            .push(line(tokens("stand 20 min", span), vec![item]));
    }

    /// Gives a stand that was assumed the time and the heat that are said of it later.
    pub(super) fn set_stand(&mut self, said: &[Token<'static>]) -> bool {
        if !std::mem::take(&mut self.is_stand_open) {
            return false;
        }
        let Some(stand) = self.draft.hot.last_mut() else {
            return false;
        };
        let mut said = said.to_vec();
        if !said.iter().any(|token| token.text() == "at") {
            let at = stand.tokens.iter().position(|token| token.text() == "at");
            said.extend(
                at.and_then(|at| stand.tokens.get(at..))
                    .unwrap_or(&[])
                    .iter()
                    .cloned(),
            );
        }
        stand.tokens = said.into_boxed_slice();
        let is_assumed = |told: &Told| matches!(told, Told::Default(what, _, _) if what == "stand");
        if let Some(at) = self.told.iter().rposition(is_assumed) {
            self.told.remove(at);
        }
        true
    }

    /// `chill to 80 C, then whirlpool 20 min`: the heat of the stand, where nothing says how long the cooling takes.
    pub(super) fn stands_in_order(&mut self) {
        let mut hot: Vec<Line<'static>> = Vec::new();
        for mut step in std::mem::take(&mut self.draft.hot) {
            let words = |line: &Line<'_>| -> Vec<String> {
                line.tokens()
                    .iter()
                    .map(|token| token.text().to_owned())
                    .collect()
            };
            let own = words(&step);
            let is_plain = own.first().is_some_and(|word| word == "stand")
                && !own.iter().any(|word| word == "at");
            let before = hot.last().map(words).unwrap_or_default();
            let heat = before
                .get(2..)
                .map(|heat| heat.join(" "))
                .unwrap_or_default();
            let is_cooled = before.first().is_some_and(|word| word == "cool")
                && AsWritten::read(&heat, &[Dimension::Temperature])
                    .is_ok_and(|heat| heat.unit.to_base(heat.number) >= HOT_C);
            if is_plain && is_cooled && self.is_cool_jotted {
                let span = hot.pop().map_or_else(Span::default, |cool| cool.span());
                let mut whole = step.tokens.into_vec();
                whole.extend(tokens(&format!("at {heat}"), span));
                step.tokens = whole.into_boxed_slice();
            }
            hot.push(step);
        }
        self.draft.hot = hot;
    }
}

/// `30 g saaz for 15 min at 85 C`: the stand that an ingredient says, where its time is stated.
fn item_stand(item: &Line<'_>) -> Option<Vec<Token<'static>>> {
    let behind = |word: &str| {
        let at = item
            .tokens()
            .iter()
            .rposition(|token| token.text() == word)?;
        let words: Vec<&str> = item
            .tokens()
            .get(at + 1..at + 3)?
            .iter()
            .map(Token::text)
            .collect();
        Some(words.join(" "))
    };
    let time = behind("for")?;
    AsWritten::read(&time, &[Dimension::Time]).ok()?;
    let heat = behind("at").filter(|heat| AsWritten::read(heat, &[Dimension::Temperature]).is_ok());
    let heat = heat.map_or_else(String::new, |heat| format!(" at {heat}"));
    Some(tokens(&format!("stand {time}{heat}"), item.span()))
}
