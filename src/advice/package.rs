//! Finished beer that is less, or more, than planned.
//!
//! Lost beer leaves the rest as it was: nothing but the amounts that go in by the litre changes. Water makes the volume up and thins
//! everything else. Pressure or priming sugar is worked out for what is there, with the gas left at the warmest that it has been and what
//! it can still ferment.

use super::action::{Action, AdvisedAction};
use super::day::{Day, figures};
use super::late::dose;
use super::stopped::as_read;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Brewed, GasNotes, GasPlan, Measured, Stage, ToPackage, Warning, gas_plan};
use crate::quantity::{Concentration, Extract, Temperature, Volume, in_litres, litres};
use crate::scale::Plan;
use crate::science::density::WATER_KG_PER_L;
use crate::speech::{Noted, shortest};

/// Volumes closer than this are as planned: what a fermenter can be read to (common practice, no source).
const AS_PLANNED: f64 = 0.01;

/// Finished beer as it was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FinishedBeer {
    pub(super) volume: Volume,
    pub(super) warmest: Option<Temperature>,
    pub(super) apparent: Option<Extract>,
}

pub(super) fn packaging(
    day: Day<'_>,
    plan: &Plan,
    beer: FinishedBeer,
    warnings: &mut Vec<Noted<Warning>>,
) -> Result<Vec<AdvisedAction>, Error> {
    let (beer_l, planned_l) = (in_litres(beer.volume), day.planned().cellar.racked_l);
    if !(beer_l > 0.0 && beer_l <= 1e7) {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!(
                "expected a volume of beer above zero and up to 10⁷ L, found {} L",
                shortest(beer_l, 3)
            ),
        ));
    }
    let (formula, amounts) = (day.formula(), &day.worked.amounts.of);
    let by_litre = beer_l / planned_l.max(f64::MIN_POSITIVE);
    let (mut brewed, unfermented) = match beer.apparent {
        Some(apparent) => as_read(day, apparent)?,
        None => (day.planned().clone(), None),
    };
    let filled = (by_litre < 1.0 - AS_PLANNED).then(|| filled_up(&brewed, (beer_l, planned_l)));
    // What goes in by the litre, for so many times the planned beer.
    let dosed = |times: f64| {
        formula.items.map(|index, item| {
            let at_packaging = item.place.stage == Stage::Package;
            amounts.at(index) * if at_packaging { times } else { 1.0 }
        })
    };
    let as_measured = |thinned: f64| Measured {
        warmest: beer.warmest,
        unfermented: unfermented
            .map(|left| Concentration::clamped(left.grams_per_litre() * thinned)),
        water: 1.0 - thinned,
    };
    let of = dosed(by_litre);
    let doses = formula.items.with(&of);
    let doses = doses
        .filter(|(item, amount)| item.place.stage == Stage::Package && **amount > 0.0)
        .map(|(item, amount)| dose(item, *amount))
        .collect();
    brewed.cellar = brewed.cellar.with_racked(beer_l);
    let mut as_it_is = figures(&brewed);
    let to_package = |amounts, brewed, thinned| ToPackage {
        formula,
        amounts,
        brewed,
        altitude_m: day.worked.setup.plant.altitude_m,
        measured: as_measured(thinned),
    };
    // What is assumed is what the plan has told already.
    let mut told = GasNotes {
        assumptions: &mut Vec::new(),
        warnings,
    };
    let gas = gas_plan(&plan.recipe, to_package(&of, &brewed, 1.0), &mut told);
    as_it_is.finished = Some(beer.volume);
    as_it_is.carbonation = gas.as_ref().map(GasPlan::reached);
    let mut actions = vec![AdvisedAction {
        action: Action::PackageLess {
            short: litres(planned_l - beer_l),
            doses,
            gas,
        },
        predicted: as_it_is,
    }];
    if let Some((water, filled)) = filled {
        let mut predicted = figures(&filled);
        predicted.finished = Some(litres(planned_l));
        // The same warnings as of the beer before it was thinned.
        let beer = to_package(amounts, &filled, by_litre);
        let mut unsaid = GasNotes {
            assumptions: &mut Vec::new(),
            warnings: &mut Vec::new(),
        };
        let gas = gas_plan(&plan.recipe, beer, &mut unsaid);
        predicted.carbonation = gas.as_ref().map(GasPlan::reached);
        actions.push(AdvisedAction {
            action: Action::TopUp { water, gas },
            predicted,
        });
    }
    Ok(actions)
}

/// The beer filled up with water to the planned volume: worked out on all of the brew, of which `beer_l` is a part.
fn filled_up(brew: &Brewed, (beer_l, planned_l): (f64, f64)) -> (Volume, Brewed) {
    let finished = brew.cellar.finished;
    let finished_l = finished.volume_l();
    let water_kg = finished.water_to_fill_kg(finished_l * planned_l / beer_l);
    let mut brewed = brew.clone();
    let thinned = finished.with_water_kg(water_kg);
    brewed.cellar = brewed.cellar.with_finished(thinned).with_racked(planned_l);
    let water = litres(water_kg / WATER_KG_PER_L * beer_l / finished_l);
    (water, brewed)
}
