//! The way in: a recipe with its plants, stock and logs, and the questions that are asked of them.
//!
//! A [`Job`] is read from texts or built from models; a [`Brew`] is a job on one plant. Both are owned, cheap to clone and
//! hold nothing borrowed, so that a window can keep them beside the plan that it shows.
//!
//! ```
//! use wortwright::Job;
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let job = Job::read([("beer", beer), ("home", home)])?; // the error prints every fault under its line
//! let brew = job.on("Stove top")?;
//! let plan = brew.batch("9.5 L")?.plan()?;
//! assert!((plan.predicted.original.map_or(0.0, |gravity| gravity.plato()) - 15.6).abs() < 0.05);
//! let plan = brew.taking(brew.substitutes()?.closest()?)?.plan()?;
//! assert!(plan.to_string().contains("flaked wheat")); // a plan displays as its sheet
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | texts, models, a reading that an editor holds | [`Job::read`], [`Job::builder`], [`Job::from_reading`] |
//! | what the recipe gives where it was printed | [`Job::as_written`] |
//! | amounts for a plant, another batch, another choice | [`Job::on`], [`Brew::batch`], [`Brew::taking`], [`Brew::plan`] |
//! | substitutes for what is not available | [`Brew::substitutes`] |
//! | what to do when a reading of the day is off | [`Plan::advise`](crate::scale::Plan::advise) |
//! | how strong the beer is | [`Job::ledgers`] |

mod brew;
mod builder;
mod substitutes;

pub use brew::Brew;
pub use builder::JobBuilder;
pub use substitutes::{Substitutes, Take};

use crate::catalogue::Catalogue;
use crate::diagnostic::{
    Code, Diagnostic, Error, ErrorKind, Place, Span, Text, TextId, TextRef, render,
};
use crate::inverse::{LaidOut, Printed, predict};
use crate::ledger::{Ledger, LedgerOptions, ledger_with};
use crate::notation::{Models, ReadOptions, Reading, ReadingNote, log_lines, read_with};
use crate::process::Prediction;
use crate::recipe::{BitternessModel, Brewhouse, Log, Recipe, Stock};
use crate::scale::ScaleOptions;
use std::sync::Arc;

/// A recipe with the plants, the stock, the logs and the catalogue that go with it. By default there is nothing in it yet, for
/// logs alone.
#[derive(Debug, Clone, Default)]
pub struct Job(Arc<Parts>);

#[derive(Debug, Clone, Default)]
struct Parts {
    recipe: Option<Recipe>,
    brewhouses: Vec<Brewhouse>,
    stock: Stock,
    logs: Vec<Log>,
    /// Where each log of the texts stands: its head, then its lines.
    log_spans: Vec<Vec<Span>>,
    catalogue: Catalogue,
    notes: Vec<ReadingNote>,
    diagnostics: Vec<Diagnostic>,
    texts: Vec<Text>,
    /// How the texts were read.
    options: ReadOptions,
}

impl Job {
    /// Reads texts that belong together, with the built-in catalogue.
    ///
    /// # Errors
    ///
    /// `Unreadable` when a text holds an error; it prints them all, each under its line.
    pub fn read<T: Into<Text>>(texts: impl IntoIterator<Item = T>) -> Result<Self, Error> {
        Self::read_with(texts, &Catalogue::builtin(), &ReadOptions::default())
    }

    /// Reads texts that belong together, with a host's own catalogue and way of writing numbers.
    ///
    /// # Errors
    ///
    /// As [`Job::read`].
    pub fn read_with<T: Into<Text>>(
        texts: impl IntoIterator<Item = T>,
        catalogue: &Catalogue,
        options: &ReadOptions,
    ) -> Result<Self, Error> {
        let texts: Vec<Text> = texts.into_iter().map(Into::into).collect();
        Self::of_texts(&texts, catalogue, options)
    }

