//! A recipe laid out for computing: every addition in one list, with its figures settled and its amount as a rule.

mod layout;

use super::assumption::Assumption;
use super::material::{Fermentable, Material, alpha_missing, settle};
use crate::catalogue::{Catalogue, Kind};
use crate::diagnostic::Error;
use crate::quantity::in_minutes;
use crate::recipe::{At, HotStep, Ingredient, Recipe, Timing};
use layout::Layout;
pub(crate) use layout::whole;
use serde::Serialize;
use std::sync::Arc;

/// Length of a boil that is not stated (common practice, no source).
const BOIL_MIN: f64 = 60.0;
/// Temperature of a mash that states no rest, °C (common practice, no source).
const REST_C: f64 = 66.0;

/// Where on the brewing day something goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// With the grain.
    Mash,
    /// Into the kettle.
    Boil,
    /// Into a hot stand.
    Stand,
    /// Into the fermenter.
    Ferment,
    /// At packaging.
    Package,
}

/// The index of the yeast, which has a place of its own in the recipe.
pub(crate) const PITCH: usize = usize::MAX;

/// Where an item stands in the recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Place {
    pub(crate) stage: Stage,
    /// Which stand, for those in a stand.
    pub(crate) stand: usize,
    pub(crate) index: usize,
    pub(crate) part: Option<usize>,
}

impl Place {
    /// The ingredient that stands there.
    fn ingredient_in(self, recipe: &Recipe) -> Option<&Ingredient> {
        let additions = match self.stage {
            Stage::Mash => &recipe.mash.additions,
            Stage::Boil => &recipe.boil.additions,
            Stage::Stand => match recipe.hot_side.get(self.stand)? {
                HotStep::Stand(stand) => &stand.additions,
                HotStep::Cool(_) => return None,
            },
            Stage::Ferment if self.index == PITCH => {
                return recipe.fermentation.pitch.as_ref()?.ingredient();
            }
            Stage::Ferment => &recipe.fermentation.additions,
            Stage::Package => &recipe.package.additions,
        };
        let addition = additions.get(self.index)?;
        match self.part {
            Some(part) => addition.parts().get(part)?.ingredient(),
            None => addition.ingredient(),
        }
    }

    /// Whether two places are parts of one blend.
    fn same_addition(self, other: Self) -> bool {
        (self.stage, self.stand, self.index) == (other.stage, other.stand, other.index)
    }
}

/// How much, as the recipe says it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Rule {
    Kilograms(f64),
    Litres(f64),
    GramsPerLitre(f64),
    LitresPerLitre(f64),
    /// Of all fermentables.
    Share(f64),
    /// The blend is `total` of the liquid after the addition; this is `part` of the blend.
    ShareOfVolume {
        total: f64,
        part: f64,
    },
    Ibu(f64),
    Packs(f64),
    /// The headline decides.
    Open,
}

/// One ingredient in one place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Item {
    /// Shared, since a formula is laid out once and varied often.
    pub(crate) ingredient: Arc<Ingredient>,
    pub(crate) place: Place,
    pub(crate) timing: Timing,
    pub(crate) material: Material,
    pub(crate) rule: Rule,
}

impl Item {
    /// Boiling time left when it goes in, for what goes into the kettle.
    pub(crate) fn time_left_min(&self, boil_min: f64) -> f64 {
        if self.place.stage == Stage::Stand {
            // It went in when the boil was over, however long it stays.
            return 0.0;
        }
        match (&self.timing.at, &self.timing.contact) {
            (Some(At::TimeLeft(left)), _) => in_minutes(left.value()).min(boil_min),
            (Some(At::FirstWort), _) | (None, None) => boil_min,
            (None, Some(contact)) => in_minutes(contact.value()).min(boil_min),
            _ => 0.0,
        }
    }

    /// Grain that is mashed.
    pub(crate) fn is_mashed(&self) -> bool {
        self.place.stage == Stage::Mash && matches!(self.ingredient.kind, Kind::Malt | Kind::Grain)
    }

