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
pub(super) use yeasts::YEASTS;

use super::EntryRef;

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
