//! The built-in tables. The files beside this one are made from `../data/*.csv` by `cargo run -p wortwright-tables`,
//! which needs no table that compiles.

#[rustfmt::skip]
mod aids;
#[rustfmt::skip]
mod beverages;
#[rustfmt::skip]
mod botanicals;
#[rustfmt::skip]
mod fermentables;
#[rustfmt::skip]
mod generic;
#[rustfmt::skip]
mod hops;
#[rustfmt::skip]
mod index;
#[rustfmt::skip]
mod juices;
#[rustfmt::skip]
mod water_agents;
#[rustfmt::skip]
mod words;
#[rustfmt::skip]
mod yeasts;

pub(super) use aids::AIDS;
pub(super) use beverages::BEVERAGES;
pub(super) use botanicals::BOTANICALS;
pub(super) use fermentables::FERMENTABLES;
pub(super) use generic::GENERIC;
pub(super) use hops::HOPS;
pub(super) use index::{INDEX, LONGEST_KEY};
pub(super) use juices::JUICES;
pub(super) use water_agents::WATER_AGENTS;
pub(super) use words::{EVERYDAY, SAME};
pub(super) use yeasts::YEASTS;

use super::function::Function;
use super::respell::respell;
use super::{EntryRef, Found};
use words::{KEYS, KEYS_WITH, ROLES, WORDS};

/// A table.
#[derive(Debug, Clone, Copy)]
pub(super) enum Table {
    Fermentable,
    Juice,
    Beverage,
    Hop,
    Botanical,
    WaterAgent,
    Aid,
    Yeast,
}

impl Table {
    /// The entry in a row of this table.
    pub(super) fn row(self, at: usize) -> Option<EntryRef<'static>> {
        match self {
            Self::Fermentable => FERMENTABLES.get(at).map(EntryRef::Fermentable),
            Self::Juice => JUICES.get(at).map(EntryRef::Juice),
            Self::Beverage => BEVERAGES.get(at).map(EntryRef::Beverage),
            Self::Hop => HOPS.get(at).map(EntryRef::Hop),
            Self::Botanical => BOTANICALS.get(at).map(EntryRef::Botanical),
            Self::WaterAgent => WATER_AGENTS.get(at).map(EntryRef::WaterAgent),
            Self::Aid => AIDS.get(at).map(EntryRef::Aid),
            Self::Yeast => YEASTS.get(at).map(EntryRef::Yeast),
        }
    }
}

/// How a key leads to its row.
#[derive(Debug, Clone, Copy)]
pub(super) enum Way {
    Name,
    /// The alias of this number.
    Alias(u16),
    /// The generic name of this number.
    Generic(u16),
    /// The everyday name of this number.
    Everyday(u16),
}

/// A folded name in the sorted index.
#[derive(Debug)]
pub(super) struct RowAt {
    pub(super) key: &'static str,
    pub(super) table: Table,
    pub(super) row: u16,
    pub(super) way: Way,
}

/// A key, written shortly for the index.
const fn k(key: &'static str, table: Table, row: u16, way: Way) -> RowAt {
    RowAt {
        key,
        table,
        row,
        way,
    }
}

/// A generic trade name and why its default stands for it.
#[derive(Debug)]
pub(super) struct Generic {
    pub(super) name: &'static str,
    pub(super) reason: &'static str,
}

/// A word of the names, and where the numbers of the keys that hold it begin in `KEYS_WITH`.
#[derive(Debug)]
pub(super) struct Word {
    text: &'static str,
    first: u16,
}

/// A word, written shortly.
const fn w(text: &'static str, first: u16) -> Word {
    Word { text, first }
}

/// What a word may be besides a part of a name.
#[derive(Debug)]
pub(super) struct WordRole {
    word: &'static str,
    pub(super) role: Role,
    /// The functions for which this holds, a bit each.
    pub(super) within: u32,
}

/// A role, written shortly.
const fn r(word: &'static str, role: Role, within: u32) -> WordRole {
    WordRole { word, role, within }
}

/// What a word may be besides a part of a name; `data/words.csv` says it at length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Role {
    Head(Function),
    /// A head that is never left out.
    Own(Function),
    Understood(Function),
    Origin,
    Form,
    Remark,
    Stop,
    Tail,
}

impl Role {
    pub(super) const fn may_be_left_out(self) -> bool {
        !matches!(self, Self::Stop | Self::Tail | Self::Own(_))
    }
}

/// The rows of a sorted table whose word is this.
fn rows_of<T>(table: &'static [T], word: &str, word_of: impl Fn(&T) -> &str) -> &'static [T] {
    let first = table.partition_point(|row| word_of(row) < word);
    let rest = table.get(first..).unwrap_or_default();
    let count = rest.iter().take_while(|row| word_of(row) == word).count();
    rest.get(..count).unwrap_or_default()
}

/// What a word may be besides a part of a name.
pub(super) fn roles_of(word: &str) -> &'static [WordRole] {
    rows_of(ROLES, word, |row| row.word)
}

/// The numbers of the keys that hold a word.
pub(super) fn keys_with(word: &str) -> &'static [u16] {
    let Ok(at) = WORDS.binary_search_by(|known| known.text.cmp(word)) else {
        return &[];
    };
    let bound = |at: usize| {
        WORDS
            .get(at)
            .map_or(KEYS_WITH.len(), |word| usize::from(word.first))
    };
    KEYS_WITH.get(bound(at)..bound(at + 1)).unwrap_or_default()
}

/// Whether one of these keys is the name of something that does this.
pub(super) fn has_key_of(keys: &[u16], function: Function) -> bool {
    let mut found = keys.iter().filter_map(|at| key(*at));
    found.any(|(_, found)| Function::of(found.entry) == function)
}

/// The key of this number, and the entry that it leads to.
pub(super) fn key(at: u16) -> Option<(&'static str, Found<'static>)> {
    let key = KEYS.get(usize::from(at))?;
    Some((key.key, key.found()?))
}

/// A folded name, written as names are compared word by word.
pub(super) fn respelt(folded: &str) -> String {
    let mut words = String::with_capacity(folded.len() + 8);
    respell(folded, SAME, &mut |word, _| {
        if !roles_of(word).iter().any(|row| row.role == Role::Stop) {
            words.push_str(if words.is_empty() { "" } else { " " });
            words.push_str(word);
        }
    });
    words
}

/// Whether a folded name is also the name of something else in everyday speech.
pub(super) fn is_everyday(folded: &str) -> bool {
    EVERYDAY
        .binary_search_by(|row| row.name.cmp(folded))
        .is_ok()
}

/// Built-in entries.
pub(super) const COUNT: usize = FERMENTABLES.len()
    + JUICES.len()
    + BEVERAGES.len()
    + HOPS.len()
    + BOTANICALS.len()
    + WATER_AGENTS.len()
    + AIDS.len()
    + YEASTS.len();

/// The built-in entry of this number, one table after the other.
pub(super) fn row(mut at: usize) -> Option<EntryRef<'static>> {
    for (table, rows) in [
        (Table::Fermentable, FERMENTABLES.len()),
        (Table::Juice, JUICES.len()),
        (Table::Beverage, BEVERAGES.len()),
        (Table::Hop, HOPS.len()),
        (Table::Botanical, BOTANICALS.len()),
        (Table::WaterAgent, WATER_AGENTS.len()),
        (Table::Aid, AIDS.len()),
        (Table::Yeast, YEASTS.len()),
    ] {
        if at < rows {
            return table.row(at);
        }
        at -= rows;
    }
    None
}
