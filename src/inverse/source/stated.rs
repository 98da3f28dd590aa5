//! A recipe on its plant, before its amounts are known.

use crate::process::{CoolingHistory, Formula, Plant};
use crate::recipe::Recipe;

/// Whether a volume is the source's own or tried on the way to it, where masses and gravity may contradict each other.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Reading {
    Trial,
    Final,
}

/// A recipe on its plant as stated. A setup comes of it when its yield and what of its mash ferments are known.
#[derive(Clone)]
pub(super) struct Stated<'a> {
    pub(super) recipe: &'a Recipe,
    pub(super) formula: Formula,
    pub(super) plant: Plant,
    pub(super) cooling: CoolingHistory,
    /// Factor on the mash's fermentability, where it is known already.
    pub(super) known_factor: Option<f64>,
}
