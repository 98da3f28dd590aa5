//! A recipe laid out for computing: every addition in one list, with its figures settled and its amount as a rule.

mod item;
mod layout;
mod per_item;
mod steps;

pub(crate) use crate::recipe::PITCH;
pub use item::Stage;
pub(crate) use item::{Item, Rule, Slot, TOP_UP};
pub(crate) use per_item::{ItemIndex, PerItem};
pub(crate) use steps::{HotStepOf, RestOf};

use super::assumption::Assumption;
use super::material::{Fermentable, Material, Yeast, alpha_missing, settle};
use super::souring::SouringOf;
use super::yeast_use::YeastUse;
use crate::catalogue::{AidPurpose, Catalogue, EntryRef};
use crate::diagnostic::{Error, ErrorKind, Place};
use crate::numeric::order;
use crate::quantity::{Extract, Written, in_minutes};
use crate::recipe::{At, HotStep, Ingredient, Recipe};
use crate::speech::{Noted, shortest};
use layout::Layout;
pub(crate) use layout::whole;
use std::sync::Arc;
use steps::{hot_steps, rests};

/// Length of a boil that is not stated (common practice, no source).
const BOIL_MIN: f64 = 60.0;
/// Temperature of a mash that states no rest, °C (common practice, no source).
const REST_C: f64 = 66.0;

/// A recipe laid out for computing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Formula {
    pub(crate) items: PerItem<Item>,
    pub(crate) boil_min: f64,
    /// What souring makes of the wort, where the recipe sours it.
    pub(crate) souring: Option<SouringOf>,
    /// Whether finings go into the kettle, which make the trub bulky.
    pub(crate) is_fined_in_kettle: bool,
    /// So many times the usual liquid is kept by hops.
    pub(crate) hops_keep: f64,
    pub(crate) mash_rest_c: f64,
    pub(crate) rests: Vec<RestOf>,
    /// What its yeast takes of extracts.
    pub(crate) yeast_use: YeastUse,
    /// Stands and coolings after the boil, in order.
    pub(crate) hot_steps: Vec<HotStepOf>,
    /// Additions to the fermenter in the order in which they go in, those that go in at once together.
    pub(crate) later: Vec<Vec<ItemIndex>>,
}

impl Formula {
    /// The recipe's items with the figures of their lines and of the catalogue.
    pub(crate) fn of(
        recipe: &Recipe,
        catalogue: &Catalogue,
        assumptions: &mut Vec<Noted<Assumption>>,
    ) -> Result<Self, Error> {
        let boil_min = match &recipe.boil.time {
            Some(time) => in_minutes(time.value()),
            None if recipe.boil.additions.is_empty() => 0.0,
            None => {
                assumptions.push(Noted::at(
                    Place::recipe("boil.time_min"),
                    Assumption::BoilTime { time_min: BOIL_MIN },
                ));
                BOIL_MIN
            }
        };
        let souring = SouringOf::of(recipe, assumptions);
        let mut list = Layout {
            catalogue,
            assumptions,
            items: Vec::new(),
        };
        list.stage(Stage::Mash, 0, &recipe.mash.additions)?;
        if let Some(culture) = recipe
            .souring
            .as_ref()
            .and_then(|sour| sour.culture.as_ref())
        {
            list.addition(Stage::Sour, 0, 0, culture)?;
        }
        list.stage(Stage::Boil, 0, &recipe.boil.additions)?;
        for (stand, step) in recipe.hot_side.iter().enumerate() {
            if let HotStep::Stand(step) = step {
                list.stage(Stage::Stand, stand, &step.additions)?;
            }
        }
        if let Some(water) = &recipe.fermentation.top_up {
            list.addition(Stage::Ferment, 0, TOP_UP, water)?;
        }
        if let Some(pitch) = &recipe.fermentation.pitch {
            list.addition(Stage::Ferment, 0, PITCH, pitch)?;
        }
        list.stage(Stage::Ferment, 0, &recipe.fermentation.additions)?;
        list.stage(Stage::Package, 0, &recipe.package.additions)?;
        let items = PerItem::of(list.items);
        let later = later_groups(&items);
        for group in later.iter().chain([&packaged(&items)]) {
            check_shares(&items, group)?;
        }
        let mut formula = Self {
            later,
            souring,
            is_fined_in_kettle: items.values().any(|item| is_kettle_fining(item, catalogue)),
            rests: rests(recipe),
            hops_keep: 1.0,
            yeast_use: YeastUse::of(None),
            items,
            boil_min,
            mash_rest_c: recipe
                .mash
                .rests
                .first()
                .map_or(REST_C, |rest| rest.temperature.value().celsius()),
            hot_steps: hot_steps(recipe),
        };
        formula.pitch();
        Ok(formula)
    }

