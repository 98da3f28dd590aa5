//! What a request gives to work on: the recipe, the plants and the stock, from texts and from models.

use super::fault::{Fault, clipped};
use super::finding::{Finding, Findings, Place, REQUEST};
use super::locate;
use super::request::Request;
use crate::catalogue::{Catalogue, Entry};
use crate::diagnostic::{Code, Diagnostic, Error, ErrorKind, Source, Span};
use crate::notation::{
    Check, Document, Models, ReadOptions, Reading, ReadingNote, Token, read_with,
};
use crate::recipe::{Brewhouse, Log, Recipe, Stock};

/// What a single text is called in messages.
const DOCUMENT: &str = "document";

/// What a request gives to work on.
#[derive(Debug)]
pub(super) struct Material<'a> {
    pub(super) request: &'a str,
    pub(super) sources: Vec<Source<'a>>,
    pub(super) documents: Vec<Document<'a>>,
    pub(super) recipe: Option<Recipe>,
    pub(super) brewhouses: Vec<Brewhouse>,
    pub(super) stock: Stock,
    pub(super) log: Option<Log>,
    /// Own ingredients of the texts; those of the request stand in the catalogue only.
    pub(super) ingredients: Vec<Entry>,
    pub(super) catalogue: Catalogue,
    pub(super) notes: Vec<ReadingNote>,
    /// Warnings only: with an error there is nothing to work on.
    pub(super) findings: Findings,
    /// What came as a model, written down.
    written: Document<'static>,
}

/// The texts of a request, in order.
fn sources(request: &Request) -> Vec<Source<'_>> {
    let one = request
        .document
        .iter()
        .map(|text| Source::new(DOCUMENT, text));
    let several = request.documents.iter().flatten();
    one.chain(several.map(|text| Source::new(&text.name, &text.text)))
        .collect()
}

impl<'a> Material<'a> {
    /// Reads the texts and joins the models to them.
    pub(super) fn of(text: &'a str, request: &'a Request, sent: Sent) -> Result<Self, Findings> {
        let sources = sources(request);
        let options = ReadOptions::default().with_decimal_comma(request.decimal_comma());
        let reading: Reading<'a> = read_with(&sources, &sent.catalogue, &options);
        let usable = reading.is_usable();
        // The texts alone cannot know of a plant that comes as a model.
        let brewed_on = reading.recipe.as_ref().and_then(|r| r.brewed_on.as_deref());
        let is_known =
            brewed_on.is_some_and(|name| Brewhouse::named(name, &sent.models.brewhouses).is_ok());
        let mut findings: Vec<_> = reading
            .diagnostics
            .into_iter()
            .filter(|diagnostic| !(is_known && diagnostic.code == Code::UnknownPlant))
            .map(|diagnostic| Finding::of(diagnostic, &sources))
            .collect();
        let mut clean = usable;
        if sent.models.recipe.is_some() && reading.recipe.is_some() {
            let message = "the texts hold a recipe of their own".to_owned();
            findings.push(Fault::ConflictingFields.at_key(text, &["recipe"], message));
            clean = false;
        }
        if sent.models.log.is_some() && reading.log.is_some() {
            let message = "the texts hold a log of their own".to_owned();
            findings.push(Fault::ConflictingFields.at_key(text, &["log"], message));
            clean = false;
        }
        let written = sent.written();
        let catalogue = if reading.ingredients.is_empty() {
            sent.catalogue
        } else {
            sent.catalogue.with(reading.ingredients.iter().cloned())
        };
        let mut models = sent.models;
        models.resolve(&catalogue);
        let check = models.check(&catalogue);
        clean = clean && check.is_usable();
        let recipe = models.recipe.as_ref();
        let brewed_on = recipe.and_then(|recipe| recipe.brewed_on.as_deref());
        let is_known =
            brewed_on.is_some_and(|name| Brewhouse::named(name, &reading.brewhouses).is_ok());
        findings.extend(of_models(text, &check, is_known));
        let mut brewhouses = reading.brewhouses;
        let of_texts = brewhouses.len();
        for plant in models.brewhouses {
            // Two models of one name have been found by their check.
            let texts = brewhouses.get(..of_texts).unwrap_or_default();
            if Brewhouse::named(&plant.name, texts).is_ok() {
                let message = format!("two plants are called `{}`", clipped(&plant.name));
                findings.push(Fault::DuplicatePlant.at_key(text, &["brewhouses"], message));
                clean = false;
            }
            brewhouses.push(plant);
        }
        if !clean {
            return Err(findings);
        }
        let mut stock = reading.stock;
        stock.lots.extend(models.stock.lots);
        Ok(Self {
            request: text,
            sources,
            documents: reading.documents,
            recipe: models.recipe.or(reading.recipe),
            brewhouses,
            stock,
            log: models.log.or(reading.log),
            ingredients: reading.ingredients,
            catalogue,
            notes: reading.notes,
            findings,
            written,
        })
    }

    /// Everything as one text in canonical spacing: the texts with their comments, then what came as a model.
    pub(super) fn canonical(&self) -> String {
        self.documents
            .iter()
            .cloned()
            .fold(Document::default(), Document::followed_by)
            .followed_by(self.written.clone())
            .to_string()
    }

