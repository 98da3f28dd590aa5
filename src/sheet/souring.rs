//! Souring in the kettle, between run-off and boil.

use super::Day;
use super::addition::{amount, at, described};
use super::page::Page;
use super::schedule::{Moment, SOURED_AT_C};
use super::units::dropped;
use crate::caution::BrewStep;
use crate::process::Stage;
use crate::quantity::{Temperature, Written, in_litres, litres};
use crate::science::density::gravity_of;
use crate::science::liquid::Liquid;
use crate::science::souring::{PURE_ACID_KG_PER_L, SAFE_PH, as_read};
use crate::speech::{GravityScale, shortest, time};

/// The souring, with the hour at which it begins and at which the boil may.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let setup = &plan.brews().target.setup;
    let (Some(souring), Some(stated)) = (setup.formula.souring, &plan.recipe.souring) else {
        return;
    };
    page.heading("SOURING");
    day.cautions.print(page, BrewStep::Souring);
    let warmth = souring.at.unwrap_or(Temperature::clamped(SOURED_AT_C));
    page.timed(
        &day.clock.shown(Moment::SourCooling),
        &style.temperature(warmth),
        "cool the wort to this",
    );
    let culture_goes_in = day.clock.shown(Moment::Culture);
    let acid_l = plan.brews().target.brewed.acid_before_l;
    if acid_l > 0.0 {
        let how = match souring.acidified {
            Some(ph) => format!("until pH {}", shortest(ph.value(), 2)),
            None => format!("until below pH {}", shortest(SAFE_PH.value(), 1)),
        };
        let how = format!("lactic acid 88 %, about: add half, stir and measure, {how}");
        page.timed(&culture_goes_in, &dropped(litres(acid_l)), &how);
    }
    for culture in at(plan, Stage::Sour) {
        let (amount, what) = (
            amount(plan, culture, style),
            described(plan, culture, style),
        );
        page.timed(&culture_goes_in, &amount, &format!("stir in {what}"));
    }
    if at(plan, Stage::Sour).next().is_none() {
        page.timed(&culture_goes_in, "", "stir in the culture of your choice");
    }
    let to = shortest(souring.to.value(), 2);
    let long = stated.time.as_ref().map(Written::value);
    page.timed(
        &culture_goes_in,
        &long.map(time).unwrap_or_default(),
        &format!("keep covered and warm until pH {to}, then boil"),
    );
    page.reading("pH after souring, sample at room temperature", &to);
    if let Some(days) = day.clock.day(Moment::HeatToBoil).filter(|days| *days > 1) {
        page.paragraph(&format!("The clock below is that of day {days}."));
    }
    let acid_kg = plan.brews().target.brewed.lactic_acid_kg;
    let poured_l = souring.acidified.map_or(0.0, |_| acid_l);
    let volume_l = in_litres(plan.volumes.post_boil);
    let all_kg = acid_kg + poured_l * PURE_ACID_KG_PER_L;
    let acid_g_l = 1000.0 * all_kg / volume_l.max(f64::MIN_POSITIVE);
    page.paragraph(&format!(
        "Lactic acid at the end of the boil: about {} g/L, half as much to half as much again.",
        shortest(acid_g_l, 1)
    ));
    let brewed = &plan.brews().target.brewed;
    let made = brewed.boiled.wort;
    let read = as_read(made, acid_kg);
    let (less, unit) = match style.gravity {
        GravityScale::Plato => {
            let plato = made.apparent_plato() - read.apparent_plato();
            (shortest(plato, 1), " °P")
        }
        GravityScale::SpecificGravity => {
            let ratio = |wort: Liquid| gravity_of(wort.apparent_extract()).ratio();
            (shortest(ratio(made) - ratio(read), 3), "")
        }
    };
    // What no hydrometer shows is not expected of it.
    if less != "0" {
        page.paragraph(&format!(
            "Gravities up to the pitching are as mashed. Acid reads lighter: expect {less}{unit} less."
        ));
    }
}
