//! `catalogue`: what is known of a name, or everything of a class.

use super::fault::{Fault, clipped, help};
use super::material::Sent;
use super::request::Request;
use super::write::json;
use super::{refuse, reply};
use crate::catalogue::{Catalogue, EntryRef, FermentableClass, Kind, Reached};
use serde::Serialize;

#[derive(Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(super) struct Listing<'a> {
    entries: Vec<EntryRef<'a>>,
    /// How a name led to its entry.
    #[serde(skip_serializing_if = "Option::is_none")]
    reached: Option<Reached<'a>>,
    /// Names that resemble one that is not known.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    near: Vec<&'a str>,
}

pub(super) fn answer(text: &str, mut request: Request, id: Option<&str>) -> String {
    let catalogue = Sent::taken_from(&mut request).catalogue;
    match (&request.name, &request.class) {
        (Some(name), _) => reply(id, &[], json(&by_name(&catalogue, name))),
        (None, Some(class)) => match by_class(&catalogue, class) {
            Some(listing) => reply(id, &[], json(&listing)),
            None => refuse(id, &[unknown_class(text, class)]),
        },
        (None, None) => {
            let message = "expected `name` or `class`, found neither".to_owned();
            let finding = Fault::MissingField
                .at(text, 0..1, message)
                .with_help(Some("write `\"name\": \"flaked oats\"`".to_owned()));
            refuse(id, &[finding])
        }
    }
}

fn by_name<'a>(catalogue: &'a Catalogue, name: &str) -> Listing<'a> {
    match catalogue.find(name) {
        Some(found) => Listing {
            entries: vec![found.entry],
            reached: Some(found.reached),
            near: Vec::new(),
        },
        None => Listing {
            entries: Vec::new(),
            reached: None,
            near: catalogue.near(clipped(name), None),
        },
    }
}

/// The fermentables of a class, or everything of a kind; a word that is both means the class.
fn by_class<'a>(catalogue: &'a Catalogue, class: &str) -> Option<Listing<'a>> {
    let word = plain(class);
    let of_class = FermentableClass::ALL
        .iter()
        .find(|known| plain(known.as_str()) == word);
    let of_kind = Kind::ALL.iter().find(|known| plain(known.as_str()) == word);
    let entries = match (of_class, of_kind) {
        (Some(class), _) => catalogue
            .of_class(*class)
            .map(EntryRef::Fermentable)
            .collect(),
        (None, Some(kind)) => catalogue.of_kind(*kind).collect(),
        (None, None) => return None,
    };
    Some(Listing {
        entries,
        reached: None,
        near: Vec::new(),
    })
}

fn unknown_class(text: &str, class: &str) -> super::AnswerDiagnostic {
    let classes = FermentableClass::ALL.iter().map(|class| class.as_str());
    let kinds = Kind::ALL.iter().map(|kind| kind.as_str());
    let known: Vec<_> = classes.chain(kinds).collect();
    let message = format!("no class or kind is called `{}`", clipped(class));
    Fault::UnknownValue
        .at_value(text, &["class"], message)
        .with_help(help("classes and kinds are", class, &known))
}

/// `Base malt`, `base-malt` and `base_malt` are one.
fn plain(word: &str) -> String {
    word.trim().to_lowercase().replace(['_', '-'], " ")
}
