//! What brings a reading back that is further off than its spread: a line below its blank, with the amounts of this plan.
//!
//! Each amount is for one step of the scale, so that a reading twice as far off takes twice as much. They are mass balances
//! of the planned wort; the tests hold them against [`Plan::advise`], which runs the model from a reading.

use super::cellar::adds_later;
use super::page::Page;
use super::{Day, units};
use crate::advice::{MashDose, mash_doses};
use crate::process::DRIED_MALT_EXTRACT;
use crate::quantity::{
    Extract, Unit, UnitSystem, Written, in_litres, in_minutes, kilograms, litres,
};
use crate::scale::Plan;
use crate::science::density::{WATER_KG_PER_L, gravity_of};
use crate::science::liquid::Liquid;
use crate::speech::{GravityScale, Style, shortest};

/// A step of the pH for which acid and alkali are given (rule of the crate).
const PH_STEP: f64 = 0.1;
/// A step of the volume is about this part of it (rule of the crate).
const VOLUME_STEP: f64 = 0.04;

/// A step of a hydrometer at a strength: in °P, and as it is said.
fn gravity_step(at: Extract, style: Style) -> (f64, &'static str) {
    match style.gravity {
        GravityScale::Plato => (0.5, "0.5 °P"),
        GravityScale::SpecificGravity => {
            let next = Extract::clamped(at.plato() + 1.0);
            let rise = gravity_of(next).ratio() - gravity_of(at).ratio();
            (0.002 / rise, "0.002")
        }
    }
}

/// A round step of a volume: litres, and as it is said.
fn volume_step(of_l: f64, style: Style) -> (f64, String) {
    let unit = match style.system {
        UnitSystem::Metric => Unit::Litre,
        UnitSystem::Us => Unit::Gallon,
        UnitSystem::Imperial => Unit::ImperialGallon,
    };
    let about = VOLUME_STEP * unit.from_base(of_l);
    let decade = 10_f64.powf(about.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0].map(|round| round * decade);
    let step = step.into_iter().find(|step| *step >= 0.99 * about);
    let step = step.unwrap_or(about);
    (
        unit.to_base(step),
        format!("{} {}", shortest(step, 4), unit.symbol()),
    )
}

/// What brings a liquid whose gravity is one step off to a strength, kg.
struct Wanting {
    /// Dried malt extract, where it is low.
    extract_kg: f64,
    /// The same by driving off water.
    boiled_off_kg: f64,
    /// Water, where it is high.
    water_kg: f64,
}

impl Wanting {
    /// Of so much of the planned liquid, read one step off, to have the planned strength `to` in the end: before the boil that
    /// of the wort after it, since as much boils off as ever.
    fn of(planned: &Liquid, (step_plato, to): (f64, f64)) -> Option<Self> {
        let (volume, plato) = (
            litres(planned.wort_volume_l()),
            planned.real_extract().plato(),
        );
        let read = |plato| Liquid::wort(volume, Extract::from_plato(plato).ok()?).ok();
        let excess = |read: Liquid| {
            (read.extract_kg - planned.extract_kg) - to * (read.mass_kg() - planned.mass_kg())
        };
        let (low, high) = (read(plato - step_plato)?, read(plato + step_plato)?);
        let found = Self {
            extract_kg: -excess(low) / (DRIED_MALT_EXTRACT - to),
            boiled_off_kg: -excess(low) / to,
            water_kg: excess(high) / to,
        };
        (to > 0.0 && found.extract_kg > 0.0 && found.water_kg > 0.0).then_some(found)
    }
}

/// Minutes of boiling that drive off so many litres; none where they do not, or where it is no use to wait for them.
fn minutes_for(plan: &Plan, volume_l: f64) -> Option<f64> {
    /// Nobody boils longer than this for a step (rule of the crate).
    const MOST_MIN: f64 = 60.0;
    let target = &plan.brews().target;
    let per_min = target
        .setup
        .plant
        .boiloff
        .litres(target.brewed.run.volume_l, 1.0);
    let minutes = volume_l / per_min;
    (0.5..=MOST_MIN).contains(&minutes).then_some(minutes)
}

