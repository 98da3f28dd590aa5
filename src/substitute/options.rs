//! What a host may set.

use super::{Effort, Weights};
use serde::{Deserialize, Serialize};

/// From where candidates are taken. What the stock lists as `none` is never one, and amounts that it lists bind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Candidates {
    /// What the stock lists with an amount or as `any`.
    Stock,
    /// What the stock lists, and what any supermarket or good shop has that a small mash can use; what must be ordered too where
    /// these have nothing that does the same job.
    #[default]
    Shop,
    /// The whole catalogue, special orders among it.
    Catalogue,
}

/// How near the wort's colour is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum ColourMatch {
    /// What is told apart side by side, 1 EBC or a tenth of the wort's colour and what the lots may be off, costs as much as a step of flavour, and what lies
    /// beyond costs more in proportion, up to four times as far off: another beer. Half of it is free. It does not end where it is
    /// seen, since the nearest that a shop sells may lie beyond, and a brewer takes a paler beer before one with another grain for
    /// its colour alone; what is seen is told.
    #[default]
    Band,
    /// To the last digit, by two or three parts where one does not do it: a check of the search.
    Exact,
}

/// Settings of [`Brew::substitutes_with`](crate::job::Brew::substitutes_with).
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SubstituteOptions {
    /// The lines to replace, as the recipe names them; without any, what the stock lacks.
    pub missing: Vec<String>,
    /// The stock is all there is: a line that it does not list is missing too, and candidates are taken from it alone. A stock
    /// without any yeast does not speak of yeast.
    pub from_stock: bool,
    /// From where candidates are taken.
    pub candidates: Candidates,
    /// How near the wort's colour is kept.
    pub colour_match: ColourMatch,
    /// How many proposals are shown for each line, each led by another ingredient.
    pub limit: usize,
    /// The most parts of a blend, 1 to 3.
    pub most_parts: usize,
    /// What counts how much.
    pub weights: Weights,
    /// How hard to look; the result is the same.
    pub effort: Effort,
}

impl Default for SubstituteOptions {
    fn default() -> Self {
        Self {
            missing: Vec::new(),
            from_stock: false,
            candidates: Candidates::default(),
            colour_match: ColourMatch::default(),
            limit: 5,
            most_parts: super::search::MOST_PARTS,
            weights: Weights::default(),
            effort: Effort::default(),
        }
    }
}

impl SubstituteOptions {
    /// The same settings for the lines of these names.
    #[must_use]
    pub fn with_missing<N: Into<String>>(mut self, names: impl IntoIterator<Item = N>) -> Self {
        self.missing = names.into_iter().map(Into::into).collect();
        self
    }

    /// The same settings for a beer from the stock alone: the nearest that it allows.
    #[must_use]
    pub const fn from_stock(mut self) -> Self {
        self.from_stock = true;
        self.candidates = Candidates::Stock;
        self
    }

    /// The same settings with other candidates.
    #[must_use]
    pub const fn with_candidates(mut self, candidates: Candidates) -> Self {
        self.candidates = candidates;
        self
    }

    /// The same settings with the wort's colour kept as near as this.
    #[must_use]
    pub const fn with_colour_match(mut self, colour_match: ColourMatch) -> Self {
        self.colour_match = colour_match;
        self
    }

    /// The same settings with another number of proposals.
    #[must_use]
    pub const fn with_limit(mut self, limit: usize) -> Self {
        self.limit = limit;
        self
    }

    /// The same settings with blends of at most so many parts, brought within 1 to 3.
    #[must_use]
    pub fn with_most_parts(mut self, most: usize) -> Self {
        self.most_parts = most.clamp(1, super::search::MOST_PARTS);
        self
    }

    /// The same settings with other weights.
    #[must_use]
    pub fn with_weights(mut self, weights: Weights) -> Self {
        self.weights = weights;
        self
    }

    /// The same settings with another effort.
    #[must_use]
    pub const fn with_effort(mut self, effort: Effort) -> Self {
        self.effort = effort;
        self
    }
}
