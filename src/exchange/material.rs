//! What a request gives to work on: the recipe, the plants and the stock, from texts and from models.

use super::diagnostics::{AnswerDiagnostic, Diagnostics, Location, REQUEST};
use super::fault::{Fault, clipped};
use super::json_text;
use super::request::Request;
use super::take::with_taken;
use crate::catalogue::{Catalogue, Entry};
use crate::diagnostic::{Code, Diagnostic, Error, ErrorKind, Place, Span, TextRef};
use crate::job::{Brew, Job};
use crate::notation::{
    Check, Document, Models, ReadOptions, Reading, Token, inputs_of, log_lines, read_with,
};
use crate::recipe::{Brewhouse, Recipe};
use crate::scale::ScaleOptions;

/// What a single text is called in messages.
const DOCUMENT: &str = "document";

/// What a request gives to work on.
#[derive(Debug)]
pub(super) struct Material<'a> {
    pub(super) request: &'a str,
    pub(super) sources: Vec<TextRef<'a>>,
    pub(super) documents: Vec<Document<'a>>,
    pub(super) job: Job,
    /// Own ingredients of the texts; those of the request stand in the catalogue only.
    pub(super) ingredients: Vec<Entry>,
    /// Warnings only: with an error there is nothing to work on.
    pub(super) findings: Diagnostics,
    /// What came as a model, written down.
    written: Document<'static>,
}

/// The texts of a request, in order.
fn sources(request: &Request) -> Vec<TextRef<'_>> {
    let one = request
        .document
        .iter()
        .map(|text| TextRef::new(DOCUMENT, text));
    let several = request.documents.iter().flatten();
    one.chain(several.map(|text| TextRef::new(&text.name, &text.text)))
        .collect()
}

