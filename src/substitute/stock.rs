//! What the stock holds of each name.

use super::kind_group::{KindGroup, group};
use crate::catalogue::folded;
use crate::recipe::{Holding, Ingredient, Stock};
use std::collections::BTreeMap;

/// Everything that the stock says of one name.
#[derive(Debug, Clone)]
pub(super) struct Held {
    pub(super) ingredient: Ingredient,
    pub(super) holding: Holding,
}

/// The lots of a stock by their kinds and folded catalogue names.
pub(super) fn holdings(stock: &Stock) -> BTreeMap<(KindGroup, String), Held> {
    let mut holdings: BTreeMap<(KindGroup, String), Held> = BTreeMap::new();
    for lot in &stock.lots {
        let ingredient = lot.ingredient();
        let key = (group(ingredient.kind), folded(ingredient.catalogue_name()));
        let held = holdings.entry(key).or_insert_with(|| Held {
            ingredient: ingredient.clone(),
            holding: Holding::default(),
        });
        held.holding.add(lot);
    }
    holdings
}
