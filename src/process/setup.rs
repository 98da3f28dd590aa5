//! What a brew rests on: its formula, its plant, its mash and the cooling that follows.

use super::fermentability::MashFactor;
use super::formula::Formula;
use super::hot_side::CoolingHistory;
use super::plant::Plant;

/// Everything that a brew rests on but its amounts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Setup {
    pub(crate) formula: Formula,
    pub(crate) plant: Plant,
    /// How far its mash ferments: by its rests on this plant, and as its source wants.
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
}
