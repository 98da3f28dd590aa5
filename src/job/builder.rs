//! A job of models built in code.

use super::{Job, Parts};
use crate::catalogue::Catalogue;
use crate::diagnostic::{Error, ErrorKind};
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

    /// The job.
    ///
    /// # Errors
    ///
    /// `Contradiction` when two plants have one name, `UnknownName` when the recipe was brewed on a plant that is not there.
    pub fn build(self) -> Result<Job, Error> {
        let plants = &self.parts.brewhouses;
        for (place, plant) in plants.iter().enumerate() {
            let name = plant.name.to_lowercase();
            if plants
                .iter()
                .take(place)
                .any(|other| other.name.to_lowercase() == name)
            {
                let message = format!("two plants are called `{}`", plant.name);
                return Err(Error::new(ErrorKind::Contradiction, message)
                    .with_help("give one of them another name")
                    .with_code("duplicate_plant"));
            }
        }
        let job = Job(Arc::new(self.parts));
        job.printed_plant()?;
        Ok(job)
    }
}
