//! What a reading gives: the trees, the model, what was assumed, what was found wrong.

use super::DecimalComma;
use super::free::{Told, understood};
use super::inputs::Inputs;
use super::lex::Lexer;
use super::lower::{Lower, Trace};
use super::note::ReadingNote;
use super::parse::{Parser, Text};
use super::sink::Sink;
use super::tree::{Document, Line};
use crate::catalogue::{Catalogue, Entry, Kind};
use crate::diagnostic::{Code, Diagnostic, Severity, Span, TextId, TextRef};
use crate::numeric::order;
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use std::collections::BTreeMap;

/// How texts are read.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct ReadOptions {
    /// Whether `4,5` is four and a half.
    pub decimal_comma: DecimalComma,
    /// Kinds that a host gives to names which the catalogue does not know.
    pub(super) declared: BTreeMap<String, Kind>,
}

impl ReadOptions {
    /// The same options with another reading of commas between digits.
    #[must_use]
    pub const fn with_decimal_comma(mut self, comma: DecimalComma) -> Self {
        self.decimal_comma = comma;
        self
    }
}

/// What a set of texts says.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[must_use]
pub struct Reading<'a> {
    /// One tree for each text.
    pub documents: Vec<Document<'a>>,
    /// What the trees say in lines of the grammar, where those of a text are not; none where all texts are.
    pub(super) understood: Vec<Document<'static>>,
    /// The recipe, if the texts hold one. With errors among the diagnostics it is what could be read of it.
    pub recipe: Option<Recipe>,
    /// The plants, in the order of the texts.
    pub brewhouses: Vec<Brewhouse>,
    /// All stocks together.
    pub stock: Stock,
    /// The logs, in the order of the texts.
    pub logs: Vec<Log>,
    /// The brewer's own ingredients, to be put on top of the catalogue.
    pub ingredients: Vec<Entry>,
    /// What was assumed in reading.
    pub notes: Vec<ReadingNote>,
    /// What is wrong or deserves a look, in the order of the texts.
    pub diagnostics: Vec<Diagnostic>,
}

impl Reading<'_> {
    /// Whether no error was found, warnings aside.
    pub fn is_usable(&self) -> bool {
        self.diagnostics
            .iter()
            .all(|diagnostic| diagnostic.severity < Severity::Error)
    }

    /// Where the texts state each input; `catalogue` is the one that they were read with.
    #[must_use]
    pub fn inputs(&self, catalogue: &Catalogue) -> Inputs {
        let catalogue = catalogue.clone().with(self.ingredients.clone());
        if self.understood.is_empty() {
            return inputs_of(&self.documents, &catalogue);
        }
        inputs_of(&self.understood, &catalogue)
    }

    /// The diagnostics, each with the input whose line it points at, where that line states one. It reads the texts once more:
    /// an editor that shows lines alone has no need of it.
    ///
    /// ```
    /// use wortwright::{catalogue::Catalogue, diagnostic::TextRef, notation::read, speech::Speaks};
    /// let text = "recipe Ale\nbatch 10 L\nmash\n  90 % pale ale malt\nboil 60 min\n";
    /// let reading = read(&[TextRef::new("ale", text)]);
    /// let found = reading.placed_diagnostics(&Catalogue::builtin());
    /// let place = found[0].place().map(ToString::to_string);
    /// assert_eq!((found[0].code(), place.as_deref()), ("shares_do_not_add_up", Some("recipe.mash")));
    /// ```
    #[must_use]
    pub fn placed_diagnostics(&self, catalogue: &Catalogue) -> Vec<Diagnostic> {
        let mut diagnostics = self.diagnostics.clone();
        if !diagnostics.is_empty() {
            let inputs = self.inputs(catalogue);
            for found in &mut diagnostics {
                found.place = inputs.place(found.span).cloned();
            }
        }
        diagnostics
    }

    /// What the texts say, in lines of the grammar: the trees as typed, or for a text that is written in other words, what was
    /// understood of it.
    pub fn understood(&self) -> Vec<Document<'_>> {
        if self.understood.is_empty() {
            self.documents.clone()
        } else {
            self.understood.clone()
        }
    }

    /// The plant of a name, in any case.
    pub fn brewhouse(&self, name: &str) -> Option<&Brewhouse> {
        Brewhouse::find(name, &self.brewhouses).ok()
    }
}

/// Where trees state each input; the catalogue holds their own ingredients too.
pub(crate) fn inputs_of(documents: &[Document<'_>], catalogue: &Catalogue) -> Inputs {
    let mut lower = Lower::new(Sink::default(), catalogue);
    lower.trace = Some(Trace::default());
    for document in documents {
        lower.document(document);
    }
    lower.trace.unwrap_or_default().inputs
}

/// Reads texts that belong together, with the built-in catalogue.
pub fn read<'a>(sources: &[TextRef<'a>]) -> Reading<'a> {
    read_with(sources, &Catalogue::builtin(), &ReadOptions::default())
}

/// Reads texts that belong together.
pub fn read_with<'a>(
    sources: &[TextRef<'a>],
    catalogue: &Catalogue,
    options: &ReadOptions,
) -> Reading<'a> {
    let mut sink = Sink::default();
    let texts = sources
        .iter()
        .zip(0..)
        .map(|(source, id)| {
            let lexer = Lexer {
                id: TextId(id),
                comma: options.decimal_comma,
            };
            let parser = Parser::new(source, lexer);
            if may_have_own(source.text) {
                Text::Tree(parser.finish(&mut sink))
            } else {
                Text::Unread(parser)
            }
        })
        .collect();
    lower(texts, sink, catalogue, &options.declared)
}

