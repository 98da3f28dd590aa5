//! Sugar, syrup and malt extract.

use super::colour_basis::{assumed_basis, colour_yield};
use super::fermentable::{Fermentable, dissolving, known_fermentable};
use super::lookup::{Lookup, missing};
use super::sugars::Sugars;
use crate::catalogue::{EntryRef, Fermentable as CatalogueFermentable};
use crate::diagnostic::Error;
use crate::process::assumption::Figure;
use crate::recipe::{ExtractBasis, Ingredient};

pub(super) fn sugar(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Fermentable, Error> {
    let known = entry.and_then(known_fermentable);
    let facts = lookup.facts;
    let extract = match &facts.extract {
        Some(stated) if stated.basis == ExtractBasis::AsIs => Some(stated.value.value().fraction()),
        Some(stated) => lookup
            .either(
                facts.moisture.as_ref(),
                known.and_then(|k| k.moisture),
                Figure::Moisture,
            )
            .map(|moisture| stated.value.value().fraction() * (1.0 - moisture)),
        None => lookup.either(
            None,
            known.and_then(CatalogueFermentable::extract_as_is),
            Figure::Extract,
        ),
    };
    let Some(extract) = extract else {
        return Err(missing(ingredient, "its extract", "such as `80 % extract`"));
    };
    let colour_ebc = lookup.either(
        facts.colour.as_ref(),
        known.and_then(|k| k.colour),
        Figure::Colour,
    );
    let fermentability = lookup.either(
        facts.fermentability.as_ref(),
        known.and_then(|k| k.fermentability),
        Figure::Fermentability,
    );
    let sugars = Sugars::of(ingredient.kind, known);
    let extract = extract.min(1.0);
    lookup.colour_basis_assumed = assumed_basis(facts, known);
    Ok(Fermentable {
        colour_ebc,
        colour_yield: colour_yield(facts, known, extract),
        sugars,
        ..dissolving(extract, fermentability)
    })
}