    /// Sugar that dissolves on the wort side as it is.
    pub(crate) fn is_kettle_sugar(&self) -> bool {
        matches!(self.place.stage, Stage::Mash | Stage::Boil | Stage::Stand)
            && matches!(self.material, Material::Fermentable(_))
            && !self.is_mashed()
    }

    /// A hop that gives bitterness: in the boil or in a stand.
    pub(crate) fn is_hot_hop(&self) -> bool {
        matches!(self.place.stage, Stage::Boil | Stage::Stand)
            && matches!(self.material, Material::Hop { .. })
    }

    /// Whether its amount is a volume.
    pub(crate) fn is_by_volume(&self) -> bool {
        match self.rule {
            Rule::Litres(_) | Rule::LitresPerLitre(_) | Rule::ShareOfVolume { .. } => true,
            Rule::Kilograms(_) | Rule::GramsPerLitre(_) | Rule::Share(_) | Rule::Ibu(_) => false,
            Rule::Packs(_) | Rule::Open => self.ingredient.kind == Kind::Juice,
        }
    }

    /// What is known of it as a fermentable, with the mass of `amount` of it, kg; nothing for what brings no extract.
    pub(crate) fn fermentable(&self, amount: f64) -> Option<(Fermentable, f64)> {
        match self.material {
            Material::Fermentable(part) if self.is_by_volume() => {
                Some((part, amount * part.density_kg_l))
            }
            Material::Fermentable(part) => Some((part, amount)),
            _ => None,
        }
    }

    /// The gravity at which it goes in, °P apparent.
    pub(crate) fn trigger_plato(&self) -> Option<f64> {
        match &self.timing.at {
            Some(At::Gravity(plato)) => Some(plato.value().plato()),
            _ => None,
        }
    }

    /// Whether both are parts of one blend, or the same item.
    pub(crate) fn same_addition(&self, other: &Self) -> bool {
        self.place.same_addition(other.place)
    }
}

/// A recipe laid out for computing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Formula {
    pub(crate) items: Vec<Item>,
    pub(crate) boil_min: f64,
    pub(crate) mash_rest_c: f64,
    /// Stands and coolings after the boil, in order.
    pub(crate) hot_steps: Vec<HotStepOf>,
    /// Additions to the fermenter in the order in which they go in, parts of a blend together.
    pub(crate) later: Vec<Vec<usize>>,
    /// Factor on the mash's fermentability that the recipe had before something in it was replaced.
    pub(crate) printed_mash_factor: Option<f64>,
}

impl Formula {
    /// The recipe's items with the figures of their lines and of the catalogue.
    pub(crate) fn of(
        recipe: &Recipe,
        catalogue: &Catalogue,
        assumptions: &mut Vec<Assumption>,
    ) -> Result<Self, Error> {
        let boil_min = match &recipe.boil.time {
            Some(time) => in_minutes(time.value()),
            None if recipe.boil.additions.is_empty() => 0.0,
            None => {
                assumptions.push(Assumption::BoilTime { time_min: BOIL_MIN });
                BOIL_MIN
            }
        };
        let mut list = Layout {
            catalogue,
            assumptions,
            items: Vec::new(),
        };
        list.stage(Stage::Mash, 0, &recipe.mash.additions)?;
        list.stage(Stage::Boil, 0, &recipe.boil.additions)?;
        for (stand, step) in recipe.hot_side.iter().enumerate() {
            if let HotStep::Stand(step) = step {
                list.stage(Stage::Stand, stand, &step.additions)?;
            }
        }
        if let Some(pitch) = &recipe.fermentation.pitch {
            list.addition(Stage::Ferment, 0, PITCH, pitch)?;
        }
        list.stage(Stage::Ferment, 0, &recipe.fermentation.additions)?;
        list.stage(Stage::Package, 0, &recipe.package.additions)?;
        Ok(Self {
            later: later_groups(&list.items),
            items: list.items,
            boil_min,
            mash_rest_c: recipe
                .mash
                .rests
                .first()
                .map_or(REST_C, |rest| rest.temperature.value().celsius()),
            hot_steps: hot_steps(recipe),
            printed_mash_factor: None,
        })
    }

