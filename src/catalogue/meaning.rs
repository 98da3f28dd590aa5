//! What a free name means: its words in any order, with what the trade leaves out and puts in.

use super::fit::Best;
use super::fold::folded;
use super::free_name::{FreeName, Said};
use super::tables;
use super::{Catalogue, EntryRef, Found, Kind, Reached};
use crate::quantity::Unit;

/// What a free name means.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Meaning<'a> {
    /// One entry.
    One(Meant<'a>),
    /// Any of several entries, each of which fits as well as the others: ask which.
    Several(Vec<Meant<'a>>),
    /// Nothing that the catalogue knows; [`Catalogue::near`] may offer names.
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

impl Catalogue {
    /// What a free name means among entries of these kinds; no kind means any.
    ///
    /// The words may stand in any order, with commas, brackets and the trade's short forms. A word for the origin or the
    /// form may be left out, and `malt`, `yeast`, `acid` or `salt` may be unsaid where the kinds decide; the result tells it.
    /// The noun that says what a thing does is never left out: amber malt extract is no amber malt. A misspelt name is
    /// unknown: [`Catalogue::near`] offers names for it.
    ///
    /// ```
    /// use wortwright::catalogue::{Catalogue, Kind, Meaning};
    ///
    /// let catalogue = Catalogue::builtin();
    /// let Meaning::One(meant) = catalogue.meaning("German pils", &[Kind::Malt, Kind::Grain]) else { panic!("unknown") };
    /// assert_eq!(meant.entry.name(), "pilsner malt");
    /// assert_eq!(meant.left_out[0].text, "German");
    /// assert_eq!(meant.understood, Some("malt"));
    /// assert_eq!(catalogue.meaning("amber malt extrct", &[Kind::Malt]), Meaning::Unknown);
    /// ```
    #[must_use]
    pub fn meaning<'a>(&'a self, name: &'a str, kinds: &[Kind]) -> Meaning<'a> {
        let allows = |entry: EntryRef<'_>| kinds.is_empty() || kinds.contains(&entry.kind());
        let key = folded(name);
        if !tables::is_everyday(&key)
            && let Some(found) = self.keyed(&key)
            && allows(found.entry)
        {
            return Meaning::One(Meant::by_its_name(found));
        }
        let free = FreeName::of(name);
        let words = free.words();
        // Where any kind may stand, `C5` could be anything.
        if kinds.is_empty() && words.iter().any(Said::is_shorthand) {
            return Meaning::Unknown;
        }
        let mut best = Best::among(&words);
        self.own_keys(&mut |key| best.offer(key, &allows));
        best.prefer_these();
        tables::keys_for(&words, &mut |key| best.offer(key, &allows));
        match best.meaning() {
            Meaning::Unknown => self.said_twice(name, kinds),
            meaning => meaning,
        }
    }

    /// `dextrose (corn sugar)`: one thing by two names, one of them in brackets.
    fn said_twice<'a>(&'a self, name: &'a str, kinds: &[Kind]) -> Meaning<'a> {
        let parts = name
            .split_once('(')
            .map(|(first, rest)| (first, rest.trim_end().strip_suffix(')')));
        let Some((first, Some(second))) = parts.filter(|(first, _)| !first.trim().is_empty())
        else {
            return Meaning::Unknown;
        };
        if second.contains(['(', ')']) {
            return Meaning::Unknown;
        }
        match (
            self.meaning(first.trim_end(), kinds),
            self.meaning(second, kinds),
        ) {
            (Meaning::One(first), Meaning::One(second))
                if first.entry.name() == second.entry.name() =>
            {
                Meaning::One(first)
            }
            _ => Meaning::Unknown,
        }
    }
}
