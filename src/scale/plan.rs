//! A plan: everything a brewer needs for the day, with the reasons.

use super::state::{Brews, State};
use super::{Change, Drift, Kept, LiquorPart, Outcome, WaterPlan, scaled};
use crate::catalogue::Kind;
use crate::notation::Document;
use crate::process::{
    Assumption, Figures, GasPlan, Spread, Stage, Stirred, Volumes, Warning, is_steep,
};
use crate::quantity::{
    AlphaAcids, Bitterness, Extract, MaltColour, Mass, PackCount, Share, Temperature, Time, Volume,
};
use crate::recipe::{Addition, Amount, BitternessModel, Brewhouse, HopForm, Ingredient, Recipe};
use crate::remedy::Remedy;
use crate::science::yeast::Cells;
use crate::speech::Noted;
use serde::Serialize;
use std::sync::Arc;

/// A recipe worked out for a plant.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Plan {
    /// The recipe with absolute amounts, as it is to be brewed.
    #[serde(skip)]
    pub recipe: Recipe,
    /// The plant.
    #[serde(skip)]
    pub brewhouse: Brewhouse,
    /// What the model predicts for the amounts of this plan, weighed out.
    pub predicted: Figures,
    /// How far that may be off; absent where it is switched off.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread: Option<Spread>,
    /// How far this plan's difference from the source may be off: less, where both rest on the same lots and models.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub spread_of_difference: Option<Spread>,
    /// What the sheet prints.
    pub published: Figures,
    /// What the model gives for the source on its own plant.
    pub source: Figures,
    /// Volumes of the brewing day.
    pub volumes: Volumes,
    /// Length of the boil.
    #[serde(rename = "boil_min", with = "crate::quantity::json::minute")]
    pub boil: Time,
    /// Water and its temperatures.
    pub water: WaterPlan,
    /// Everything that goes in, in the order of the day.
    pub additions: Vec<PlannedAddition>,
    /// Yeast cells to pitch, where a yeast is named.
    #[serde(
        rename = "yeast_billion_cells",
        skip_serializing_if = "Option::is_none"
    )]
    pub cells: Option<Cells>,
    /// Pressure or priming sugar, where container, carbonation and temperature are stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub gas: Option<GasPlan>,
    /// What changed from the source, and why.
    pub changes: Vec<Noted<Change>>,
    /// Everything that was taken for granted.
    pub assumptions: Vec<Noted<Assumption>>,
    /// What deserves a look.
    pub warnings: Vec<Noted<Warning>>,
    /// Targets that could not be met.
    pub outcomes: Vec<Noted<Outcome>>,
    /// The first way out, to be [taken](crate::job::Brew::taking), where the beer is out of reach.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remedy: Option<Remedy>,
    /// What weighing out moved.
    pub drift: Vec<Drift>,
    /// What to buy, and what is there.
    pub shopping: Vec<Purchase>,
    #[serde(skip)]
    pub(super) state: State,
}

/// One addition of a plan.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct PlannedAddition {
    /// Where on the day it goes in.
    pub stage: Stage,
    /// Which hot stand of the recipe it goes into, counted from 1.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub stand: Option<usize>,
    /// Which addition of its stage it is a part of, counted from 1, where that is a blend.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub blend: Option<usize>,
    /// The name as the recipe writes it.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// Its mass, for what is weighed.
    #[serde(
        rename = "mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub mass: Option<Mass>,
    /// Its volume, for what is measured.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// How many packs of it, for what comes in packs of unknown size.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack_count: Option<PackCount>,
    /// Share of the wort's fermentables by weight, or of the blend it belongs to in that blend's own basis.
    #[serde(
        rename = "share_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub share: Option<Share>,
    /// Extract it yields.
    #[serde(
        rename = "extract_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub extract: Option<Mass>,
    /// Bitterness it gives to the wort.
    #[serde(rename = "bitterness_ibu", skip_serializing_if = "Option::is_none")]
    pub bitterness: Option<Bitterness>,
    /// Boiling time left when it goes in.
    #[serde(
        rename = "at_min",
        with = "crate::quantity::json::option::minute",
        skip_serializing_if = "Option::is_none"
    )]
    pub time_left: Option<Time>,
    /// Whether it goes in with the first wort, before the boil.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub first_wort: bool,
    /// How long it stays.
    #[serde(
        rename = "for_min",
        with = "crate::quantity::json::option::minute",
        skip_serializing_if = "Option::is_none"
    )]
    pub contact: Option<Time>,
    /// Temperature of the liquid when it goes in.
    #[serde(rename = "at_c", skip_serializing_if = "Option::is_none")]
    pub temperature: Option<Temperature>,
    /// Day after pitching.
    #[serde(
        rename = "on_day",
        with = "crate::quantity::json::option::day",
        skip_serializing_if = "Option::is_none"
    )]
    pub on_day: Option<Time>,
    /// Apparent extract at which it goes in.
    #[serde(rename = "when_plato", skip_serializing_if = "Option::is_none")]
    pub when: Option<Extract>,
    /// Apparent extract of the beer just before it goes in with the rest of its blend, for what brings extract to the fermenter. Without
    /// a gravity to wait for, beer that has fermented.
    #[serde(
        rename = "plato_before_addition",
        skip_serializing_if = "Option::is_none"
    )]
    pub before: Option<Extract>,
    /// The same just after; it may rise.
    #[serde(
        rename = "plato_after_addition",
        skip_serializing_if = "Option::is_none"
    )]
    pub after: Option<Extract>,
    /// Its mass at the source, for comparison.
    #[serde(
        rename = "source_mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub source_mass: Option<Mass>,
    /// Colour that the amount was computed with.
    #[serde(rename = "colour_ebc", skip_serializing_if = "Option::is_none")]
    pub colour: Option<MaltColour>,
    /// Alpha acids that the amount was computed with.
    #[serde(
        rename = "alpha_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub alpha: Option<AlphaAcids>,
    /// Form of a hop product, as its line states it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub form: Option<HopForm>,
    /// Soluble solids of a juice that the amount was computed with.
    #[serde(rename = "brix_plato", skip_serializing_if = "Option::is_none")]
    pub brix: Option<Extract>,
    #[serde(skip)]
    pub(super) ingredient: Arc<Ingredient>,
}

