//! A fermentation that no longer moves, and what could still ferment in it.

use super::action::{Action, AdvisedAction};
use super::day::{Day, figures};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Brewed, left as gas_left, thin_air};
use crate::quantity::{Concentration, Extract, Temperature};
use crate::science::attenuation::EXTRACT_PER_ETHANOL;
use crate::science::carbonation::{
    PrimingSugar, air_pressure, carbon_dioxide_from, sealed_pressure,
};

/// Gravities closer than this are as planned, °P: what a hydrometer can be read to.
const AS_PLANNED_PLATO: f64 = 0.1;
/// A beer drier than planned by more than this may be in the hands of another yeast, °P: two marks of a hydrometer (common
/// practice, no source).
const RUN_AWAY_PLATO: f64 = 0.5;

pub(super) fn stopped(day: Day<'_>, apparent: Extract) -> Result<Vec<AdvisedAction>, Error> {
    let (now, left) = as_read(day, apparent)?;
    let planned = day.planned().cellar.finished.apparent_extract();
    let as_it_is = |action| AdvisedAction {
        action,
        predicted: figures(&now),
    };
    let mut actions = Vec::new();
    if let Some(left) = left {
        let at_20 = Temperature::from_celsius(20.0)?;
        let thin_air = thin_air(day.worked.setup.plant.altitude_m);
        // The most that it can make: all of it as hexose.
        let made = carbon_dioxide_from(PrimingSugar::Glucose, left).ok();
        let gas = gas_left(at_20, thin_air).zip(made);
        let sealed = gas.and_then(|(standing, made)| sealed_pressure(standing, made, at_20).ok());
        actions.push(AdvisedAction {
            action: Action::Rouse {
                shown: apparent,
                planned,
                left,
                sealed: sealed.map(|absolute| absolute - air_pressure() * thin_air),
            },
            predicted: figures(day.planned()),
        });
        actions.push(as_it_is(Action::TakeAsItIs));
    } else if planned.plato() - apparent.plato() > RUN_AWAY_PLATO {
        actions.push(as_it_is(Action::WaitForEnd {
            shown: apparent,
            planned,
        }));
        actions.push(as_it_is(Action::TakeAsItIs));
    } else {
        actions.push(as_it_is(Action::GoOn));
    }
    Ok(actions)
}

/// The planned brew with its beer as far on as it was read, and what a litre of it has yet to ferment to be the planned one.
pub(super) fn as_read(
    day: Day<'_>,
    apparent: Extract,
) -> Result<(Brewed, Option<Concentration>), Error> {
    let planned = day.planned().cellar.finished;
    let fermented_kg = EXTRACT_PER_ETHANOL * planned.ethanol_kg;
    let wort = planned.fermented_kg(-fermented_kg);
    let by_then = wort.falls_to_kg(apparent.plato(), wort.extract_kg);
    let by_then_kg = by_then.map_err(|_| {
        let dry = wort.fermented_kg(wort.extract_kg);
        Error::new(
            ErrorKind::OutOfModel,
            format!(
                "expected a gravity from {:.1} °P down to {:.1} °P of the planned beer, found {:.1} °P",
                wort.apparent_plato(),
                dry.apparent_plato(),
                apparent.plato()
            ),
        )
        .with_help("check the instrument in water, and free the sample of gas")
    })?;
    let back_kg = fermented_kg - by_then_kg;
    let mut brewed = day.planned().clone();
    let now = planned.fermented_kg(-back_kg);
    let is_behind = apparent.plato() - planned.apparent_plato() > AS_PLANNED_PLATO;
    let left = is_behind.then(|| Concentration::clamped(1000.0 * back_kg / now.volume_l()));
    brewed.cellar = brewed.cellar.with_finished(now);
    Ok((brewed, left))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::Job;
    use crate::science::liquid::Liquid;

    /// A beer that stands above its planned gravity becomes the planned one when the rest has fermented; and as much of its juice may
    /// ferment on top.
    #[test]
    fn what_has_yet_to_ferment_makes_the_planned_beer() {
        let text = "recipe Plain with juice\nbatch 10 hL into fermenter\ntarget original 12 P\nmash\n  100 % pale ale malt\n\
            boil 60 min\nferment\n  pitch farmhouse ale yeast, attenuation 80 %\n  add 10 % by volume when 5 P\n    \
            100 % sour cherry juice, 13 Bx, 80 % fermentable\nbrewhouse Kitchen\n  batch 10 L into fermenter\n";
        let job = Job::read([("plain", text)]).unwrap();
        let plan = job.on("Kitchen").unwrap().plan().unwrap();
        let day = Day::of(&plan);
        let planned = &day.planned().cellar;
        let end = planned.finished.apparent_plato();
        let (brewed, left) = as_read(day, Extract::from_plato(end + 2.0).unwrap()).unwrap();
        let now = brewed.cellar.finished;
        assert!((now.apparent_plato() - end - 2.0).abs() < 1e-9);
        let left_kg = left.unwrap().grams_per_litre() * now.volume_l() / 1000.0;
        let same = |now: Liquid, planned: Liquid| {
            let done = now.fermented_kg(left_kg);
            assert!((done.extract_kg - planned.extract_kg).abs() < 1e-9);
            assert!((done.ethanol_kg - planned.ethanol_kg).abs() < 1e-9);
        };
        same(now, planned.finished);
        let (now, planned) = (brewed.cellar.if_juice_ferments, planned.if_juice_ferments);
        same(now.unwrap(), planned.unwrap());
    }
}
