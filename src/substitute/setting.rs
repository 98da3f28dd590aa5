//! The recipe on its source plant and on the target, before anything is replaced.

use super::holding::{Held, Holding, holdings};
use super::options::{Candidates, SubstituteOptions};
use super::weights::Weights;
use crate::catalogue::{Catalogue, EntryRef, Kind, folded};
use crate::diagnostic::{Error, ErrorKind, nearest};
use crate::process::{Formula, Item, Material, Notes, Plant, SourceBrew, Stage, read_recipe};
use crate::quantity::{in_kilograms, in_litres};
use crate::recipe::{Brewhouse, Ingredient, Line, Recipe, Section, Stock};
use crate::scale::{Plan, ScaleOptions, Supply, WeighOut, scale, scale_swapped};
use std::collections::BTreeMap;

/// Everything that a search looks at.
pub(super) struct Setting<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) target: &'a Brewhouse,
    pub(super) catalogue: &'a Catalogue,
    pub(super) options: &'a SubstituteOptions,
    pub(super) formula: Formula,
    pub(super) source: SourceBrew,
    /// The unchanged recipe on the target, exact amounts.
    pub(super) plan: Plan,
    exact: ScaleOptions,
    /// For each item of the formula its kinds and its folded catalogue name.
    keys: Vec<(KindGroup, String)>,
    pub(super) lots: BTreeMap<(KindGroup, String), Holding>,
}

/// Kinds among which one may stand for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum KindGroup {
    Fermentable,
    Juice,
    Hop,
    Other,
}

/// A line that is to be replaced.
#[derive(Debug, Clone)]
pub(super) struct Need {
    pub(super) line: Line,
    /// Its place in the formula.
    pub(super) index: usize,
}

pub(super) const fn group(kind: Kind) -> KindGroup {
    match kind {
        Kind::Malt | Kind::Grain | Kind::Sugar => KindGroup::Fermentable,
        Kind::Juice => KindGroup::Juice,
        Kind::Hop => KindGroup::Hop,
        _ => KindGroup::Other,
    }
}

pub(super) const fn section(stage: Stage) -> Section {
    match stage {
        Stage::Mash => Section::Mash,
        Stage::Boil => Section::Boil,
        Stage::Stand => Section::Stand,
        Stage::Ferment => Section::Ferment,
        Stage::Package => Section::Package,
    }
}

impl<'a> Setting<'a> {
    pub(super) fn new(
        recipe: &'a Recipe,
        source_plant: Option<&'a Brewhouse>,
        target: &'a Brewhouse,
        stock: &'a Stock,
        catalogue: &'a Catalogue,
        options: &'a SubstituteOptions,
    ) -> Result<Self, Error> {
        if let Some((name, weight)) = options.weights.out_of_range() {
            let most = Weights::HEAVIEST;
            return Err(Error::new(
                ErrorKind::OutOfRange,
                format!("expected a weight `{name}` from 0 to {most}, found {weight}"),
            ));
        }
        let mut notes = Notes::default();
        let model = target
            .bitterness
            .or(source_plant.and_then(|plant| plant.bitterness));
        let (formula, _, source): (Formula, Plant, SourceBrew) =
            read_recipe(recipe, source_plant, catalogue, model, &mut notes)?;
        let exact = ScaleOptions::default()
            .with_source(source_plant.cloned())
            .with_stock(stock.clone())
            .with_weigh_out(WeighOut::Exact);
        let plan = scale(recipe, target, catalogue, &exact)?;
        let keys = formula
            .items
            .iter()
            .map(|item| {
                let ingredient = &item.ingredient;
                (group(ingredient.kind), folded(ingredient.catalogue_name()))
            })
            .collect();
        Ok(Self {
            recipe,
            target,
            catalogue,
            options,
            formula,
            source,
            plan,
            exact,
            keys,
            lots: holdings(stock),
        })
    }

    /// A recipe with swaps on the target, exact amounts. What the source says of the mash is not read again.
    pub(super) fn plan_of(&self, swapped: &Recipe) -> Result<Plan, Error> {
        let factor = self.source.nature.mash_factor;
        scale_swapped(
            swapped,
            self.target,
            self.catalogue,
            &self.exact,
            Some(factor),
        )
    }