impl<'a> Material<'a> {
    /// Reads the texts and joins the models to them.
    pub(super) fn of(text: &'a str, request: &'a Request, sent: Sent) -> Result<Self, Diagnostics> {
        let sources = sources(request);
        let options = ReadOptions::default().with_decimal_comma(request.decimal_comma());
        let mut reading: Reading<'a> = read_with(&sources, &sent.catalogue, &options);
        let usable = reading.is_usable();
        // The texts alone cannot know of a plant that comes as a model.
        let brewed_on = reading.recipe.as_ref().and_then(|r| r.brewed_on.as_deref());
        let is_known =
            brewed_on.is_some_and(|name| Brewhouse::find(name, &sent.models.brewhouses).is_ok());
        let mut findings: Vec<_> = reading
            .placed_diagnostics(&sent.catalogue)
            .into_iter()
            .filter(|diagnostic| !(is_known && diagnostic.code == Code::UnknownPlant))
            .map(|diagnostic| AnswerDiagnostic::of(diagnostic, &sources))
            .collect();
        let mut clean = usable;
        if sent.models.recipe.is_some() && reading.recipe.is_some() {
            let message = "the texts hold a recipe of their own".to_owned();
            findings.push(Fault::ConflictingFields.at_key(text, &["recipe"], message));
            clean = false;
        }
        let written = sent.written();
        let mut models = sent.models;
        let ingredients = std::mem::take(&mut reading.ingredients);
        let catalogue = sent.catalogue.with(ingredients.iter().cloned());
        models.resolve(&catalogue);
        let check = models.check(&catalogue);
        clean = clean && check.is_usable();
        let recipe = models.recipe.as_ref();
        let brewed_on = recipe.and_then(|recipe| recipe.brewed_on.as_deref());
        let is_known =
            brewed_on.is_some_and(|name| Brewhouse::find(name, &reading.brewhouses).is_ok());
        findings.extend(of_models(text, &check, is_known));
        // Two models of one name have been found by their check.
        for plant in &models.brewhouses {
            if Brewhouse::find(&plant.name, &reading.brewhouses).is_ok() {
                let message = format!("two plants are called `{}`", clipped(&plant.name));
                findings.push(Fault::DuplicatePlant.at_key(text, &["brewhouses"], message));
                clean = false;
            }
        }
        for log in &models.logs {
            if reading.logs.iter().any(|known| known.is_called(log.name())) {
                let message = format!("two logs are called `{}`", clipped(log.name()));
                findings.push(Fault::DuplicateLog.at_key(text, &["logs"], message));
                clean = false;
            }
        }
        if !clean {
            return Err(findings);
        }
        let documents = std::mem::take(&mut reading.documents);
        Ok(Self {
            request: text,
            sources,
            documents,
            job: Job::of(reading, &catalogue, Vec::new()).joined(models),
            ingredients,
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
    pub(super) fn recipe(&self) -> Result<&Recipe, Diagnostics> {
        self.job.recipe().ok_or_else(|| {
            let message = "expected a recipe to work on, found none".to_owned();
            let help = "send a text with a `recipe` line as `document`, or a model as `recipe`";
            let finding = AnswerDiagnostic::error(Fault::NoRecipe.code(), message, self.whole());
            vec![finding.with_help(Some(help.to_owned()))]
        })
    }

    /// A refused call as findings, beside the warnings that came before it.
    pub(super) fn refused(mut self, findings: Diagnostics) -> Diagnostics {
        self.findings.extend(findings);
        self.findings
    }

    /// The finding of a refused call: at the recipe, or at the plant that lacks something.
    pub(super) fn refusal(&self, error: &Error, plant: Option<&Brewhouse>) -> Diagnostics {
        let plant = plant.filter(|_| error.kind() == ErrorKind::PlantIncomplete);
        let stated = error.place().and_then(|place| self.location(place));
        let location = stated.unwrap_or_else(|| match plant {
            Some(plant) => self.place("brewhouse", Some(&plant.name), "brewhouses"),
            None => self.place("recipe", None, "recipe"),
        });
        vec![AnswerDiagnostic::refusal(error, location)]
    }

    /// Where a text or a model of the request states an input.
    fn location(&self, place: &Place) -> Option<Location> {
        let inputs = inputs_of(&self.documents, self.job.catalogue());
        let in_texts = || Some(Location::of(inputs.span(place)?, &self.sources));
        let in_models = || json_text::along(self.request, &place.to_string());
        in_texts().or_else(|| Some(Location::in_request(self.request, in_models()?)))
    }

    /// The brew on the plant that the request names, or on the only one, with what the request takes.
    pub(super) fn brew(&self, request: &Request) -> Result<Brew, Diagnostics> {
        let recipe = self.recipe()?;
        let brewhouses = self.job.brewhouses();
        recipe
            .plant_among(brewhouses)
            .map_err(|error| self.refusal(&error, None))?;
        let plant = match &request.to {
            Some(to) => Brewhouse::find(to, brewhouses).map_err(|error| {
                vec![AnswerDiagnostic::refusal(
                    &error,
                    Location::at_value(self.request, &["to"]),
                )]
            })?,
            None => self.job.only_plant().map_err(|_| self.no_plant())?,
        };
        let mut options = match request.bitterness_model() {
            Some(model) => ScaleOptions::default().with_bitterness(model),
            None => ScaleOptions::default(),
        };
        // What an ask does not answer is not worked out.
        options.spread = request.wants_spread() && request.ask.answers_spread();
        let brew = self.job.on_with(&plant.name, &options);
        let brew = brew.map_err(|error| self.refusal(&error, Some(plant)))?;
        match &request.take {
            Some(take) => with_taken(&brew, take, self.request),
            None => Ok(brew),
        }
    }

    fn no_plant(&self) -> Diagnostics {
        let plants = self.job.brewhouses().iter();
        let names: Vec<_> = plants.map(|plant| plant.name.as_str()).collect();
        let message = "expected `to`, the name of the plant to brew on, found none".to_owned();
        let help = if names.is_empty() {
            "write a `brewhouse` block with a `batch` line and name it in `to`".to_owned()
        } else {
            format!("the plants are `{}`", names.join("`, `"))
        };
        let finding = Fault::MissingField.at(self.request, 0..1, message);
        vec![finding.with_help(Some(help))]
    }

    /// Where a line of a log stands, both counted from 0.
    pub(super) fn log_line(&self, log: usize, entry: usize) -> Location {
        let in_texts = log_lines(&self.documents);
        if let Some(lines) = in_texts.get(log)
            && let Some(span) = lines.get(entry + 1).or(lines.first())
        {
            return Location::of(*span, &self.sources);
        }
        let path = format!(
            "logs[{}].entries[{entry}]",
            log.saturating_sub(in_texts.len())
        );
        Location::along(self.request, &path)
    }

    /// The text that ought to hold what is missing.
    pub(super) fn whole(&self) -> Location {
        match self.sources.first() {
            Some(source) => Location::whole(source.name),
            None => Location::whole(REQUEST),
        }
    }

    /// Where a block stands in the texts, else where its model stands in the request.
    fn place(&self, keyword: &str, name: Option<&str>, field: &str) -> Location {
        let in_texts = self
            .documents
            .iter()
            .find_map(|document| block(document, keyword, name));
        if let Some(span) = in_texts {
            return Location::of(span, &self.sources);
        }
        Location::at_key(self.request, &[field])
    }
}

/// What the models of a request are found to lack, at their places in it. `is_known`: the plant that the recipe was brewed
/// on stands in the texts.
fn of_models(request: &str, check: &Check, is_known: bool) -> Diagnostics {
    let counts = |found: &&Diagnostic| !(is_known && found.code == Code::UnknownPlant);
    let found = check.diagnostics.iter().filter(counts);
    let at = |span: Span| match check.inputs.place(span) {
        Some(place) => Location::along(request, &place.to_string()),
        None => Location::whole(REQUEST),
    };
    found
        .map(|found| AnswerDiagnostic::at(found.clone(), at))
        .collect()
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
        let mut models = Models::default();
        models.recipe = request.recipe.take();
        models.brewhouses = request.brewhouses.take().unwrap_or_default();
        models.stock = request.stock.take().unwrap_or_default();
        models.logs = request.logs.take().unwrap_or_default();
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
            .chain(models.logs.iter().map(Document::from))
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
