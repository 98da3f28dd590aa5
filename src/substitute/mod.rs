//! What may be used in place of an ingredient that is not available, and what that changes.
//!
//! ```
//! use wortwright::{Job, speech::Speaks};
//!
//! let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
//! let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
//! let brew = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?;
//! let found = brew.substitutes()?; // for what the stock lacks
//! for missing in &found.missing {
//!     for proposal in &missing.proposals {
//!         println!("{}: {}", missing.name, proposal.text(brew.brewhouse().style()));
//!     }
//! }
//! let plan = brew.taking([&found.missing[0].proposals[0]])?.plan()?; // what a person picked
//! assert!(plan.recipe.swaps.is_some());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! | for | see |
//! |---|---|
//! | the question; with settings | [`Brew::substitutes`](crate::job::Brew::substitutes), [`SubstituteOptions`], [`Candidates`], [`ColourMatch`], [`Effort`], [`Weights`] |
//! | what is proposed for one line | [`Proposals`], [`Proposal`], [`Part`], [`Origin`], [`JuiceMatch`] |
//! | what a drinker notices of it, and what it would be chosen for | [`Noticed`], [`Sense`], [`Difference`], [`ProposalRole`] |
//! | how far it is from what it replaces | [`DistancePart`], [`Aspect`] |
//! | what to take care of | [`Practice`], [`UnstatedFigure`] |
//! | nothing to propose, and why | [`NoSubstitute`]; what the beer is without it: [`WithoutIt`] |
//! | several lines judged together | [`Brew::sets_with`](crate::job::Brew::sets_with), [`Together`], [`Joint`] |
//!
//! Candidates are what the stock holds and what a shop sells, and what must be ordered where they have nothing for the job
//! ([`Candidates`]); gluten never comes into a recipe without any. A yeast is replaced by one yeast, that ferments as far, as warm
//! and with as much fruit and spice; a spice, fining, salt or acid by one that does its job. Whole fruit stands for juice by the liquid
//! in it. Proposals stand in the order of their distance: the same job, then the least trouble and the nearest taste. Every blend of one to three of them is looked at.
//! Malt, grain and sugar keep the extract that they bring to the wort, and the wort's colour
//! as near as it is worth ([`ColourMatch`]); the base malt gives way by 3 % of itself where nothing else does that. Among the blends that do, those
//! come first that do the same job ([`FermentableFunction`](crate::catalogue::FermentableFunction)), take the fewest parts, and
//! are nearest in flavour, fermentability, enzymes, protein, gum and acidity ([`Weights`]): a second part must buy something
//! that would be noticed. The search is exact: its result is that of solving every blend, among more than 1 500 candidates of
//! those that come nearest alone. Each proposal carries what it changes: the whole recipe predicted again on the target plant,
//! allergens, and what to take care of. Nothing is ever replaced silently: a proposal becomes part of a recipe
//! by [`Brew::taking`](crate::job::Brew::taking) or [`Recipe::with_swaps`](crate::recipe::Recipe::with_swaps) alone.

mod allergens;
mod answer;
mod candidates;
mod case;
mod choice;
mod consequences;
mod distance;
mod grain;
mod hop;
mod juice;
mod juice_acid;
mod juice_content;
mod kind_group;
mod needs;
mod noticed;
mod options;
mod part;
mod practice;
mod profile;
mod proposal;
mod propose;
mod same_job;
mod search;
mod sensed;
mod setting;
mod stock;
mod taste;
mod together;
mod weights;
mod yeast;

pub use answer::{NoSubstitute, Proposals, WithoutIt};
pub use distance::{Aspect, DistancePart};
pub use noticed::{Difference, Noticed, ProposalRole, Sense};
pub use options::{Candidates, ColourMatch, SubstituteOptions};
pub use part::{Origin, Part};
pub use practice::{Practice, UnstatedFigure};
pub use proposal::{JuiceMatch, Proposal};
pub(crate) use propose::proposals;
pub use search::Effort;
pub(crate) use together::together;
pub use together::{Joint, Together};
pub use weights::Weights;
