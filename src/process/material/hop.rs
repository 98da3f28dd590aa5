//! Hops: their alpha acids.

use super::lookup::{Lookup, missing};
use crate::catalogue::EntryRef;
use crate::diagnostic::Error;
use crate::process::assumption::Figure;
use crate::recipe::Ingredient;

/// The alpha acids of a hop, a fraction, where they are known.
pub(super) fn alpha(entry: Option<EntryRef<'_>>, lookup: &mut Lookup<'_>) -> Option<f64> {
    let known = match entry {
        Some(EntryRef::Hop(known)) => known.alpha(),
        _ => None,
    };
    let facts = lookup.facts;
    lookup.either(facts.alpha.as_ref(), known, Figure::Alpha)
}

/// The refusal of a hop that is to give bitterness and of which nobody says how much it has.
pub(crate) fn alpha_missing(ingredient: &Ingredient) -> Error {
    missing(ingredient, "its alpha acids", "such as `5 % alpha`")
}
