//! Tree → model: one file for each block.

mod amount;
mod attribute;
mod brewhouse;
mod check;
mod complaints;
mod consistency;
mod ferment;
mod figure;
mod gravity;
mod head;
mod ingredient;
mod item;
mod kettle;
mod log;
mod mash;
mod once;
mod own_ingredient;
mod package;
mod plant_line;
mod quantity;
mod stock;
mod trace;
mod when;

use super::cursor::{Cursor, opens};
use super::note::ReadingNote;
use super::parse::Text;
use super::sink::Sink;
use super::tree::{Document, Line, Token, lines};
use crate::catalogue::{Catalogue, Entry};
use crate::diagnostic::{Code, Diagnostic, Span, nearest};
use crate::quantity::{Extract, Written};
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use once::Seen;
use std::borrow::Cow;
use std::collections::BTreeMap;
pub(super) use trace::Trace;

/// Words that open a statement without indent.
const KEYWORDS: [&str; 19] = [
    "recipe",
    "source",
    "brewed on",
    "batch",
    "target",
    "shares",
    "water",
    "mash",
    "boil",
    "stand",
    "cool",
    "ferment",
    "package",
    "brewhouse",
    "stock",
    "ingredient",
    "log",
    "targets",
    "fermentation",
];

/// Words that open a line inside a block, and the block.
const VERBS: [(&str, &str); 31] = [
    ("rest", "mash"),
    ("mash in", "mash"),
    ("sparge", "mash"),
    ("pH", "mash"),
    ("pitch", "ferment"),
    ("hold", "ferment"),
    ("add", "ferment"),
    ("carbonate", "package"),
    ("keg", "package"),
    ("bottle", "package"),
    ("mash tun", "brewhouse"),
    ("kettle", "brewhouse"),
    ("fermenter", "brewhouse"),
    ("lauter", "brewhouse"),
    ("no mash", "brewhouse"),
    ("absorption", "brewhouse"),
    ("retention", "brewhouse"),
    ("sparge mixing", "brewhouse"),
    ("conversion", "brewhouse"),
    ("extract yield", "brewhouse"),
    ("evaporation", "brewhouse"),
    ("tun loss", "brewhouse"),
    ("kettle loss", "brewhouse"),
    ("fermenter loss", "brewhouse"),
    ("altitude", "brewhouse"),
    ("coolant", "brewhouse"),
    ("no chill", "brewhouse"),
    ("grain at", "brewhouse"),
    ("tun heat", "brewhouse"),
    ("weigh", "brewhouse"),
    ("heat", "brewhouse"),
];

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
    /// Gravities that additions wait for.
    waits: Vec<(Written<Extract>, Span)>,
    target_line: Option<Span>,
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
            waits: Vec::new(),
            target_line: None,
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

    fn statement(&mut self, line: &Line<'_>) {
        let Some(first) = line.tokens().first() else {
            return;
        };
        let mut cursor = Cursor::new(line.tokens(), first.span());
        let keyword = lower_case(first.word().unwrap_or(""));
        let plant_part = ["brewhouse", "stock", "ingredient", "log", "recipe"].contains(&&*keyword);
        if self.skipping && !plant_part {
            return;
        }
        cursor.skip(1);
        match &*keyword {
            "recipe" => self.recipe_line(line, cursor),
            "source" => self.source_line(line, cursor),
            "brewed" if cursor.eat(&["on"]) => self.brewed_on(line, cursor),
            "batch" => self.recipe_batch(line, cursor),
            "target" | "targets" => self.target_line(line, cursor),
            "shares" => self.shares_line(line, cursor),
            "water" => self.water_block(line, cursor),
            "mash" if !cursor.at(&["in"]) && !cursor.at(&["tun"]) => self.mash_block(line, cursor),
            "boil" => self.boil_block(line, cursor),
            "stand" => self.stand_block(line, cursor),
            "cool" => self.cool_line(line, cursor),
            "ferment" | "fermentation" => self.ferment_block(line, cursor),
            "package" => self.package_block(line, cursor),
            "brewhouse" => self.brewhouse_block(line, cursor),
            "stock" => self.stock_block(line, cursor),
            "log" => self.log_block(line, cursor),
            // Own ingredients were read before everything that may name them; here their inputs are noted.
            "ingredient" if self.trace.is_some() => drop(self.own_ingredient(line, cursor)),
            "ingredient" => {}
            _ => self.unknown_statement(line, first),
        }
    }

    fn unknown_statement(&mut self, line: &Line<'_>, first: &Token<'_>) {
        let whole = line.tokens();
        if let Some((verb, block)) = verb_of(whole) {
            self.push(
                Diagnostic::error(
                    Code::WrongBlock,
                    first.span(),
                    format!("`{verb}` belongs in a `{block}` block, found it without indent"),
                )
                .with_help(format!("indent it below the `{block}` line")),
            );
            return;
        }
        let near = self.near(first.text(), KEYWORDS);
        let message = format!(
            "expected a keyword such as `mash` or `boil`, found `{}`",
            first.text()
        );
        let help = match near.first() {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!(
                "begin a line without indent with one of: {}; indent lines that belong to the one above",
                KEYWORDS.get(..17).unwrap_or(&[]).join(", ")
            ),
        };
        self.push(Diagnostic::error(Code::UnknownKeyword, first.span(), message).with_help(help));
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

    /// Whether the line opens with this verb: what follows fits it, or the line is no name that the catalogue knows.
    fn is_verb(&self, cursor: Cursor<'_, '_>, verb: &str) -> bool {
        cursor.at(&[verb])
            && (cursor.rest().get(1).is_some_and(Token::is_number)
                || self.catalogue.longest_match(&cursor.text()).is_none())
    }

    /// A line of a block that opens with a word of another block, or with a misspelt word of this one.
    fn misplaced(&mut self, line: &Line<'_>, block: &str) -> bool {
        let tokens = line.tokens();
        let Some(first) = tokens.first() else {
            return false;
        };
        let Some(word) = first.word() else {
            return false;
        };
        if let Some((verb, home)) = verb_of(tokens).filter(|(_, home)| *home != block) {
            self.push(
                Diagnostic::error(
                    Code::WrongBlock,
                    first.span(),
                    format!("`{verb}` belongs in a `{home}` block, found it in `{block}`"),
                )
                .with_help(format!("move the line below the `{home}` line")),
            );
            return true;
        }
        // `stand 20 min` below `boil`: a statement that was indented.
        let blocks = ["batch", "target", "mash", "boil", "stand", "cool"];
        let follows = tokens
            .get(1)
            .is_some_and(|next| next.is_number() || next.word() == Some("to"));
        if follows && blocks.iter().any(|block| block.eq_ignore_ascii_case(word)) {
            self.push(
                Diagnostic::error(
                    Code::WrongBlock,
                    first.span(),
                    format!("`{word}` stands by itself, found it in `{block}`"),
                )
                .with_help("take away its indent, and that of the lines that belong to it"),
            );
            return true;
        }
        // `resst 66 C`: a word close to a verb, and what follows fits the verb.
        if tokens.get(1).is_some_and(Token::is_number) {
            let verbs = VERBS
                .iter()
                .filter(|(_, home)| *home == block)
                .map(|(verb, _)| *verb);
            let near = nearest(word, verbs);
            // The verb itself is read by the block.
            if let Some(near) = near.first().filter(|near| !near.eq_ignore_ascii_case(word)) {
                self.push(
                    Diagnostic::error(
                        Code::UnknownKeyword,
                        first.span(),
                        format!("expected an amount or a word such as `{near}`, found `{word}`"),
                    )
                    .with_help(format!("did you mean `{near}`?")),
                );
                return true;
            }
        }
        false
    }
}

/// The word in lower case, as nearly all are written.
fn lower_case(word: &str) -> Cow<'_, str> {
    if word.bytes().any(|byte| byte.is_ascii_uppercase()) {
        Cow::Owned(word.to_ascii_lowercase())
    } else {
        Cow::Borrowed(word)
    }
}

/// The verb that a line opens with, and the block it belongs to. A verb counts only if a number follows it, so that a
/// name may begin with the same word.
fn verb_of(tokens: &[Token<'_>]) -> Option<(&'static str, &'static str)> {
    VERBS.iter().rev().copied().find(|(verb, _)| {
        if !opens(tokens, verb) {
            return false;
        }
        let length = verb.split(' ').count();
        let alone = matches!(*verb, "no mash" | "no chill") && tokens.len() == 2;
        alone || tokens.get(length).is_some_and(Token::is_number)
    })
}
