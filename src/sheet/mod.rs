//! A plan as a brew sheet in plain text, to pin to the wall.
//!
//! ```
//! use wortwright::{Job, quantity::UnitSystem, sheet::SheetOptions, speech::Style};
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
//! println!("{plan}"); // in the units in which the plant was written
//! let us = plan.sheet(&SheetOptions::default().with_style(Style::customary(UnitSystem::Us)));
//! assert!(us.contains("2.11 gal"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the sheet of a plan; of a prediction | [`Plan::sheet`](crate::scale::Plan::sheet), [`Prediction::sheet`](crate::process::Prediction::sheet) |
//! | its units, its length, when the day begins, its substitutes | [`SheetOptions`], [`SheetLength`], [`TimeOfDay`], [`Style`], [`BestSubstitute`] |
//! | its shopping list, its box, an addition in words | [`Plan::shopping_list`](crate::scale::Plan::shopping_list), [`ShoppingLine`], [`Plan::to_resolve`](crate::scale::Plan::to_resolve), [`Plan::described`](crate::scale::Plan::described) |
//! | what to do where a reading is off | [`Plan::correction`](crate::scale::Plan::correction), [`SheetReading`] |
//! | when each step begins | [`Plan::schedule`](crate::scale::Plan::schedule), [`Schedule`], [`Moment`], [`HotSideStep`] |
//!
//! The sheet follows the day by the clock: figures, what must be resolved, shopping, water, mash, boil, cooling,
//! fermentation, packaging, with blanks for what is measured and each caution at the step where it applies. That is the
//! brief sheet; the full one goes on with what changed from the original sheet, what was assumed, and the remaining
//! cautions. A beer out of reach is printed for its first way out, and the box at the head says so. Where there is none and
//! the kettle runs over or no grain fits, no amounts follow: only what is in the way, and the reasons. Nothing is computed here that the plan holds. No line is longer than 96 characters.

mod acid;
mod addition;
mod assumptions;
mod boil;
mod cautions;
mod cellar;
mod clock;
mod cooling;
mod correction;
mod head;
mod mash;
mod packaging;
mod page;
mod prediction;
mod reasons;
mod schedule;
mod shopping;
mod souring;
mod spread;
mod units;
mod water;
mod yeast;

use crate::caution::BrewStep;
use crate::scale::{Outcome, Plan};
use crate::speech::{Noted, Style};
use cautions::Cautions;
pub use clock::TimeOfDay;
pub use correction::SheetReading;
use page::Page;
pub use schedule::{HotSideStep, Moment, Schedule};
use serde::{Deserialize, Serialize};
pub use shopping::ShoppingLine;
use std::fmt;

/// What a host may set for a sheet.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct SheetOptions {
    /// The units; without them those in which the plant was written.
    pub style: Option<Style>,
    /// How much of it.
    pub length: SheetLength,
    /// When the brewer begins to heat; without it the clock begins at 0:00.
    pub start: Option<TimeOfDay>,
    /// The best substitute for each ingredient that is not available: a line in the box at the head.
    pub substitutes: Vec<BestSubstitute>,
}

/// The best substitute for an ingredient that is not available.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct BestSubstitute {
    /// The ingredient that is not available, by its name in the recipe.
    pub missing: String,
    /// The substitute with its amount: `186 g flaked wheat`.
    pub with: String,
    /// The difference that a drinker notices, and the allergens that come and go.
    pub difference: String,
}

/// How much a sheet prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum SheetLength {
    /// What is pinned to the wall on the day.
    Brief,
    /// The same, then what changed from the original sheet, what was assumed, and the remaining cautions.
    #[default]
    Full,
}

impl SheetOptions {
    /// The same options with the units.
    #[must_use]
    pub const fn with_style(mut self, style: Style) -> Self {
        self.style = Some(style);
        self
    }

    /// The same options for a sheet of this length.
    #[must_use]
    pub const fn with_length(mut self, length: SheetLength) -> Self {
        self.length = length;
        self
    }

    /// The same options for a day that begins then.
    #[must_use]
    pub const fn starting(mut self, start: TimeOfDay) -> Self {
        self.start = Some(start);
        self
    }

    /// The same options with the substitutes for ingredients that are not available, as
    /// [`Substitutes::best`](crate::job::Substitutes::best) names them. A plan in which they were taken has them at their steps.
    #[must_use]
    pub fn with_substitutes(mut self, substitutes: Vec<BestSubstitute>) -> Self {
        self.substitutes = substitutes;
        self
    }
}