    /// Says of every extract what of it the formula's yeast takes.
    fn pitch(&mut self) {
        let mut yeasts = self.yeasts().map(|(_, yeast)| yeast);
        let first = YeastUse::of(yeasts.next().as_ref());
        let yeast_use = yeasts.fold(first, |taken, later| taken.and(&later));
        self.ferment_by(yeast_use);
    }

    fn ferment_by(&mut self, yeast_use: YeastUse) {
        self.yeast_use = yeast_use;
        for item in self.items.values_mut() {
            if let Material::Fermentable(part) = &mut item.material {
                let taken = |share| yeast_use.ferments(share, part.sugars);
                part.ferments = part.fermentability.map(taken);
            }
        }
    }

    /// The same wort for the yeasts that go in at packaging too; none where there are none, or where they take no more.
    pub(super) fn conditioned(&self) -> Option<Self> {
        let bottled = self.package_yeasts().map(|(_, yeast)| yeast);
        let all = bottled.fold(self.yeast_use, |taken, later| taken.and(&later));
        (all != self.yeast_use).then(|| {
            let mut formula = self.clone();
            formula.ferment_by(all);
            formula
        })
    }

    /// The same layout with the ingredients of `stocked`, the same recipe with other lots in it.
    pub(crate) fn with_lots(
        &self,
        stocked: &Recipe,
        catalogue: &Catalogue,
        assumptions: &mut Vec<Noted<Assumption>>,
    ) -> Result<Self, Error> {
        let mut formula = self.clone();
        for item in formula.items.values_mut() {
            let Some(lot) = item.place.ingredient_in(stocked) else {
                continue;
            };
            if *lot != *item.ingredient {
                item.material = settled(lot, item.place, catalogue, assumptions)?;
                item.ingredient = Arc::new(lot.clone());
            }
        }
        formula.pitch();
        Ok(formula)
    }

    /// The same with the addition that `moved` belongs to going in at a gravity, in its turn: whatever waits for a higher one is
    /// in by then, and whatever waits for a lower one is not.
    pub(crate) fn with_addition_at(&self, moved: &Item, apparent: Extract) -> Self {
        let mut formula = self.clone();
        for item in formula.items.values_mut() {
            if item.same_addition(moved) {
                item.timing.at = Some(At::Gravity(Written::in_base_unit(apparent)));
            }
        }
        let first = |group: &Vec<ItemIndex>| self.items.get(*group.first()?);
        let is_moved = |index: &ItemIndex| {
            let item = self.items.get(*index);
            item.is_some_and(|item| item.same_addition(moved))
        };
        // What was to go in with it stays where it is.
        let split = |group: &Vec<ItemIndex>| {
            let (moves, stays): (Vec<_>, Vec<_>) = group.iter().copied().partition(is_moved);
            [moves, stays].into_iter().filter(|part| !part.is_empty())
        };
        let later: Vec<Vec<ItemIndex>> = self.later.iter().flat_map(split).collect();
        let mut groups = later.iter();
        let planned = groups.position(|group| first(group).is_some_and(|i| i.same_addition(moved)));
        let turn = |index: usize, group: &Vec<ItemIndex>| {
            let in_plan = Some(index).cmp(&planned);
            let trigger = first(group).and_then(Item::trigger_plato);
            match trigger.filter(|_| in_plan.is_ne()) {
                Some(plato) => apparent.plato().total_cmp(&plato).then(in_plan),
                None => in_plan,
            }
        };
        let groups = later.iter().enumerate();
        let mut turns: Vec<_> = groups.map(|(i, group)| (turn(i, group), group)).collect();
        order::sort_by(&mut turns, |a, b| a.0.cmp(&b.0));
        formula.later = turns.into_iter().map(|(_, group)| group.clone()).collect();
        formula
    }