/// Below the mash pH: acid and soda, where the recipe wants a pH.
pub(super) fn mash_ph(page: &mut Page, day: &Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let Some(wanted) = plan.recipe.mash.ph.as_ref().map(Written::value) else {
        return;
    };
    let Some(doses) = mash_doses(plan, wanted, PH_STEP) else {
        return;
    };
    let [acid, alkali] = doses.map(|MashDose { name, mass, volume }| {
        let amount = volume.map_or_else(|| units::about_mass(mass, style), units::dropped);
        format!("{amount} {name}")
    });
    page.paragraph(&format!(
        "Per {PH_STEP} high: {acid}; low: {alkali}. Goggles, half first."
    ));
}

/// Below the volume before the boil. It is one balance with the gravity, so that only what mends both is said here.
pub(super) fn pre_boil_volume(page: &mut Page, plan: &Plan, style: Style) {
    let (step_l, step) = volume_step(in_litres(plan.volumes.pre_boil), style);
    let more = minutes_for(plan, step_l).map_or_else(String::new, |minutes| {
        format!("More but weak: boil {minutes:.0} min longer per {step}. ")
    });
    page.paragraph(&format!("{more}Less but strong: add water to the mark."));
}

/// Below the gravity before the boil.
pub(super) fn pre_boil_gravity(page: &mut Page, plan: &Plan, style: Style) {
    let target = &plan.brews().target;
    let brewed = &target.brewed;
    let (step_plato, step) = gravity_step(plan.volumes.pre_boil_extract, style);
    let off = (step_plato, brewed.boiled.wort.strength());
    let Some(wanting) = Wanting::of(&brewed.run.wort, off) else {
        return;
    };
    let longer = minutes_for(plan, wanting.boiled_off_kg / WATER_KG_PER_L)
        .map_or_else(String::new, |minutes| {
            format!("boil {minutes:.0} min longer or ")
        });
    // Where a share boils off, some of the water does too.
    let kept = 1.0 - target.setup.plant.boiloff.share(in_minutes(plan.boil));
    let water_l = wanting.water_kg / WATER_KG_PER_L / kept;
    page.paragraph(&format!(
        "Per {step} low: {longer}add {} dried malt extract; high: {} water.",
        units::about_mass(kilograms(wanting.extract_kg), style),
        units::about_volume(litres(water_l), style),
    ));
}

/// Below the volume after the boil: the heat is off, and late hops are in.
pub(super) fn post_boil_volume(page: &mut Page) {
    page.paragraph("More: leave it. Less, if it was not boiled longer: top up with boiling water.");
}

/// Below the volume in the fermenter.
pub(super) fn into_fermenter(page: &mut Page, plan: &Plan) {
    let mut scaled = vec!["yeast"];
    if adds_later(plan) {
        scaled.push("fermenter additions");
    }
    page.paragraph(&format!(
        "More or less, with the right gravity: scale the {} to it.",
        scaled.join(" and ")
    ));
}

/// Below the gravity in the fermenter.
pub(super) fn original_gravity(page: &mut Page, plan: &Plan, style: Style) {
    let wort = &plan.brews().target.brewed.pitched.liquid;
    let (step_plato, step) = gravity_step(wort.real_extract(), style);
    let Some(wanting) = Wanting::of(wort, (step_plato, wort.strength())) else {
        return;
    };
    page.paragraph(&format!(
        "Per {step} low: {} dried malt extract in wort; high: {} water; boiled, cooled.",
        units::about_mass(kilograms(wanting.extract_kg), style),
        units::about_volume(litres(wanting.water_kg / WATER_KG_PER_L), style),
    ));
}
