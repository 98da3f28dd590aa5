//! One ingredient in one place of a recipe, and how much of it as the recipe says it.

use crate::catalogue::Kind;
use crate::diagnostic::Place;
use crate::process::material::{Beverage, Fermentable, Material};
use crate::quantity::in_minutes;
use crate::recipe::{At, HotStep, Ingredient, PITCH, Recipe, Section, Timing};
use crate::science::liquid::Liquid;
use serde::Serialize;
use std::sync::Arc;

/// Where on the brewing day something goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Stage {
    /// With the grain.
    Mash,
    /// Into wort that bacteria sour before the boil.
    Sour,
    /// Into the kettle.
    Boil,
    /// Into a hot stand.
    Stand,
    /// Into the fermenter.
    Ferment,
    /// At packaging.
    Package,
}

/// The index of the water that makes up the wort in the fermenter, which has one too.
pub(crate) const TOP_UP: usize = usize::MAX - 1;

/// Where an item stands in the recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Slot {
    pub(crate) stage: Stage,
    /// Which stand, for those in a stand.
    pub(crate) stand: usize,
    pub(crate) index: usize,
    pub(crate) part: Option<usize>,
}

impl Slot {
    /// Water that makes up the wort in the fermenter, before the yeast.
    pub(crate) const fn is_top_up(self) -> bool {
        self.index == TOP_UP
    }

    /// The input.
    pub(crate) fn place(self) -> Place {
        let section = match self.stage {
            Stage::Mash => Section::Mash,
            Stage::Sour => return Place::souring_culture(),
            Stage::Boil => Section::Boil,
            Stage::Stand => Section::Stand,
            Stage::Ferment if self.index == PITCH => return Place::pitch(),
            Stage::Ferment if self.index == TOP_UP => return Place::top_up(),
            Stage::Ferment => Section::Ferment,
            Stage::Package => Section::Package,
        };
        Place::addition(section, self.stand, self.index, self.part)
    }

    /// The line that states the amount and the timing of all of it: a blend's own for its parts.
    pub(crate) fn line(self) -> Place {
        Self { part: None, ..self }.place()
    }

    /// The ingredient that stands there, as an input.
    pub(crate) fn ingredient(self) -> Place {
        self.place().part("content.single")
    }

