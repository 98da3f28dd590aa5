//! What a plan carries for whatever goes on from it.

use super::Kept;
use super::liquor::Treated;
use crate::catalogue::Catalogue;
use crate::inverse::SourceBrew;
use crate::process::Worked;
use std::fmt;
use std::sync::Arc;

/// The brews that a plan came from. Everything of them that a host may want stands in the plan's own fields, so that any
/// two are equal; advice, substitutes and cautions go on from here instead of reading those fields back.
#[derive(Clone)]
pub(crate) struct State(Arc<Brews>);

/// A source and what was made of it on a plant.
pub(crate) struct Brews {
    /// The catalogue by which they were worked out.
    pub(crate) catalogue: Catalogue,
    /// What the plan is made from.
    pub(super) kept: Kept,
    /// The source as read. Other batches of it share it.
    pub(crate) source: Arc<SourceBrew>,
    /// The brew on the target plant, as weighed out.
    pub(crate) target: Worked,
    /// Salts, acid and alkali that were worked out for its water.
    pub(crate) treated: Vec<Treated>,
    /// Whether the mash comes to its wanted pH without acid.
    pub(crate) settles_without_acid: bool,
    /// Whether a hydroxide was worked out for its water.
    pub(crate) adds_caustic: bool,
    /// Whether an acid was worked out for its water.
    pub(crate) adds_acid: bool,
}

impl State {
    pub(super) fn of(brews: Brews) -> Self {
        Self(Arc::new(brews))
    }

    pub(crate) fn brews(&self) -> &Brews {
        &self.0
    }
}

impl PartialEq for State {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl fmt::Debug for State {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("State").finish_non_exhaustive()
    }
}