    /// The lines of the names; without names, those of which the stock has none or too little.
    pub(super) fn needs(&self, missing: &[&str]) -> Result<Vec<Need>, Error> {
        let lacking: Vec<&str> = if missing.is_empty() {
            self.plan
                .shopping
                .iter()
                .filter(|purchase| purchase.supply == Supply::Missing)
                .map(|purchase| purchase.name.as_str())
                .collect()
        } else {
            missing.to_vec()
        };
        let mut needs = Vec::new();
        for name in lacking {
            let key = folded(name);
            let before = needs.len();
            for (index, item) in self.formula.items.iter().enumerate() {
                let named = folded(&item.ingredient.name) == key
                    || folded(item.ingredient.catalogue_name()) == key;
                if named && group(item.ingredient.kind) != KindGroup::Other {
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
        needs.sort_by_key(|need| need.index);
        needs.dedup_by_key(|need| need.index);
        Ok(needs)
    }

    fn unknown(&self, name: &str) -> Error {
        let names = self
            .formula
            .items
            .iter()
            .filter(|item| group(item.ingredient.kind) != KindGroup::Other)
            .map(|item| item.ingredient.name.as_str());
        let error = Error::new(
            ErrorKind::UnknownName,
            format!("the recipe has no malt, grain, sugar, juice or hop `{name}`"),
        );
        match nearest(name, names).first() {
            Some(near) => error.with_help(format!("did you mean `{near}`?")),
            None => error,
        }
    }

    /// The line of an item: its name and which of that name in its section.
    fn line(&self, index: usize, item: &Item) -> Line {
        let nth = self
            .formula
            .items
            .iter()
            .take(index)
            .filter(|other| {
                other.place.stage == item.place.stage
                    && other.ingredient.name == item.ingredient.name
            })
            .count();
        Line {
            section: section(item.place.stage),
            name: item.ingredient.name.clone(),
            nth,
        }
    }

    /// The place of the base malt that gives way: of the mashed base malts the largest, unless it is among the missing.
    pub(super) fn base_malt(&self, missing: &[usize]) -> Option<usize> {
        self.formula
            .items
            .iter()
            .enumerate()
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
    pub(super) fn line_at(&self, index: usize) -> Option<Line> {
        self.item(index).map(|item| self.line(index, item))
    }

    pub(super) fn item(&self, index: usize) -> Option<&Item> {
        self.formula.items.get(index)
    }

    /// Kilograms on the target of an item that is weighed.
    pub(super) fn target_kg(&self, index: usize) -> f64 {
        self.plan
            .additions
            .get(index)
            .and_then(|addition| addition.mass)
            .map_or(0.0, in_kilograms)
    }

    /// Litres on the target of an item that is measured.
    pub(super) fn target_l(&self, index: usize) -> f64 {
        self.plan
            .additions
            .get(index)
            .and_then(|addition| addition.volume)
            .map_or(0.0, in_litres)
    }

    /// What the recipe as it is uses of a name on the target, kilograms and litres, the lines at `without` aside.
    pub(super) fn used(&self, name: &str, kinds: KindGroup, without: &[usize]) -> (f64, f64) {
        let key = folded(name);
        self.keys
            .iter()
            .enumerate()
            .filter(|(index, (its_kinds, its_key))| {
                !without.contains(index) && *its_kinds == kinds && *its_key == key
            })
            .fold((0.0, 0.0), |(kg, l), (index, _)| {
                (kg + self.target_kg(index), l + self.target_l(index))
            })
    }

    /// What the stock says of a name.
    pub(super) fn holding(&self, name: &str, kinds: KindGroup) -> Option<&Holding> {
        self.lots.get(&(kinds, folded(name)))
    }

    /// Everything of these kinds that may stand for the line, with the kilograms (litres of juice) that can be had, in
    /// the order of their names. `rows` are the catalogue's, for when the whole of it is asked for.
    pub(super) fn candidates<'r>(
        &self,
        item: &Item,
        missing: &[usize],
        kinds: KindGroup,
        rows: impl Iterator<Item = (&'r str, Kind)>,
    ) -> Vec<(Ingredient, f64)> {
        let gone = self.names(missing, item);
        let mut found: Vec<(Ingredient, f64)> = Vec::new();
        for ((its_kinds, key), holding) in &self.lots {
            if *its_kinds != kinds || gone.contains(key) {
                continue;
            }
            let left = match holding.supply {
                Held::Nothing => 0.0,
                Held::Any => f64::INFINITY,
                Held::Amount { kg, l } => {
                    let name = holding.ingredient.catalogue_name();
                    let (used_kg, used_l) = self.used(name, kinds, missing);
                    match kinds {
                        KindGroup::Juice => l - used_l,
                        _ => kg - used_kg,
                    }
                }
            };
            if left > 0.0 {
                found.push((holding.ingredient.clone(), left));
            }
        }
        if self.options.candidates == Candidates::Catalogue {
            for (name, kind) in rows {
                let key = folded(name);
                if !gone.contains(&key) && !self.lots.contains_key(&(kinds, key)) {
                    let mut ingredient = Ingredient::new(name.to_owned(), kind);
                    ingredient.entry = Some(name.to_owned());
                    found.push((ingredient, f64::INFINITY));
                }
            }
        }
        found.sort_by(|a, b| a.0.name.cmp(&b.0.name));
        found
    }

    /// The names that are missing, folded, the line's own among them.
    fn names(&self, missing: &[usize], item: &Item) -> Vec<String> {
        missing
            .iter()
            .filter_map(|index| self.item(*index))
            .chain([item])
            .map(|item| folded(item.ingredient.catalogue_name()))
            .collect()
    }

    /// All mashed grain on the target, kilograms.
    pub(super) fn mashed_kg(&self) -> f64 {
        self.formula
            .items
            .iter()
            .enumerate()
            .filter(|(_, item)| item.is_mashed())
            .map(|(index, _)| self.target_kg(index))
            .sum()
    }

    /// All fermentables of the wort on the target, kilograms.
    pub(super) fn fermentables_kg(&self) -> f64 {
        self.formula
            .items
            .iter()
            .enumerate()
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
