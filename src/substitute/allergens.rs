//! What a recipe brings of allergens. Gluten never comes into one without any.

use crate::catalogue::{Allergen, Catalogue, Kind};
use crate::recipe::{Ingredient, Recipe};

/// Whether it holds gluten: oats count among what does, and so does malt and grain that the catalogue does not know.
pub(super) fn brings_gluten(ingredient: &Ingredient, catalogue: &Catalogue) -> bool {
    let found = catalogue.find(ingredient.catalogue_name());
    let is_cereal = matches!(ingredient.kind, Kind::Malt | Kind::Grain);
    found.map_or(is_cereal, |found| {
        found.entry.allergens().iter().any(|allergen| {
            matches!(
                allergen,
                Allergen::Barley | Allergen::Wheat | Allergen::Rye | Allergen::Oats
            )
        })
    })
}

/// Every allergen that the catalogue knows in a recipe's ingredients.
pub(super) fn allergens(recipe: &Recipe, catalogue: &Catalogue) -> Vec<Allergen> {
    let mut known = Vec::new();
    let found = recipe
        .additions()
        .flat_map(|addition| {
            addition
                .ingredient()
                .into_iter()
                .chain(addition.parts().iter().filter_map(|part| part.ingredient()))
        })
        .filter_map(|ingredient| catalogue.find(ingredient.catalogue_name()))
        .flat_map(|found| found.entry.allergens());
    for allergen in found {
        if let Err(place) = known.binary_search(allergen) {
            known.insert(place, *allergen);
        }
    }
    known
}
