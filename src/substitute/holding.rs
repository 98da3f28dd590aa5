//! What the stock holds of each name.

use super::setting::{KindGroup, group};
use crate::catalogue::folded;
use crate::recipe::{Ingredient, Lot, Stock};
use std::collections::BTreeMap;

/// What the stock says of one name: an amount, as much as is wanted, or none.
#[derive(Debug, Clone)]
pub(super) struct Holding {
    pub(super) ingredient: Ingredient,
    pub(super) supply: Held,
}

/// How much can be had.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Held {
    Amount { kg: f64, l: f64 },
    Any,
    Nothing,
}

/// The lots of a stock by their kinds and folded catalogue names.
pub(super) fn holdings(stock: &Stock) -> BTreeMap<(KindGroup, String), Holding> {
    let mut holdings: BTreeMap<(KindGroup, String), Holding> = BTreeMap::new();
    for lot in &stock.lots {
        let ingredient = lot.ingredient();
        let key = (group(ingredient.kind), folded(ingredient.catalogue_name()));
        let supply = match lot {
            Lot::Missing(_) => Held::Nothing,
            Lot::Any(_) => Held::Any,
            Lot::Held(_, amount) => {
                let (kg, l) = amount.kilograms_and_litres();
                Held::Amount { kg, l }
            }
        };
        holdings
            .entry(key)
            .and_modify(|known| known.supply = known.supply.and(supply))
            .or_insert_with(|| Holding {
                ingredient: ingredient.clone(),
                supply,
            });
    }
    holdings
}

impl Held {
    /// Two lots of one name: `none` goes before `any`, and amounts add up.
    fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::Nothing, _) | (_, Self::Nothing) => Self::Nothing,
            (Self::Any, _) | (_, Self::Any) => Self::Any,
            (
                Self::Amount { kg, l },
                Self::Amount {
                    kg: more_kg,
                    l: more_l,
                },
            ) => Self::Amount {
                kg: kg + more_kg,
                l: l + more_l,
            },
        }
    }
}
