//! The recipe on its source plant and on the target, before anything is replaced.

use super::kind_group::{KindGroup, group};
use super::options::{Candidates, SubstituteOptions};
use super::proposal::{Aspect, Origin, Part};
use super::stock::{Held, holdings};
use super::weights::Weights;
use crate::catalogue::{Allergen, Catalogue, Commonness, EntryRef, Kind, YeastUse, folded};
use crate::diagnostic::{Error, ErrorKind, nearest};
use crate::inverse::LaidOut;
use crate::numeric::order;
use crate::process::{Figures, Formula, Item, ItemIndex, Material, PerItem, Slot, Stage, Worked};
use crate::recipe::{Available, Brewhouse, Ingredient, Recipe, RecipeLine, Section};
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
    lacking: Vec<String>,
    has_gluten: bool,
    /// For each item of the formula its kinds and its folded catalogue name.
    keys: PerItem<(KindGroup, String)>,
    /// Those names.
    named: BTreeSet<String>,
    pub(super) lots: BTreeMap<(KindGroup, String), Held>,
}

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

/// A line that is to be replaced.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub(super) line: RecipeLine,
    /// Its place in the formula.
    pub(super) index: ItemIndex,
}

pub(super) const fn section(stage: Stage) -> Section {
    match stage {
        Stage::Mash => Section::Mash,
        Stage::Sour | Stage::Boil => Section::Boil,
        Stage::Stand => Section::Stand,
        Stage::Ferment => Section::Ferment,
        Stage::Package => Section::Package,
    }
}

fn is_bacteria(culture: &Ingredient, catalogue: &Catalogue) -> bool {
    let found = catalogue.find(culture.catalogue_name());
    found.is_some_and(|found| match found.entry {
        EntryRef::Yeast(row) => row.usage == Some(YeastUse::Bacteria),
        _ => false,
    })
}

