//! Rounding to what a plant's scales can weigh.

use crate::catalogue::Kind;
use crate::process::{Amounts, Formula};
use crate::quantity::in_kilograms;
use crate::recipe::WeighingSteps;
use std::ops::RangeInclusive;

/// A tenth of what laboratory balances resolve, and more than a brewery's truck scales hold. A step outside that is no
/// scale's, and rounding to it would leave no amount at all.
const STEPS_KG: RangeInclusive<f64> = 1e-10..=1e6;

/// The amounts rounded to the plant's weighing steps. What would round to nothing becomes one step, since a recipe that
/// names an ingredient means some of it. A kind without a stated step is left as computed.
pub(super) fn weighed(formula: &Formula, exact: &Amounts, weighing: &WeighingSteps) -> Amounts {
    let of = formula.items.map(|index, item| {
        let amount = exact.of.at(index);
        if item.is_by_volume() {
            return amount;
        }
        match step_kg(item.ingredient.kind, weighing) {
            Some(step_kg) if amount > 0.0 => match to_step(amount, step_kg) {
                0.0 => step_kg,
                weighed => weighed,
            },
            _ => amount,
        }
    });
    Amounts {
        of,
        liquor: exact.liquor,
    }
}

/// A mass in whole steps of a scale.
pub(super) fn to_step(kg: f64, step_kg: f64) -> f64 {
    if STEPS_KG.contains(&step_kg) {
        (kg / step_kg).round() * step_kg
    } else {
        kg
    }
}

fn step_kg(kind: Kind, weighing: &WeighingSteps) -> Option<f64> {
    let step = match kind {
        Kind::Malt | Kind::Grain | Kind::Sugar | Kind::Juice | Kind::Beverage => &weighing.malt,
        Kind::Hop | Kind::Botanical => &weighing.hops,
        Kind::Yeast | Kind::Salt | Kind::Acid | Kind::Aid | Kind::Other => &weighing.salts,
    };
    step.as_ref().map(|step| in_kilograms(step.value()))
}
