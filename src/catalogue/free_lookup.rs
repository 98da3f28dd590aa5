//! Lookup by a free name.

use super::fit::{Best, keys_for};
use super::fold::folded;
use super::free_name::{FreeName, Said};
use super::meaning::{Meaning, Meant};
use super::tables;
use super::{Catalogue, EntryRef, Kind};

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
        keys_for(&words, &mut |key| best.offer(key, &allows));
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
