//! A job of models built in code.

use super::{Job, Parts};
use crate::catalogue::Catalogue;
use crate::diagnostic::Error;
use crate::notation::Models;
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use std::sync::Arc;

/// Collects the models of a job: see [`Job::builder`].
#[derive(Debug)]
#[must_use]
pub struct JobBuilder {
    models: Models,
    catalogue: Catalogue,
}

impl JobBuilder {
    pub(super) fn new(recipe: Recipe) -> Self {
        Self {
            models: Models::new(recipe),
            catalogue: Catalogue::default(),
        }
    }

    /// One plant more.
    pub fn plant(mut self, plant: Brewhouse) -> Self {
        self.models = self.models.plant(plant);
        self
    }

    /// What the brewer has, can buy or cannot get; stocks add up.
    pub fn stock(mut self, stock: Stock) -> Self {
        self.models = self.models.stock(stock);
        self
    }

    /// One log more.
    pub fn log(mut self, log: Log) -> Self {
        self.models = self.models.log(log);
        self
    }

    /// The catalogue that knows a host's own ingredients.
    pub fn catalogue(mut self, catalogue: Catalogue) -> Self {
        self.catalogue = catalogue;
        self
    }

    /// The job: see [`Job::with`], by which the models are held against the checks that a text is held against. Ingredients
    /// that were named without a kind are found in the catalogue.
    ///
    /// # Errors
    ///
    /// Those of [`Job::with`].
    pub fn build(self) -> Result<Job, Error> {
        let none = Parts {
            catalogue: self.catalogue,
            ..Parts::default()
        };
        Job(Arc::new(none)).with(self.models)
    }
}
