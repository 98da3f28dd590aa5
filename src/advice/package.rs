//! Finished beer that is less, or more, than planned.
//!
//! Lost beer leaves the rest as it was: nothing but the amounts that go in by the litre changes. Water makes the volume up and thins
//! everything else. Pressure or priming sugar is worked out for what is there, with the gas left at the warmest that it has been and what
//! it can still ferment.

use super::action::Action;
use super::advised::AdvisedAction;
use super::day::{Day, figures};
use super::doubt::{ReadOf, VOLUME_READ};
use super::late::dose;
use super::reading::BeerRead;
use super::to_measure::ToMeasure;
use super::unfinished::{AsRead, is_danger};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Brewed, GasNotes, GasPlan, Measured, PredictedFigure, Stage, ToPackage, Warning, gas_plan,
};
use crate::quantity::{Concentration, Temperature, Volume, in_litres, litres};
use crate::scale::Plan;
use crate::science::density::WATER_KG_PER_L;
use crate::speech::{Noted, shortest};

/// Beer is thinned with water up to this share of it, as breweries thin strong worts (common practice, no source).
const MOST_WATER: f64 = 1.0 / 3.0;
/// A volume below this share of the plan is read again, and above the other where no fermenter is stated (common practice, no source).
const LITTLE: f64 = 0.5;
const MUCH: f64 = 1.5;
/// No yeast of beer bears more for long, °C (common practice, no source).
const WARMEST_C: f64 = 45.0;

/// Finished beer as it was measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FinishedBeer {
    pub(super) volume: Volume,
    pub(super) warmest: Option<Temperature>,
    pub(super) read: Option<BeerRead>,
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
    if let Some(warmest) = beer.warmest
        && !(0.0..=WARMEST_C).contains(&warmest.celsius())
    {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!(
                "expected the warmest temperature of the beer, from 0 to {WARMEST_C} °C, found {} °C",
                shortest(warmest.celsius(), 1)
            ),
        )
        .with_help("give the warmest that it has been since it stopped fermenting"));
    }
    let (formula, amounts) = (day.formula(), &day.worked.amounts.of);
    let by_litre = beer_l / planned_l.max(f64::MIN_POSITIVE);
    let read = beer.read.map(|read| AsRead::of(day, read)).transpose()?;
    let (mut brewed, unfermented) = match &read {
        Some(read) => (read.brewed.clone(), read.left),
        None => (day.planned().clone(), None),
    };
    let most_l = match day.worked.setup.plant.fermenter_l {
        Some(fermenter_l) => fermenter_l * (1.0 + VOLUME_READ),
        None => MUCH * planned_l,
    };
    let what = vec![ToMeasure::Volume];
    let read_again = AdvisedAction::new(Action::MeasureFirst { what }, figures(&brewed));
    if beer_l > most_l {
        // Sugar for more beer than there is bursts bottles.
        return Ok(vec![read_again]);
    }
    let within_l = day.readable(
        ReadOf::Figure(PredictedFigure::Finished),
        VOLUME_READ * planned_l,
    );
    let short_l = planned_l - beer_l;
    let may_fill_up = short_l > within_l && short_l <= MOST_WATER * planned_l;
    let filled = may_fill_up.then(|| filled_up(&brewed, (beer_l, planned_l)));
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
    if let (Some(read), Some(left)) = (&read, unfermented)
        && told.warnings.iter().any(is_danger)
    {
        return Ok(read.not_ended(day, left));
    }
    as_it_is.finished = Some(beer.volume);
    as_it_is.carbonation = gas.as_ref().map(GasPlan::reached);
    let run_away = read.as_ref().and_then(|read| read.run_away(day));
    let read_again = (by_litre < LITTLE).then_some(read_again);
    let mut actions: Vec<_> = run_away.into_iter().chain(read_again).collect();
    let is_short = short_l.abs() > within_l;
    let short = litres(if is_short { short_l } else { 0.0 });
    let package_less = Action::PackageLess { short, doses, gas };
    actions.push(AdvisedAction::new(package_less, as_it_is));
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
        actions.push(AdvisedAction::new(Action::TopUp { water, gas }, predicted));
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
