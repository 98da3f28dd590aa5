//! What the triggers ask of a brew.

use crate::catalogue::{Catalogue, EntryRef, Kind};
use crate::process::{Container, Stage, drains_a_bag};
use crate::quantity::in_litres;
use crate::recipe::{
    Addition, Brewhouse, CoolingMethod, Ingredient, Lauter, Recipe, is_called_hop,
};
use crate::scale::Plan;

/// A recipe on a plant, every ingredient with its stage and what the catalogue knows of it.
pub(super) struct Brew<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) brewhouse: Option<&'a Brewhouse>,
    pub(super) parts: Vec<Part<'a>>,
    /// Whether a plan has the mash at the wanted pH without acid.
    pub(super) needs_no_acid: bool,
    /// Whether a plan puts a hydroxide into its water.
    pub(super) adds_caustic: bool,
    /// Whether a plan wants acid only where the mash reads too high.
    pub(super) only_corrects_with_acid: bool,
}

/// An ingredient in its place.
#[derive(Clone, Copy)]
pub(super) struct Part<'a> {
    pub(super) stage: Stage,
    pub(super) ingredient: &'a Ingredient,
    pub(super) entry: Option<EntryRef<'a>>,
}

impl<'a> Part<'a> {
    fn of(stage: Stage, ingredient: &'a Ingredient, catalogue: &'a Catalogue) -> Self {
        let found = catalogue.find(ingredient.catalogue_name());
        Self {
            stage,
            ingredient,
            entry: found.map(|found| found.entry),
        }
    }
}

impl<'a> Brew<'a> {
    /// A plan, with its ingredients as they were worked out.
    pub(super) fn planned(plan: &'a Plan) -> Self {
        let brews = plan.brews();
        let worked = &brews.target;
        let items = worked.setup.formula.items.with(&worked.amounts.of);
        let mut all = worked.setup.formula.items.values();
        Self {
            recipe: &plan.recipe,
            brewhouse: Some(&plan.brewhouse),
            // Water that makes up the wort meets no beer.
            parts: items
                .filter(|(item, amount)| !item.is_top_up() && !item.is_left_out(**amount))
                .map(|(item, _)| Part::of(item.place.stage, &item.ingredient, &brews.catalogue))
                .collect(),
            only_corrects_with_acid: !brews.adds_acid
                && !all.any(|item| item.ingredient.kind == Kind::Acid),
            needs_no_acid: brews.settles_without_acid,
            adds_caustic: brews.adds_caustic,
        }
    }