impl Plan {
    /// The plan as a brew sheet.
    ///
    /// ```
    /// use wortwright::job::Job;
    /// use wortwright::sheet::SheetOptions;
    /// # fn main() -> Result<(), wortwright::diagnostic::Error> {
    /// let text = "
    /// recipe Ten litres of pale
    /// batch 10 L into fermenter
    /// mash
    ///   2.2 kg pale ale malt
    /// boil 60 min
    ///   20 g northern brewer, 9 % alpha at 60 min
    /// ferment
    ///   pitch ale yeast at 19 C
    ///
    /// brewhouse Kitchen
    ///   batch 5 L into fermenter
    /// ";
    /// let plan = Job::read([("pale.gyle", text)])?.on("Kitchen")?.plan()?;
    /// let sheet = plan.sheet(&SheetOptions::default());
    /// assert!(sheet.contains("5.00 L"));
    /// assert!(sheet.lines().all(|line| line.chars().count() <= 96));
    /// # Ok(())
    /// # }
    /// ```
    #[must_use]
    pub fn sheet(&self, options: &SheetOptions) -> String {
        let relieved = self.with_first_remedy();
        match &relieved {
            Some(plan) => plan.printed(Some(self), options),
            None => self.printed(None, options),
        }
    }

    /// The sheet; `wanted` is the plan before its first way out was taken, where it has one.
    fn printed(&self, wanted: Option<&Self>, options: &SheetOptions) -> String {
        let style = options.style.unwrap_or_else(|| self.brewhouse.style());
        let mut cautions = Cautions::of(self, style);
        let sheet = Sheet::of(self);
        let mut page = Page::of(style);
        head::print(&mut page, self, sheet, style);
        let told = (style, &*options.substitutes);
        head::resolved_first(&mut page, (self, wanted), &mut cautions, told);
        if sheet == Sheet::Impossible {
            head::no_amounts(&mut page);
            reasons::changes(&mut page, self, style);
            assumptions::print(&mut page, (&self.assumptions, None), style);
            return page.into_text();
        }
        cautions.boxed(&mut page);
        let looks = self.warnings.iter();
        let looks = looks.filter(|warning| !head::stands_at_the_head(self, warning));
        reasons::warnings(&mut page, looks, style);
        shopping::print(&mut page, self, &cautions, told);
        cautions.print(&mut page, BrewStep::Shopping);
        let mut day = Day {
            plan: self,
            style,
            clock: self.schedule(options.start),
            cautions,
        };
        water::print(&mut page, &mut day);
        mash::print(&mut page, &mut day);
        souring::print(&mut page, &mut day);
        boil::print(&mut page, &mut day);
        cooling::print(&mut page, &mut day);
        cellar::pitching(&mut page, &mut day);
        cellar::later_additions(&mut page, &mut day);
        packaging::print(&mut page, &mut day);
        if options.length == SheetLength::Brief {
            day.cautions.drop(BrewStep::Afterwards);
        } else {
            reasons::changes(&mut page, self, style);
            reasons::drift(&mut page, self, style);
            head::bitterness(&mut page, self, style);
            acid::brought(&mut page, self);
            let of = (&*self.assumptions, self.spread.as_ref());
            assumptions::print(&mut page, of, style);
            assumptions::clock(&mut page, (self, &day.clock), style);
        }
        day.cautions.rest(&mut page);
        page.into_text()
    }
}

/// A plan on its day.
#[derive(Debug)]
struct Day<'a> {
    plan: &'a Plan,
    style: Style,
    clock: Schedule,
    cautions: Cautions,
}

impl fmt::Display for Plan {
    /// The sheet, in the units in which the plant was written.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.sheet(&SheetOptions::default()))
    }
}

/// What a sheet is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sheet {
    /// To brew from.
    ToBrew,
    /// To see what is in the way; without amounts, which somebody might brew from.
    Impossible,
}

impl Sheet {
    fn of(plan: &Plan) -> Self {
        let impossible = |outcome: &Noted<Outcome>| match &outcome.what {
            Outcome::KettleOverflows { .. } => true,
            // No grain fits: water would be all that is left to measure.
            Outcome::GravityOutOfReach { highest, .. } => highest.plato() < 0.05,
            _ => false,
        };
        if plan.outcomes.iter().any(impossible) {
            Self::Impossible
        } else {
            Self::ToBrew
        }
    }
}
