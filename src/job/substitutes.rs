//! What was found for everything that is missing, and what a brewer takes of it.

use super::Brew;
use crate::diagnostic::{Error, ErrorKind};
use crate::recipe::Swap;
use crate::remedy::Remedy;
use crate::sheet::BestSubstitute;
use crate::speech::{Speaks, Style};
use crate::substitute::{Proposal, Proposals, SubstituteOptions};
use serde::Serialize;
use std::fmt;

/// Substitutes for each line that is missing, in the order of the recipe.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct Substitutes {
    /// One entry a missing line, its proposals nearest first, each judged as if it alone were replaced.
    pub missing: Vec<Proposals>,
    #[serde(skip)]
    asked: Asked,
}

/// What was asked, to be asked again for whole sets.
#[derive(Clone)]
struct Asked {
    brew: Brew,
    options: SubstituteOptions,
}

impl fmt::Debug for Asked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Asked")
            .field("options", &self.options)
            .finish_non_exhaustive()
    }
}

/// Two are the same if the same was found.
impl PartialEq for Substitutes {
    fn eq(&self, other: &Self) -> bool {
        self.missing == other.missing
    }
}

impl Substitutes {
    pub(super) fn new(missing: Vec<Proposals>, brew: &Brew, options: &SubstituteOptions) -> Self {
        let asked = Asked {
            brew: brew.clone(),
            options: options.clone(),
        };
        Self { missing, asked }
    }

    /// The first proposal for each line that has one, in words: for
    /// [`SheetOptions::with_substitutes`](crate::sheet::SheetOptions::with_substitutes).
    pub fn best(&self, style: Style) -> Vec<BestSubstitute> {
        let lines = self.missing.iter().filter_map(|line| {
            let best = line.proposals.iter().find(|proposal| proposal.feasible)?;
            let mut difference = best.difference.clone();
            for (word, allergens) in [
                ("gained", &best.allergens_gained),
                ("lost", &best.allergens_lost),
            ] {
                if !allergens.is_empty() {
                    let list: Vec<_> = allergens.iter().map(ToString::to_string).collect();
                    let list = list.join(", ");
                    difference.extend(["; allergen ", word, ": ", &list]);
                }
            }
            Some(BestSubstitute {
                missing: line.name.clone(),
                with: best.text(style),
                difference,
            })
        });
        lines.collect()
    }

    /// The brew with the first substitute for each line that has one, for the sheet that is brewed from: they are on the
    /// shopping list and at their steps. A line without one is left, and so are all of them where no set has lots for all.
    ///
    /// ```
    /// use wortwright::{Job, sheet::SheetOptions};
    ///
    /// let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
    /// let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
    /// let brew = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?;
    /// let found = brew.substitutes()?;
    /// let options = SheetOptions::default().with_substitutes(found.best(brew.brewhouse().style()));
    /// let sheet = found.taken()?.plan()?.sheet(&options);
    /// assert!(sheet.contains("flaked wheat, instead of flaked spelt"), "{sheet}");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    ///
    /// As [`Brew::sets_with`] and [`Brew::taking`].
    pub fn taken(&self) -> Result<Brew, Error> {
        let lines = self.missing.iter();
        let first = lines.filter_map(|line| line.proposals.iter().find(|found| found.feasible));
        let together = self.together(&first.collect::<Vec<_>>())?;
        self.asked.brew.taking(together.unwrap_or_default())
    }

    /// The first substitute for each line, to be taken: those that a brewer would choose, and not always the ones of which least is
    /// noticed ([`ProposalRole`](crate::substitute::ProposalRole)). A spice, fining, salt or acid that nothing replaces is left. Several lines are judged together: their lots suffice for all of
    /// them, see [`Brew::sets_with`].
    ///
    /// # Errors
    ///
    /// `Contradiction` when a line has no proposal that keeps what must be kept, and when no set of them has lots for all: the
    /// message names the lines.
    pub fn closest(&self) -> Result<Vec<Take>, Error> {
        let mut alone = Vec::new();
        for line in &self.missing {
            let feasible = line.proposals.iter().find(|proposal| proposal.feasible);
            let Some(nearest) = feasible else {
                // What may be left out stays as it is, and the sheet says that it is not available.
                if line.without.is_some() {
                    continue;
                }
                return Err(nothing(&format!("`{}`", line.name)));
            };
            alone.push(nearest);
        }
        self.together(&alone)?.ok_or_else(|| {
            let names: Vec<_> = self.missing.iter().map(|line| line.name.as_str()).collect();
            nothing(&format!("all of `{}` at once", names.join("`, `")))
        })
    }

    /// As many as are first for their lines alone, from lots that suffice for all; none where there is no such set.
    fn together(&self, alone: &[&Proposal]) -> Result<Option<Vec<Take>>, Error> {
        if alone.len() < 2 {
            return Ok(Some(alone.iter().map(|found| Take::from(*found)).collect()));
        }
        let sets = self.asked.brew.sets_with(&self.asked.options)?;
        let mut sets = sets.combinations.iter().map(|set| {
            let feasible = set.proposals.iter().filter(|part| part.feasible);
            feasible.map(Take::from).collect::<Vec<_>>()
        });
        Ok(sets.find(|set| set.len() == alone.len()))
    }
}

fn nothing(what: &str) -> Error {
    Error::new(
        ErrorKind::Contradiction,
        format!("no substitute for {what}"),
    )
    .with_help("list more in the stock, or search all ingredients")
}

/// What a brewer takes: a substitute as proposed, or a remedy for what the plant cannot do.
#[derive(Debug, Clone, PartialEq)]
pub struct Take(pub(super) Taken);

/// Which of them.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Taken {
    Swap(Box<Swap>),
    Remedy(Box<Remedy>),
}

impl From<&Proposal> for Take {
    fn from(proposal: &Proposal) -> Self {
        proposal.swap.clone().into()
    }
}

impl From<Swap> for Take {
    fn from(swap: Swap) -> Self {
        Self(Taken::Swap(Box::new(swap)))
    }
}

impl From<&Remedy> for Take {
    fn from(remedy: &Remedy) -> Self {
        remedy.clone().into()
    }
}

impl From<Remedy> for Take {
    fn from(remedy: Remedy) -> Self {
        Self(Taken::Remedy(Box::new(remedy)))
    }
}
