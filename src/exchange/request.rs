//! A request as its JSON states it, and what each ask takes of it.

use super::ask::Ask;
use super::diagnostics::{AnswerDiagnostic, Diagnostics};
use super::fault::Fault;
use super::json_text;
use super::measured::Measured;
use super::read::read;
use crate::catalogue::Entry;
use crate::learn::BrewDay;
use crate::notation::DecimalComma;
use crate::quantity::UnitSystem;
use crate::recipe::{BitternessModel, Brewhouse, Log, Recipe, Stock, Swap};
use crate::remedy::Remedy;
use crate::sheet::{SheetLength, SheetOptions, TimeOfDay};
use crate::speech::{ColourScale, GravityScale, Style, TemperatureScale};
use crate::substitute::{Candidates, ColourMatch, Weights};
use serde::Deserialize;
use serde::de::IgnoredAny;
use serde_json::Value;

/// The one form of requests and answers so far.
pub(super) const FORMAT: u64 = 1;

/// A request.
#[derive(Debug, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct Request {
    #[cfg_attr(feature = "schema", schemars(schema_with = "super::schema::format"))]
    format: u64,
    pub(super) ask: Ask,
    #[cfg_attr(feature = "schema", schemars(schema_with = "super::schema::id"))]
    /// Echoed as it stands in the text: see [`id_of`].
    #[serde(default)]
    id: Option<IgnoredAny>,
    #[serde(default)]
    pub(super) document: Option<String>,
    #[serde(default)]
    pub(super) documents: Option<Vec<Text>>,
    #[serde(default)]
    pub(super) recipe: Option<Recipe>,
    #[serde(default)]
    pub(super) brewhouses: Option<Vec<Brewhouse>>,
    #[serde(default)]
    pub(super) stock: Option<Stock>,
    #[serde(default)]
    pub(super) logs: Option<Vec<Log>>,
    /// The name of one of several logs.
    #[serde(default)]
    pub(super) log: Option<String>,
    #[serde(default)]
    pub(super) ingredients: Option<Vec<Entry>>,
    #[serde(default)]
    pub(super) to: Option<String>,
    #[serde(default)]
    pub(super) missing: Option<Vec<String>>,
    /// The stock is all there is.
    #[serde(default)]
    pub(super) from_stock: Option<bool>,
    #[serde(default)]
    pub(super) take: Option<Vec<Taken>>,
    #[serde(default)]
    pub(super) name: Option<String>,
    #[serde(default)]
    pub(super) class: Option<String>,
    #[serde(default)]
    pub(super) reading: Option<Measured>,
    /// Brewing days, each with its own plan.
    #[serde(default)]
    pub(super) days: Option<Vec<BrewDay>>,
    #[serde(default)]
    pub(super) options: Option<Options>,
}

/// What is to be taken: a proposal for what is missing, or a remedy.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(extend("oneOf" = [{"required": ["missing", "proposal"]}, {"required": ["remedy"]}])))]
#[serde(deny_unknown_fields)]
pub(super) struct Taken {
    #[serde(default)]
    pub(super) missing: Option<String>,
    #[serde(default)]
    pub(super) proposal: Option<Proposal>,
    /// As an outcome lists it.
    #[serde(default)]
    pub(super) remedy: Option<Remedy>,
}

/// What counts of a proposal; its figures are those of the brew for which it was made and are worked out anew.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Proposal {
    pub(super) swap: Swap,
}

/// A text and the name by which messages call it.
#[derive(Debug, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct Text {
    pub(super) name: String,
    pub(super) text: String,
}

/// Settings of an ask.
#[derive(Debug, Clone, Default, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
pub(super) struct Options {
    units: Option<UnitSystem>,
    gravity: Option<GravityScale>,
    temperature: Option<TemperatureScale>,
    colour: Option<ColourScale>,
    bitterness_model: Option<BitternessModel>,
    spread: Option<bool>,
    decimal_comma: Option<DecimalComma>,
    sheet: Option<SheetLength>,
    start: Option<TimeOfDay>,
    pub(super) candidates: Option<Candidates>,
    pub(super) colour_match: Option<ColourMatch>,
    pub(super) limit: Option<usize>,
    pub(super) weights: Option<Weights>,
}

impl Request {
    /// Reads a request and sees to it that all of it can act.
    pub(super) fn read(text: &str) -> Result<Self, Diagnostics> {
        let request: Self = read(text)?;
        let faults = request.faults(text);
        if faults.is_empty() {
            Ok(request)
        } else {
            Err(faults)
        }
    }

