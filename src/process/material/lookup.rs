//! A figure of a line, else of the catalogue, else its refusal.

use crate::catalogue::ColourBasis;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::assumption::Figure;
use crate::quantity::{Quantity, Written};
use crate::recipe::{Facts, Ingredient};

/// A line's own figures, and which were taken from the catalogue for want of one.
pub(super) struct Lookup<'a> {
    pub(super) from_entry: Vec<Figure>,
    pub(super) moisture_left_out: bool,
    /// What a stated colour was taken to refer to, where its line doesn't say.
    pub(super) colour_basis_assumed: Option<ColourBasis>,
    pub(super) facts: &'a Facts,
}

impl Lookup<'_> {
    /// The stated figure, else the catalogue's, which is noted.
    pub(super) fn either<Q: Quantity>(
        &mut self,
        stated: Option<&Written<Q>>,
        known: Option<Q>,
        figure: Figure,
    ) -> Option<f64> {
        if let Some(stated) = stated {
            return Some(stated.value().in_base());
        }
        if known.is_some() {
            self.from_entry.push(figure);
        }
        known.map(Quantity::in_base)
    }
}

pub(super) fn missing(ingredient: &Ingredient, what: &str, example: &str) -> Error {
    Error::new(
        ErrorKind::Incomplete,
        format!(
            "`{}`: neither its line nor the ingredient table says {what}",
            ingredient.name
        ),
    )
    .with_help(format!("write it on the line, {example}"))
}
