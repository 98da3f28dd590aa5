//! Models that belong together.

use crate::catalogue::Catalogue;
use crate::recipe::{Brewhouse, Log, Recipe, Stock};

/// Models that belong together.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct Models {
    /// The recipe.
    pub recipe: Option<Recipe>,
    /// The plants.
    pub brewhouses: Vec<Brewhouse>,
    /// What is in the cupboard.
    pub stock: Stock,
    /// The logs, each of one fermentation.
    pub logs: Vec<Log>,
}

impl Models {
    /// A recipe, so far without plants.
    #[must_use]
    pub fn new(recipe: Recipe) -> Self {
        Self {
            recipe: Some(recipe),
            ..Self::default()
        }
    }

    /// One plant more.
    #[must_use]
    pub fn plant(mut self, plant: Brewhouse) -> Self {
        self.brewhouses.push(plant);
        self
    }

    /// What the brewer has, can buy or cannot get; stocks add up.
    #[must_use]
    pub fn stock(mut self, stock: Stock) -> Self {
        self.stock.lots.extend(stock.lots);
        self
    }

    /// One log more.
    #[must_use]
    pub fn log(mut self, log: Log) -> Self {
        self.logs.push(log);
        self
    }

    /// Finds the entry and the kind of each ingredient that was named without them.
    pub fn resolve(&mut self, catalogue: &Catalogue) {
        if let Some(recipe) = &mut self.recipe {
            recipe.resolve(catalogue);
        }
        self.stock.resolve(catalogue);
        for log in &mut self.logs {
            log.resolve(catalogue);
        }
    }
}
