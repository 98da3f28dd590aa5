//! What was found for everything that is missing, and what a brewer takes of it.

use crate::diagnostic::{Error, ErrorKind};
use crate::recipe::Swap;
use crate::remedy::Remedy;
use crate::substitute::{Proposal, Proposals};

/// Substitutes for each line that is missing, in the order of the recipe.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Substitutes {
    /// One entry a missing line, its proposals nearest first.
    pub missing: Vec<Proposals>,
}

impl Substitutes {
    /// The closest proposal for each line, to be taken.
    ///
    /// # Errors
    ///
    /// `Contradiction` when a line has no proposal that keeps what must be kept: the message names it.
    pub fn closest(&self) -> Result<Vec<Take>, Error> {
        self.missing
            .iter()
            .map(|line| {
                let feasible = line.proposals.iter().find(|proposal| proposal.feasible);
                feasible.map(Take::from).ok_or_else(|| {
                    let message = format!("nothing at hand replaces `{}`", line.name);
                    Error::new(ErrorKind::Contradiction, message)
                        .with_help("list more in the stock, or ask for the whole catalogue")
                })
            })
            .collect()
    }
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
