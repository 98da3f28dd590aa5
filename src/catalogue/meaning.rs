//! What a free name means: its words in any order, with what the trade leaves out and puts in.

use super::{EntryRef, Found, Reached};
use crate::quantity::Unit;

/// What a free name means.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Meaning<'a> {
    /// One entry.
    One(Meant<'a>),
    /// Any of several entries, each of which fits as well as the others: ask which.
    Several(Vec<Meant<'a>>),
    /// Nothing that the catalogue knows; [`near`](super::Catalogue::near) may offer names.
    Unknown,
}

/// An entry that a free name means, and how far the name is the entry's own.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Meant<'a> {
    /// The entry.
    pub entry: EntryRef<'a>,
    /// How the words that fit led to it.
    pub reached: Reached<'a>,
    /// Words of the name that are not the entry's, as they stand in the text, in their order.
    pub left_out: Vec<LeftOut<'a>>,
    /// A word of the entry's that the name leaves unsaid, such as `malt` in `vienna`.
    pub understood: Option<&'a str>,
    /// Numbers in the name that are not the entry's, such as the 40 of `crystal 40`.
    pub figures: Vec<StatedFigure<'a>>,
}

/// A word of a name that is not the entry's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct LeftOut<'a> {
    /// As it stands in the text.
    pub text: &'a str,
    /// What it says.
    pub says: Says,
}

/// What a word says that is left out of a name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Says {
    /// What the thing is, which the entry is anyhow: `hops` in `Crystal hops`.
    Thing,
    /// Where it comes from.
    Origin,
    /// How it is sold or prepared.
    Form,
    /// Something else.
    Remark,
}

/// A number in a name, with its unit where it has one.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct StatedFigure<'a> {
    /// As it stands in the text, perhaps with letters: `C60`.
    pub text: &'a str,
    /// The number.
    pub number: f64,
    /// Its unit; a bare number has none.
    pub unit: Option<Unit>,
}

impl<'a> Meant<'a> {
    /// One whose whole name is in the tables.
    pub(super) const fn by_its_name(found: Found<'a>) -> Self {
        Self {
            entry: found.entry,
            reached: found.reached,
            left_out: Vec::new(),
            understood: None,
            figures: Vec::new(),
        }
    }

    /// Whether the name is more general or more particular than the entry, which is then to be told.
    #[must_use]
    pub fn is_generic(&self) -> bool {
        matches!(self.reached, Reached::Generic { .. })
            || !self.left_out.is_empty()
            || self.understood.is_some()
    }
}