    /// The shares of the beer's volume of all that goes in at packaging.
    pub(crate) fn packaged_shares(&self) -> f64 {
        shares_of_volume(&self.items, &packaged(&self.items))
    }

    /// The yeast, if one is named: of several, the one that is pitched.
    pub(crate) fn yeast(&self) -> Option<Yeast> {
        self.yeasts().next().map(|(_, yeast)| yeast)
    }

    /// The yeasts of the fermenter, the one that is pitched first.
    pub(crate) fn yeasts(&self) -> impl Iterator<Item = (&Item, Yeast)> {
        self.yeasts_at(Stage::Ferment)
    }

    /// The yeasts that go in at packaging.
    pub(super) fn package_yeasts(&self) -> impl Iterator<Item = (&Item, Yeast)> {
        self.yeasts_at(Stage::Package)
    }

    fn yeasts_at(&self, stage: Stage) -> impl Iterator<Item = (&Item, Yeast)> {
        let items = self.items.values();
        items.filter_map(move |item| match item.material {
            Material::Yeast(yeast) if item.place.stage == stage => Some((item, yeast)),
            _ => None,
        })
    }
}

/// Every fermentable item with its figures and its kilograms.
pub(crate) fn fermentables<'a>(
    formula: &'a Formula,
    amounts: &'a PerItem<f64>,
) -> impl Iterator<Item = (&'a Item, Fermentable, f64)> {
    formula.items.with(amounts).filter_map(|(item, amount)| {
        let (part, kg) = item.fermentable(*amount)?;
        Some((item, part, kg))
    })
}

/// What an ingredient does where it stands: only a hop that is to give bitterness needs its alpha acids.
fn settled(
    ingredient: &Ingredient,
    slot: Slot,
    catalogue: &Catalogue,
    assumptions: &mut Vec<Noted<Assumption>>,
) -> Result<Material, Error> {
    let place = slot.ingredient();
    let material = settle(ingredient, &place, catalogue, assumptions)?;
    match material {
        Material::Hop { alpha: None } if slot.stage < Stage::Ferment => {
            Err(alpha_missing(ingredient))
        }
        Material::Fermentable(_) if slot.stage > Stage::Mash && ingredient.is_grain() => {
            Err(unmashed(ingredient, slot.stage))
        }
        _ if slot.is_top_up() && !material.is_water() => Err(no_water(ingredient)),
        Material::Beverage(drink) if slot.stage < Stage::Ferment => {
            if drink.per_kg.ethanol_kg > 0.0 {
                return Err(boils_off(ingredient));
            }
            if slot.stage == Stage::Mash && drink.per_kg.extract_kg > 0.0 {
                return Err(stays_in_the_grain(ingredient));
            }
            if slot.stage == Stage::Mash {
                let name = ingredient.name.clone();
                assumptions.push(Noted::at(place, Assumption::PartOfMashWater { name }));
            }
            Ok(material)
        }
        _ => Ok(material),
    }
}

/// Whether an item makes the trub settle, in the boil or in a stand.
fn is_kettle_fining(item: &Item, catalogue: &Catalogue) -> bool {
    let found = catalogue.find(item.ingredient.catalogue_name());
    let is_fining = found.is_some_and(|found| match found.entry {
        EntryRef::Aid(aid) => aid.purpose == Some(AidPurpose::Fining),
        _ => false,
    });
    matches!(item.place.stage, Stage::Boil | Stage::Stand) && is_fining
}

/// The refusal of grain that is not mashed. Its starch does not dissolve in wort or beer, and what does dissolve of a roast grain
/// hangs on its crush and its time; no published figure says how much it is.
fn unmashed(ingredient: &Ingredient, stage: Stage) -> Error {
    let name = &ingredient.name;
    let (verb, block) = match stage {
        Stage::Boil | Stage::Sour => ("stands", "boil"),
        Stage::Stand => ("stands", "stand"),
        Stage::Ferment => ("goes", "fermenter"),
        _ => ("goes", "package"),
    };
    Error::new(
        ErrorKind::Contradiction,
        format!("`{name}` is grain and {verb} in the {block}; grain belongs in the mash"),
    )
    .with_help(format!(
        "write it under `mash`, or add its steeped liquor as a liquid, such as `500 mL steeped {name}, 4 Bx`"
    ))
}