    fn of_texts(
        texts: &[Text],
        catalogue: &Catalogue,
        options: &ReadOptions,
    ) -> Result<Self, Error> {
        let sources: Vec<TextRef<'_>> = texts.iter().map(Text::borrowed).collect();
        let reading = read_with(&sources, catalogue, options);
        if !reading.is_usable() {
            let diagnostics = reading.placed_diagnostics(catalogue);
            return Err(Error::unreadable(diagnostics, texts.to_vec()));
        }
        let mut job = Self::of(reading, catalogue, texts.to_vec());
        if let Some(parts) = Arc::get_mut(&mut job.0) {
            parts.options = options.clone();
        }
        Ok(job)
    }

    /// Makes a job from what an editor has read already: the texts that were read, in the same order, and the catalogue.
    ///
    /// # Errors
    ///
    /// `Unreadable` when the reading holds errors; it prints them all, each under its line.
    pub fn from_reading<T: Into<Text>>(
        reading: Reading<'_>,
        texts: impl IntoIterator<Item = T>,
        catalogue: &Catalogue,
    ) -> Result<Self, Error> {
        let texts = texts.into_iter().map(Into::into).collect();
        if reading.is_usable() {
            Ok(Self::of(reading, catalogue, texts))
        } else {
            let diagnostics = reading.placed_diagnostics(catalogue);
            Err(Error::unreadable(diagnostics, texts))
        }
    }

    /// The job of a reading without errors.
    pub(crate) fn of(reading: Reading<'_>, catalogue: &Catalogue, texts: Vec<Text>) -> Self {
        Self(Arc::new(Parts {
            recipe: reading.recipe,
            brewhouses: reading.brewhouses,
            stock: reading.stock,
            logs: reading.logs,
            log_spans: log_lines(&reading.documents),
            catalogue: catalogue.clone().with(reading.ingredients),
            notes: reading.notes,
            diagnostics: reading.diagnostics,
            texts,
            options: ReadOptions::default(),
        }))
    }

    /// The same job with models beside its texts, such as a plant from a host's own store. A recipe among them replaces that of
    /// the texts. They are held against the checks that a text is held against.
    ///
    /// # Errors
    ///
    /// `Unreadable` when a check fails: the diagnostics have the codes that a text gets, the field of the models, and point
    /// into the models as text. `Contradiction` when a plant or a log has the name of one that is there already.
    ///
    /// ```
    /// use wortwright::{Job, notation::Models, recipe::Brewhouse};
    /// # fn main() -> Result<(), wortwright::Error> {
    /// let recipe = "recipe Ale\nbatch 20 L\ntarget original 12 P\nmash\n  100 % pale ale malt\n";
    /// let pot = Brewhouse::new("Pot").batch("10 L".parse()?);
    /// let job = Job::read([("ale", recipe)])?.with(Models::default().plant(pot))?;
    /// assert!(job.on("Pot")?.plan().is_ok());
    /// # Ok(())
    /// # }
    /// ```
    pub fn with(self, mut models: Models) -> Result<Self, Error> {
        models.resolve(self.catalogue());
        let check = models.check(self.catalogue());
        let is_usable = check.is_usable();
        self.none_twice(&models)?;
        let mut job = self.joined(models);
        let knows_plant = job.printed_plant().is_ok();
        let parts = Arc::make_mut(&mut job.0);
        let text = u32::try_from(parts.texts.len()).unwrap_or(u32::MAX);
        parts.texts.push(Text::new("models", check.text));
        let here = |span: Span| Span {
            text: TextId(text),
            ..span
        };
        let log_spans = check.logs.into_iter();
        parts
            .log_spans
            .extend(log_spans.map(|lines| lines.into_iter().map(here).collect()));
        let found = check.diagnostics.into_iter();
        parts
            .diagnostics
            .extend(found.map(|found| found.moved(here)));
        // Neither texts nor models alone know the plants of the other.
        parts
            .diagnostics
            .retain(|found| !(knows_plant && found.code == Code::UnknownPlant));
        if is_usable {
            Ok(job)
        } else {
            let Parts {
                diagnostics, texts, ..
            } = Arc::unwrap_or_clone(job.0);
            Err(Error::unreadable(diagnostics, texts))
        }
    }

