//! The kettle before, during and after the boil.

use super::addition::{
    amount, at, described, dissolves_before_boil, is_mashed, is_steeped, put_in,
};
use super::correction::{self, SheetReading};
use super::mash::dissolves_in_kettle;
use super::page::Page;
use super::schedule::Moment;
use super::{Day, units};
use crate::caution::BrewStep;
use crate::numeric::order;
use crate::process::Stage;
use crate::quantity::{Volume, in_litres, in_minutes, minutes};
use crate::scale::{Plan, PlannedAddition};
use crate::speech::{shortest, time};

/// The kettle before, during and after the boil; a wort that is not boiled has its readings only.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let boils = in_minutes(plan.boil) > 0.0;
    if boils {
        page.heading(&format!("BOIL for {}", time(plan.boil)));
    } else {
        page.heading("WORT (NO BOIL)");
    }
    let cold = units::cold(style);
    let volumes = &plan.volumes;
    let kettle = plan.spread.as_ref().map(|spread| spread.readings);
    let kettle = kettle.unwrap_or_default();
    // A volume spreads hot as it does cold, in proportion.
    let hot = |hot: Volume, cold: Volume, sigma_l: f64| {
        let sigma_l = sigma_l * in_litres(hot) / in_litres(cold).max(f64::MIN_POSITIVE);
        style.spoken_volume(in_litres(hot)).with_sigma(sigma_l)
    };
    let before = if boils { "Pre-boil" } else { "Wort" };
    page.reading(
        &format!(
            "{before} volume, hot ({} at {cold})",
            style.volume(volumes.pre_boil)
        ),
        &hot(volumes.pre_boil_hot, volumes.pre_boil, kettle.pre_boil_l),
    );
    // Water has no gravity to measure, and is as much as was poured in.
    if is_mashed(plan) && !is_steeped(plan) {
        correction::print(page, plan, (SheetReading::PreBoilVolume, style));
        page.reading(
            &format!("{before} gravity, sample at {cold}"),
            &style
                .spoken_gravity(volumes.pre_boil_extract)
                .with_sigma(kettle.pre_boil_plato),
        );
        correction::print(page, plan, (SheetReading::PreBoilGravity, style));
    }
    day.cautions.print(page, BrewStep::Boil);
    timetable(page, day);
    if boils {
        page.reading(
            &format!(
                "Post-boil volume, hot ({} at {cold})",
                style.volume(volumes.post_boil)
            ),
            &hot(volumes.post_boil_hot, volumes.post_boil, kettle.post_boil_l),
        );
        correction::print(page, plan, (SheetReading::PostBoilVolume, style));
    }
}

/// What goes into the kettle, by the clock and the minutes left.
fn timetable(page: &mut Page, day: &mut Day<'_>) {
    let plan = day.plan;
    let boils = in_minutes(plan.boil) > 0.0;
    let in_kettle = at(plan, Stage::Mash).filter(|a| !is_mashed(plan) || dissolves_in_kettle(a));
    let mut all: Vec<_> = in_kettle.chain(at(plan, Stage::Boil)).collect();
    // Stable: what goes in together stays in the order of the recipe.
    order::sort_by(&mut all, |a, b| {
        minutes_left(b, plan).total_cmp(&minutes_left(a, plan))
    });
    let (first_wort, later): (Vec<_>, Vec<_>) = all.into_iter().partition(|a| a.first_wort);
    let (dissolved, later): (Vec<_>, Vec<_>) = later
        .into_iter()
        .partition(|a| dissolves_before_boil(plan, a));
    let (boiled, at_the_end): (Vec<_>, Vec<_>) =
        later.into_iter().partition(|a| minutes_left(a, plan) > 0.0);
    for addition in first_wort {
        in_the_kettle(
            page,
            day,
            (&day.clock.shown(Moment::HeatToBoil), "1st wort"),
            addition,
        );
    }
    if boils {
        let heat = day.clock.shown(Moment::HeatToBoil);
        let begins = if dissolved.is_empty() {
            format!("boil starts, heat on at {heat}; minutes left in the boil:")
        } else {
            page.boiled(&heat, "", "", "heat to the boil");
            "boil starts; minutes left in the boil:".to_owned()
        };
        for addition in &dissolved {
            let at = day.clock.shown(Moment::Dissolve);
            in_the_kettle(page, day, (&at, "dissolve"), addition);
        }
        let left = format!("{} min", shortest(in_minutes(plan.boil), 0));
        page.boiled(&day.clock.shown(Moment::Boil), &left, "", &begins);
    }
    for addition in boiled {
        let left = minutes_left(addition, plan);
        let gone = minutes(in_minutes(plan.boil) - left);
        let at = day.clock.shown_after(Moment::Boil, gone);
        let left = format!("{} min", shortest(left, 0));
        in_the_kettle(page, day, (&at, &left), addition);
    }
    let heat_off = day.clock.shown(Moment::HeatOff);
    if boils {
        page.boiled(&heat_off, "0 min", "", "heat off");
    }
    for addition in at_the_end {
        let left = if boils { "0 min" } else { "" };
        in_the_kettle(page, day, (&heat_off, left), addition);
    }
}

/// What goes into the kettle at a time of the clock, with the minutes left.
fn in_the_kettle(
    page: &mut Page,
    day: &Day<'_>,
    (clock, left): (&str, &str),
    addition: &PlannedAddition,
) {
    let style = day.style;
    let (amount, what) = (
        amount(day.plan, addition, style),
        described(day.plan, addition, style),
    );
    put_in(page, &day.cautions, addition, |page| {
        page.boiled(clock, left, &amount, &what);
    });
}

fn minutes_left(addition: &PlannedAddition, plan: &Plan) -> f64 {
    in_minutes(addition.time_left.unwrap_or(plan.boil))
}
