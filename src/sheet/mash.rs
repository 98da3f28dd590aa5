//! Grist, rests and run-off.

use super::Day;
use super::addition::{amount, at, described, is_in_bag, is_mashed, is_steeped, put_in};
use super::correction::{self, SheetReading};
use super::page::Page;
use super::schedule::Moment;
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{PlantSize, Stage, USUAL_MASH_PH};
use crate::quantity::{Ph, Temperature, Written, in_kilograms, in_litres, litres};
use crate::recipe::{BatchSparge, Lauter};
use crate::scale::{Plan, PlannedAddition};
use crate::science::density::WATER_KG_PER_L;
use crate::science::heat::{MashStep, StepWork};
use crate::speech::{Style, percent, shortest, time};

/// Grist, rests, run-off.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    if !is_mashed(plan) {
        return;
    }
    let steeped = is_steeped(plan);
    page.heading(if steeped { "STEEP" } else { "MASH" });
    if steeped {
        // A small bag is no burden.
        day.cautions.drop(BrewStep::Mash);
    } else {
        day.cautions.print(page, BrewStep::Mash);
    }
    for addition in at(plan, Stage::Mash).filter(|a| !dissolves_in_kettle(a)) {
        let (amount, what) = (
            amount(plan, addition, style),
            described(plan, addition, style),
        );
        put_in(page, &day.cautions, addition, |page| {
            page.tick(&amount, &what);
        });
    }
    if steeped {
        steep(page, day);
        return;
    }
    let vessel = plan.brewhouse.mash_tun.as_ref();
    let kettle = plan.brewhouse.kettle.as_ref();
    let is_bag = is_in_bag(plan);
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

/// A bag of grain in the kettle's water: its rests as the recipe has them, else as is usual.
fn steep(page: &mut Page, day: &Day<'_>) {
    /// Warm enough to dissolve sugars, too cool for tannin (common practice, no source: 65 to 70 °C for half an hour).
    const USUAL_C: f64 = 68.0;
    let (rests, style) = (&day.plan.recipe.mash.rests, day.style);
    for (number, rest) in rests.iter().enumerate() {
        page.timed(
            &day.clock.shown(Moment::Rest(number)),
            &style.temperature(rest.temperature.value()),
            &format!(
                "steep the crushed grain in a bag for {}",
                time(rest.time.value())
            ),
        );
    }
    if rests.is_empty() {
        page.timed(
            "",
            &style.temperature(Temperature::clamped(USUAL_C)),
            "steep the crushed grain in a bag for 30 min",
        );
    }
    page.timed(
        &day.clock.shown(Moment::RunOff),
        "",
        "lift the bag and let it drain; do not boil the grain",
    );
}

/// The pH that is wanted, else that of most mashes, and what is predicted where that is another.
fn mash_ph(page: &mut Page, day: &Day<'_>) {
    let predicted = &day.plan.predicted;
    let wanted = day.plan.recipe.mash.ph.as_ref().map(Written::value);
    let said = |ph: Ph| shortest(ph.value(), 2);
    let predicted = predicted.mash_ph.zip(predicted.mash_ph_uncertainty);
    let said_with = |(ph, sigma): (Ph, Ph)| format!("{:.2} ± {:.2}", ph.value(), sigma.value());
    let is_as_wanted = |(ph, _): &(Ph, Ph)| {
        wanted.is_some_and(|wanted| (wanted.value() - ph.value()).abs() < 0.01)
    };
    let target = || match wanted {
        Some(wanted) => said(wanted),
        None => format!("{:.1} to {:.1}", USUAL_MASH_PH.start(), USUAL_MASH_PH.end()),
    };
    let (what, expected) = match predicted {
        Some(predicted) if is_as_wanted(&predicted) => (
            "Mash pH, sample at room temperature".to_owned(),
            said_with(predicted),
        ),
        Some(predicted) => (
            format!("Mash pH, cooled (predicted {})", said_with(predicted)),
            target(),
        ),
        None => ("Mash pH, sample at room temperature".to_owned(), target()),
    };
    page.reading(&what, &expected);
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
            .map_or_else(String::new, |step| raised(step, (plan, style)));
        let mash_in = if number == 0 { "mash in, " } else { "" };
        page.timed(
            &day.clock.shown(Moment::Rest(number)),
            &style.temperature(rest.temperature.value()),
            &format!(
                "{mash_in}rest {}{by}; start _____ end _____",
                time(rest.time.value())
            ),
        );
    }
    if !heated {
        sparge_water(page, day);
    }
}

/// When the sparge water is put on the heat. A small plant has one vessel for hot water, which holds mash or runnings by then.
fn sparge_water(page: &mut Page, day: &Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let Some(at) = plan.water.sparge else {
        return;
    };
    let into_l = in_litres(plan.volumes.into_fermenter);
    let vessel = match PlantSize::of(Some(into_l)) {
        PlantSize::Commercial => "",
        PlantSize::Small => " in a second vessel",
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
fn raised(step: &MashStep, (plan, style): (&Plan, Style)) -> String {
    match step.work {
        StepWork::Heat { .. } if is_in_bag(plan) => ", direct heat, bag off the bottom".to_owned(),
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
