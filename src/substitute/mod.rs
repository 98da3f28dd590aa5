//! What may stand for an ingredient that cannot be had.
//!
//! [`Brew::substitutes`](crate::job::Brew::substitutes) looks at every blend of one to three candidates. Malt, grain and sugar must keep two things exactly: the
//! extract that they bring to the wort, and their malt colour units; the base malt may give way by a tenth of itself for
//! that. Among the blends that do, those come first that are nearest in flavour, fermentability, enzymes, protein, gum and
//! acidity, where every further part, a change of kind and an uncommon ingredient have fixed costs ([`Weights`]). The
//! search is exact: its result is that of solving every blend. Each proposal carries what it changes: the whole recipe
//! predicted again on the target plant, allergens, and what to take care of. Nothing is ever replaced silently: a
//! proposal becomes part of a recipe by [`Recipe::with_swaps`](crate::recipe::Recipe::with_swaps) alone.

mod case;
mod choice;
mod consequences;
mod grain;
mod hop;
mod juice;
mod juice_content;
mod kind_group;
mod options;
mod practice;
mod profile;
mod proposal;
mod propose;
mod search;
mod setting;
mod stock;
mod together;
mod weights;

pub use options::{Candidates, SubstituteOptions};
pub use practice::{Practice, UnstatedFigure};
pub use proposal::{Aspect, DistancePart, JuiceMatch, NoSubstitute, Part, Proposal, Proposals};
pub(crate) use propose::proposals;
pub use search::Effort;
pub(crate) use together::together;
pub use together::{Joint, Together};
pub use weights::Weights;
