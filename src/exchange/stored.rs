//! Models from a store, read leniently where that is safe.

use super::json_text::{leave_out, path_to};
use super::misfit::Misfit;
use super::read::value;
use crate::diagnostic::{Error, ErrorKind};
use crate::notation::Models;
use serde::Serialize;

/// Fields beyond this many that nobody knows are no models of ours.
const MOST_UNKNOWN: usize = 100;

/// Stored models, and what of them is not known here.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[non_exhaustive]
pub struct Stored {
    /// The models, without the fields that are not known.
    pub models: Models,
    /// Those fields, to be shown to a person.
    pub unknown: Vec<UnknownField>,
}

/// A field of stored models that is not known.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[non_exhaustive]
pub struct UnknownField {
    /// Its path: `recipe.mash.additions[2].amuont`.
    pub path: String,
    /// The field that may have been meant, or else those that there are.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub help: Option<String>,
}

/// Reads models as serde writes [`Models`]. A field that is not known is left out and noted with its path; requests refuse one.
///
/// ```
/// let kept = r#"{"format": 1, "brewhouses": [{"name": "Pot", "kettel_l": {"number": 20, "unit": "L"}}]}"#;
/// let stored = wortwright::exchange::stored(kept)?;
/// assert_eq!(stored.models.brewhouses[0].name, "Pot");
/// assert_eq!(stored.unknown[0].path, "brewhouses[0].kettel_l");
/// assert_eq!(stored.unknown[0].help.as_deref(), Some("did you mean `kettle_l`?"));
/// # Ok::<(), wortwright::Error>(())
/// ```
///
/// # Errors
///
/// `Unreadable` for a text that is not JSON, for a word or a value that does not fit, with its path, and for models of a later
/// format.
pub fn stored(text: &str) -> Result<Stored, Error> {
    let mut known = text.to_owned();
    let mut unknown = Vec::new();
    loop {
        let misfit = match value::<Models>(&known) {
            Ok(models) => return Ok(Stored { models, unknown }),
            Err(misfit) => misfit,
        };
        if !misfit.is_unknown_field() || unknown.len() == MOST_UNKNOWN {
            return Err(refusal(&known, &misfit));
        }
        let key = misfit.bytes(&known);
        unknown.push(UnknownField {
            path: path_to(&known, key.start),
            help: misfit.help().map(str::to_owned),
        });
        leave_out(&mut known, key);
    }
}

fn refusal(text: &str, misfit: &Misfit) -> Error {
    let path = path_to(text, misfit.bytes(text).start);
    let message = misfit.to_string();
    let message = match message.strip_prefix("the request ") {
        Some(rest) => format!("the stored text {rest}"),
        None if path.is_empty() => message,
        None => format!("`{path}`: {message}"),
    };
    let error = Error::new(ErrorKind::Unreadable, message);
    match misfit.help() {
        Some(help) => error.with_help(help),
        None => error,
    }
}