    /// The same layout with the ingredients of `stocked`, the same recipe with other lots in it.
    pub(crate) fn with_lots(
        &self,
        stocked: &Recipe,
        catalogue: &Catalogue,
        assumptions: &mut Vec<Assumption>,
    ) -> Result<Self, Error> {
        let mut formula = self.clone();
        for item in &mut formula.items {
            let Some(lot) = item.place.ingredient_in(stocked) else {
                continue;
            };
            if *lot != *item.ingredient {
                item.material = settled(lot, item.place.stage, catalogue, assumptions)?;
                item.ingredient = Arc::new(lot.clone());
            }
        }
        Ok(formula)
    }

    /// The yeast, if one is named.
    pub(crate) fn yeast(&self) -> Option<(usize, super::material::Yeast)> {
        self.items
            .iter()
            .enumerate()
            .find_map(|(i, item)| match item.material {
                Material::Yeast(yeast) if item.place.stage == Stage::Ferment => Some((i, yeast)),
                _ => None,
            })
    }
}

/// What an ingredient does where it stands: only a hop that is to give bitterness needs its alpha acids.
fn settled(
    ingredient: &Ingredient,
    stage: Stage,
    catalogue: &Catalogue,
    assumptions: &mut Vec<Assumption>,
) -> Result<Material, Error> {
    let material = settle(ingredient, catalogue, assumptions)?;
    let bitters = matches!(stage, Stage::Mash | Stage::Boil | Stage::Stand);
    if bitters && material == (Material::Hop { alpha: None }) {
        return Err(alpha_missing(ingredient));
    }
    Ok(material)
}

/// The later additions in the order in which they go in, parts of a blend together: by falling gravity first, then by
/// day, then the rest.
fn later_groups(items: &[Item]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (index, item) in items.iter().enumerate() {
        if item.place.stage != Stage::Ferment || matches!(item.material, Material::Yeast(_)) {
            continue;
        }
        let joins = groups
            .last()
            .and_then(|group| group.last())
            .is_some_and(|last| {
                items
                    .get(*last)
                    .is_some_and(|last| last.same_addition(item))
            });
        match groups.last_mut() {
            Some(group) if joins => group.push(index),
            _ => groups.push(vec![index]),
        }
    }
    let order = |group: &Vec<usize>| {
        let item = group.first().and_then(|i| items.get(*i));
        match item.and_then(|item| item.timing.at.as_ref()) {
            Some(At::Gravity(plato)) => (0, -plato.value().plato()),
            Some(At::AfterPitching(time)) => (1, in_minutes(time.value())),
            _ => (2, 0.0),
        }
    };
    groups.sort_by(|a, b| {
        let (a, b) = (order(a), order(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    groups
}

/// A step between the boil and the fermenter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum HotStepOf {
    Stand {
        /// Which step of the recipe's hot side.
        index: usize,
        /// Without a temperature the wort stands as hot as it is.
        at_c: Option<f64>,
        time_min: f64,
        /// Whether nothing goes into it.
        bare: bool,
    },
    /// A cooling without a time is taken as done at once.
    Cool { to_c: f64, time_min: f64 },
}

fn hot_steps(recipe: &Recipe) -> Vec<HotStepOf> {
    recipe
        .hot_side
        .iter()
        .enumerate()
        .map(|(index, step)| match step {
            HotStep::Stand(stand) => HotStepOf::Stand {
                index,
                at_c: stand.temperature.as_ref().map(|t| t.value().celsius()),
                time_min: in_minutes(stand.time.value()),
                bare: stand.additions.is_empty(),
            },
            HotStep::Cool(cool) => HotStepOf::Cool {
                to_c: cool.to.value().celsius(),
                time_min: cool
                    .time
                    .as_ref()
                    .map_or(0.0, |time| in_minutes(time.value())),
            },
        })
        .collect()
}
