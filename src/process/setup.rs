//! What a brew rests on: its formula, its plant, its mash and the cooling that follows.

use super::fermentability::MashFactor;
use super::formula::Formula;
use super::heater::{mash_kj_per_k, rise_c_per_min};
use super::hot_side::CoolingHistory;
use super::plant::Plant;
use super::wort::{Grist, Liquor};

/// Everything that a brew rests on but its amounts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Setup {
    pub(crate) formula: Formula,
    pub(crate) plant: Plant,
    /// How far its mash ferments: by its rests, heated at the usual pace, and as its source wants.
    pub(crate) mash_factor: MashFactor,
    /// What follows the boil, for this formula on this plant.
    pub(crate) cooling: CoolingHistory,
}

impl Setup {
    /// `fit` is what the source's printed figures want of its mash beyond the estimate, whatever the plant.
    pub(crate) fn new(formula: Formula, plant: Plant, fit: f64) -> Self {
        Self {
            mash_factor: MashFactor::estimated(&formula, &plant).fitted(fit),
            cooling: CoolingHistory::of(&formula, &plant),
            formula,
            plant,
        }
    }
    /// How far a mash of so much grain and water ferments: where the plant states its power, that sets the pace of the rises.
    pub(crate) fn factor_of(&self, grist: Grist, liquor: Liquor) -> MashFactor {
        let factor = if self.plant.heat_kw.is_some() {
            let rise = rise_c_per_min(&self.plant, mash_kj_per_k(grist, liquor.mash_l));
            MashFactor::risen(&self.formula, &self.plant, rise).fitted(self.mash_factor.fit)
        } else {
            self.mash_factor
        };
        if grist.mass_kg > 0.0 {
            factor.mashed_with(liquor.mash_l / grist.mass_kg)
        } else {
            factor
        }
    }
}