    /// Whether no plant and no log of the models has the name of one that is here.
    fn none_twice(&self, models: &Models) -> Result<(), Error> {
        let mut plants = models.brewhouses.iter();
        if let Some(plant) =
            plants.find(|plant| Brewhouse::find(&plant.name, self.brewhouses()).is_ok())
        {
            let message = format!("two plants are called `{}`", plant.name);
            return Err(Error::new(ErrorKind::Contradiction, message)
                .about(Place::plant(&plant.name.as_str().into(), "name")));
        }
        let is_here =
            |(_, log): &(usize, &Log)| self.logs().iter().any(|known| known.is_called(log.name()));
        match models.logs.iter().enumerate().find(is_here) {
            Some((number, log)) => {
                let message = format!("two logs are called `{}`", log.name());
                Err(Error::new(ErrorKind::Contradiction, message)
                    .about(Place::log(&log.key(number))))
            }
            None => Ok(()),
        }
    }

    /// The same job with models that were checked beside its texts; a recipe of theirs goes before one of the texts.
    pub(crate) fn joined(self, models: Models) -> Self {
        let mut parts = Arc::unwrap_or_clone(self.0);
        parts.recipe = models.recipe.or(parts.recipe);
        parts.brewhouses.extend(models.brewhouses);
        parts.stock.lots.extend(models.stock.lots);
        parts.logs.extend(models.logs);
        Self(Arc::new(parts))
    }

    /// A job of models built in code.
    pub fn builder(recipe: Recipe) -> JobBuilder {
        JobBuilder::new(recipe)
    }

    /// All models of the job, to be stored; own ingredients stay with the catalogue.
    pub fn models(&self) -> Models {
        let mut models = Models::default().stock(self.stock().clone());
        models.recipe = self.recipe().cloned();
        models.brewhouses = self.brewhouses().to_vec();
        models.logs = self.logs().to_vec();
        models
    }

    /// The recipe, which only a job of logs alone lacks.
    pub fn recipe(&self) -> Option<&Recipe> {
        self.0.recipe.as_ref()
    }

    /// The plants, in the order of the texts.
    pub fn brewhouses(&self) -> &[Brewhouse] {
        &self.0.brewhouses
    }

    /// What the brewer has, can buy or cannot get.
    pub fn stock(&self) -> &Stock {
        &self.0.stock
    }

    /// The logs, in the order of the texts.
    pub fn logs(&self) -> &[Log] {
        &self.0.logs
    }

    /// The catalogue with the texts' own ingredients on top.
    pub fn catalogue(&self) -> &Catalogue {
        &self.0.catalogue
    }

    /// What was assumed in reading.
    pub fn notes(&self) -> &[ReadingNote] {
        &self.0.notes
    }

