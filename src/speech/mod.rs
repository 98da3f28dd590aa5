//! The sentences of results: every entry says its code, its weight, the input that it speaks of, and a sentence.
//!
//! ```
//! use wortwright::{Job, quantity::UnitSystem, speech::{Speaks, Style}};
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
//! let us = Style::customary(UnitSystem::Us); // `plan.brewhouse.style()`: the units of the plant
//! let told = plan.assumptions.iter().map(|entry| entry as &dyn Speaks);
//! for entry in told.chain(plan.warnings.iter().map(|entry| entry as &dyn Speaks)) {
//!     println!("{} {:?} {}", entry.code(), entry.place(), entry.text(us));
//! }
//! assert_eq!(plan.changes[0].text(us), "batch: 2.11 gal instead of 17.0 bbl into the fermenter");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | every entry, of whatever list | [`Speaks`] |
//! | an entry with its input | [`Noted`], [`Place`] |
//! | the units of sentences | [`Style`], [`GravityScale`], [`ColourScale`], [`TemperatureScale`] |
//! | a figure as a sentence has it | [`Style`]'s methods, [`time`], [`alcohol`], [`percent`] |
//!
//! Diagnostics, changes, assumptions, warnings, outcomes, remedies, proposals, practices, gas, the lines of a log, remarks,
//! advice and cautions all speak by it. Sentences may be worded anew; codes are stable.

mod spoken;
mod style;

pub(crate) use spoken::{Spoken, two_digits};
pub use style::{ColourScale, GravityScale, Style, TemperatureScale, alcohol, percent, time};
pub(crate) use style::{capital, ion, packs, shortest};

use crate::diagnostic::{Diagnostic, Place, Severity};
use serde::Serialize;
use std::ops::Deref;

/// An entry that says something to a person.
///
/// ```
/// use wortwright::{Job, speech::{Speaks, Style}};
/// # fn main() -> Result<(), Box<dyn std::error::Error>> {
/// let job = Job::read([("ale", "recipe Ale\nbatch 10 L\ntarget original 12 P\nmash\n  100 % pale ale malt\n\
///                               boil\n  10 g saaz\nbrewhouse Home\n  batch 10 L\n")])?;
/// let plan = job.on("Home")?.plan()?;
/// let entries = plan.assumptions.iter().map(|told| told as &dyn Speaks);
/// let boil = entries.into_iter().find(|told| told.code() == "boil_time").ok_or("none")?;
/// assert_eq!(boil.text(Style::default()), "Assumed: a boil of 60 min; none is given");
/// assert_eq!(boil.place().ok_or("none")?.to_string(), "recipe.boil.time_min");
/// # Ok(())
/// # }
/// ```
pub trait Speaks {
    /// The stable code of what it says, for hosts.
    fn code(&self) -> &'static str;

    /// How much it weighs.
    fn severity(&self) -> Severity;

    /// The input that it speaks of, where there is one; of several the first, in the order of the recipe's sections.
    fn place(&self) -> Option<&Place> {
        None
    }

    /// What it says, without a full stop.
    fn text(&self, style: Style) -> String;
}

/// An entry with the input that it speaks of.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Noted<T> {
    /// What is said.
    #[serde(flatten)]
    pub what: T,
    /// The input that it speaks of, of several the first; none where no input is to be named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub place: Option<Place>,
}

impl<T> Noted<T> {
    /// An entry that speaks of an input.
    pub(crate) fn at(place: impl Into<Option<Place>>, what: T) -> Self {
        Self {
            what,
            place: place.into(),
        }
    }
}

/// An entry that speaks of no input.
impl<T> From<T> for Noted<T> {
    fn from(what: T) -> Self {
        Self { what, place: None }
    }
}

impl<T> Deref for Noted<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.what
    }
}

impl<T: Speaks> Speaks for Noted<T> {
    fn code(&self) -> &'static str {
        self.what.code()
    }

    fn severity(&self) -> Severity {
        self.what.severity()
    }

    fn place(&self) -> Option<&Place> {
        self.place.as_ref()
    }

    fn text(&self, style: Style) -> String {
        self.what.text(style)
    }
}

impl Speaks for Diagnostic {
    fn code(&self) -> &'static str {
        self.code.as_str()
    }

    fn severity(&self) -> Severity {
        self.severity
    }

    fn place(&self) -> Option<&Place> {
        self.place.as_ref()
    }

    fn text(&self, _: Style) -> String {
        self.message.clone()
    }
}
