//! The catalogue: the built-in tables with a host's own entries on top, and how a name is found in them.

use super::fit::Key;
use super::fold::{fold, folded};
use super::tables::{self, Way};
use super::{
    Aid, Beverage, Botanical, Entry, EntryRef, Fermentable, FermentableClass, Hop, Juice, Kind,
    WaterAgent, Yeast,
};
use crate::diagnostic::nearest_by_words;
use crate::numeric::order::sort_by;
use crate::quantity::MaltColour;
use serde::Serialize;
use std::sync::Arc;

/// Word bounds that a longest match looks at: no name of the tables has more words.
const BOUNDS: usize = 12;

/// The built-in ingredients, and a host's own on top of them.
///
/// ```
/// use wortwright::catalogue::{Catalogue, Fermentable, Kind, Reached};
/// let catalogue = Catalogue::builtin().with([Fermentable::new("Barn-smoked malt").into()]);
/// assert!(catalogue.find("barn smoked malts").is_some());
/// let found = catalogue.find("Munich malt").expect("a generic name");
/// assert_eq!(found.entry.name(), "light munich malt");
/// assert!(matches!(found.reached, Reached::Generic { .. }));
/// assert_eq!(catalogue.near("honney", Some(Kind::Sugar)), ["honey"]);
/// ```
#[derive(Debug, Clone, Default)]
pub struct Catalogue {
    /// Shared, since plans keep the catalogue that they were made with.
    own: Option<Arc<Own>>,
}

/// A host's entries, and how they are found.
#[derive(Debug, Clone, Default)]
struct Own {
    entries: Vec<Entry>,
    index: Vec<OwnKey>,
    longest: usize,
}

#[derive(Debug, Clone)]
struct OwnKey {
    key: String,
    /// The same, written as names are compared word by word.
    words: String,
    entry: usize,
    alias: Option<usize>,
}

/// An entry, and how its name led there.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Found<'a> {
    /// The row that goes by the name.
    pub entry: EntryRef<'a>,
    /// How it was reached.
    pub reached: Reached<'a>,
}

/// The name that a text begins with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct LongestMatch<'a> {
    /// What goes by the name.
    pub found: Found<'a>,
    /// Bytes of the text that the name takes.
    pub bytes: usize,
}

/// How a name led to an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Reached<'a> {
    /// It is the name of the entry.
    Name,
    /// It is another name of the same thing.
    Alias(&'a str),
    /// It is a generic trade name; the entry is a default, to be shown as an assumption.
    Generic {
        /// The generic name.
        name: &'a str,
        /// Why this entry was chosen for it.
        reason: &'a str,
    },
}

impl Catalogue {
    /// The built-in tables alone. Costs nothing.
    #[must_use]
    pub const fn builtin() -> Self {
        Self { own: None }
    }

    /// The same catalogue with more entries. They win over built-in ones and over those added before.
    #[must_use]
    pub fn with(mut self, entries: impl IntoIterator<Item = Entry>) -> Self {
        let entries: Vec<Entry> = entries.into_iter().collect();
        if !entries.is_empty() {
            let own = self.own.get_or_insert_default();
            Arc::make_mut(own).extend(entries);
        }
        self
    }

    /// The entries that were added, in order.
    pub(crate) fn own(&self) -> &[Entry] {
        self.own.as_ref().map_or(&[], |own| &own.entries)
    }

