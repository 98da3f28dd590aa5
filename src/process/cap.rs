//! The room that fruit wants in a fermenter.

use super::brew::Worked;
use super::formula::Stage;

/// Litres of a fermenter that fruit takes up beside the liquid: its pulp, and the cap that it floats up as with what it keeps.
pub(crate) fn cap_l(worked: &Worked) -> f64 {
    let items = worked.setup.formula.items.with(&worked.amounts.of);
    let later = items.filter(|(item, _)| item.place.stage == Stage::Ferment);
    let fruit = later.filter_map(|(item, amount)| item.fermentable(*amount));
    fruit
        .map(|(fruit, kg)| fruit.pulp_l(kg) + fruit.keeps_l(kg))
        .sum()
}
