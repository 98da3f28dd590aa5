//! What a brew rests on: its formula, its plant, its mash and the cooling that follows.

use super::formula::Formula;
use super::hot_side::CoolingHistory;
use super::plant::Plant;

/// Everything that a brew rests on but its amounts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Setup {
    pub(crate) formula: Formula,
    pub(crate) plant: Plant,
    /// Factor on the fermentability of each mashed grain: the source's, whatever the plant.
    pub(crate) mash_factor: f64,
    /// What follows the boil, for this formula on this plant.
    pub(crate) cooling: CoolingHistory,
}

impl Setup {
    pub(crate) fn new(formula: Formula, plant: Plant, mash_factor: f64) -> Self {
        Self {
            cooling: CoolingHistory::of(&formula, &plant),
            formula,
            plant,
            mash_factor,
        }
    }
}