    pub(super) fn of(
        recipe: &'a Recipe,
        brewhouse: Option<&'a Brewhouse>,
        catalogue: &'a Catalogue,
    ) -> Self {
        let mut parts = Vec::new();
        let mut take = |stage: Stage, addition: &'a Addition| {
            let all = addition.parts().iter().filter_map(Addition::ingredient);
            for ingredient in addition.ingredient().into_iter().chain(all) {
                parts.push(Part::of(stage, ingredient, catalogue));
            }
        };
        let fermentation = &recipe.fermentation;
        recipe
            .mash
            .additions
            .iter()
            .for_each(|a| take(Stage::Mash, a));
        let souring = recipe.souring.iter().flat_map(|souring| &souring.culture);
        souring.for_each(|a| take(Stage::Sour, a));
        recipe
            .boil
            .additions
            .iter()
            .for_each(|a| take(Stage::Boil, a));
        recipe
            .stands()
            .flat_map(|stand| &stand.additions)
            .for_each(|a| take(Stage::Stand, a));
        fermentation
            .pitch
            .iter()
            .for_each(|a| take(Stage::Ferment, a));
        fermentation
            .additions
            .iter()
            .for_each(|a| take(Stage::Ferment, a));
        recipe
            .package
            .additions
            .iter()
            .for_each(|a| take(Stage::Package, a));
        Self {
            recipe,
            brewhouse,
            parts,
            only_corrects_with_acid: false,
            needs_no_acid: false,
            adds_caustic: false,
        }
    }

    pub(super) fn has(&self, kind: Kind) -> bool {
        self.parts.iter().any(|part| part.ingredient.kind == kind)
    }

    /// A dry hop without a cultivar is carried along as an additive.
    pub(super) fn has_hops(&self) -> bool {
        self.parts.iter().any(|part| match part.ingredient.kind {
            Kind::Hop => true,
            Kind::Other => is_called_hop(&part.ingredient.name),
            _ => false,
        })
    }

    /// Something strong enough to burn: its flash point comes down to room temperature at about 40 % by volume.
    pub(super) fn has_spirits(&self) -> bool {
        let burns = |percent: f64| percent >= 20.0;
        self.parts.iter().any(|part| {
            let stated = part.ingredient.facts.alcohol;
            let known = match part.entry {
                Some(EntryRef::Beverage(drink)) => drink.alcohol,
                _ => None,
            };
            let alcohol = stated.map(|stated| stated.value()).or(known);
            alcohol.is_some_and(|alcohol| burns(alcohol.percent()))
        })
    }

    pub(super) fn has_at(&self, kind: Kind, stages: &[Stage]) -> bool {
        self.parts
            .iter()
            .any(|part| part.ingredient.kind == kind && stages.contains(&part.stage))
    }

    /// Whether something that floats goes into the fermenter.
    pub(super) fn has_fruit_or_hops_in_fermenter(&self) -> bool {
        let is_fruit = |part: &Part<'_>| match part.entry {
            Some(EntryRef::Juice(row)) => row.is_whole_fruit(),
            _ => false,
        };
        let mut parts = self.parts.iter();
        parts.any(|part| {
            let is_hop = part.ingredient.kind == Kind::Hop;
            part.stage == Stage::Ferment && (is_hop || is_fruit(part))
        })
    }

    pub(super) fn mashes(&self) -> bool {
        let lauter = self.brewhouse.and_then(|plant| plant.lauter.as_ref());
        lauter != Some(&Lauter::NoMash)
            && (self.has_at(Kind::Malt, &[Stage::Mash]) || self.has_at(Kind::Grain, &[Stage::Mash]))
    }

    pub(super) fn boils(&self) -> bool {
        self.recipe.boil.time.is_some() || !self.recipe.boil.additions.is_empty()
    }

    pub(super) fn stands_hot(&self) -> bool {
        self.recipe.stands().next().is_some()
            || self.brewhouse.is_some_and(|plant| plant.stand.is_some())
    }

    pub(super) fn is_hot(&self) -> bool {
        self.mashes() || self.boils() || self.stands_hot()
    }

    pub(super) fn has_bag(&self) -> bool {
        self.brewhouse.is_some_and(drains_a_bag) && self.mashes()
    }

    pub(super) fn ferments(&self) -> bool {
        self.recipe.fermentation.pitch.is_some()
    }

    /// Whoever wants a pH will mostly need acid for it.
    pub(super) fn uses_acid(&self) -> bool {
        self.has(Kind::Acid) || (self.recipe.mash.ph.is_some() && !self.needs_no_acid)
    }

    /// A hydroxide, of the recipe or of the plan's water.
    pub(super) fn uses_caustic(&self) -> bool {
        let is_caustic = |name: &str| name.contains("hydroxide");
        self.adds_caustic
            || self
                .parts
                .iter()
                .any(|part| is_caustic(part.ingredient.catalogue_name()))
    }

    /// Glass holds what one person carries: above that it is steel.
    pub(super) fn may_ferment_in_glass(&self) -> bool {
        /// The largest glass vessel in common use, litres (common practice, no source).
        const LARGEST_L: f64 = 60.0;
        let fermenter = self.brewhouse.and_then(|plant| plant.fermenter.as_ref());
        self.ferments() && fermenter.is_none_or(|vessel| in_litres(vessel.value()) <= LARGEST_L)
    }

    /// Something other than yeast goes into beer that is already full of gas.
    pub(super) fn meets_gas(&self) -> bool {
        self.parts.iter().any(|part| {
            matches!(part.stage, Stage::Ferment | Stage::Package)
                && part.ingredient.kind != Kind::Yeast
        })
    }

    pub(super) const fn is_soured(&self) -> bool {
        self.recipe.souring.is_some()
    }

    pub(super) fn is_unchilled(&self) -> bool {
        self.brewhouse
            .and_then(|plant| plant.cooling.as_ref())
            .is_some_and(|cooling| cooling.method == Some(CoolingMethod::NoChill))
    }

    pub(super) fn holds_puree(&self) -> bool {
        self.parts.iter().any(|part| {
            part.ingredient.kind == Kind::Juice
                && [
                    part.ingredient.name.as_str(),
                    part.ingredient.catalogue_name(),
                ]
                .iter()
                .any(|name| name.to_lowercase().contains("puree"))
        })
    }

    /// A keg, or a package that is not named.
    pub(super) fn may_be_kegged(&self) -> bool {
        let container = Container::of(self.recipe.package.container.as_deref());
        matches!(container, Container::Keg | Container::Unknown)
    }

    /// Beer that gets its gas in a closed package by fermenting there: all but a keg that is filled with gas.
    pub(super) fn may_be_primed(&self) -> bool {
        let package = &self.recipe.package;
        let sugar = self.has_at(Kind::Sugar, &[Stage::Package])
            || self.has_at(Kind::Juice, &[Stage::Package]);
        let in_keg = Container::of(package.container.as_deref()) == Container::Keg;
        let is_packaged = self.ferments()
            || package.container.is_some()
            || package.carbonation.is_some()
            || self.recipe.targets.carbonation.is_some();
        sugar || (is_packaged && !in_keg)
    }
}
