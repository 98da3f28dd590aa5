//! Rounding to what a plant's scales can weigh.

use super::solve::{BitternessGap, Found, Job, bittering};
use crate::catalogue::Kind;
use crate::inverse::liquor_to_fill;
use crate::process::{Amounts, Item};
use crate::quantity::in_kilograms;
use crate::recipe::{BatchPoint, WeighingSteps};
use std::ops::RangeInclusive;

/// A tenth of what laboratory balances resolve, and more than a brewery's truck scales hold. A step outside that is no
/// scale's, and rounding to it would leave no amount at all.
const STEPS_KG: RangeInclusive<f64> = 1e-10..=1e6;

/// The amounts rounded to the plant's weighing steps. What would round to nothing becomes one step, since a recipe that
/// names an ingredient means some of it. A kind without a stated step is left as computed.
///
/// What the steps move is met again as a brewer would: the wort by its water, and the bitterness by the hops that close it,
/// which are weighed last.
pub(super) fn weighed(job: Job<'_>, found: &Found, weighing: &WeighingSteps) -> Amounts {
    let (formula, plant) = (&job.target.formula, &job.target.plant);
    let step_of = |item: &Item| {
        let step_kg = step_kg(item.ingredient.kind, weighing);
        step_kg.filter(|_| item.is_by_mass())
    };
    let last = match found.bitterness {
        BitternessGap::Closed => bittering(formula),
        BitternessGap::TooBitter | BitternessGap::NoHop => Vec::new(),
    };
    let of = formula.items.map(|index, item| {
        let amount = found.amounts.of.at(index);
        match step_of(item).filter(|_| !last.contains(&index)) {
            Some(step_kg) => at_least_one(amount, amount, step_kg),
            None => amount,
        }
    });
    let liquor = liquor_to_fill(formula, plant, &of, found.aim.volume_l);
    let mut amounts = Amounts { of, liquor };
    if last.is_empty() {
        keep_batch(job, found, &mut amounts);
        return amounts;
    }
    let weighed_but_for_them = job.target.brew(&amounts);
    job.close_bitterness(&mut amounts, &weighed_but_for_them);
    for index in last {
        if let Some(step_kg) = formula.items.get(index).and_then(step_of) {
            let exact = found.amounts.of.at(index);
            let weighed = at_least_one(exact, amounts.of.at(index), step_kg);
            amounts.of.set(index, weighed);
        }
    }
    keep_batch(job, found, &mut amounts);
    amounts
}

/// Water for what trub and hops, as weighed, keep of a batch that is counted after the kettle.
fn keep_batch(job: Job<'_>, found: &Found, amounts: &mut Amounts) {
    let (formula, plant) = (&job.target.formula, &job.target.plant);
    let at_end = plant
        .batch
        .is_some_and(|batch| batch.at == BatchPoint::EndOfBoil);
    let kept_l = job.target.brew(amounts).kept.all_l();
    let more_l = kept_l - found.brewed.kept.all_l();
    if more_l != 0.0 && !at_end {
        let post_boil_l = found.aim.volume_l + more_l;
        amounts.liquor = liquor_to_fill(formula, plant, &amounts.of, post_boil_l);
    }
}

/// `kg` in whole steps, but one at least where there was some of it.
fn at_least_one(before_kg: f64, kg: f64, step_kg: f64) -> f64 {
    match to_step(kg, step_kg) {
        0.0 if before_kg > 0.0 => step_kg,
        weighed => weighed,
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
    weighing.of(kind).map(|step| in_kilograms(step.value()))
}