impl PlannedAddition {
    /// What its line says of it, or the lot in its place.
    pub fn ingredient(&self) -> &Ingredient {
        &self.ingredient
    }
}

/// A line of the shopping list.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Purchase {
    /// The ingredient.
    pub name: String,
    /// Colour of a malt or grain, where the recipe or a lot states it.
    #[serde(rename = "colour_ebc", skip_serializing_if = "Option::is_none")]
    pub colour: Option<MaltColour>,
    /// Mass needed in all.
    #[serde(
        rename = "needed_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub needed_mass: Option<Mass>,
    /// Volume needed in all.
    #[serde(
        rename = "needed_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub needed_volume: Option<Volume>,
    /// Packs of unknown size needed in all.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub needed_packs: Option<PackCount>,
    /// Mass to buy, after what is in stock.
    #[serde(
        rename = "buy_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub buy_mass: Option<Mass>,
    /// Volume to buy, after what is in stock.
    #[serde(
        rename = "buy_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub buy_volume: Option<Volume>,
    /// Packs of unknown size to buy, after those in stock.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub buy_packs: Option<PackCount>,
    /// Which of the packs in stock to open, where the stock covers it in packs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub open: Vec<OpenedPacks>,
    /// Whether it can be had.
    pub supply: Supply,
}

/// Packs of one size to be opened.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct OpenedPacks {
    /// How many.
    pub count: u32,
    /// The size of each as the stock names it, in whatever unit a text is in.
    #[serde(skip)]
    pub each: String,
    /// Mass of each, for packs by mass.
    #[serde(
        rename = "each_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub each_mass: Option<Mass>,
    /// Volume of each, for bottles.
    #[serde(
        rename = "each_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub each_volume: Option<Volume>,
}

/// Whether an ingredient can be had.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Supply {
    /// The stock covers it.
    InStock,
    /// Some or all of it is to be bought.
    ToBuy,
    /// It cannot be bought.
    Missing,
}

impl Plan {
    /// The brews that this plan came from.
    pub(crate) fn brews(&self) -> &Brews {
        self.state.brews()
    }

    /// Whether its grain is steeped for colour and taste in a beer of malt extract, and nothing is mashed.
    #[must_use]
    pub fn steeps(&self) -> bool {
        is_steep(&self.brews().target)
    }

    /// The plan to be stored: see [`Kept::resume`].
    #[must_use]
    pub fn keep(&self) -> Kept {
        let mut kept = self.brews().kept.clone();
        kept.planned = Some(self.recipe.clone());
        kept
    }

    /// The plan written down: its recipe with absolute amounts and its plant, ready to be read again.
    ///
    /// Salts, acid and alkali that were worked out stand with the grain. The notation knows no additions to the sparge
    /// water; salts for it stand with the boil, where that water ends up, or with the grain where nothing is boiled.
    #[must_use]
    pub fn to_document(&self) -> Document<'static> {
        let mut recipe = self.recipe.clone();
        // A line below `boil` would make a boil where there is none.
        let boils = recipe.boil.time.is_some() || !recipe.boil.additions.is_empty();
        for treated in &self.brews().treated {
            let line = self.written(&treated.stirred);
            if treated.into == LiquorPart::Sparge && boils {
                recipe.boil.additions.push(line);
            } else {
                recipe.mash.additions.push(line);
            }
        }
        let mut brewhouse = self.brewhouse.clone();
        let model = self.brews().target.setup.plant.bitterness;
        // The model may have been a host's choice, or that of the plant of the sheet; hops that stand are read by another one than
        // those that do not.
        let unsaid = if recipe.has_hops_in_stand() {
            BitternessModel::Kinetic
        } else {
            BitternessModel::default()
        };
        if model != brewhouse.bitterness.unwrap_or(unsaid) {
            brewhouse.bitterness = Some(model);
        }
        Document::from(&recipe).followed_by(Document::from(&brewhouse))
    }

    /// A salt or an acid as a line of the recipe.
    fn written(&self, stirred: &Stirred<'_>) -> Addition {
        let mass = scaled::mass(
            stirred.kg,
            self.brewhouse.unit_system(),
            scaled::Digits::Four,
        );
        let mut line = Addition::of(Ingredient::new(
            stirred.agent.name.to_string(),
            stirred.agent.kind(),
        ));
        line.amount = Some(Amount::Mass(mass));
        line
    }
}
