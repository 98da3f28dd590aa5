//! What was put in place of something that could not be had.

use super::{Addition, Amount, HotStep, Ingredient, Recipe, Timing};
use crate::quantity::{Proportion, Temperature};
use serde::{Deserialize, Serialize};

/// A part of the brewing day that has lines of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Section {
    /// The mash.
    Mash,
    /// The boil.
    Boil,
    /// The hot stands, all of them in order.
    Stand,
    /// The fermenter: the yeast that is pitched, then what is added.
    Ferment,
    /// The package.
    Package,
}

/// The index of the yeast among what goes into the fermenter: it has a place of its own.
pub(crate) const PITCH: usize = usize::MAX;

/// One line of a recipe, or one part of a blend.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct RecipeLine {
    /// Where it stands.
    pub section: Section,
    /// The name as the recipe writes it.
    pub name: String,
    /// Which of the lines of that name in that section: 0 is the first.
    #[serde(default, skip_serializing_if = "is_first")]
    pub nth: usize,
}

/// What replaces one line of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Swap {
    /// The line that goes.
    pub replaced: RecipeLine,
    /// What comes in its place.
    pub parts: Vec<SwapPart>,
    /// By how much a line of base malt is changed to keep gravity and colour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub base_malt: Option<BaseMaltChange>,
    /// Where a yeast ferments at another temperature than the recipe does: to pitch and to hold it at first.
    #[serde(
        rename = "ferments_at_c",
        default,
        skip_serializing_if = "Option::is_none"
    )]
    pub ferments_at: Option<Temperature>,
}

/// One ingredient that comes in place of another.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct SwapPart {
    /// The ingredient, with the figures of its lot.
    pub ingredient: Ingredient,
    /// How much of it for one of what is replaced, in the measure in which the recipe states that line: by mass, by
    /// volume, by extract where shares are of extract, by bitterness where the line states IBU.
    pub ratio: Proportion,
    /// Where it goes, if not where the replaced line stood: grain into the mash, sugar into the kettle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub moved: Option<Moved>,
    /// An amount of its own for the recipe's batch, where it does not follow that of the line: acid for what acid malt brought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub amount: Option<Amount>,
}

/// Another place and time for a part.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Moved {
    /// Where it goes; the stands cannot take a part that did not stand there.
    pub section: Section,
    /// When.
    #[serde(default)]
    pub timing: Timing,
}

/// A line of base malt with a new amount.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct BaseMaltChange {
    /// Where the base malt stands.
    pub line: RecipeLine,
    /// Its amount for one of what was printed.
    pub factor: Proportion,
}

/// What a recipe remembers of its swaps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct Swaps {
    /// The swaps, in the order of the lines that they replaced.
    pub made: Vec<Swap>,
    /// The recipe as it was printed: its figures, and how far its mash ferments, speak for that one.
    pub printed: Box<Recipe>,
}

#[allow(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde passes fields by reference"
)]
const fn is_first(nth: &usize) -> bool {
    *nth == 0
}

impl Swap {
    /// These parts in place of a line.
    pub fn new(replaced: RecipeLine, parts: impl IntoIterator<Item = SwapPart>) -> Self {
        Self {
            replaced,
            parts: parts.into_iter().collect(),
            base_malt: None,
            ferments_at: None,
        }
    }
}

impl SwapPart {
    /// So much of an ingredient for one of what is replaced.
    pub fn new(ingredient: impl Into<Ingredient>, ratio: Proportion) -> Self {
        Self {
            ingredient: ingredient.into(),
            ratio,
            moved: None,
            amount: None,
        }
    }
}

impl Moved {
    /// Into another section, at a time of its own.
    #[must_use]
    pub const fn new(section: Section, timing: Timing) -> Self {
        Self { section, timing }
    }
}

impl BaseMaltChange {
    /// So much of a line for one of what was printed.
    #[must_use]
    pub const fn new(line: RecipeLine, factor: Proportion) -> Self {
        Self { line, factor }
    }
}

impl RecipeLine {
    /// The first line of this name in a section.
    pub fn first(section: Section, name: impl Into<String>) -> Self {
        Self {
            section,
            name: name.into(),
            nth: 0,
        }
    }
}

impl Section {
    /// Every section, in the order of the day.
    pub(super) const ALL: [Self; 5] = [
        Self::Mash,
        Self::Boil,
        Self::Stand,
        Self::Ferment,
        Self::Package,
    ];

    /// The word that opens it in the notation.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Mash => "mash",
            Self::Boil => "boil",
            Self::Stand => "stand",
            Self::Ferment => "ferment",
            Self::Package => "package",
        }
    }
}

impl Recipe {
    /// The lines of a section, in order.
    pub fn section(&self, section: Section) -> Box<dyn Iterator<Item = &Addition> + '_> {
        match section {
            Section::Mash => Box::new(self.mash.additions.iter()),
            Section::Boil => Box::new(self.boil.additions.iter()),
            Section::Stand => Box::new(self.stands().flat_map(|stand| &stand.additions)),
            Section::Ferment => Box::new(self.fermentation.additions.iter()),
            Section::Package => Box::new(self.package.additions.iter()),
        }
    }

    /// The lists of lines that make up a section: one, but for the stands.
    pub(super) fn sections_mut(&mut self, section: Section) -> Vec<&mut Vec<Addition>> {
        match section {
            Section::Mash => vec![&mut self.mash.additions],
            Section::Boil => vec![&mut self.boil.additions],
            Section::Stand => self
                .hot_side
                .iter_mut()
                .filter_map(|step| match step {
                    HotStep::Stand(stand) => Some(&mut stand.additions),
                    HotStep::Cool(_) => None,
                })
                .collect(),
            Section::Ferment => vec![&mut self.fermentation.additions],
            Section::Package => vec![&mut self.package.additions],
        }
    }
}