    /// The brewer's own ingredients as the texts describe them, then those that came as models.
    pub(super) fn own_ingredients(&self) -> Document<'a> {
        self.documents
            .iter()
            .map(|document| document.only("ingredient"))
            .fold(Document::default(), Document::followed_by)
            .followed_by(self.written.only("ingredient"))
    }

    /// The recipe, which most asks cannot do without.
    pub(super) fn recipe(&self) -> Result<&Recipe, Findings> {
        self.recipe.as_ref().ok_or_else(|| {
            let message = "expected a recipe to work on, found none".to_owned();
            let help = "send a text with a `recipe` line as `document`, or a model as `recipe`";
            let finding = Finding::error(Fault::NoRecipe.code(), message, self.whole());
            vec![finding.with_help(Some(help.to_owned()))]
        })
    }

    /// A refused call as findings, beside the warnings that came before it.
    pub(super) fn refused(mut self, findings: Findings) -> Findings {
        self.findings.extend(findings);
        self.findings
    }

    /// The finding of a refused call: at the recipe, or at the plant that lacks something.
    pub(super) fn refusal(&self, error: &Error, plant: Option<&Brewhouse>) -> Findings {
        let plant = plant.filter(|_| error.kind() == ErrorKind::PlantIncomplete);
        let place = match plant {
            Some(plant) => self.place("brewhouse", Some(&plant.name), "brewhouses"),
            None => self.place("recipe", None, "recipe"),
        };
        vec![Finding::refusal(error, place)]
    }

    /// Where a line of the log stands, counted from 0.
    pub(super) fn log_line(&self, entry: usize) -> Place {
        let in_texts = self.documents.iter().find_map(|document| {
            let log = document.only("log");
            let line = log.lines().next()?;
            Some(line.lines().nth(entry).unwrap_or(line).span())
        });
        if let Some(span) = in_texts {
            return Place::of(span, &self.sources);
        }
        match locate::element(self.request, &["log", "entries"], entry) {
            Some(bytes) => Place::in_request(self.request, bytes),
            None => Place::at_key(self.request, &["log"]),
        }
    }

    /// The text that ought to hold what is missing.
    pub(super) fn whole(&self) -> Place {
        match self.sources.first() {
            Some(source) => Place::whole(source.name),
            None => Place::whole(REQUEST),
        }
    }

    /// Where a block stands in the texts, else where its model stands in the request.
    fn place(&self, keyword: &str, name: Option<&str>, field: &str) -> Place {
        let in_texts = self
            .documents
            .iter()
            .find_map(|document| block(document, keyword, name));
        if let Some(span) = in_texts {
            return Place::of(span, &self.sources);
        }
        Place::at_key(self.request, &[field])
    }
}

/// What the models of a request are found to lack, at their places in it. `is_known`: the plant that the recipe was brewed
/// on stands in the texts.
fn of_models(request: &str, check: &Check, is_known: bool) -> Findings {
    let at = |span: Span| Place::along(request, check.path(span));
    let counts = |found: &&Diagnostic| !(is_known && found.code == Code::UnknownPlant);
    let found = check.diagnostics.iter().filter(counts);
    found.map(|found| Finding::at(found.clone(), at)).collect()
}

/// What a request hands over as models.
#[derive(Debug)]
pub(super) struct Sent {
    pub(super) catalogue: Catalogue,
    /// Own ingredients; one that no text can state in full is left to the catalogue alone.
    ingredients: Vec<Document<'static>>,
    models: Models,
}

impl Sent {
    /// Takes the models out of a request; its texts stay.
    pub(super) fn taken_from(request: &mut Request) -> Self {
        let entries = request.ingredients.take().unwrap_or_default();
        let models = Models {
            recipe: request.recipe.take(),
            brewhouses: request.brewhouses.take().unwrap_or_default(),
            stock: request.stock.take().unwrap_or_default(),
            log: request.log.take(),
        };
        Self {
            ingredients: entries.iter().filter_map(Document::of_ingredient).collect(),
            catalogue: Catalogue::builtin().with(entries),
            models,
        }
    }

    fn written(&self) -> Document<'static> {
        let models = &self.models;
        let recipe = models.recipe.iter().map(Document::from);
        let plants = models.brewhouses.iter().map(Document::from);
        let stock = std::iter::once(Document::from(&models.stock));
        recipe
            .chain(plants)
            .chain(stock)
            .chain(models.log.iter().map(Document::from))
            .chain(self.ingredients.iter().cloned())
            .fold(Document::default(), Document::followed_by)
    }
}

/// The line that opens a block, of that name if one is given.
fn block(document: &Document<'_>, keyword: &str, name: Option<&str>) -> Option<Span> {
    document.lines().find_map(|line| {
        let (first, rest) = line.tokens().split_first()?;
        let opens = first.text().eq_ignore_ascii_case(keyword);
        let is_named = name.is_none_or(|name| {
            let words: Vec<_> = rest.iter().map(Token::text).collect();
            words.join(" ").to_lowercase() == name.to_lowercase()
        });
        (opens && is_named).then(|| line.span())
    })
}
