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
pub enum Lot {
    /// This much is there.
    Held(Ingredient, Amount),
    /// As much as is wanted can be had.
    Any(Ingredient),
    /// It cannot be had.
    Missing(Ingredient),
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
            let (Lot::Held(ingredient, _) | Lot::Any(ingredient) | Lot::Missing(ingredient)) = lot;
            ingredient.resolve(catalogue);
        }
    }
}

impl Lot {
    /// What the lot is of.
    pub const fn ingredient(&self) -> &Ingredient {
        match self {
            Self::Held(ingredient, _) | Self::Any(ingredient) | Self::Missing(ingredient) => {
                ingredient
            }
        }
    }
}

/// The lots of a stock by what they are, each name folded once for many look-ups.
#[derive(Debug, Clone)]
pub(crate) struct Shelf<'a> {
    lots: Vec<(String, &'a Lot)>,
}

impl<'a> Shelf<'a> {
    pub(crate) fn of(stock: &'a Stock) -> Self {
        let keyed = |lot: &'a Lot| (folded(lot.ingredient().catalogue_name()), lot);
        Self {
            lots: stock.lots.iter().map(keyed).collect(),
        }
    }

    /// The lots of an ingredient by its name in the catalogue.
    pub(crate) fn lots_of(&self, name: &str, kind: Kind) -> Vec<&'a Lot> {
        let of_kind = |lot: &Lot| lot.ingredient().kind == kind;
        if !self.lots.iter().any(|(_, lot)| of_kind(lot)) {
            return Vec::new();
        }
        let key = folded(name);
        let named = self.lots.iter().filter(|(known, _)| *known == key);
        named
            .map(|(_, lot)| *lot)
            .filter(|lot| of_kind(lot))
            .collect()
    }

    /// The lot that speaks for an ingredient: `none` before `any` before an amount.
    pub(crate) fn lot_of(&self, ingredient: &Ingredient) -> Option<&'a Lot> {
        let lots = self.lots_of(ingredient.catalogue_name(), ingredient.kind);
        lots.into_iter().min_by_key(|lot| match lot {
            Lot::Missing(_) => 0,
            Lot::Any(_) => 1,
            Lot::Held(..) => 2,
        })
    }
}

/// All that a stock says of one thing.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Holding {
    is_missing: bool,
    is_any: bool,
    /// What is there in all.
    pub(crate) kg: f64,
    pub(crate) l: f64,
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
        match lot {
            Lot::Missing(_) => self.is_missing = true,
            Lot::Any(_) => self.is_any = true,
            Lot::Held(_, amount) => {
                let (kg, l) = amount.kilograms_and_litres();
                self.kg += kg;
                self.l += l;
            }
        }
    }

    /// Of several lots `none` goes before `any`, and amounts add up.
    pub(crate) const fn available(&self) -> Available {
        if self.is_missing {
            Available::Nothing
        } else if self.is_any {
            Available::AsMuchAsWanted
        } else {
            Available::Amount {
                kg: self.kg,
                l: self.l,
            }
        }
    }
}