/// Whether it holds gluten: oats count among what does, and so does malt and grain that the catalogue does not know.
fn brings_gluten(ingredient: &Ingredient, catalogue: &Catalogue) -> bool {
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

impl<'a> Setting<'a> {
    /// `order` asks for exact amounts.
    pub(super) fn new(
        order: Order<'a>,
        read: SourceRead,
        options: &'a SubstituteOptions,
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

    /// The lines of the names; without names, those of which the stock has none or too little.
    pub(super) fn needs(&self, missing: &[String]) -> Result<Vec<Need>, Error> {
        let mut unlisted = self.lacking.clone();
        if self.options.from_stock {
            let listed = |key| self.lots.contains_key(key);
            // A list without any yeast speaks of none.
            let lists_yeast = self.lots.iter().any(|((kinds, _), held)| {
                *kinds == KindGroup::Yeast
                    && held.holding.available() != Available::Nothing
                    && !is_bacteria(&held.ingredient, self.catalogue)
            });
            let of_kind = self.keys.iter().filter(|(_, (kinds, _))| match kinds {
                KindGroup::Other => false,
                KindGroup::Yeast => lists_yeast,
                KindGroup::Fermentable | KindGroup::Juice | KindGroup::Hop => true,
            });
            unlisted.extend(
                of_kind
                    .filter(|(_, key)| !listed(*key))
                    .map(|(_, (_, name))| name.clone()),
            );
        }
        let lacking = if missing.is_empty() {
            &unlisted
        } else {
            missing
        };
        let mut needs = Vec::new();
        for name in lacking {
            let key = folded(name);
            let before = needs.len();
            for (index, item) in self.formula().items.iter() {
                let named = folded(&item.ingredient.name) == key
                    || folded(item.ingredient.catalogue_name()) == key;
                // Where bacteria sour the wort no section has lines.
                let has_line = item.place.stage != Stage::Sour;
                if named && has_line && group(item.ingredient.kind) != KindGroup::Other {
                    needs.push(Need {
                        line: self.line(index, item),
                        index,
                    });
                }
            }
            if needs.len() == before && !missing.is_empty() {
                return Err(self.unknown(name));
            }
        }
        order::sort_by_key(&mut needs, |need| need.index);
        needs.dedup_by_key(|need| need.index);
        Ok(needs)
    }

    fn unknown(&self, name: &str) -> Error {
        let names = self
            .formula()
            .items
            .values()
            .filter(|item| item.place.stage != Stage::Sour)
            .filter(|item| group(item.ingredient.kind) != KindGroup::Other)
            .map(|item| item.ingredient.name.as_str());
        let error = Error::new(
            ErrorKind::UnknownName,
            format!("the recipe has no malt, grain, sugar, juice, hop or yeast `{name}`"),
        );
        match nearest(name, names).first() {
            Some(near) => error.with_help(format!("did you mean `{near}`?")),
            None => error,
        }
    }

    /// The line of an item: its name and which of that name in its section.
    fn line(&self, index: ItemIndex, item: &Item) -> RecipeLine {
        let nth = self
            .formula()
            .items
            .iter()
            .filter(|(at, other)| {
                *at < index
                    && other.place.stage == item.place.stage
                    && other.ingredient.name == item.ingredient.name
            })
            .count();
        RecipeLine {
            section: section(item.place.stage),
            name: item.ingredient.name.clone(),
            nth,
        }
    }

    /// Whether two lines want the same: so much of one ingredient at one time. Parts of blends stand for themselves.
    pub(super) fn alike(&self, one: &Need, other: &Need) -> bool {
        let (Some(first), Some(second)) = (self.item(one.index), self.item(other.index)) else {
            return false;
        };
        let amounts = &self.planned().amounts.of;
        let place = Slot {
            index: second.place.index,
            ..first.place
        };
        second.place.part.is_none()
            && second.place == place
            && amounts
                .at(one.index)
                .total_cmp(&amounts.at(other.index))
                .is_eq()
            && first.rule == second.rule
            && first.material == second.material
            && first.timing == second.timing
            && first.ingredient == second.ingredient
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

    /// The line of an item by its place in the formula.
    pub(super) fn line_at(&self, index: ItemIndex) -> Option<RecipeLine> {
        self.item(index).map(|item| self.line(index, item))
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
    /// for it is among them. Gluten never comes into a recipe without any.
    pub(super) fn candidates<'r>(
        &self,
        item: &Item,
        missing: &[ItemIndex],
        kinds: KindGroup,
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
                at_hand.insert(key);
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
                .map(|(_, row)| {
                    let mut ingredient = Ingredient::new(row.name.to_owned(), row.kind);
                    ingredient.entry = Some(row.name.to_owned());
                    Candidate {
                        ingredient,
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

    /// Fixed costs of getting something of which `share` of the beer is made: none of what is at hand, or on the list for the
    /// recipe anyway.
    pub(super) fn costs_of_buying(
        &self,
        name: &str,
        from: Origin,
        commonness: Option<Commonness>,
        share: f64,
    ) -> Vec<(Aspect, f64)> {
        let weights = &self.options.weights;
        if from == Origin::Stock || self.named.contains(&folded(name)) {
            return Vec::new();
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
        ]
    }

    /// How hard a part is to get: 0 of what is at hand.
    pub(super) fn hard_to_get(&self, part: &Part) -> Option<usize> {
        let from = part.from?;
        let commonness = match self.catalogue.find(&part.name).map(|found| found.entry) {
            Some(EntryRef::Fermentable(row)) => row.commonness,
            Some(EntryRef::Juice(row)) => row.commonness,
            Some(EntryRef::Hop(row)) => row.commonness,
            _ => None,
        };
        Some(match (from, commonness) {
            (Origin::Stock, _) => 0,
            (Origin::Shop, Some(Commonness::GoodShops)) => 2,
            (Origin::Shop, _) => 1,
            (Origin::SpecialOrder, _) => 3,
        })
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
