//! What a brew rests on: its formula, its plant, its mash and the cooling that follows.

use super::formula::Formula;
use super::hot_side::CoolingHistory;
use super::plant::Plant;

/// Everything that a brew rests on but its amounts.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Setup {
    pub(crate) formula: Formula,
    pub(crate) plant: Plant,
    pub(crate) mash: SourceMash,
    /// What follows the boil, for this formula on this plant.
    pub(crate) cooling: CoolingHistory,
}

impl Setup {
    pub(crate) fn new(formula: Formula, plant: Plant, mash: SourceMash) -> Self {
        Self {
            cooling: CoolingHistory::of(&formula, &plant),
            formula,
            plant,
            mash,
        }
    }
}

/// What a mash has from the source, whatever the plant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SourceMash {
    /// Factor on the fermentability of each mashed grain.
    pub(crate) factor: f64,
    /// Yield of the plant that colours are compared with: colour stays in the grain along with the extract.
    pub(crate) colour_yield: Option<f64>,
}
