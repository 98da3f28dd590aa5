//! A job on one plant.

use super::substitutes::Taken;
use super::{Job, Substitutes, Take};
use crate::diagnostic::{Error, Place};
use crate::inverse::{LaidOut, Printed, predict};
use crate::process::{Prediction, check_kind};
use crate::quantity::{Volume, Written};
use crate::recipe::{Brewhouse, Recipe, Shelf};
use crate::remedy::{Remedy, with_lines};
use crate::scale::{Order, Plan, ScaleOptions, SourceRead, WeighOut, no_batch};
use crate::substitute::{SubstituteOptions, Together, proposals, together};
use std::sync::{Arc, OnceLock};

/// A job on one plant, to be asked again with another batch or another choice.
#[derive(Debug, Clone)]
pub struct Brew {
    job: Job,
    plant: Arc<Brewhouse>,
    /// The plant that the recipe's figures speak for.
    printed_on: Option<Arc<Brewhouse>>,
    recipe: Arc<Recipe>,
    /// The same before any remedy put a line into it.
    without_remedies: Arc<Recipe>,
    /// Remedies that were taken, in order.
    remedies: Arc<[Remedy]>,
    /// The brew before anything was taken, whose mash ferments as this one's.
    printed: Option<Arc<Self>>,
    options: ScaleOptions,
    laid_out: Arc<OnceLock<Result<LaidOut, Error>>>,
    /// The recipe as its source is read, which depends on neither batch nor amounts; read when a plan is first asked for.
    source: Arc<OnceLock<Result<SourceRead, Error>>>,
}

impl Brew {
    pub(super) fn new(job: &Job, plant: &Brewhouse, options: ScaleOptions) -> Result<Self, Error> {
        let recipe = Arc::new(job.whole_recipe()?.clone());
        Ok(Self {
            printed_on: job.printed_plant()?.cloned().map(Arc::new),
            job: job.clone(),
            plant: Arc::new(plant.clone()),
            without_remedies: Arc::clone(&recipe),
            recipe,
            remedies: Arc::default(),
            printed: None,
            options,
            laid_out: Arc::default(),
            source: Arc::default(),
        })
    }

    /// The job that it is a brew of.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// The plant to brew on.
    pub fn brewhouse(&self) -> &Brewhouse {
        &self.plant
    }

    /// The recipe, with what was taken so far in its place.
    pub fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// The same brew of another size: `"9.5 L"`, or a volume as written. Where the batch is counted stays as the plant says.
    ///
    /// # Errors
    ///
    /// `NotAQuantity` when a text is no volume; `PlantIncomplete` when the plant does not say where its batch is counted.
    pub fn batch<Q>(&self, batch: Q) -> Result<Self, Error>
    where
        Q: TryInto<Written<Volume>>,
        Error: From<Q::Error>,
    {
        self.sized(batch.try_into()?)
    }

    fn sized(&self, volume: Written<Volume>) -> Result<Self, Error> {
        let mut plant = Brewhouse::clone(&self.plant);
        match &mut plant.batch {
            Some(batch) => batch.volume = volume,
            None => return Err(no_batch(&plant)),
        }
        Ok(Self {
            plant: Arc::new(plant),
            ..self.clone()
        })
    }

    /// The same brew with substitutes in the place of what they were proposed for, and with remedies for what the plant cannot
    /// do.
    ///
    /// # Errors
    ///
    /// `UnknownName` or `Contradiction` when one does not fit the recipe as it stands.
    pub fn taking<T: Into<Take>>(&self, taken: impl IntoIterator<Item = T>) -> Result<Self, Error> {
        let (mut swaps, mut remedies) = (Vec::new(), self.remedies.to_vec());
        let mut plant = Brewhouse::clone(&self.plant);
        for taken in taken {
            match taken.into().0 {
                Taken::Swap(swap) => swaps.push(*swap),
                Taken::Remedy(remedy) => {
                    plant = remedy.on_plant(plant);
                    remedies.push(*remedy);
                }
            }
        }
        let swapped = self.without_remedies.with_swaps(&swaps)?;
        let printed = match (&self.printed, swaps.is_empty()) {
            (None, false) => Some(Arc::new(self.clone())),
            (printed, _) => printed.clone(),
        };
        Ok(Self {
            recipe: Arc::new(with_lines(&swapped, &plant, &remedies)),
            plant: Arc::new(plant),
            without_remedies: Arc::new(swapped),
            remedies: remedies.into(),
            printed,
            laid_out: Arc::default(),
            source: Arc::default(),
            ..self.clone()
        })
    }

    /// What the recipe's amounts give on this plant, as they are written.
    ///
    /// # Errors
    ///
    /// `Incomplete` or `Contradiction` when the recipe cannot be worked out on it.
    pub fn predict(&self) -> Result<Prediction, Error> {
        let here = Printed {
            recipe: &self.recipe,
            brewhouse: Some(&self.plant),
            catalogue: self.job.catalogue(),
            model: self.options.bitterness,
            is_chosen: true,
            spread: self.options.spread,
        };
        let predicted = self.laid_out().and_then(|laid_out| predict(here, laid_out));
        predicted.map_err(|error| self.located(error))
    }

