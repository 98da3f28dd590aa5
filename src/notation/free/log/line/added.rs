//! What went in beside the yeast.

use super::Reader;
use crate::catalogue::{EntryRef, Kind};
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::notation::free::bit::Bit;
use crate::notation::free::group::{Group, groups};
use crate::notation::free::item::Item;
use crate::notation::free::log::entry::{Added, Entry, What};
use crate::notation::free::log::poured::{flat, in_brix};
use crate::notation::free::log::words::LogWord;
use crate::notation::free::names::Among;
use crate::notation::free::said::Part;
use crate::notation::free::told::Told;
use crate::notation::free::words::{Clause, has};
use crate::quantity::Dimension;

impl Reader<'_, '_, '_> {
    /// What went in beside the yeast.
    pub(super) fn items(&mut self, clause: Clause<'_>) {
        if self.label.is_before_fermenter() {
            return;
        }
        if self.is_packaged || has(clause.bits, LogWord::Each.phrases()) {
            self.priming(clause);
            return;
        }
        let is_said = has(clause.bits, LogWord::Added.phrases()) || clause.mark == Some('+');
        let bits = flat(in_brix(clause.bits));
        let groups = self.groups(&bits);
        if self.is_split(&groups) {
            return;
        }
        for group in groups {
            self.item(group, is_said || self.has_put(), is_said);
        }
        self.pour(clause, is_said);
    }

    /// Whether the line has put something in already.
    pub(super) fn has_put(&self) -> bool {
        let is_added = |entry: &Entry| matches!(entry.what, What::Added(_));
        self.entries.iter().any(is_added)
    }

    /// `split: 10 L to cherries, 10 L plain`: two beers from here on, of which a log follows one.
    fn is_split(&mut self, groups: &[Group]) -> bool {
        const SPLIT: &[&str] = &["split", "divided", "halved", "half"];
        let is_measured = self.bits.iter().any(|bit| {
            bit.quantity()
                .is_some_and(|written| written.unit.dimension() == Dimension::Volume)
        });
        if !(self.known.is_fermenting && is_measured && has(self.bits, SPLIT)) {
            return false;
        }
        let named = groups.iter().find_map(|group| group.name.as_ref());
        if let Some(name) = named.filter(|name| name.is_known) {
            let message = "expected one beer in a log, found one that was split";
            let found = Diagnostic::error(Code::UnexpectedWords, name.span, message).with_help(
                "write a log for each part, each beginning with the wort, such as `10 L at 1.050`",
            );
            self.sheet.told.push(Told::Asked(found));
        }
        true
    }

    pub(in crate::notation::free::log) fn groups(&self, bits: &[Bit]) -> Vec<Group> {
        let names = self.sheet.names;
        groups(bits, Part::Log, &|words| {
            names.stretch(words, Part::Ferment)
        })
    }

    pub(super) fn item(&mut self, mut group: Group, is_added: bool, is_said: bool) {
        let Some(name) = group.name.clone().filter(|name| name.is_known) else {
            return;
        };
        let before: Vec<Span> = group.figures.iter().map(|figure| figure.span).collect();
        let Some(item) = Item::of(
            self.sheet,
            &mut group,
            Some(Part::Log),
            Among::Part(Part::Ferment),
        ) else {
            return;
        };
        let dimension = item.dimension();
        let fits = match (item.kind, dimension) {
            (Kind::Yeast, _) => false,
            // Water is spoken of without being added.
            (Kind::Beverage, Some(Dimension::Volume)) => {
                is_added || self.known.is_fermenting && item.name() != "water"
            }
            // `10 L to cherries` are litres of beer.
            (Kind::Juice, Some(Dimension::Volume)) => is_said || !self.is_whole_fruit(item.name()),
            (Kind::Malt | Kind::Grain | Kind::Hop | Kind::Salt, dimension) => {
                matches!(dimension, Some(Dimension::Mass | Dimension::Concentration))
            }
            (_, dimension) => matches!(
                dimension,
                Some(Dimension::Mass | Dimension::Concentration | Dimension::Volume)
            ),
        };
        if !fits {
            self.ask_amount(&item, name.span, is_said);
            return;
        }
        for span in before
            .iter()
            .filter(|span| group.figures.iter().all(|figure| figure.span != **span))
        {
            self.use_span(*span);
        }
        self.use_span(name.span);
        let litres = match (item.kind, item.volume()) {
            (_, Some((written, _))) => Some(written.unit.to_base(written.number)),
            (Kind::Sugar | Kind::Juice | Kind::Beverage | Kind::Malt | Kind::Other, None) => None,
            _ => Some(0.0),
        };
        let written = item.tokens(Some("added"));
        let span = group.span.unwrap_or(name.span);
        self.sheet.told.extend(item.told);
        let added = Added { written, litres };
        self.entries.push(Entry::new(What::Added(added), span));
    }

    fn is_whole_fruit(&self, name: &str) -> bool {
        match self
            .sheet
            .names
            .catalogue
            .find(name)
            .map(|found| found.entry)
        {
            Some(EntryRef::Juice(juice)) => juice.is_whole_fruit(),
            _ => false,
        }
    }

    /// `added sugar`: what ferments went in, and nobody knows how much.
    fn ask_amount(&mut self, item: &Item, span: Span, is_said: bool) {
        const HOLDERS: &[&str] = &["jar", "tin", "can", "bottle", "bag", "carton", "jug", "pot"];
        let ferments = matches!(item.kind, Kind::Sugar | Kind::Juice)
            || item.kind == Kind::Beverage && item.name() != "water";
        let is_measured = self.bits.iter().any(|bit| {
            bit.quantity().is_some_and(|written| {
                !matches!(
                    written.unit.dimension(),
                    Dimension::Gravity
                        | Dimension::Ratio
                        | Dimension::Temperature
                        | Dimension::Time
                )
            })
        });
        if !(ferments && self.known.is_fermenting && item.dimension().is_none())
            || is_measured
            || !(is_said || has(self.bits, HOLDERS))
        {
            return;
        }
        let name = item.name();
        let message = format!("expected how much `{name}` went into the beer, found no amount");
        let amount = if item.kind == Kind::Sugar {
            "500 g"
        } else {
            "1 L"
        };
        let found = Diagnostic::error(Code::MissingQuantity, span, message)
            .with_help(format!("write it, such as `added {amount} {name}`"));
        self.sheet.told.push(Told::Asked(found));
    }
}
