//! A job of models built in code.

use super::{Job, Parts};
use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, Text};
use crate::notation::Models;
use crate::recipe::{Brewhouse, Log, Recipe, Stock};
use std::sync::Arc;

/// Collects the models of a job: see [`Job::builder`].
#[derive(Debug)]
#[must_use]
pub struct JobBuilder {
    parts: Parts,
}

impl JobBuilder {
    pub(super) fn new(recipe: Recipe) -> Self {
        Self {
            parts: Parts {
                recipe: Some(recipe),
                ..Parts::default()
            },
        }
    }

    /// One plant more.
    pub fn plant(mut self, plant: Brewhouse) -> Self {
        self.parts.brewhouses.push(plant);
        self
    }

    /// What the brewer has, can buy or cannot get; stocks add up.
    pub fn stock(mut self, stock: Stock) -> Self {
        self.parts.stock.lots.extend(stock.lots);
        self
    }

    /// One log more.
    pub fn log(mut self, log: Log) -> Self {
        self.parts.logs.push(log);
        self
    }

    /// The catalogue that knows a host's own ingredients.
    pub fn catalogue(mut self, catalogue: Catalogue) -> Self {
        self.parts.catalogue = catalogue;
        self
    }

    /// The job. Ingredients that were named without a kind are found in the catalogue, and everything is held against the
    /// checks that a text is held against.
    ///
    /// # Errors
    ///
    /// `Unreadable` when a check fails: the diagnostics have the codes that a text gets, and point into the models as text.
    /// [`Models::check`] also gives the path of each.
    pub fn build(mut self) -> Result<Job, Error> {
        let mut models = Models {
            recipe: self.parts.recipe.take(),
            brewhouses: std::mem::take(&mut self.parts.brewhouses),
            stock: std::mem::take(&mut self.parts.stock),
            logs: std::mem::take(&mut self.parts.logs),
        };
        let catalogue = &self.parts.catalogue;
        models.resolve(catalogue);
        let check = models.check(catalogue);
        let is_usable = check.is_usable();
        let text = Text::new("models", check.text);
        if !is_usable {
            return Err(Error::unreadable(check.diagnostics, vec![text]));
        }
        self.parts.diagnostics = check.diagnostics;
        self.parts.log_spans = check.logs;
        self.parts.texts = vec![text];
        Ok(Job(Arc::new(self.parts)).joined(models))
    }
}