    /// What the types do not rule out.
    fn faults(&self, text: &str) -> Diagnostics {
        let mut faults = Vec::new();
        if self.format != FORMAT {
            let message = format!("expected format {FORMAT}, found {}", self.format);
            faults.push(Fault::UnknownFormat.at_value(text, &["format"], message));
        }
        if self.id.is_some() && id_of(text).is_none() {
            let message = "expected an id of one string, number, boolean or null".to_owned();
            faults.push(Fault::WrongType.at_value(text, &["id"], message));
        }
        let ask = self.ask;
        for field in self.fields().filter(|field| !ask.fields().contains(field)) {
            faults.push(idle(text, &[field], ask, "it takes", ask.fields()));
        }
        let options = self.options.clone().unwrap_or_default();
        if ask.fields().contains(&"options") {
            for option in options
                .stated()
                .filter(|option| !ask.options().contains(option))
            {
                let path = ["options", option];
                faults.push(idle(
                    text,
                    &path,
                    ask,
                    "the options it takes are",
                    ask.options(),
                ));
            }
        }
        for (one, other) in [("document", "documents"), ("name", "class")] {
            let both = self.fields().filter(|field| [one, other].contains(field));
            if both.count() == 2 {
                let message = format!("`{one}` and `{other}` exclude each other");
                faults.push(Fault::ConflictingFields.at_key(text, &[other], message));
            }
        }
        faults
    }

    /// The fields that are there, beside `format`, `ask` and `id`.
    fn fields(&self) -> impl Iterator<Item = &'static str> + use<> {
        [
            ("document", self.document.is_some()),
            ("documents", self.documents.is_some()),
            ("recipe", self.recipe.is_some()),
            ("brewhouses", self.brewhouses.is_some()),
            ("stock", self.stock.is_some()),
            ("logs", self.logs.is_some()),
            ("log", self.log.is_some()),
            ("ingredients", self.ingredients.is_some()),
            ("to", self.to.is_some()),
            ("missing", self.missing.is_some()),
            ("from_stock", self.from_stock.is_some()),
            ("take", self.take.is_some()),
            ("name", self.name.is_some()),
            ("class", self.class.is_some()),
            ("reading", self.reading.is_some()),
            ("days", self.days.is_some()),
            ("options", self.options.is_some()),
        ]
        .into_iter()
        .filter_map(|(name, is_there)| is_there.then_some(name))
    }

    /// What a comma between digits means.
    pub(super) fn decimal_comma(&self) -> DecimalComma {
        self.options
            .as_ref()
            .and_then(|options| options.decimal_comma)
            .unwrap_or_default()
    }

    /// How bitterness is predicted, if the host says so.
    pub(super) fn bitterness_model(&self) -> Option<BitternessModel> {
        self.options
            .as_ref()
            .and_then(|options| options.bitterness_model)
    }

    /// Whether figures say how far they may be off: unless the host does without.
    pub(super) fn wants_spread(&self) -> bool {
        let options = self.options.as_ref();
        options.and_then(|options| options.spread).unwrap_or(true)
    }

    /// What a sheet prints, in these units.
    pub(super) fn sheet(&self, style: Style) -> SheetOptions {
        let options = self.options.clone().unwrap_or_default();
        SheetOptions {
            style: Some(style),
            length: options.sheet.unwrap_or_default(),
            start: options.start,
            substitutes: Vec::new(),
        }
    }

    /// The units of sentences: those asked for, else those in which the plant was written.
    pub(super) fn style(&self, plant: Option<&Brewhouse>) -> Style {
        let options = self.options.clone().unwrap_or_default();
        let usual = match options.units {
            Some(system) => Style::customary(system),
            None => plant.map(Brewhouse::style).unwrap_or_default(),
        };
        Style {
            system: usual.system,
            gravity: options.gravity.unwrap_or(usual.gravity),
            colour: options.colour.unwrap_or(usual.colour),
            temperature: options.temperature.unwrap_or(usual.temperature),
        }
    }
}

impl Options {
    fn stated(&self) -> impl Iterator<Item = &'static str> {
        [
            ("units", self.units.is_some()),
            ("gravity", self.gravity.is_some()),
            ("temperature", self.temperature.is_some()),
            ("colour", self.colour.is_some()),
            ("bitterness_model", self.bitterness_model.is_some()),
            ("spread", self.spread.is_some()),
            ("decimal_comma", self.decimal_comma.is_some()),
            ("sheet", self.sheet.is_some()),
            ("start", self.start.is_some()),
            ("candidates", self.candidates.is_some()),
            ("colour_match", self.colour_match.is_some()),
            ("limit", self.limit.is_some()),
            ("weights", self.weights.is_some()),
        ]
        .into_iter()
        .filter_map(|(name, is_there)| is_there.then_some(name))
    }
}

/// The finding of a field that does nothing for an ask.
fn idle(text: &str, path: &[&str], ask: Ask, takes: &str, known: &[&str]) -> AnswerDiagnostic {
    let name = path.last().copied().unwrap_or_default();
    let message = format!("`{name}` has no effect with the ask `{}`", ask.word());
    Fault::FieldWithoutEffect
        .at_key(text, path, message)
        .with_help((!known.is_empty()).then(|| format!("{takes} `{}`", known.join("`, `"))))
}

/// The id as a request states it, to the last digit; even of one that could not be read, so that the answer finds its way.
pub(super) fn id_of(text: &str) -> Option<&str> {
    let value = json_text::member(text, &["id"])?.value;
    // A number at the very end of a broken text may have lost its last digits.
    if value.end >= text.len() {
        return None;
    }
    let id = text.get(value)?;
    let is_scalar = !id.starts_with(['{', '[']) && serde_json::from_str::<Value>(id).is_ok();
    is_scalar.then_some(id)
}
