//! The recipe on its source plant and on the target, before anything is replaced.

use super::allergens::{allergens, brings_gluten};
use super::kind_group::{KindGroup, group};
use super::options::SubstituteOptions;
use super::part::{Origin, Part};
use super::stock::{Held, holdings};
use super::weights::Weights;
use crate::catalogue::{Allergen, Catalogue, Commonness, EntryRef, folded};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::inverse::LaidOut;
use crate::process::{
    Fermentable, Figures, Formula, Item, ItemIndex, Material, PerItem, Worked, settle,
};
use crate::recipe::{Brewhouse, Ingredient, Recipe};
use crate::scale::{Brews, Order, SourceRead};
use std::collections::{BTreeMap, BTreeSet};

/// Everything that a search looks at.
pub(super) struct Setting<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) target: &'a Brewhouse,
    pub(super) catalogue: &'a Catalogue,
    pub(super) options: &'a SubstituteOptions,
    order: Order<'a>,
    /// The unchanged recipe on its source plant and on the target, in exact amounts.
    brews: Brews,
    /// What it gives there.
    pub(super) before: Figures,
    /// The names of which the stock has none or too little.
    pub(super) lacking: Vec<String>,
    pub(super) has_gluten: bool,
    /// For each item of the formula its kinds and its folded catalogue name.
    pub(super) keys: PerItem<(KindGroup, String)>,
    /// Those names.
    pub(super) named: BTreeSet<String>,
    pub(super) lots: BTreeMap<(KindGroup, String), Held>,
    /// What the texts of the recipe say at each place.
    pub(super) said: &'a [(Place, String)],
    /// What the recipe brings of allergens.
    pub(super) allergens: Vec<Allergen>,
}

impl<'a> Setting<'a> {
    /// `order` asks for exact amounts.
    pub(super) fn new(
        order: Order<'a>,
        read: SourceRead,
        options: &'a SubstituteOptions,
        said: &'a [(Place, String)],
    ) -> Result<Self, Error> {
        if let Some((name, weight)) = options.weights.out_of_range() {
            let most = Weights::HEAVIEST;
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!("expected a weight `{name}` from 0 to {most}, found {weight}"),
            ));
        }
        let brewing = order.brew(read)?;
        let lacking = brewing.lacking();
        let before = brewing.predicted;
        let brews = brewing.brews;
        let keys = brews.source.worked.setup.formula.items.map(|_, item| {
            let ingredient = &item.ingredient;
            (group(ingredient.kind), folded(ingredient.catalogue_name()))
        });
        let mut items = brews.source.worked.setup.formula.items.values();
        let has_gluten = items.any(|item| brings_gluten(&item.ingredient, order.catalogue));
        let named = keys.values().map(|(_, name)| name.clone()).collect();
        Ok(Self {
            has_gluten,
            said,
            allergens: allergens(order.recipe, order.catalogue),
            named,
            recipe: order.recipe,
            target: order.brewhouse,
            catalogue: order.catalogue,
            options,
            lots: holdings(order.stock),
            order,
            brews,
            before,
            lacking,
            keys,
        })
    }

    /// The recipe as printed, on its own plant.
    pub(super) fn source(&self) -> &Worked {
        &self.brews.source.worked
    }

    /// The same on the target.
    pub(super) fn planned(&self) -> &Worked {
        &self.brews.target
    }

    /// The recipe as printed, laid out.
    pub(super) fn formula(&self) -> &Formula {
        &self.source().setup.formula
    }

    /// What a recipe with swaps gives on the target. What the source says of the mash is not read again.
    pub(super) fn predicted(&self, swapped: &Recipe) -> Result<Figures, Error> {
        let order = Order {
            recipe: swapped,
            ..self.order
        };
        let laid_out = LaidOut::of(swapped, self.catalogue)?;
        let read = order.read_like(laid_out, &self.brews.source)?;
        Ok(order.brew(read)?.predicted)
    }

    /// The place of the base malt that gives way: of the mashed base malts the largest, unless it is among the missing.
    pub(super) fn base_malt(&self, missing: &[ItemIndex]) -> Option<ItemIndex> {
        self.formula()
            .items
            .iter()
            .filter(|(index, item)| item.is_mashed() && !missing.contains(index))
            .filter(|(_, item)| {
                self.catalogue
                    .find(item.ingredient.catalogue_name())
                    .is_some_and(|found| match found.entry {
                        EntryRef::Fermentable(row) => {
                            row.class == Some(crate::catalogue::FermentableClass::BaseMalt)
                        }
                        _ => false,
                    })
            })
            .max_by(|(i, _), (j, _)| self.target_kg(*i).total_cmp(&self.target_kg(*j)))
            .map(|(index, _)| index)
    }

    pub(super) fn item(&self, index: ItemIndex) -> Option<&Item> {
        self.formula().items.get(index)
    }

    /// Kilograms on the target of an item that is weighed.
    pub(super) fn target_kg(&self, index: ItemIndex) -> f64 {
        match self.item(index) {
            Some(item) if item.is_by_mass() => self.planned().amounts.of.at(index),
            _ => 0.0,
        }
    }

    /// Litres on the target of an item that is measured.
    pub(super) fn target_l(&self, index: ItemIndex) -> f64 {
        match self.item(index) {
            Some(item) if item.is_by_volume() => self.planned().amounts.of.at(index),
            _ => 0.0,
        }
    }

    /// What an ingredient would be in the beer; none for what brings no extract, or lacks a figure.
    pub(super) fn fermentable(&self, ingredient: &Ingredient) -> Option<Fermentable> {
        let place = Place::recipe("fermentation.additions");
        match settle(ingredient, &place, self.catalogue, &mut Vec::new()).ok()? {
            Material::Fermentable(part) => Some(part),
            _ => None,
        }
    }

    /// How hard a part is to get: 0 of what is at hand; none where no table says.
    pub(super) fn hard_to_get(&self, part: &Part) -> Option<usize> {
        let from = part.from?;
        let commonness = match self.catalogue.find(&part.name).map(|found| found.entry) {
            Some(EntryRef::Fermentable(row)) => row.commonness,
            Some(EntryRef::Juice(row)) => row.commonness,
            Some(EntryRef::Hop(row)) => row.commonness,
            _ => None,
        };
        match (from, commonness) {
            (Origin::Stock, _) => Some(0),
            (Origin::Shop, Some(Commonness::Everywhere)) => Some(1),
            (Origin::Shop, Some(_)) => Some(2),
            (Origin::Shop, None) => None,
            (Origin::SpecialOrder, _) => Some(3),
        }
    }

    /// At which temperature the recipe ferments first, °C, where it holds one.
    pub(super) fn held_c(&self) -> Option<f64> {
        let first = self.recipe.fermentation.holds.first()?;
        Some(first.temperature.value().celsius())
    }

    /// All mashed grain on the target, kilograms.
    pub(super) fn mashed_kg(&self) -> f64 {
        self.formula()
            .items
            .iter()
            .filter(|(_, item)| item.is_mashed())
            .map(|(index, _)| self.target_kg(index))
            .sum()
    }

    /// All fermentables of the wort on the target, kilograms.
    pub(super) fn fermentables_kg(&self) -> f64 {
        self.formula()
            .items
            .iter()
            .filter(|(_, item)| item.is_mashed() || item.is_kettle_sugar())
            .map(|(index, item)| match item.material {
                Material::Fermentable(part) if item.is_by_volume() => {
                    self.target_l(index) * part.density_kg_l
                }
                _ => self.target_kg(index),
            })
            .sum()
    }
}
