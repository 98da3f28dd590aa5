//! What is in the cupboard.

use super::{Amount, Ingredient};
use crate::catalogue::{Catalogue, Kind, folded};
use serde::{Deserialize, Serialize};

/// The lots a brewer has, may buy, or cannot get. What is not listed can be bought.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(default, deny_unknown_fields)]
#[non_exhaustive]
pub struct Stock {
    /// The lots, in the order of the text.
    pub lots: Vec<Lot>,
}

/// One line of a stock. A lot's figures replace the recipe's on the brewer's own plant.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[allow(
    clippy::large_enum_variant,
    reason = "a text holds tens of these, never millions"
)]
#[non_exhaustive]
pub enum Lot {
    /// This much is there.
    Held(HeldLot),
    /// As much as is wanted can be had.
    Any(Ingredient),
    /// It is not available.
    Missing(Ingredient),
}

/// A lot of which a known amount is there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct HeldLot {
    /// What it is of.
    pub ingredient: Ingredient,
    /// How much there is.
    pub amount: Amount,
}

impl Stock {
    /// A stock of these lots.
    pub fn new(lots: impl IntoIterator<Item = Lot>) -> Self {
        Self {
            lots: lots.into_iter().collect(),
        }
    }

    /// Finds the entry and the kind of each ingredient that was named without them.
    pub fn resolve(&mut self, catalogue: &Catalogue) {
        for lot in &mut self.lots {
            let (Lot::Held(HeldLot { ingredient, .. })
            | Lot::Any(ingredient)
            | Lot::Missing(ingredient)) = lot;
            ingredient.resolve(catalogue);
        }
    }
}

/// What a lot says of what it is of. Of several lots of one thing the first of these goes before.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Says {
    Missing,
    Any,
    Held,
}

impl Lot {
    /// A lot of which this much is there.
    pub const fn held(ingredient: Ingredient, amount: Amount) -> Self {
        Self::Held(HeldLot { ingredient, amount })
    }

    /// What the lot is of.
    pub const fn ingredient(&self) -> &Ingredient {
        match self {
            Self::Held(HeldLot { ingredient, .. })
            | Self::Any(ingredient)
            | Self::Missing(ingredient) => ingredient,
        }
    }

    const fn says(&self) -> Says {
        match self {
            Self::Missing(_) => Says::Missing,
            Self::Any(_) => Says::Any,
            Self::Held(..) => Says::Held,
        }
    }
}

/// The lots of a stock by what they are, each name folded once for many look-ups.
#[derive(Debug, Clone)]
pub(crate) struct Shelf<'a> {
    lots: Vec<(String, usize, &'a Lot)>,
}

impl<'a> Shelf<'a> {
    pub(crate) fn of(stock: &'a Stock) -> Self {
        let lots = stock.lots.iter().enumerate();
        let keyed = |(index, lot): (usize, &'a Lot)| {
            (folded(lot.ingredient().catalogue_name()), index, lot)
        };
        Self {
            lots: lots.map(keyed).collect(),
        }
    }

    /// The lots of an ingredient by its name in the catalogue.
    pub(crate) fn lots_of(&self, name: &str, kind: Kind) -> Vec<&'a Lot> {
        let lots = self.numbered(name, kind).into_iter();
        lots.map(|(_, lot)| lot).collect()
    }

    /// The same, each with its number in the stock.
    fn numbered(&self, name: &str, kind: Kind) -> Vec<(usize, &'a Lot)> {
        let of_kind = |lot: &Lot| lot.ingredient().kind == kind;
        if !self.lots.iter().any(|(_, _, lot)| of_kind(lot)) {
            return Vec::new();
        }
        let key = folded(name);
        let named = self.lots.iter().filter(|(known, ..)| *known == key);
        named
            .map(|(_, index, lot)| (*index, *lot))
            .filter(|(_, lot)| of_kind(lot))
            .collect()
    }

    /// The lot that speaks for an ingredient, with its number in the stock.
    pub(crate) fn lot_of(&self, ingredient: &Ingredient) -> Option<(usize, &'a Lot)> {
        let lots = self.numbered(ingredient.catalogue_name(), ingredient.kind);
        lots.into_iter().min_by_key(|(_, lot)| lot.says())
    }

    /// How much of an ingredient can be had, by its name in the catalogue.
    pub(crate) fn available(&self, name: &str, kind: Kind) -> Available {
        Holding::of(self.lots_of(name, kind)).available()
    }

    /// What the stock lists of a kind, but for what is not available.
    pub(crate) fn at_hand(&self, kind: Kind) -> impl Iterator<Item = &'a Ingredient> {
        let listed = self.lots.iter().map(|(_, _, lot)| lot.ingredient());
        listed
            .filter(move |ingredient| ingredient.kind == kind)
            .filter(move |ingredient| {
                self.available(ingredient.catalogue_name(), kind) != Available::Nothing
            })
    }
}

/// All that a stock says of one thing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Holding {
    says: Option<Says>,
    /// The total that is there.
    pub(crate) kg: f64,
    pub(crate) l: f64,
    /// Packs of unknown size.
    pub(crate) packs: f64,
}

/// How much of something can be had.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Available {
    Nothing,
    AsMuchAsWanted,
    Amount { kg: f64, l: f64 },
}

impl Holding {
    pub(crate) fn of<'a>(lots: impl IntoIterator<Item = &'a Lot>) -> Self {
        let mut holding = Self::default();
        lots.into_iter().for_each(|lot| holding.add(lot));
        holding
    }

    pub(crate) fn add(&mut self, lot: &Lot) {
        let says = lot.says();
        self.says = Some(self.says.map_or(says, |known| known.min(says)));
        if let Lot::Held(held) = lot {
            let (kg, l) = held.amount.kilograms_and_litres();
            self.kg += kg;
            self.l += l;
            if let Amount::PackCount(count) = held.amount {
                self.packs += count.packs();
            }
        }
    }

    /// Amounts add up.
    pub(crate) const fn available(&self) -> Available {
        match self.says {
            Some(Says::Missing) => Available::Nothing,
            Some(Says::Any) => Available::AsMuchAsWanted,
            Some(Says::Held) | None => Available::Amount {
                kg: self.kg,
                l: self.l,
            },
        }
    }
}
