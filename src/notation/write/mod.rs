//! Model → tree. The text is composed here and read into a tree, so that there is one printer and one grammar.

mod brewhouse;
mod ingredient;
mod item;
mod recipe;

pub(super) use item::stated;

use super::DecimalComma;
use super::cursor::begins;
use super::models::Models;
use super::parse::parse;
use super::sink::Sink;
use super::tree::{Document, Entry, Line, Token, text_of};
use crate::catalogue::Catalogue;
use crate::diagnostic::{TextId, TextRef};
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use std::fmt;

impl From<&Recipe> for Document<'static> {
    /// The recipe as a document without comments. Every recipe that was read from a text reads as itself again.
    ///
    /// A model made otherwise can hold what no line says, and that is left out: a rest heated by `Heating::None`, a
    /// sparge with neither volume nor temperature, the swaps that were made.
    fn from(recipe: &Recipe) -> Self {
        let mut text = Text::default();
        recipe::write(&mut text, recipe);
        text.document()
    }
}

impl From<&Brewhouse> for Document<'static> {
    /// The plant as a document without comments.
    fn from(brewhouse: &Brewhouse) -> Self {
        let mut text = Text::default();
        brewhouse::write(&mut text, brewhouse);
        text.document()
    }
}

impl From<&Stock> for Document<'static> {
    /// The stock as a document without comments.
    fn from(stock: &Stock) -> Self {
        let mut text = Text::default();
        self::stock(&mut text, stock);
        text.document()
    }
}

impl From<&Log> for Document<'static> {
    /// The log as a document without comments.
    fn from(log: &Log) -> Self {
        let mut text = Text::default();
        self::log(&mut text, log);
        text.document()
    }
}

impl Document<'_> {
    /// This document with the lines of another behind its own.
    #[must_use]
    pub fn followed_by(mut self, other: Self) -> Self {
        self.entries.extend(other.entries);
        self
    }
}

/// Models as lines.
pub(super) fn written(models: &Models) -> String {
    let mut text = Text::default();
    if let Some(model) = &models.recipe {
        recipe::write(&mut text, model);
    }
    for plant in &models.brewhouses {
        brewhouse::write(&mut text, plant);
    }
    stock(&mut text, &models.stock);
    for model in &models.logs {
        log(&mut text, model);
    }
    text.out
}

/// Lines under way to a tree.
#[derive(Debug, Default)]
struct Text {
    out: String,
}

impl Text {
    fn line(&mut self, depth: usize, line: impl AsRef<str>) {
        for _ in 0..depth {
            self.out.push_str("  ");
        }
        self.out.push_str(line.as_ref());
        self.out.push('\n');
    }

    /// `label value` on a line of its own, if there is a value.
    fn labelled(&mut self, depth: usize, label: &str, value: Option<impl fmt::Display>) {
        if let Some(value) = value {
            self.line(depth, format!("{label} {value}"));
        }
    }

    fn document(&self) -> Document<'static> {
        let source = TextRef::new("", &self.out);
        parse(
            &source,
            TextId::default(),
            DecimalComma::Refused,
            &mut Sink::default(),
        )
        .into_owned()
    }
}

fn stock(text: &mut Text, stock: &Stock) {
    if stock.lots.is_empty() {
        return;
    }
    text.line(0, "stock");
    for lot in &stock.lots {
        item::lot(text, lot);
    }
}

fn log(text: &mut Text, log: &Log) {
    if log.entries.is_empty() {
        return;
    }
    match &log.name {
        Some(name) => text.line(0, format!("log {}", free(name))),
        None => text.line(0, "log"),
    }
    for entry in &log.entries {
        text.line(1, item::log_entry(entry));
    }
}

/// A text that stands to the end of its line: a title, a source, the name of a plant.
fn free(text: &str) -> String {
    let same = with_tokens(text, |tokens| text_of(tokens) == text && no_quotes(tokens));
    if same { text.to_owned() } else { quoted(text) }
}

/// The name of an ingredient, in quotation marks if it would else be read as something more or less than a name.
fn name(text: &str) -> String {
    /// Words that mean something at the start of a name's place.
    const TAKEN: [&str; 19] = [
        "any",
        "none",
        "rest",
        "sparge",
        "pitch",
        "hold",
        "add",
        "mash",
        "pH",
        "carbonate",
        "carbonation",
        "x",
        "by",
        "per",
        "keg",
        "bottle",
        "at",
        "for",
        "with",
    ];
    /// Words that open a phrase of the trade; names of the catalogue may begin with them.
    const OF_PHRASES: [&[&str]; 6] = [
        &["before"],
        &["first"],
        &["after"],
        &["into"],
        &["top", "up"],
        &["topped", "up"],
    ];
    let plain = with_tokens(text, |tokens| {
        let matched = Catalogue::builtin()
            .longest_match(text)
            .map(|longest| longest.bytes);
        let known = matched == Some(text.len());
        // A mark that no name needs may be passed over when the name is read.
        let is_of_names =
            |c: char| c.is_alphanumeric() || matches!(c, ' ' | '-' | '\'' | '&' | '/');
        let words_only =
            tokens.iter().all(|token| token.word().is_some()) && text.chars().all(is_of_names);
        text_of(tokens) == text
            && no_quotes(tokens)
            && (known || (matched.is_none() && words_only))
            && !TAKEN.iter().any(|word| begins(tokens, &[word]))
            && (known || !OF_PHRASES.iter().any(|words| begins(tokens, words)))
            && super::timing::length_at_end(tokens) == 0
            && !tokens.iter().any(Token::is_comma)
    });
    if plain { text.to_owned() } else { quoted(text) }
}

/// A word or two without numbers, such as what beer is packaged in.
fn words(text: &str) -> String {
    let plain = with_tokens(text, |tokens| {
        text_of(tokens) == text
            && tokens.iter().all(|token| token.word().is_some())
            && !begins(tokens, &["carbonate"])
            && !begins(tokens, &["carbonation"])
            && !begins(tokens, &["add"])
    });
    if plain { text.to_owned() } else { quoted(text) }
}

fn no_quotes(tokens: &[Token<'_>]) -> bool {
    !tokens.iter().any(Token::is_quoted)
}

/// Whether the text is one plain line whose tokens satisfy a test.
fn with_tokens(text: &str, test: impl Fn(&[Token<'_>]) -> bool) -> bool {
    let mut sink = Sink::default();
    let document = parse(
        &TextRef::new("", text),
        TextId::default(),
        DecimalComma::Refused,
        &mut sink,
    );
    match document.entries() {
        [
            Entry::Line(Line {
                tokens,
                comment: None,
                ..
            }),
        ] => sink.is_empty() && test(tokens),
        _ => false,
    }
}

/// In quotation marks. A quotation ends on its line, so line breaks become spaces.
fn quoted(text: &str) -> String {
    let line: String = text
        .chars()
        .map(|c| if matches!(c, '\n' | '\r') { ' ' } else { c })
        .collect();
    format!("\"{}\"", line.replace('"', "\"\""))
}
