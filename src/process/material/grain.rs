//! Malt and grain.

use super::fermentable::{Fermentable, known_fermentable};
use super::lookup::{Lookup, missing};
use super::sugars::Sugars;
use crate::catalogue::EntryRef;
use crate::diagnostic::Error;
use crate::process::assumption::Figure;
use crate::recipe::{ExtractBasis, Ingredient};

pub(super) fn grain(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Fermentable, Error> {
    let known = entry.and_then(known_fermentable);
    let moisture = lookup.either(
        lookup.facts.moisture.as_ref(),
        known.and_then(|k| k.moisture),
        Figure::Moisture,
    );
    let facts = lookup.facts;
    let dry = match &facts.extract {
        Some(stated) if stated.basis == ExtractBasis::AsIs => None,
        stated => lookup.either(
            stated.as_ref().map(|s| &s.value),
            known.and_then(|k| k.extract),
            Figure::Extract,
        ),
    };
    let as_is = facts
        .extract
        .as_ref()
        .filter(|stated| stated.basis == ExtractBasis::AsIs)
        .map(|stated| stated.value.value().fraction());
    let extract = match (as_is, dry, moisture) {
        (Some(as_is), ..) => as_is,
        (None, Some(dry), Some(moisture)) => dry * (1.0 - moisture),
        _ => {
            return Err(missing(
                ingredient,
                "its extract and moisture",
                "such as `extract 80 % dry, moisture 4.5 %`",
            ));
        }
    };
    lookup.moisture_left_out = moisture.is_none();
    let fermentability = lookup.either(
        facts.fermentability.as_ref(),
        known.and_then(|k| k.fermentability),
        Figure::Fermentability,
    );
    Ok(Fermentable {
        extract,
        // An extract as is says how much dissolves; the water in the grain is then taken as none.
        water: moisture.unwrap_or(0.0),
        colour_ebc: lookup.either(
            facts.colour.as_ref(),
            known.and_then(|k| k.colour),
            Figure::Colour,
        ),
        colour_yield: None,
        fermentability,
        ferments: fermentability,
        sugars: Sugars::of(ingredient.kind, known),
        diastatic_wk: lookup.either(
            facts.diastatic_power.as_ref(),
            known.and_then(|k| k.diastatic_power),
            Figure::DiastaticPower,
        ),
        density_kg_l: 1.0,
        pulp: None,
    })
}
