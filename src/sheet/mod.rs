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
//! | its units | [`SheetOptions`], [`Style`] |
//!
//! The sheet follows the day: what could not be met, the shopping list, water, mash, boil, cooling, fermentation, packaging,
//! with blanks for what is read on the way; then why it differs from the printed sheet, what was assumed, what deserves a
//! look, and the cautions. Where the kettle runs over or no grain fits, no amounts follow: only what is in the way, the ways
//! out and the reasons. Nothing is computed here that the plan holds. No line is longer than 96 characters.

mod acid;
mod cellar;
mod day;
mod head;
mod page;
mod prediction;
mod reasons;
mod units;
mod water;

use crate::scale::{Outcome, Plan};
use crate::speech::Noted;
use crate::speech::Style;
use page::Page;
use std::fmt;

/// What a host may set for a sheet.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct SheetOptions {
    /// The units; without them those in which the plant was written.
    pub style: Option<Style>,
}

impl SheetOptions {
    /// The same options with the units.
    #[must_use]
    pub const fn with_style(mut self, style: Style) -> Self {
        self.style = Some(style);
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
        let style = options.style.unwrap_or_else(|| self.brewhouse.style());
        let cautions = self.cautions();
        let sheet = Sheet::of(self);
        let mut page = Page::default();
        head::print(&mut page, self, sheet, style);
        head::not_met(&mut page, self, &cautions, style);
        if sheet == Sheet::Impossible {
            head::no_amounts(&mut page);
            reasons::changes(&mut page, self, style);
            reasons::assumed(&mut page, &self.assumptions, style);
            return page.into_text();
        }
        head::shopping(&mut page, self, style);
        water::print(&mut page, self, style);
        day::mash(&mut page, self, style);
        day::boil(&mut page, self, style);
        day::cooling(&mut page, self, style);
        cellar::pitching(&mut page, self, style);
        cellar::later_additions(&mut page, self, style);
        cellar::packaging(&mut page, self, style);
        reasons::changes(&mut page, self, style);
        reasons::assumed(&mut page, &self.assumptions, style);
        let looks = self.warnings.iter();
        let looks = looks.filter(|warning| !head::stands_at_the_head(self, warning));
        reasons::warnings(&mut page, looks, style);
        reasons::drift(&mut page, self, style);
        reasons::cautions(&mut page, &cautions);
        page.into_text()
    }
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