    /// The entry of a name, an alias or a generic name, blind to case, plural, hyphens and accents.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<Found<'_>> {
        let mut key = String::with_capacity(64);
        fold(name, self.longest_key(), &mut key, &mut |_, _| {});
        self.keyed(&key)
    }

    /// The longest name that `text` begins with and that a space, a comma or the end of the text follows, with the
    /// bytes of text that it takes. A name of more than twelve words is found by [`Catalogue::find`] only.
    ///
    /// ```
    /// use wortwright::catalogue::Catalogue;
    /// let catalogue = Catalogue::builtin();
    /// let name = catalogue.longest_match("pale ale malt 6 EBC").expect("a name");
    /// assert_eq!((name.found.entry.name(), name.bytes), ("pale ale malt", 13));
    /// let name = catalogue.longest_match("caramel malt 150 EBC").expect("a name");
    /// assert_eq!((name.found.entry.name(), name.bytes), ("caramel malt 150 EBC", 20));
    /// ```
    #[must_use]
    pub fn longest_match(&self, text: &str) -> Option<LongestMatch<'_>> {
        let text = text.split([',', '\n', '\r', '"']).next()?;
        let mut key = String::with_capacity(64);
        let mut bounds = [(0, 0); BOUNDS];
        let mut places = bounds.iter_mut();
        fold(text, self.longest_key(), &mut key, &mut |folded, read| {
            if let Some(place) = places.next() {
                *place = (folded, read);
            }
        });
        let mut ends = bounds.iter().rev().filter(|(folded, _)| *folded > 0);
        ends.find_map(|(folded, read)| {
            let found = self.keyed(key.get(..*folded)?)?;
            Some(LongestMatch {
                found,
                bytes: *read,
            })
        })
    }

    /// Up to three names that resemble `name`, the nearest first; of one kind, or of any.
    #[must_use]
    pub fn near(&self, name: &str, kind: Option<Kind>) -> Vec<&str> {
        let wanted = |entry: &EntryRef<'_>| kind.is_none_or(|kind| entry.kind() == kind);
        let generic = tables::GENERIC.iter().filter(|generic| {
            kind.is_none()
                || self
                    .find(generic.name)
                    .is_some_and(|found| wanted(&found.entry))
        });
        let names = self
            .entries()
            .filter(wanted)
            .flat_map(|entry| std::iter::once(entry.name()).chain(entry.aliases()))
            .chain(generic.map(|generic| generic.name));
        nearest_by_words(name.trim(), names)
    }

    /// Every entry, the host's own first. A built-in entry whose name the host has taken is left out.
    pub fn entries(&self) -> impl Iterator<Item = EntryRef<'_>> {
        // Found by a plain search: what a caller chains to it is compiled anew each time, and this is not.
        let mut places = 0..self.own_entries().len() + tables::COUNT;
        std::iter::from_fn(move || places.find_map(|at| self.entry(at)))
    }

    /// The grade of a malt that is sold by its colour: of `caramel malt 120 EBC` and its like the one nearest to `colour` by
    /// ratio. An entry whose name does not end in its colour has no grades and is its own.
    ///
    /// ```
    /// use wortwright::catalogue::Catalogue;
    /// use wortwright::quantity::MaltColour;
    ///
    /// let catalogue = Catalogue::builtin();
    /// let crystal = catalogue.find("crystal malt").expect("in the table").entry;
    /// let dark = catalogue.grade(crystal, MaltColour::from_ebc(310.0)?);
    /// assert_eq!(dark.name(), "caramel malt 300 EBC");
    /// # Ok::<(), wortwright::Error>(())
    /// ```
    #[must_use]
    pub fn grade<'a>(&'a self, entry: EntryRef<'a>, colour: MaltColour) -> EntryRef<'a> {
        let Some(family) = family_of(entry.name()) else {
            return entry;
        };
        let far = |entry: &EntryRef<'_>| match entry {
            EntryRef::Fermentable(malt) => malt
                .colour
                .map_or(f64::INFINITY, |own| (own.ebc() / colour.ebc()).ln().abs()),
            _ => f64::INFINITY,
        };
        self.entries()
            .filter(|other| family_of(other.name()) == Some(family))
            .min_by(|one, other| far(one).total_cmp(&far(other)))
            .unwrap_or(entry)
    }

    /// The entry of this number, the host's own first, unless its name belongs to another.
    fn entry(&self, at: usize) -> Option<EntryRef<'_>> {
        let own = self.own_entries();
        let (entry, owner) = match own.get(at) {
            Some(own) => (own.view(), Some(at)),
            None => (tables::row(at - own.len())?, None),
        };
        let is_free = own.is_empty() || self.owner(entry.name()) == owner;
        is_free.then_some(entry)
    }

    /// Every entry of one kind.
    pub fn of_kind(&self, kind: Kind) -> impl Iterator<Item = EntryRef<'_>> {
        self.entries().filter(move |entry| entry.kind() == kind)
    }

    /// Every fermentable of one class.
    pub fn of_class(&self, class: FermentableClass) -> impl Iterator<Item = &Fermentable> {
        self.fermentables()
            .filter(move |row| row.class == Some(class))
    }

    /// Which own entry goes by this name (not by an alias).
    fn owner(&self, name: &str) -> Option<usize> {
        let own = self.own_key(&folded(name))?;
        own.alias.is_none().then_some(own.entry)
    }

    fn own_key(&self, key: &str) -> Option<&OwnKey> {
        let index = &self.own.as_ref()?.index;
        let at = index
            .binary_search_by(|own| own.key.as_str().cmp(key))
            .ok()?;
        index.get(at)
    }

    /// Calls `each` with every name of the host's entries.
    pub(super) fn own_keys<'a>(&'a self, each: &mut dyn FnMut(Key<'a>)) {
        let Some(own) = &self.own else { return };
        for key in &own.index {
            if let Some(entry) = own.entries.get(key.entry).map(Entry::view) {
                let reached = by_alias(entry, key.alias);
                each(Key {
                    words: &key.words,
                    found: Found { entry, reached },
                });
            }
        }
    }

    fn own_entries(&self) -> &[Entry] {
        self.own.as_ref().map_or(&[], |own| &own.entries)
    }

    fn longest_key(&self) -> usize {
        let own = self.own.as_ref().map_or(0, |own| own.longest);
        own.max(tables::LONGEST_KEY)
    }

    /// Whether other things go by the name in everyday speech.
    pub(crate) fn is_everyday(name: &str) -> bool {
        tables::is_everyday(&folded(name))
    }

    pub(super) fn keyed(&self, key: &str) -> Option<Found<'_>> {
        if let Some(own) = self.own_key(key) {
            let entry = self.own_entries().get(own.entry)?.view();
            return Some(Found {
                entry,
                reached: by_alias(entry, own.alias),
            });
        }
        let at = tables::INDEX
            .binary_search_by(|built_in| built_in.key.cmp(key))
            .ok()?;
        let built_in = tables::INDEX.get(at)?;
        built_in.found()
    }
}

