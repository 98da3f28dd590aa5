//! Something that brings extract, with the pulp of fruit.

use super::sugars::Sugars;
use crate::catalogue::{EntryRef, Fermentable as CatalogueFermentable};
use crate::science::density::{WATER_KG_PER_L, sucrose_density_20};

/// Seeds are taken to be so much of what does not dissolve, and keep half their mass of liquid, as stones do (estimates, no source).
const SEEDS_INSOLUBLE: f64 = 0.85;
const SEEDS_KEEP: f64 = 0.5;
/// Pulp keeps no more than this of the fruit's own liquid (estimate, no source).
const MOST_KEPT: f64 = 0.85;
/// Dissolved and other solids of fruit (sucrose solutions; estimate).
const SOLIDS_KG_PER_L: f64 = 1.587;
const PULP_KG_PER_L: f64 = 1.5;
/// Finished beer, in which pulp and stones lie.
const BEER_KG_PER_L: f64 = 1.008;

/// Something that brings extract. All figures by mass, of the product as is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Fermentable {
    pub(crate) extract: f64,
    pub(crate) water: f64,
    /// As its line or the catalogue states it.
    pub(crate) colour_ebc: Option<f64>,
    /// Colour of a kilogram made up to a litre, EBC, of what dissolves as it is.
    pub(crate) colour_yield: Option<f64>,
    /// Share of the extract that can ferment; absent where nobody knows it.
    pub(crate) fermentability: Option<f64>,
    /// The share that the yeast of its formula takes.
    pub(crate) ferments: Option<f64>,
    pub(crate) sugars: Sugars,
    pub(crate) diastatic_wk: Option<f64>,
    /// Kilograms in a litre, for what is measured by volume.
    pub(crate) density_kg_l: f64,
    /// What does not dissolve of whole fruit and puree.
    pub(crate) pulp: Option<Pulp>,
}

/// What does not dissolve of fruit, and how much liquid it keeps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Pulp {
    /// Of the edible part.
    pub(crate) insoluble: f64,
    /// Of the edible part.
    pub(crate) seeds: f64,
    /// Of the fruit as it is weighed.
    pub(crate) stones: f64,
    /// Liquid that a kilogram of pulp keeps, seeds and stones apart.
    pub(crate) keeps_kg_kg: f64,
}

impl Fermentable {
    /// Litres of beer that `kg` of it keep.
    pub(crate) fn keeps_l(&self, kg: f64) -> f64 {
        let Some(pulp) = self.pulp else {
            return 0.0;
        };
        let edible_kg = kg * (1.0 - pulp.stones);
        let by_pulp = pulp.keeps_kg_kg * (pulp.insoluble - SEEDS_INSOLUBLE * pulp.seeds).max(0.0)
            + SEEDS_KEEP * pulp.seeds;
        let own_kg = kg * (self.water + self.extract);
        let kept_kg = (edible_kg * by_pulp).min(MOST_KEPT * own_kg);
        (kept_kg + SEEDS_KEEP * kg * pulp.stones) / BEER_KG_PER_L
    }

    /// Litres that its pulp and stones take up in `kg` of it.
    pub(crate) fn pulp_l(&self, kg: f64) -> f64 {
        let of = |pulp: Pulp| pulp.insoluble * (1.0 - pulp.stones) + pulp.stones;
        kg * self.pulp.map_or(0.0, of) / PULP_KG_PER_L
    }
}

/// Sugar or juice: extract and water, no grain.
pub(super) fn dissolving(extract: f64, fermentability: Option<f64>) -> Fermentable {
    Fermentable {
        extract,
        water: 1.0 - extract,
        colour_ebc: None,
        colour_yield: None,
        fermentability,
        ferments: fermentability,
        sugars: Sugars::Simple,
        diastatic_wk: None,
        density_kg_l: sucrose_density_20(extract) / 1000.0,
        pulp: None,
    }
}

/// The same of whole fruit or puree, whose pulp and stones do not dissolve.
pub(super) fn with_pulp(juice: Fermentable, pulp: Pulp) -> Fermentable {
    let edible = 1.0 - pulp.stones;
    let pulp_kg = pulp.insoluble * edible;
    let extract = juice.extract * edible;
    let water = (edible - extract - pulp_kg).max(0.0);
    // Its colour is that of its juice.
    let juice_l = water / WATER_KG_PER_L + extract / SOLIDS_KG_PER_L;
    let litres = juice_l + (pulp_kg + pulp.stones) / PULP_KG_PER_L;
    Fermentable {
        extract,
        water,
        density_kg_l: 1.0 / litres,
        colour_yield: juice.colour_ebc.map(|ebc| ebc * juice_l),
        pulp: Some(pulp),
        ..juice
    }
}

pub(super) fn known_fermentable(entry: EntryRef<'_>) -> Option<&CatalogueFermentable> {
    match entry {
        EntryRef::Fermentable(known) => Some(known),
        _ => None,
    }
}
