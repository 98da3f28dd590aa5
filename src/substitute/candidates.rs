//! What may stand for a line: what the stock holds, and what a shop sells, with how much of it there is.

use super::allergens::brings_gluten;
use super::distance::Aspect;
use super::kind_group::KindGroup;
use super::options::Candidates;
use super::part::Origin;
use super::setting::Setting;
use crate::catalogue::{Commonness, Kind, folded};
use crate::numeric::order;
use crate::process::{Item, ItemIndex};
use crate::recipe::{Available, Ingredient};
use std::collections::BTreeSet;

/// Something that may stand for a line.
pub(super) struct Candidate {
    pub(super) ingredient: Ingredient,
    pub(super) from: Origin,
    /// Kilograms, or litres of juice, that can be had.
    pub(super) left: f64,
}

/// What the catalogue has of a kind.
pub(super) struct Sold<'r> {
    pub(super) name: &'r str,
    pub(super) kind: Kind,
    pub(super) from: Origin,
    /// Whether it does the job of what is replaced, and a small brewer can use it.
    pub(super) does_it: bool,
}

impl Setting<'_> {
    /// What the recipe as it is uses of a name on the target, kilograms and litres, the lines at `without` aside.
    pub(super) fn used(&self, name: &str, kinds: KindGroup, without: &[ItemIndex]) -> (f64, f64) {
        let key = folded(name);
        self.keys
            .iter()
            .filter(|(index, (its_kinds, its_key))| {
                *its_kinds == kinds && *its_key == key && !without.contains(index)
            })
            .fold((0.0, 0.0), |(kg, l), (index, _)| {
                (kg + self.target_kg(index), l + self.target_l(index))
            })
    }

    /// What is left of a name for the lines at `without`, kilograms or litres of juice: infinite where the stock says nothing of
    /// it, or that there is as much as is wanted.
    pub(super) fn left(&self, name: &str, kinds: KindGroup, without: &[ItemIndex]) -> f64 {
        let held = self.lots.get(&(kinds, folded(name)));
        match held.map(|held| held.holding.available()) {
            None | Some(Available::AsMuchAsWanted) => f64::INFINITY,
            Some(Available::Nothing) => 0.0,
            // Of yeast enough is grown.
            Some(Available::Amount { .. }) if kinds == KindGroup::Yeast => f64::INFINITY,
            Some(Available::Amount { kg, l }) => {
                let (used_kg, used_l) = self.used(name, kinds, without);
                let left = match kinds {
                    KindGroup::Juice => l - used_l,
                    _ => kg - used_kg,
                };
                left.max(0.0)
            }
        }
    }

    /// Everything of these kinds that may stand for the line, in the order of their names. `rows` are the catalogue's, for when
    /// those of a shop are asked for, or all. Where neither the stock nor a shop has anything for the job, what must be ordered
    /// for it is among them; a lot of less than `enough` is not. Gluten never comes into a recipe without any.
    pub(super) fn candidates<'r>(
        &self,
        item: &Item,
        missing: &[ItemIndex],
        (kinds, enough): (KindGroup, f64),
        rows: impl Iterator<Item = Sold<'r>>,
    ) -> Vec<Candidate> {
        let gone = self.names(missing, item);
        let mut found: Vec<Candidate> = Vec::new();
        let mut at_hand: BTreeSet<&str> = BTreeSet::new();
        for ((its_kinds, key), held) in &self.lots {
            if *its_kinds != kinds || gone.contains(key) {
                continue;
            }
            let left = self.left(held.ingredient.catalogue_name(), kinds, missing);
            if left > 0.0 {
                if left >= enough {
                    at_hand.insert(key);
                }
                let ingredient = held.ingredient.clone();
                found.push(Candidate {
                    ingredient,
                    from: Origin::Stock,
                    left,
                });
            }
        }
        if self.options.candidates != Candidates::Stock {
            let rows: Vec<_> = rows
                .map(|row| (folded(row.name), row))
                .filter(|(key, _)| !gone.contains(key))
                .collect();
            let is_done = rows.iter().any(|(key, row)| {
                row.does_it && (row.from == Origin::Shop || at_hand.contains(&**key))
            });
            let offered = |row: &Sold<'_>| {
                let ordered =
                    self.options.candidates == Candidates::Catalogue || (row.does_it && !is_done);
                row.from == Origin::Shop || ordered
            };
            let bought = rows.iter().filter(|(key, row)| {
                offered(row) && !self.lots.contains_key(&(kinds, key.clone()))
            });
            let bought: Vec<_> = bought
                .map(|(key, row)| {
                    let named = || {
                        let mut ingredient = Ingredient::new(row.name.to_owned(), row.kind);
                        ingredient.entry = Some(row.name.to_owned());
                        ingredient
                    };
                    Candidate {
                        // What the recipe has already is of that lot.
                        ingredient: self
                            .in_recipe(kinds, key, missing)
                            .cloned()
                            .unwrap_or_else(named),
                        from: row.from,
                        left: f64::INFINITY,
                    }
                })
                .collect();
            found.extend(bought);
        }
        if !self.has_gluten {
            found.retain(|candidate| !brings_gluten(&candidate.ingredient, self.catalogue));
        }
        order::sort_by(&mut found, |a, b| a.ingredient.name.cmp(&b.ingredient.name));
        found
    }

    /// A line of this name, those that are missing aside.
    fn in_recipe(&self, kinds: KindGroup, key: &str, missing: &[ItemIndex]) -> Option<&Ingredient> {
        let mut lines = self.keys.iter();
        let (index, _) = lines.find(|(index, (its_kinds, its_key))| {
            *its_kinds == kinds && its_key == key && !missing.contains(index)
        })?;
        Some(&self.item(index)?.ingredient)
    }

    /// What it costs that somebody may not drink it any more: each allergen that the recipe has not.
    pub(super) fn costs_of_allergens(&self, name: &str) -> (Aspect, f64) {
        let entry = self.catalogue.find(name).map(|found| found.entry);
        let allergens = entry.map_or(&[][..], |entry| entry.allergens());
        let new = allergens
            .iter()
            .filter(|allergen| !self.allergens.contains(allergen));
        let cost = self.options.weights.new_allergen * new.count() as f64;
        (Aspect::NewAllergen, cost)
    }

    /// Fixed costs of getting something of which `share` of the beer is made, and of who may not drink it: nothing is bought of what
    /// is at hand, or on the list for the recipe anyway.
    pub(super) fn costs_of_buying(
        &self,
        name: &str,
        from: Origin,
        commonness: Option<Commonness>,
        share: f64,
    ) -> Vec<(Aspect, f64)> {
        let weights = &self.options.weights;
        let allergens = self.costs_of_allergens(name);
        if from == Origin::Stock || self.named.contains(&folded(name)) {
            return vec![allergens];
        }
        let uncommon = match commonness {
            Some(Commonness::Everywhere) => 0.0,
            Some(Commonness::GoodShops) => weights.good_shops_only,
            Some(Commonness::Specialist) | None => weights.specialist_only,
            Some(Commonness::Rare) => weights.rare,
        };
        vec![
            (Aspect::ToBuy, weights.buying(share)),
            (Aspect::Uncommon, uncommon),
            allergens,
        ]
    }

    /// The names that are missing, folded, the line's own among them.
    fn names(&self, missing: &[ItemIndex], item: &Item) -> Vec<String> {
        missing
            .iter()
            .filter_map(|index| self.item(*index))
            .chain([item])
            .map(|item| folded(item.ingredient.catalogue_name()))
            .collect()
    }
}