impl Own {
    fn extend(&mut self, entries: Vec<Entry>) {
        self.entries.extend(entries);
        self.index.clear();
        for (at, entry) in self.entries.iter().enumerate().rev() {
            let names = std::iter::once((entry.name(), None));
            let aliases = entry
                .aliases()
                .enumerate()
                .map(|(alias, text)| (text, Some(alias)));
            for (text, alias) in names.chain(aliases) {
                let key = folded(text);
                self.index.push(OwnKey {
                    words: tables::respelt(&key),
                    key,
                    entry: at,
                    alias,
                });
            }
        }
        self.index.retain(|own| !own.key.is_empty());
        // Stable: of equal names the one added last stays in front, and a name stands before an alias.
        sort_by(&mut self.index, |a, b| {
            a.key
                .cmp(&b.key)
                .then(a.alias.is_some().cmp(&b.alias.is_some()))
        });
        self.index.dedup_by(|later, first| later.key == first.key);
        self.longest = self
            .index
            .iter()
            .map(|own| own.key.len())
            .max()
            .unwrap_or(0);
    }
}

impl tables::RowAt {
    /// The entry, and how the key leads there.
    pub(super) fn found(&self) -> Option<Found<'static>> {
        let entry = self.table.row(usize::from(self.row))?;
        let generic = |generic: &'static tables::Generic| Reached::Generic {
            name: generic.name,
            reason: generic.reason,
        };
        let reached = match self.way {
            Way::Name => Reached::Name,
            Way::Alias(alias) => by_alias(entry, Some(usize::from(alias))),
            Way::Generic(at) => generic(tables::GENERIC.get(usize::from(at))?),
            Way::Everyday(at) => generic(tables::EVERYDAY.get(usize::from(at))?),
        };
        Some(Found { entry, reached })
    }
}

/// `caramel malt` of `caramel malt 120 EBC`.
fn family_of(name: &str) -> Option<&str> {
    let (family, number) = name.strip_suffix(" EBC")?.rsplit_once(' ')?;
    number
        .bytes()
        .all(|byte| byte.is_ascii_digit())
        .then_some(family)
}

fn by_alias(entry: EntryRef<'_>, alias: Option<usize>) -> Reached<'_> {
    match alias.and_then(|alias| entry.alias_texts().get(alias)) {
        Some(text) => Reached::Alias(text),
        None => Reached::Name,
    }
}

macro_rules! rows_of {
    ($($name:ident, $row:ident, $what:literal;)+) => {
        impl Catalogue {
            $(
                #[doc = concat!("Every ", $what, ".")]
                pub fn $name(&self) -> impl Iterator<Item = &$row> {
                    self.entries().filter_map(|entry| match entry {
                        EntryRef::$row(row) => Some(row),
                        _ => None,
                    })
                }
            )+
        }
    };
}

rows_of! {
    fermentables, Fermentable, "malt, grain, sugar, syrup, honey, malt extract and colouring";
    juices, Juice, "juice, puree and concentrate";
    beverages, Beverage, "water, spirit and other drink";
    hops, Hop, "hop cultivar";
    botanicals, Botanical, "herb, spice, flower and wood";
    water_agents, WaterAgent, "salt, acid and sulphite";
    aids, Aid, "process aid";
    yeasts, Yeast, "yeast and other culture";
}