    /// The ingredient that stands there.
    pub(super) fn ingredient_in(self, recipe: &Recipe) -> Option<&Ingredient> {
        let additions = match self.stage {
            Stage::Mash => &recipe.mash.additions,
            Stage::Sour => return recipe.souring.as_ref()?.culture.as_ref()?.ingredient(),
            Stage::Boil => &recipe.boil.additions,
            Stage::Stand => match recipe.hot_side.get(self.stand)? {
                HotStep::Stand(stand) => &stand.additions,
                HotStep::Cool(_) => return None,
            },
            Stage::Ferment if self.index == PITCH => {
                return recipe.fermentation.pitch.as_ref()?.ingredient();
            }
            Stage::Ferment if self.index == TOP_UP => {
                return recipe.fermentation.top_up.as_ref()?.ingredient();
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
    /// Packs of unknown size for a litre of what they go into.
    PacksPerLitre(f64),
    /// The headline decides.
    Open,
}

impl Rule {
    /// Its share of the liquid that it goes into, once it is in.
    pub(crate) fn share_of_volume(self) -> f64 {
        match self {
            Self::ShareOfVolume { total, part } => total * part,
            _ => 0.0,
        }
    }

    /// The absolute amount in `liquid_l`; none for what only the headline or the whole of the fermentables decides.
    /// `shares` are those of the volume of all that goes in at once.
    pub(crate) fn amount_in(self, liquid_l: f64, shares: f64) -> Option<f64> {
        match self {
            Self::Kilograms(kg) => Some(kg),
            Self::Litres(l) => Some(l),
            Self::GramsPerLitre(dose) => Some(dose * liquid_l / 1000.0),
            Self::LitresPerLitre(dose) | Self::PacksPerLitre(dose) => Some(dose * liquid_l),
            Self::Packs(count) => Some(count),
            Self::ShareOfVolume { total, part } => {
                Some(liquid_l * part * total / (1.0 - shares).max(1e-9))
            }
            Self::Share(_) | Self::Ibu(_) | Self::Open => None,
        }
    }
}

/// What an addition brings to a liquid.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Brought {
    pub(crate) liquid: Liquid,
    pub(crate) fermentable_kg: f64,
    /// Absorbance, as colour times volume; none where the colour is unknown.
    pub(crate) colour_ebc_l: Option<f64>,
}

impl Brought {
    const NOTHING: Self = Self {
        liquid: Liquid::solution(0.0, 0.0),
        fermentable_kg: 0.0,
        colour_ebc_l: Some(0.0),
    };
}

/// One ingredient in one place.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Item {
    /// Shared, since a formula is laid out once and varied often.
    pub(crate) ingredient: Arc<Ingredient>,
    pub(crate) place: Slot,
    pub(crate) timing: Timing,
    pub(crate) material: Material,
    pub(crate) rule: Rule,
}

impl Item {
    /// Boiling time left when it goes in, for what goes into the kettle.
    pub(crate) fn time_left_min(&self, boil_min: f64) -> f64 {
        if self.is_top_up() {
            // The kettle never holds it.
            return -1.0;
        }
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

    /// Water that makes up the wort in the fermenter, before the yeast.
    pub(crate) const fn is_top_up(&self) -> bool {
        self.place.is_top_up()
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

    /// A hop that gives bitterness: in the mash, in the boil or in a stand.
    pub(crate) fn is_hot_hop(&self) -> bool {
        self.place.stage < Stage::Ferment && matches!(self.material, Material::Hop { .. })
    }

    /// A hop whose amount the headline can decide: one in the boil or in a stand.
    pub(crate) fn is_open_hop(&self) -> bool {
        self.is_hot_hop() && self.place.stage > Stage::Mash && self.rule == Rule::Open
    }

    /// Whether its amount is a volume.
    pub(crate) fn is_by_volume(&self) -> bool {
        match self.rule {
            Rule::Litres(_) | Rule::LitresPerLitre(_) | Rule::ShareOfVolume { .. } => true,
            Rule::Kilograms(_)
            | Rule::GramsPerLitre(_)
            | Rule::Share(_)
            | Rule::Ibu(_)
            | Rule::Packs(_)
            | Rule::PacksPerLitre(_) => false,
            Rule::Open => matches!(self.ingredient.kind, Kind::Juice | Kind::Beverage),
        }
    }

    /// Whether its amount is a number of packs of unknown size.
    pub(crate) const fn is_by_packs(&self) -> bool {
        matches!(self.rule, Rule::Packs(_) | Rule::PacksPerLitre(_))
    }

    /// Whether its amount is a mass.
    pub(crate) fn is_by_mass(&self) -> bool {
        !self.is_by_volume() && !self.is_by_packs()
    }

    /// Whether a plan has none of it, as a remedy or bitter late hops leave it; what is stated without an amount is not.
    pub(crate) fn is_left_out(&self, amount: f64) -> bool {
        let is_weighed = matches!(
            self.material,
            Material::Fermentable(_) | Material::Hop { .. }
        );
        is_weighed && amount <= 0.0
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

    /// Whether it is poured in for what it brings: sugar, juice or a drink.
    pub(crate) fn pours(&self) -> bool {
        matches!(
            self.material,
            Material::Fermentable(_) | Material::Beverage(_)
        )
    }

    /// Whether its extract was made in a mash, here or by the maker of a malt extract.
    pub(crate) const fn is_of_a_mash(&self) -> bool {
        matches!(self.material, Material::Fermentable(part) if part.sugars.is_of_a_mash())
    }

    /// Whether it is water and nothing else.
    pub(crate) fn is_water(&self) -> bool {
        let liquid = self.brings(1.0).liquid;
        self.pours() && liquid.extract_kg <= 0.0 && liquid.ethanol_kg <= 0.0
    }

    /// What `amount` of it brings, whatever it is. Something that brings no extract and is measured by volume brings that volume, as
    /// water.
    pub(crate) fn brings(&self, amount: f64) -> Brought {
        if let Some((part, kg)) = self.fermentable(amount) {
            let extract_kg = kg * part.extract;
            return Brought {
                liquid: Liquid::solution(kg * part.water, extract_kg),
                fermentable_kg: extract_kg * part.ferments.unwrap_or(1.0),
                colour_ebc_l: part.colour_yield.map(|ebc| ebc * kg),
            };
        }
        let drink = match self.material {
            Material::Beverage(drink) => drink,
            // The starter around it is left out, which is told.
            Material::Yeast(_) => return Brought::NOTHING,
            _ if self.is_by_volume() => Beverage::water(),
            _ => return Brought::NOTHING,
        };
        let (kg, l) = if self.is_by_volume() {
            (amount * drink.density_kg_l, amount)
        } else {
            (amount, amount / drink.density_kg_l)
        };
        let liquid = drink.per_kg.part(kg);
        Brought {
            fermentable_kg: liquid.extract_kg * drink.fermentability,
            liquid,
            colour_ebc_l: drink.colour_ebc.map(|ebc| ebc * l),
        }
    }

    /// Water, or what counts as water, that goes into the kettle or makes up what leaves it. What goes into the mash is part of its
    /// water.
    pub(crate) fn thins_wort(&self) -> bool {
        (matches!(self.place.stage, Stage::Boil | Stage::Stand) || self.is_top_up())
            && !matches!(self.material, Material::Fermentable(_))
    }

    /// The gravity at which it goes in, °P apparent.
    pub(crate) fn trigger_plato(&self) -> Option<f64> {
        match &self.timing.at {
            Some(At::Gravity(plato)) => Some(plato.value().plato()),
            _ => None,
        }
    }

    /// Whether it goes into the fermenter with the yeast.
    pub(crate) fn is_at_pitching(&self) -> bool {
        matches!(&self.timing.at, Some(At::AfterPitching(time)) if in_minutes(time.value()) <= 0.0)
    }

    /// Whether both are parts of one blend, or the same item.
    pub(crate) fn same_addition(&self, other: &Self) -> bool {
        self.place.same_addition(other.place)
    }
}
