//! Tree → model: one file for each block.

mod amount;
mod attribute;
mod brewhouse;
mod check;
mod complaints;
mod consistency;
mod ferment;
mod figure;
mod form;
mod gravity;
mod head;
mod held;
mod ingredient;
mod item;
mod kettle;
mod lauter;
mod log;
mod mash;
mod once;
mod own_ingredient;
mod package;
mod plant_check;
mod plant_line;
mod plant_word;
mod quantity;
mod rows;
mod slip;
mod sour;
mod stated;
mod statement;
mod stock;
mod trace;
mod water;
mod when;

use super::cursor::Cursor;
use super::note::ReadingNote;
use super::parse::Text;
use super::sink::Sink;
use super::tree::{Document, Line, lines};
use crate::catalogue::{Catalogue, Entry, Kind};
use crate::diagnostic::{Diagnostic, Span, nearest};
use crate::quantity::{Extract, Written};
use crate::recipe::{Addition, Brewhouse, Log, Recipe, Stock};
pub(super) use figure::{has_figure, labels_dose, may_label};
pub(super) use form::{is_form_of_fruit, is_form_of_hops};
use once::Seen;
pub use rows::grammar;
pub(super) use statement::{
    measures_amiss, opens_line, opens_statement, slips_line, statement_words,
};
use std::collections::BTreeMap;
pub(super) use trace::Trace;

/// Reads a line whose words are passed over.
type LineReader = fn(&mut Lower<'_>, &Line<'_>, Cursor<'_, '_>);

/// What a set of texts means, while it is being gathered.
pub(super) struct Lower<'c> {
    pub(super) sink: Sink,
    pub(super) notes: Vec<ReadingNote>,
    pub(super) catalogue: &'c Catalogue,
    pub(super) brewhouses: Vec<Brewhouse>,
    pub(super) stock: Stock,
    pub(super) logs: Vec<Log>,
    recipe: Recipe,
    /// Where the recipe was opened: its `recipe` line, or the first line that belongs to one.
    opened: Option<Span>,
    named: Option<Span>,
    /// The name behind `brewed on`.
    plant_named: Option<Span>,
    logged: BTreeMap<String, Span>,
    /// Own ingredients, by name in lower case.
    owned: BTreeMap<String, Span>,
    /// Set after a second `recipe` line: what follows in that text is not read into the first.
    skipping: bool,
    /// Where each statement that may stand once was seen.
    seen: Seen,
    plants: BTreeMap<String, Span>,
    stocked: BTreeMap<String, (stock::Way, Span)>,
    fermentables: Vec<check::Fermentable>,
    /// Some share could not be read, so their sum means nothing.
    shares_unsure: bool,
    boil_line: Option<Span>,
    /// What went into the stand so far whose lines are read.
    steeped: Vec<Addition>,
    /// Gravities that additions wait for.
    waits: Vec<(Written<Extract>, Span)>,
    target_line: Option<Span>,
    /// Where the basis of shares stands.
    basis_line: Option<Span>,
    /// Kinds that a host gives to names which the catalogue does not know.
    pub(super) declared: BTreeMap<String, Kind>,
    /// Kept only where somebody asks.
    pub(super) trace: Option<Trace>,
}

impl<'c> Lower<'c> {
    pub(super) fn new(sink: Sink, catalogue: &'c Catalogue) -> Self {
        Self {
            sink,
            notes: Vec::new(),
            catalogue,
            brewhouses: Vec::new(),
            stock: Stock::default(),
            logs: Vec::new(),
            recipe: Recipe::default(),
            opened: None,
            named: None,
            plant_named: None,
            logged: BTreeMap::new(),
            owned: BTreeMap::new(),
            skipping: false,
            seen: Seen::default(),
            plants: BTreeMap::new(),
            stocked: BTreeMap::new(),
            fermentables: Vec::new(),
            shares_unsure: false,
            boil_line: None,
            steeped: Vec::new(),
            waits: Vec::new(),
            target_line: None,
            basis_line: None,
            declared: BTreeMap::new(),
            trace: None,
        }
    }

    /// The own ingredients of the texts, and the sink with what was found wrong with them.
    pub(super) fn ingredients<'d>(
        mut self,
        documents: impl Iterator<Item = &'d Document<'d>>,
    ) -> (Vec<Entry>, Sink) {
        let mut entries = Vec::new();
        for document in documents {
            self.own_ingredients(document, &mut entries);
        }
        (entries, self.sink)
    }

    /// Understands a text; gives its tree.
    pub(super) fn text<'a>(&mut self, text: Text<'a>) -> Document<'a> {
        self.skipping = false;
        match text {
            Text::Tree(document) => {
                self.document(&document);
                document
            }
            Text::Unread(mut parser) => {
                while let Some(entries) = parser.statement(&mut self.sink) {
                    lines(entries).for_each(|line| self.statement(line));
                }
                parser.finish(&mut self.sink)
            }
        }
    }

    /// Understands a tree.
    pub(super) fn document(&mut self, document: &Document<'_>) {
        self.skipping = false;
        document.lines().for_each(|line| self.statement(line));
    }

    /// The recipe, once all texts are read.
    pub(super) fn finish(&mut self) -> Option<Recipe> {
        self.check_whole();
        self.opened.map(|_| std::mem::take(&mut self.recipe))
    }

    /// Words that resemble one, for a finding that is listed.
    fn near<'n>(&self, word: &str, words: impl IntoIterator<Item = &'n str>) -> Vec<&'n str> {
        if self.sink.is_full() {
            return Vec::new();
        }
        nearest(word, words)
    }

    fn push(&mut self, diagnostic: Diagnostic) {
        self.sink.push(diagnostic);
    }

    /// A statement of the recipe: opens it if it is not open yet.
    fn open(&mut self, at: Span) {
        self.opened.get_or_insert(at);
    }
}
