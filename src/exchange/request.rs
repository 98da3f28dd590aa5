//! A request as its JSON states it, and what each ask takes of it.

use super::ask::Ask;
use super::fault::{self, Fault};
use super::finding::{Finding, Findings};
use super::locate;
use super::measured::Measured;
use crate::catalogue::Entry;
use crate::notation::DecimalComma;
use crate::quantity::UnitSystem;
use crate::recipe::{BitternessModel, Brewhouse, Log, Recipe, Stock, Swap};
use crate::substitute::{Candidates, Weights};
use crate::wording::{ColourScale, GravityScale, Style, TemperatureScale};
use serde::de::{self, MapAccess, value::MapAccessDeserializer};
use serde::{Deserialize, Deserializer};
use serde_json::value::RawValue;
use std::fmt;
use std::marker::PhantomData;

/// The one form of requests and answers so far.
pub(super) const FORMAT: u64 = 1;

/// A request.
#[derive(Debug, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct Request<'a> {
    #[cfg_attr(feature = "schema", schemars(schema_with = "super::schema::format"))]
    format: u64,
    pub(super) ask: Ask,
    #[cfg_attr(feature = "schema", schemars(schema_with = "super::schema::id"))]
    #[serde(borrow, default, deserialize_with = "present")]
    pub(super) id: Option<&'a RawValue>,
    #[serde(default)]
    pub(super) document: Option<String>,
    #[serde(default)]
    pub(super) documents: Option<Vec<Text>>,
    #[serde(default, deserialize_with = "object")]
    pub(super) recipe: Option<Recipe>,
    #[serde(default)]
    pub(super) brewhouses: Option<Vec<Brewhouse>>,
    #[serde(default, deserialize_with = "object")]
    pub(super) stock: Option<Stock>,
    #[serde(default, deserialize_with = "object")]
    pub(super) log: Option<Log>,
    #[serde(default)]
    pub(super) ingredients: Option<Vec<Entry>>,
    #[serde(default)]
    pub(super) to: Option<String>,
    #[serde(default)]
    pub(super) missing: Option<Vec<String>>,
    #[serde(default)]
    pub(super) take: Option<Vec<Taken>>,
    #[serde(default)]
    pub(super) name: Option<String>,
    #[serde(default)]
    pub(super) class: Option<String>,
    #[serde(default, deserialize_with = "object")]
    pub(super) reading: Option<Measured>,
    #[serde(default, deserialize_with = "object")]
    pub(super) options: Option<Options>,
}

/// A proposal that is to be taken.
#[derive(Debug, Clone, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct Taken {
    pub(super) missing: String,
    pub(super) proposal: Proposal,
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
    decimal_comma: Option<DecimalComma>,
    pub(super) candidates: Option<Candidates>,
    pub(super) limit: Option<usize>,
    pub(super) weights: Option<Weights>,
}

impl<'a> Request<'a> {
    /// Reads a request and sees to it that all of it can act.
    pub(super) fn read(text: &'a str) -> Result<Self, Findings> {
        let mut deserializer = serde_json::Deserializer::from_str(text);
        let request = object(&mut deserializer)
            .and_then(|request: Option<Self>| {
                deserializer.end()?;
                request.ok_or_else(|| de::Error::invalid_type(de::Unexpected::Unit, &"an object"))
            })
            .map_err(|error| vec![fault::of_json(text, &error)])?;
        let faults = request.faults(text);
        if faults.is_empty() {
            Ok(request)
        } else {
            Err(faults)
        }
    }

    /// What the types do not rule out.
    fn faults(&self, text: &str) -> Findings {
        let mut faults = Vec::new();
        if self.format != FORMAT {
            let message = format!("expected format {FORMAT}, found {}", self.format);
            faults.push(Fault::UnknownFormat.at_value(text, &["format"], message));
        }
        if self.id.is_some_and(|id| !is_scalar(id.get())) {
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
            ("log", self.log.is_some()),
            ("ingredients", self.ingredients.is_some()),
            ("to", self.to.is_some()),
            ("missing", self.missing.is_some()),
            ("take", self.take.is_some()),
            ("name", self.name.is_some()),
            ("class", self.class.is_some()),
            ("reading", self.reading.is_some()),
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
            ("decimal_comma", self.decimal_comma.is_some()),
            ("candidates", self.candidates.is_some()),
            ("limit", self.limit.is_some()),
            ("weights", self.weights.is_some()),
        ]
        .into_iter()
        .filter_map(|(name, is_there)| is_there.then_some(name))
    }
}

/// The finding of a field that does nothing for an ask.
fn idle(text: &str, path: &[&str], ask: Ask, takes: &str, known: &[&str]) -> Finding {
    let name = path.last().copied().unwrap_or_default();
    let message = format!("`{name}` does nothing for the ask `{}`", ask.word());
    Fault::FieldWithoutEffect
        .at_key(text, path, message)
        .with_help((!known.is_empty()).then(|| format!("{takes} `{}`", known.join("`, `"))))
}

/// The id of a request that could not be read, so that the answer still finds its way.
pub(super) fn id_of(text: &str) -> Option<&RawValue> {
    let value = locate::member(text, &["id"])?.value;
    // A number at the very end of a broken text may have lost its last digits.
    if value.end >= text.len() {
        return None;
    }
    let id = text.get(value)?;
    is_scalar(id).then(|| serde_json::from_str(id).ok())?
}

fn is_scalar(json: &str) -> bool {
    !json.starts_with(['{', '[']) && serde_json::from_str::<serde_json::Value>(json).is_ok()
}

fn present<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<&'de RawValue>, D::Error> {
    <&RawValue>::deserialize(deserializer).map(Some)
}

/// An object or nothing; the derived form would take an array of the fields too.
fn object<'de, T: Deserialize<'de>, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<Option<T>, D::Error> {
    struct Visitor<T>(PhantomData<T>);

    impl<'de, T: Deserialize<'de>> de::Visitor<'de> for Visitor<T> {
        type Value = Option<T>;

        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("an object")
        }

        fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
            T::deserialize(MapAccessDeserializer::new(map)).map(Some)
        }

        fn visit_unit<E: de::Error>(self) -> Result<Self::Value, E> {
            Ok(None)
        }
    }

    deserializer.deserialize_any(Visitor(PhantomData))
}
