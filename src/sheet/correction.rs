//! What brings a reading back that is further off than its spread: a line below its blank, with the amounts of this plan.
//!
//! Each amount is for one step of the scale, so that a reading twice as far off takes twice as much. They are mass balances
//! of the planned wort; the tests hold them against [`Plan::advise`], which runs the model from a reading.

use super::addition::{is_mashed, is_steeped};
use super::cellar::adds_later;
use super::page::Page;
use super::units;
use crate::advice::{MashDose, mash_doses};
use crate::process::{DRIED_MALT_EXTRACT, MIDDLE_MASH_PH};
use crate::quantity::{
    Extract, Ph, Unit, UnitSystem, Written, in_litres, in_minutes, kilograms, litres,
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

/// A reading of the day with something to do where it is off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum SheetReading {
    /// pH of the mash.
    MashPh,
    /// Volume before the boil.
    PreBoilVolume,
    /// Gravity before the boil.
    PreBoilGravity,
    /// Volume after the boil.
    PostBoilVolume,
    /// Volume in the fermenter.
    IntoFermenter,
    /// Original gravity.
    OriginalGravity,
    /// Final gravity.
    FinalGravity,
}

impl Plan {
    /// What to do where a reading is further off than its spread, as the sheet says below its blank; nothing where the plan
    /// has no such reading, or nothing helps.
    ///
    /// ```
    /// use wortwright::{Job, sheet::SheetReading};
    ///
    /// let beer = std::fs::read_to_string("examples/data/saltmarsh-lantern.gyle")?;
    /// let home = std::fs::read_to_string("examples/data/stove-top.gyle")?;
    /// let plan = Job::read([("beer", beer), ("home", home)])?.on("Stove top")?.plan()?;
    /// let low = plan.correction(SheetReading::PreBoilGravity, plan.brewhouse.style());
    /// assert!(low.is_some_and(|told| told.starts_with("0.5 °P low: boil 9 min longer")));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn correction(&self, reading: SheetReading, style: Style) -> Option<String> {
        let boils = in_minutes(self.boil) > 0.0;
        // Water has no gravity to measure, and is as much as was poured in.
        let boils_wort = boils && is_mashed(self) && !is_steeped(self);
        match reading {
            SheetReading::MashPh => mash_ph(self, style),
            SheetReading::PreBoilVolume => boils_wort.then(|| pre_boil_volume(self, style)),
            SheetReading::PreBoilGravity if boils_wort => pre_boil_gravity(self, style),
            SheetReading::PreBoilGravity => None,
            // The heat is off, and late hops are in.
            SheetReading::PostBoilVolume => boils.then(|| {
                "More: leave it. Less, unless it was boiled longer: top up with boiling water.".to_owned()
            }),
            SheetReading::IntoFermenter => Some(into_fermenter(self)),
            SheetReading::OriginalGravity => original_gravity(self, style),
            SheetReading::FinalGravity => Some(
                "Higher: warm it, rouse the yeast, do not package. Lower: wait for 3 weeks without change.".to_owned(),
            ),
        }
    }
}

/// The line below a reading, where it has one.
pub(super) fn print(page: &mut Page, plan: &Plan, (reading, style): (SheetReading, Style)) {
    if let Some(told) = plan.correction(reading, style) {
        page.paragraph(&told);
    }
}

/// Below the mash pH: acid and soda, where the recipe wants a pH or the water is known.
fn mash_ph(plan: &Plan, style: Style) -> Option<String> {
    let stated = plan.recipe.mash.ph.as_ref().map(Written::value);
    let usual = plan.predicted.mash_ph;
    let wanted = stated.or_else(|| usual.map(|_| Ph::clamped(MIDDLE_MASH_PH)))?;
    let doses = mash_doses(plan, wanted, PH_STEP)?;
    let [acid, alkali] = doses.map(|MashDose { name, mass, volume }| {
        let amount = volume.map_or_else(
            || style.about_mass(mass),
            |volume| units::syringed(volume, style),
        );
        format!("{amount} {name}")
    });
    Some(format!(
        "{PH_STEP} high: {acid}; low: {alkali}. Goggles, half first."
    ))
}

/// Below the volume before the boil. It is one balance with the gravity, so that only what mends both is said here.
fn pre_boil_volume(plan: &Plan, style: Style) -> String {
    let (step_l, step) = volume_step(in_litres(plan.volumes.pre_boil), style);
    let more = minutes_for(plan, step_l).map_or_else(String::new, |minutes| {
        format!("More but weak: boil {minutes:.0} min longer per {step}. ")
    });
    format!("{more}Less but strong: add water to the mark.")
}

/// Below the gravity before the boil.
fn pre_boil_gravity(plan: &Plan, style: Style) -> Option<String> {
    let target = &plan.brews().target;
    let brewed = &target.brewed;
    let (step_plato, step) = gravity_step(plan.volumes.pre_boil_extract, style);
    let off = (step_plato, brewed.boiled.wort.strength());
    let wanting = Wanting::of(&brewed.run.wort, off)?;
    let longer = minutes_for(plan, wanting.boiled_off_kg / WATER_KG_PER_L)
        .map_or_else(String::new, |minutes| {
            format!("boil {minutes:.0} min longer or ")
        });
    // Where a share boils off, some of the water does too.
    let kept = 1.0 - target.setup.plant.boiloff.share(in_minutes(plan.boil));
    let water_l = wanting.water_kg / WATER_KG_PER_L / kept;
    Some(format!(
        "{step} low: {longer}add {} dried malt extract; high: {} water.",
        style.about_mass(kilograms(wanting.extract_kg)),
        style.about_volume(litres(water_l)),
    ))
}

/// Below the volume in the fermenter.
fn into_fermenter(plan: &Plan) -> String {
    let mut scaled = vec!["yeast"];
    if adds_later(plan) {
        scaled.push("fermenter additions");
    }
    format!(
        "More or less, with the right gravity: scale the {} to it.",
        scaled.join(" and ")
    )
}

/// Below the gravity in the fermenter.
fn original_gravity(plan: &Plan, style: Style) -> Option<String> {
    let wort = &plan.brews().target.brewed.pitched.liquid;
    let (step_plato, step) = gravity_step(wort.real_extract(), style);
    let wanting = Wanting::of(wort, (step_plato, wort.strength()))?;
    Some(format!(
        "{step} low: {} dried malt extract boiled in wort; high: {} boiled, cooled water.",
        style.about_mass(kilograms(wanting.extract_kg)),
        style.about_volume(litres(wanting.water_kg / WATER_KG_PER_L)),
    ))
}