    /// The plan: amounts that keep the strength, colour and bitterness of the beer.
    ///
    /// # Errors
    ///
    /// `PlantIncomplete` when the plant has no batch; `Incomplete` or `Contradiction` when the recipe cannot be worked out.
    pub fn plan(&self) -> Result<Plan, Error> {
        let shelf = self.shelf();
        let order = self.order(&shelf, self.options);
        let plan = order.batch().and_then(|_| order.plan(self.read(order)?));
        plan.map_err(|error| self.located(error))
    }

    /// Substitutes for what the stock lacks.
    ///
    /// # Errors
    ///
    /// As [`Brew::substitutes_with`].
    pub fn substitutes(&self) -> Result<Substitutes, Error> {
        self.substitutes_with(&SubstituteOptions::default())
    }

    /// Substitutes for what the options name, or for what the stock lacks.
    ///
    /// # Errors
    ///
    /// `UnknownName` when the recipe lacks a name, `OutOfRange` for a weight that is not from 0 to 1000; otherwise those of
    /// [`Brew::plan`].
    pub fn substitutes_with(&self, options: &SubstituteOptions) -> Result<Substitutes, Error> {
        let shelf = self.shelf();
        let order = self.exact(&shelf);
        let found = self
            .read(order)
            .and_then(|read| proposals(order, read, options, &self.said(options)));
        let missing = found.map_err(|error| self.located(error))?;
        Ok(Substitutes::new(missing, self, options))
    }

    /// Substitutes for all of these lines at once, from lots that suffice for all of them: the nearest sets first.
    ///
    /// # Errors
    ///
    /// As [`Brew::substitutes_with`].
    pub fn sets_with(&self, options: &SubstituteOptions) -> Result<Together, Error> {
        let shelf = self.shelf();
        let order = self.exact(&shelf);
        let found = self
            .read(order)
            .and_then(|read| together(order, read, options, &self.said(options)));
        found.map_err(|error| self.located(error))
    }

    /// What the texts say at each place, where lines are named.
    fn said(&self, options: &SubstituteOptions) -> Vec<(Place, String)> {
        if options.missing.is_empty() || self.printed.is_some() {
            return Vec::new();
        }
        self.job.said()
    }

    /// The refusal with the line that it speaks of: what is taken stands in no text.
    fn located(&self, error: Error) -> Error {
        if self.printed.is_some() {
            return error;
        }
        self.job.located(error)
    }

    fn shelf(&self) -> Shelf<'_> {
        Shelf::of(self.job.stock())
    }

    /// Recipes are compared by what they give exactly, not as weighed out.
    fn exact<'a>(&'a self, shelf: &'a Shelf<'a>) -> Order<'a> {
        self.order(shelf, self.options.with_weigh_out(WeighOut::Exact))
    }

    fn order<'a>(&'a self, shelf: &'a Shelf<'a>, options: ScaleOptions) -> Order<'a> {
        Order {
            recipe: &self.recipe,
            brewhouse: &self.plant,
            printed_on: self.printed_on.as_deref(),
            stock: self.job.stock(),
            shelf,
            catalogue: self.job.catalogue(),
            options,
            taken: &self.remedies,
        }
    }

    /// The source, read the first time that it is asked for.
    fn read(&self, order: Order<'_>) -> Result<SourceRead, Error> {
        // A source is read once: its layout is kept by predictions alone, which are asked for again.
        let laid_out = || match self.laid_out.get() {
            Some(laid_out) => laid_out.clone(),
            None => LaidOut::of(&self.recipe, self.job.catalogue()),
        };
        let read = || match &self.printed {
            Some(printed) => {
                let recipe = &printed.recipe;
                let before = printed.read(Order { recipe, ..order })?;
                order.read_like(laid_out()?, &before.source)
            }
            None => order.read(laid_out()?),
        };
        let read = || self.check_lots().and_then(|()| read());
        self.source.get_or_init(read).clone()
    }

    /// Refuses a lot whose kind contradicts its entry in the catalogue.
    fn check_lots(&self) -> Result<(), Error> {
        let mut lots = self.job.stock().lots.iter().enumerate();
        lots.try_for_each(|(index, lot)| {
            let place = Place::of_lot(index, lot);
            check_kind(lot.ingredient(), &place, self.job.catalogue())
        })
    }

    /// The recipe laid out, the first time that it is asked for.
    fn laid_out(&self) -> Result<LaidOut, Error> {
        let laid_out = || LaidOut::of(&self.recipe, self.job.catalogue());
        self.laid_out.get_or_init(laid_out).clone()
    }
}