    /// Warnings of reading; with errors there is no job.
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.0.diagnostics
    }

    /// The texts, which the spans of the diagnostics point into; what came as models stands last, as text.
    pub fn texts(&self) -> &[Text] {
        &self.0.texts
    }

    /// The warnings of reading as a person reads them, each under its line; empty where there are none.
    pub fn warnings(&self) -> String {
        let sources: Vec<TextRef<'_>> = self.0.texts.iter().map(Text::borrowed).collect();
        self.diagnostics()
            .iter()
            .map(|diagnostic| render(diagnostic, &sources))
            .collect()
    }

    /// The brew on the plant of that name, whether in capitals or not. The recipe is read when the brew is first asked.
    ///
    /// # Errors
    ///
    /// `UnknownName` when there is no such plant, or none of the name that the recipe was brewed on, with near names;
    /// `Incomplete` without a recipe.
    pub fn on(&self, plant: &str) -> Result<Brew, Error> {
        self.on_with(plant, &ScaleOptions::default())
    }

    /// As [`Job::on`], with a host's settings.
    ///
    /// # Errors
    ///
    /// As [`Job::on`].
    pub fn on_with(&self, plant: &str, options: &ScaleOptions) -> Result<Brew, Error> {
        let plant = Brewhouse::find(plant, self.brewhouses())?;
        Brew::new(self, plant, *options)
    }

    /// The only plant with a batch, apart from the one that the recipe was brewed on.
    ///
    /// # Errors
    ///
    /// `PlantIncomplete` when no plant has a batch, `Incomplete` when several have: the help lists them.
    pub fn only_plant(&self) -> Result<&Brewhouse, Error> {
        self.whole_recipe()?;
        let printed = self.printed_plant()?;
        let with_batch = |plant: &&Brewhouse| plant.batch.is_some() && Some(*plant) != printed;
        let targets: Vec<_> = self.brewhouses().iter().filter(with_batch).collect();
        match targets[..] {
            [only] => Ok(only),
            [] => Err(Error::new(
                ErrorKind::PlantIncomplete,
                "no plant to brew on has a batch",
            )
            .with_help("add a `brewhouse` block with a line such as `batch 8 L into fermenter`")),
            _ => {
                let names: Vec<_> = targets.iter().map(|plant| plant.name.as_str()).collect();
                let message = format!("{} plants could brew this", targets.len());
                Err(Error::new(ErrorKind::Incomplete, message)
                    .with_help(format!("choose one of `{}`", names.join("`, `"))))
            }
        }
    }

    /// What the recipe gives on the plant that it was printed for; without one a commercial plant with stated defaults is
    /// assumed.
    ///
    /// # Errors
    ///
    /// `Incomplete` when the recipe lacks a batch, an amount or a figure that no default stands in for; `Contradiction` when
    /// two of its facts exclude each other. The message names the place and the help says what to write.
    ///
    /// ```
    /// # use wortwright::{Error, Job};
    /// # fn main() -> Result<(), Error> {
    /// let text = "recipe Plain\nbatch 10 hL into fermenter\ntarget original 12 P, final 2 P\n\
    ///             mash\n  100 % pale ale malt\nboil 60 min\n";
    /// let found = Job::read([("plain", text)])?.as_written()?;
    /// // By hand: 3.947 °P of real extract (Tabarié), so (12 - 3.947)/(2.0665 - 0.12798) = 4.154 % by mass (Balling), and
    /// // times the densities 1005.96/789.24 of beer and ethanol that is 5.295 % by volume.
    /// assert!(found.predicted.alcohol.is_some_and(|alcohol| (alcohol.percent() - 5.295).abs() < 0.005));
    /// # Ok(())
    /// # }
    /// ```
    pub fn as_written(&self) -> Result<Prediction, Error> {
        self.written_by(None)
    }

    /// As [`Job::as_written`], with bitterness by `model`.
    ///
    /// # Errors
    ///
    /// As [`Job::as_written`].
    pub fn as_written_by(&self, model: BitternessModel) -> Result<Prediction, Error> {
        self.written_by(Some(model))
    }

    fn written_by(&self, model: Option<BitternessModel>) -> Result<Prediction, Error> {
        let recipe = self.whole_recipe()?;
        let printed = Printed {
            recipe,
            brewhouse: self.printed_plant()?,
            catalogue: self.catalogue(),
            model,
            is_chosen: false,
            spread: true,
        };
        LaidOut::of(recipe, self.catalogue())
            .and_then(|laid_out| predict(printed, laid_out))
            .map_err(|error| self.located(error))
    }

    /// The refusal with the line that states what it speaks of.
    fn located(&self, error: Error) -> Error {
        let Some(place) = error.place() else {
            return error;
        };
        let texts = &self.0.texts;
        let sources: Vec<_> = texts.iter().map(Text::borrowed).collect();
        let reading = read_with(&sources, self.catalogue(), &self.0.options);
        let span = reading.inputs(self.catalogue()).span(place);
        error.at(span, texts)
    }

    /// What the texts say at each place.
    fn said(&self) -> Vec<(Place, String)> {
        let sources: Vec<_> = self.0.texts.iter().map(Text::borrowed).collect();
        let reading = read_with(&sources, self.catalogue(), &self.0.options);
        let inputs = reading.inputs(self.catalogue());
        let said = inputs.iter().filter_map(|(span, place)| {
            let text = self.0.texts.get(span.text.0 as usize)?;
            Some((place.clone(), span.slice(text.borrowed().text).to_owned()))
        });
        said.collect()
    }

    /// The fermentation of each log, in the order of the texts.
    ///
    /// An item is an error of the kind `ImpossibleLog`, of texts at its line, where no fermentation can have given the log; its
    /// code is one of [`ledger::CODES`](crate::ledger::CODES).
    ///
    /// ```
    /// use wortwright::{Job, catalogue::Kind, notation::Models};
    /// use wortwright::recipe::{Added, Ingredient, Log, LogEntry, LogEvent, LogReading, Pitched};
    /// # fn main() -> Result<(), Box<dyn std::error::Error>> {
    /// let juice = Ingredient::new("apple juice", Kind::Juice).brix("12 Bx".parse()?);
    /// let log = Log::new([
    ///     LogEntry::undated(LogEvent::Pitched(Pitched::new("20 L".parse()?, "12 P".parse()?))),
    ///     LogEntry::undated(LogEvent::Reading(LogReading::new("3 P".parse()?))),
    ///     LogEntry::undated(LogEvent::Added(Added::new("5 L".parse()?, juice))),
    ///     LogEntry::undated(LogEvent::Reading(LogReading::new("2 P".parse()?))),
    /// ]);
    /// let job = Job::default().with(Models::default().log(log))?;
    /// let beer = job.ledgers().next().ok_or("no log")??;
    /// // 12 °P in all, down to 2: (12 − 3.947)/1.9385 = 4.154 % by mass at 1005.96 kg/m³.
    /// assert!((beer.alcohol.by_volume.percent() - 5.295).abs() < 0.005);
    /// // Water and sugar of 5 L of juice on top of 20 L: the gravity rises first.
    /// assert!(beer.steps[2].shown > beer.steps[1].shown);
    /// # Ok(())
    /// # }
    /// ```
    pub fn ledgers(&self) -> impl Iterator<Item = Result<Ledger, Error>> {
        self.ledgers_with(LedgerOptions::default())
    }

    /// As [`Job::ledgers`], with a host's settings.
    pub fn ledgers_with(
        &self,
        options: LedgerOptions,
    ) -> impl Iterator<Item = Result<Ledger, Error>> {
        self.0.logs.iter().enumerate().map(move |(place, log)| {
            ledger_with((place, log), self.catalogue(), options).map_err(|fault| {
                let spans = self.0.log_spans.get(place);
                let line = spans.and_then(|spans| spans.get(fault.entry + 1).or(spans.first()));
                fault.at(line.copied(), &self.0.texts)
            })
        })
    }

    /// The plant that the recipe was printed for, if it is one of these plants.
    pub fn printed_on(&self) -> Option<&Brewhouse> {
        self.printed_plant().ok().flatten()
    }

    /// The plant that the recipe's figures speak for, if it is one of these.
    fn printed_plant(&self) -> Result<Option<&Brewhouse>, Error> {
        match self.recipe() {
            Some(recipe) => recipe.plant_among(self.brewhouses()),
            None => Ok(None),
        }
    }

    fn whole_recipe(&self) -> Result<&Recipe, Error> {
        self.recipe().ok_or_else(|| {
            Error::new(ErrorKind::Incomplete, "none of the texts holds a recipe")
                .with_help("begin one with a line such as `recipe Saltmarsh Lantern`")
        })
    }
}
