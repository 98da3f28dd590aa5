//! Beer with something left to ferment: whether what it is packaged in bears that, by the rules of priming.

use super::action::Action;
use super::advised::AdvisedAction;
use super::day::{Day, figures};
use super::doubt::ReadOf;
use super::reading::BeerRead;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Brewed, GasNotes, Measured, PredictedFigure, ToPackage, Warning, gas_plan, left as gas_left,
    thin_air,
};
use crate::quantity::{Concentration, Extract, Pressure, Temperature};
use crate::recipe::Recipe;
use crate::science::attenuation::EXTRACT_PER_ETHANOL;
use crate::science::carbonation::{
    PrimingSugar, air_pressure, carbon_dioxide_from, sealed_pressure,
};
use crate::speech::Noted;
use uom::si::pressure::bar;

/// A beer drier than planned by more than this may be in the hands of another yeast, °P: two marks of a hydrometer (common
/// practice, no source).
const RUN_AWAY_PLATO: f64 = 0.5;
/// What a soda keg is stamped with, bar (from memory: 130 psi). A beer that could pass it is packaged in nothing.
const SODA_KEG_BAR: f64 = 9.0;

/// A beer as far on as it was read.
#[derive(Debug, Clone)]
pub(super) struct AsRead {
    pub(super) brewed: Brewed,
    pub(super) apparent: Extract,
    /// What a litre of it has yet to ferment to be the planned one; none within what can be read.
    pub(super) left: Option<Concentration>,
}

impl AsRead {
    /// The planned brew with its beer as far on as it was read.
    pub(super) fn of(day: Day<'_>, read: BeerRead) -> Result<Self, Error> {
        let apparent = read.apparent;
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
        let is_behind = apparent.plato() - planned.apparent_plato() > within_plato(day, read);
        let left = is_behind.then(|| Concentration::clamped(1000.0 * back_kg / now.volume_l()));
        brewed.cellar = brewed.cellar.with_finished(now);
        Ok(Self {
            brewed,
            apparent,
            left,
        })
    }

    /// Waiting, where the beer is so much drier than planned that another yeast may be at work.
    pub(super) fn run_away(&self, day: Day<'_>) -> Option<AdvisedAction> {
        let (shown, planned) = (self.apparent, planned_end(day));
        let is_dry = planned.plato() - shown.plato() > RUN_AWAY_PLATO;
        let wait = Action::WaitForEnd { shown, planned };
        is_dry.then(|| AdvisedAction::new(wait, figures(&self.brewed)))
    }

    /// Getting it to work again, and a keg kept cold where that may bear what is left.
    pub(super) fn not_ended(&self, day: Day<'_>, left: Concentration) -> Vec<AdvisedAction> {
        let sealed = sealed_gauge(day, left);
        let rouse = Action::Rouse {
            shown: self.apparent,
            planned: planned_end(day),
            left,
            sealed,
        };
        let soda_keg = Pressure::new::<bar>(SODA_KEG_BAR);
        let kept_cold = sealed
            .filter(|sealed| *sealed <= soda_keg)
            .map(|sealed| Action::KegCold { left, sealed });
        let kept_cold = kept_cold.map(|action| AdvisedAction::new(action, figures(&self.brewed)));
        let rouse = AdvisedAction::new(rouse, figures(day.planned()));
        [rouse].into_iter().chain(kept_cold).collect()
    }

    /// Whether what the recipe packages it in bears all that is left, by the rules of priming. Where that is not known it does not.
    pub(super) fn may_be_packaged(&self, day: Day<'_>, recipe: &Recipe) -> bool {
        let beer = ToPackage {
            formula: day.formula(),
            amounts: &day.worked.amounts.of,
            brewed: &self.brewed,
            altitude_m: day.worked.setup.plant.altitude_m,
            measured: Measured {
                unfermented: self.left,
                ..Measured::default()
            },
        };
        let mut warnings = Vec::new();
        let mut notes = GasNotes {
            assumptions: &mut Vec::new(),
            warnings: &mut warnings,
        };
        let gas = gas_plan(recipe, beer, &mut notes);
        gas.is_some() && !warnings.iter().any(is_danger)
    }
}

/// Whether a warning says that a container would burst.
pub(super) fn is_danger(told: &Noted<Warning>) -> bool {
    told.what.is_of_bursting()
}

pub(super) fn planned_end(day: Day<'_>) -> Extract {
    day.planned().cellar.finished.apparent_extract()
}

/// How far a final gravity may lie from the plan with nothing to do about it, °P.
pub(super) fn within_plato(day: Day<'_>, read: BeerRead) -> f64 {
    day.readable(ReadOf::Figure(PredictedFigure::Final), read.noise_plato)
}

/// Gauge pressure in a bottle at 20 °C, were the beer sealed now and all that is left fermented: as hexose, the most that it can make.
fn sealed_gauge(day: Day<'_>, left: Concentration) -> Option<Pressure> {
    let at_20 = Temperature::clamped(20.0);
    let thin_air = thin_air(day.worked.setup.plant.altitude_m);
    let made = carbon_dioxide_from(PrimingSugar::Glucose, left).ok()?;
    let standing = gas_left(at_20, thin_air)?;
    let absolute = sealed_pressure(standing, made, at_20).ok()?;
    Some(absolute - air_pressure() * thin_air)
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
        let read = BeerRead {
            apparent: Extract::from_plato(end + 2.0).unwrap(),
            noise_plato: 0.25,
        };
        let AsRead { brewed, left, .. } = AsRead::of(day, read).unwrap();
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