/// The refusal of a drink that brings extract to the mash, of which the grain would keep a part.
fn stays_in_the_grain(ingredient: &Ingredient) -> Error {
    let name = &ingredient.name;
    Error::new(
        ErrorKind::Contradiction,
        format!("`{name}` brings extract and goes into the mash, where the grain holds some of it"),
    )
    .with_help("write it under `boil`")
}

/// The refusal of anything but water that makes up a wort.
fn no_water(ingredient: &Ingredient) -> Error {
    Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{}` tops up the wort, which only water does",
            ingredient.name
        ),
    )
    .with_help("write it as an addition under `ferment`")
}

/// The refusal of alcohol in hot wort.
fn boils_off(ingredient: &Ingredient) -> Error {
    Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{}` goes into hot wort, where its alcohol boils off and the vapour can catch fire",
            ingredient.name
        ),
    )
    .with_help("write it under `ferment` or `package`")
}

/// The later additions in the order in which they go in: those at pitching, by falling gravity, then by day, then the rest. Those of
/// the same gravity or day, and those of neither, go in at once: two lines are as good as one line of both.
fn later_groups(items: &PerItem<Item>) -> Vec<Vec<ItemIndex>> {
    let mut groups: Vec<Vec<ItemIndex>> = Vec::new();
    for (index, item) in items.iter() {
        if item.place.stage != Stage::Ferment || matches!(item.place.index, PITCH | TOP_UP) {
            continue;
        }
        let mut open = groups.iter_mut();
        match open.find(|group| when(items, group) == when(items, &[index])) {
            Some(group) => group.push(index),
            None => groups.push(vec![index]),
        }
    }
    order::sort_by(&mut groups, |a, b| {
        let (a, b) = (when(items, a), when(items, b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    groups
}

/// In which turn a group of later additions goes in.
fn when(items: &PerItem<Item>, group: &[ItemIndex]) -> (u8, f64) {
    let item = group.first().and_then(|index| items.get(*index));
    match item.and_then(|item| item.timing.at.as_ref()) {
        Some(At::AfterPitching(time)) if in_minutes(time.value()) <= 0.0 => (0, 0.0),
        Some(At::Gravity(plato)) => (1, -plato.value().plato()),
        Some(At::AfterPitching(time)) => (2, in_minutes(time.value())),
        _ => (3, 0.0),
    }
}

/// What goes in at packaging.
fn packaged(items: &PerItem<Item>) -> Vec<ItemIndex> {
    let at_packaging = |(_, item): &(ItemIndex, &Item)| item.place.stage == Stage::Package;
    items
        .iter()
        .filter(at_packaging)
        .map(|(index, _)| index)
        .collect()
}

/// The shares of the liquid's volume of all that goes in at once.
pub(super) fn shares_of_volume(items: &PerItem<Item>, group: &[ItemIndex]) -> f64 {
    let members = group.iter().filter_map(|index| items.get(*index));
    members.map(|item| item.rule.share_of_volume()).sum()
}

/// Whether the shares of the volume of all that goes in at once leave room for the beer.
fn check_shares(items: &PerItem<Item>, group: &[ItemIndex]) -> Result<(), Error> {
    let shares = shares_of_volume(items, group);
    if shares < 1.0 {
        return Ok(());
    }
    let names = group.iter().filter_map(|index| items.get(*index));
    let names = names.filter(|item| item.rule.share_of_volume() > 0.0);
    let names: Vec<_> = names.map(|item| item.ingredient.name.as_str()).collect();
    Err(Error::new(
        ErrorKind::Contradiction,
        format!(
            "`{}` go in at once and are {} % of the volume, which leaves no room for the beer",
            names.join("`, `"),
            shortest(100.0 * shares, 1)
        ),
    )
    .with_help("make the shares smaller, or let one go in at another gravity or day"))
}
