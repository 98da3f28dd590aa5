//! Gluten never comes into a recipe without any.

use crate::catalogue::{Allergen, Catalogue, Kind};
use crate::recipe::Ingredient;

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
