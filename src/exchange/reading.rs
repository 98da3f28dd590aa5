//! `read`: texts or models as model and as canonical notation.

use super::AnswerJson;
use super::diagnostics::{Diagnostics, Location};
use super::material::Material;
use super::request::Request;
use super::write::json as written;
use crate::catalogue::Entry;
use crate::diagnostic::TextRef;
use crate::notation::ReadingNote;
use crate::quantity::json;
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use crate::speech::{Speaks, Style};
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Result<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    recipe: Option<&'a Recipe>,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    brewhouses: &'a [Brewhouse],
    #[serde(skip_serializing_if = "Option::is_none")]
    stock: Option<&'a Stock>,
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    logs: &'a [Log],
    #[serde(skip_serializing_if = "<[_]>::is_empty")]
    ingredients: &'a [Entry],
    text: String,
    assumptions: Vec<Note<'a>>,
}

/// Something assumed in reading, with its place.
#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct Note<'a> {
    code: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    taken: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    sum_pct: Option<json::Rounded>,
    #[serde(flatten)]
    place: Location,
}

pub(super) fn answer(
    material: &Material<'_>,
    _: &Request,
) -> std::result::Result<AnswerJson, Diagnostics> {
    // Plants and stocks without a recipe can be read too.
    if material.sources.is_empty()
        && material.job.brewhouses().is_empty()
        && material.job.stock().lots.is_empty()
        && material.job.logs().is_empty()
    {
        material.recipe()?;
    }
    Ok(written(&Result {
        recipe: material.job.recipe(),
        brewhouses: material.job.brewhouses(),
        stock: Some(material.job.stock()).filter(|stock| !stock.lots.is_empty()),
        logs: material.job.logs(),
        ingredients: &material.ingredients,
        text: material.canonical(),
        assumptions: material
            .job
            .notes()
            .iter()
            .map(|note| spoken(note, &material.sources))
            .collect(),
    }))
}

fn spoken<'a>(note: &'a ReadingNote, sources: &[TextRef<'_>]) -> Note<'a> {
    let (name, taken, sum_pct) = match note {
        ReadingNote::GenericName { name, entry, .. } => {
            (Some(name.as_str()), Some(entry.as_str()), None)
        }
        ReadingNote::ReadAs { typed, read, .. } => {
            (Some(typed.as_str()), Some(read.as_str()), None)
        }
        ReadingNote::NotUsed { typed, .. } => (Some(typed.as_str()), None, None),
        ReadingNote::Remark { text, .. } => (Some(text.as_str()), None, None),
        ReadingNote::SharesNormalised { sum_pct, .. } => {
            (None, None, Some(json::Rounded(*sum_pct)))
        }
    };
    Note {
        code: note.code(),
        text: note.text(Style::default()),
        name,
        taken,
        sum_pct,
        place: Location::of(note.span(), sources),
    }
}
