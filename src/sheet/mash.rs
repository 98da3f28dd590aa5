//! Grist, rests and run-off.

use super::Day;
use super::addition::{amount, at, described, is_mashed, put_in};
use super::correction::{self, SheetReading};
use super::page::Page;
use super::schedule::Moment;
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{PlantSize, Stage, drains_a_bag};
use crate::quantity::{Ph, Written, in_kilograms, in_litres, litres};
use crate::recipe::{BatchSparge, Lauter};
use crate::scale::PlannedAddition;
use crate::science::density::WATER_KG_PER_L;
use crate::science::heat::{MashStep, StepWork};
use crate::speech::{Style, percent, shortest, time};

/// Grist, rests, run-off.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    if !is_mashed(plan) {
        return;
    }
    page.heading("MASH");
    day.cautions.print(page, BrewStep::Mash);
    for addition in at(plan, Stage::Mash).filter(|a| !dissolves_in_kettle(a)) {
        let (amount, what) = (amount(addition, style), described(plan, addition, style));
        put_in(page, &day.cautions, addition, |page| {
            page.tick(&amount, &what);
        });
    }
    let vessel = plan.brewhouse.mash_tun.as_ref();
    let kettle = plan.brewhouse.kettle.as_ref();
    let is_bag = drains_a_bag(&plan.brewhouse);
    let room = vessel
        .or(kettle.filter(|_| is_bag))
        .map_or_else(String::new, |vessel| {
            format!(" of {} in the vessel", style.volume(vessel.value()))
        });
    page.paragraph(&format!(
        "Mash volume with the grain, hot: {}{room}.",
        style.volume(plan.volumes.mash_hot)
    ));
    rests(page, day);
    mash_ph(page, day);
    run_off(page, day, is_bag);
}

/// The pH that is predicted, else the one that is wanted, else that of most mashes.
fn mash_ph(page: &mut Page, day: &Day<'_>) {
    /// Common practice, no source.
    const USUAL: &str = "5.2 to 5.6";
    let predicted = &day.plan.predicted;
    let wanted = day.plan.recipe.mash.ph.as_ref().map(Written::value);
    let said = |ph: Ph| shortest(ph.value(), 2);
    let (expected, target) = match (predicted.mash_ph, predicted.mash_ph_uncertainty) {
        (Some(ph), Some(uncertainty)) => {
            let missed = wanted.filter(|wanted| (wanted.value() - ph.value()).abs() >= 0.01);
            let target =
                missed.map_or_else(String::new, |wanted| format!(" (target {})", said(wanted)));
            (
                format!("{:.2} ± {:.2}", ph.value(), uncertainty.value()),
                target,
            )
        }
        _ => (wanted.map_or_else(|| USUAL.to_owned(), said), String::new()),
    };
    page.reading(
        &format!("Mash pH, sample at room temperature{target}"),
        &expected,
    );
    correction::print(page, day.plan, (SheetReading::MashPh, day.style));
}

/// The rests, each with the hour at which it begins.
fn rests(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let steps = plan.water.mash.as_ref().map_or(&[][..], |mash| &mash.steps);
    let mut heated = false;
    for (number, rest) in plan.recipe.mash.rests.iter().enumerate() {
        let comes_first = day
            .clock
            .is_before(Moment::SpargeWater, Moment::Rest(number));
        if comes_first && !heated {
            sparge_water(page, day);
            heated = true;
        }
        let by = steps
            .get(number)
            .map_or_else(String::new, |step| raised(step, style));
        let mash_in = if number == 0 { "mash in, " } else { "" };
        page.timed(
            &day.clock.shown(Moment::Rest(number)),
            &style.temperature(rest.temperature.value()),
            &format!(
                "{mash_in}rest for {}{by}; start ______ end ______",
                time(rest.time.value())
            ),
        );
    }
    if !heated {
        sparge_water(page, day);
    }
}

/// When the sparge water is put on the heat. A small plant has one vessel for hot water, and that is full by then.
fn sparge_water(page: &mut Page, day: &Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let Some(at) = plan.water.sparge else {
        return;
    };
    let into_l = in_litres(plan.volumes.into_fermenter);
    let vessel = match PlantSize::of(Some(into_l)) {
        PlantSize::Commercial => "",
        PlantSize::Small if drains_a_bag(&plan.brewhouse) => {
            " in a second vessel: the kettle holds the mash"
        }
        PlantSize::Small => " in a second vessel: the kettle takes the runnings",
    };
    page.timed(
        &day.clock.shown(Moment::SpargeWater),
        &style.temperature(at),
        &format!(
            "heat {} of sparge water{vessel}",
            style.volume(plan.volumes.sparge_water)
        ),
    );
}

/// What brings the mash to a rest.
fn raised(step: &MashStep, style: Style) -> String {
    match step.work {
        StepWork::Heat { .. } => ", direct heat".to_owned(),
        StepWork::Infuse { water, at } => format!(
            ", infuse {} of water at {}",
            style.volume(litres(in_kilograms(water) / WATER_KG_PER_L)),
            style.temperature(at)
        ),
        StepWork::Decoct { share } => format!(
            ", decoction: boil {} of the mash and return it",
            percent(share, 0)
        ),
        StepWork::LetCool => ", after cooling".to_owned(),
        _ => String::new(),
    }
}

/// How the wort leaves the grain.
fn run_off(page: &mut Page, day: &mut Day<'_>, is_bag: bool) {
    let plan = day.plan;
    let sparged = in_litres(plan.volumes.sparge_water) > 0.0;
    let told = match &plan.brewhouse.lauter {
        Some(Lauter::Batch(BatchSparge { sparges })) => format!(
            "drain, then batch sparge {}: add {} of the sparge water, stir, rest, drain",
            match sparges {
                1 => "once".to_owned(),
                2 => "twice".to_owned(),
                more => format!("{more} times"),
            },
            if *sparges == 1 {
                "all"
            } else {
                "an equal share"
            }
        ),
        _ if !is_bag => {
            "run off slowly, keeping the grain bed covered with sparge water".to_owned()
        }
        _ if sparged => {
            "lift and drain the bag, pour the sparge water over it, drain again".to_owned()
        }
        _ => "lift the bag and let it drain over the kettle".to_owned(),
    };
    page.timed(&day.clock.shown(Moment::RunOff), "", &told);
}

/// A sugar that the recipe lists with the grain: the model takes it for the kettle, after the readings before the boil.
pub(super) fn dissolves_in_kettle(addition: &PlannedAddition) -> bool {
    addition.kind == Kind::Sugar
}