/// Reads trees that belong together, such as one made from a recipe.
pub fn read_documents<'a>(documents: Vec<Document<'a>>, catalogue: &Catalogue) -> Reading<'a> {
    let texts = documents.into_iter().map(Text::Tree).collect();
    lower(texts, Sink::default(), catalogue, &BTreeMap::new())
}

/// Whether a text may have own ingredients: hardly another word of a recipe has these three letters in a row. A fold that
/// looks at all bytes is quicker than a search that may stop early, since it is done for many of them at once.
fn may_have_own(text: &str) -> bool {
    let bytes = text.as_bytes();
    let next = bytes.get(1..).unwrap_or(&[]);
    let after = next.get(1..).unwrap_or(&[]);
    let is = |byte: &u8, letter| byte.to_ascii_lowercase() == letter;
    bytes
        .iter()
        .zip(next)
        .zip(after)
        .fold(false, |found, ((n, g), r)| {
            found | (is(n, b'n') & is(g, b'g') & is(r, b'r'))
        })
}

fn lower<'a>(
    texts: Vec<Text<'a>>,
    sink: Sink,
    catalogue: &Catalogue,
    declared: &BTreeMap<String, Kind>,
) -> Reading<'a> {
    let (reading, formal) = as_it_stands(texts, sink, catalogue, declared);
    if formal.is_empty() {
        return reading;
    }
    let mut told = Vec::new();
    let with_own = catalogue.clone().with(reading.ingredients.clone());
    let understood: Vec<Document<'static>> = reading
        .documents
        .iter()
        .zip(0..)
        .map(|(document, id)| {
            let here: Vec<(Span, Severity)> = formal
                .iter()
                .filter(|(span, _)| span.text == TextId(id))
                .copied()
                .collect();
            // A tree that was made of a model stands in no text, and one longer than this is no page that somebody jotted.
            let is_made = document.lines().all(|line| line.span() == Span::default());
            if here.is_empty() || is_made || count(&mut document.lines()) > MOST_LINES {
                return document.clone().into_owned();
            }
            let how_wrong = |line: Span| {
                let at = here.partition_point(|(span, _)| span.start < line.start);
                let found = here.get(at..).unwrap_or(&[]).iter();
                let within = found.take_while(|(span, _)| span.start <= line.end);
                within.map(|(_, severity)| *severity).max()
            };
            let (document, more) = understood(document, &how_wrong, &with_own);
            told.extend(more);
            document
        })
        .collect();
    let mut sink = Sink::default();
    for found in &reading.diagnostics {
        if is_of_the_text(found.code) {
            sink.push(found.clone());
        }
    }
    for told in &told {
        if let Told::Asked(found) = told {
            sink.push(found.clone());
        }
    }
    let trees = understood.into_iter().map(Text::Tree).collect();
    let (again, _) = as_it_stands(trees, sink, catalogue, declared);
    let mut notes = again.notes;
    notes.extend(told.into_iter().filter_map(Told::note));
    Reading {
        documents: reading.documents,
        understood: again.documents,
        recipe: again.recipe,
        brewhouses: again.brewhouses,
        stock: again.stock,
        logs: again.logs,
        ingredients: again.ingredients,
        notes,
        diagnostics: again.diagnostics,
    }
}

/// More lines than this are read as they stand only.
const MOST_LINES: usize = 20_000;

/// How many lines these are, with those below them. Depth is bounded by the parser.
fn count(lines: &mut dyn Iterator<Item = &Line<'_>>) -> usize {
    lines.map(|line| 1 + count(&mut line.lines())).sum()
}

/// Whether a finding is made where a text is cut into lines and words.
const fn is_of_the_text(code: Code) -> bool {
    matches!(
        code,
        Code::UnterminatedQuote | Code::MixedIndent | Code::TooLong | Code::TooDeep
    )
}

/// Reads texts by the grammar; gives beside it the places whose form it does not know.
fn as_it_stands<'a>(
    texts: Vec<Text<'a>>,
    sink: Sink,
    catalogue: &Catalogue,
    declared: &BTreeMap<String, Kind>,
) -> (Reading<'a>, Vec<(Span, Severity)>) {
    let trees = texts.iter().filter_map(|text| match text {
        Text::Tree(document) => Some(document),
        Text::Unread(_) => None,
    });
    let (ingredients, sink) = Lower::new(sink, catalogue).ingredients(trees);
    let with_own = (!ingredients.is_empty()).then(|| catalogue.clone().with(ingredients.clone()));
    let mut lower = Lower::new(sink, with_own.as_ref().unwrap_or(catalogue));
    lower.declared.clone_from(declared);
    let documents = texts.into_iter().map(|text| lower.text(text)).collect();
    let recipe = lower.finish();
    let formal = lower.sink.formal();
    let mut diagnostics = lower.sink.finish();
    // Stable: findings at one place keep the order in which they were made; the count of the rest stays last.
    order::sort_by_key(&mut diagnostics, |d| {
        (d.code == Code::TooMany, d.span.text, d.span.start)
    });
    let reading = Reading {
        documents,
        understood: Vec::new(),
        recipe,
        brewhouses: lower.brewhouses,
        stock: lower.stock,
        logs: lower.logs,
        ingredients,
        notes: lower.notes,
        diagnostics,
    };
    (reading, formal)
}
