//! Stands between boil and fermenter, and the cooling to pitching temperature.

use super::addition::{amount, at, described, put_in};
use super::correction::{self, SheetReading};
use super::page::Page;
use super::schedule::{HotSideStep, Moment};
use super::spread::said_with_spread;
use super::{Day, units};
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{PredictedFigure, Stage, Walked, cooled_on};
use crate::quantity::{Temperature, Time, in_litres, in_minutes, litres, minutes};
use crate::recipe::{At, CoolingMethod};
use crate::speech::time;

/// Stands between boil and fermenter, and the cooling to pitching temperature.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let plan = day.plan;
    let cooling = &plan.brews().target.setup.cooling;
    let hopped = at(plan, Stage::Stand).any(|a| a.kind == Kind::Hop);
    let stands = |step: &Walked| matches!(step, Walked::Stand { .. });
    page.heading(match (cooling.walked.iter().any(stands), hopped) {
        (true, true) => "HOP STAND AND COOLING",
        (true, false) => "HOT STAND AND COOLING",
        (false, _) => "COOLING",
    });
    day.cautions.print(page, BrewStep::Cooling);
    let mut stand = 0;
    for (place, step) in cooling.walked.iter().enumerate() {
        match *step {
            Walked::Cool { to_c, time_min } => {
                partly_cool(page, day, place, (to_c, time_min));
            }
            Walked::Stand {
                index: None,
                time_min,
                ..
            } => {
                let time_of = minutes(time_min);
                let own = "hot stand of your brewhouse";
                page.timed(
                    &day.clock.shown(Moment::HotSide(place)),
                    &time(time_of),
                    own,
                );
            }
            Walked::Stand {
                index: Some(index),
                at_c,
                time_min,
            } => {
                stand += 1;
                let steep = Steep {
                    step: index,
                    number: stand,
                    time: minutes(time_min),
                    at: Temperature::clamped(at_c),
                    after_cooling: match day.clock.hot_side.get(place) {
                        Some(HotSideStep::Stand { after_cooling, .. }) => *after_cooling,
                        _ => None,
                    },
                    place,
                };
                steep.print(page, day);
            }
        }
    }
    chill(page, day);
    let style = day.style;
    let expected = |figure: PredictedFigure| {
        let of = (&plan.predicted, plan.spread.as_ref());
        said_with_spread(figure, of, style)
    };
    if let Some(batch) = expected(PredictedFigure::Batch) {
        page.reading("Wort into the fermenter", &batch);
        correction::print(page, plan, (SheetReading::IntoFermenter, style));
    }
    if let Some(original) = expected(PredictedFigure::Original) {
        page.reading(
            &format!("Original gravity, sample at {}", units::cold(style)),
            &original,
        );
        correction::print(page, plan, (SheetReading::OriginalGravity, style));
    }
}

/// Cooling on the way to a stand or to the plant's own cooling.
fn partly_cool(page: &mut Page, day: &Day<'_>, place: usize, (to_c, time_min): (f64, Option<f64>)) {
    let within = time_min.map_or_else(String::new, |min| {
        format!(" in {}", time(minutes(min.round())))
    });
    page.timed(
        &day.clock.shown(Moment::HotSide(place)),
        &day.style.temperature(Temperature::clamped(to_c)),
        &format!("cool the wort to this{within}"),
    );
}

/// A stand of the plan.
struct Steep {
    /// Which step of the recipe's hot side.
    step: usize,
    /// Counted from 1.
    number: usize,
    time: Time,
    at: Temperature,
    /// How long the wort is assumed to cool to it before; none where it is as warm.
    after_cooling: Option<Time>,
    /// Counted from 0 among the steps of the hot side.
    place: usize,
}

impl Steep {
    fn print(&self, page: &mut Page, day: &Day<'_>) {
        let (plan, style) = (day.plan, day.style);
        let cooling = &plan.brews().target.setup.cooling;
        let mut clamped = cooling.clamped_c.iter();
        let heat = style.temperature(self.at);
        let warmth = match clamped.find(|(step, _)| *step == self.step) {
            Some((_, wished_c)) => format!(
                "at {heat}, the boiling point at your altitude (original sheet: {})",
                style.temperature(Temperature::clamped(*wished_c))
            ),
            None if self.place == 0 && self.at.celsius() >= cooling.boiling_c => {
                "starting at flame-out".to_owned()
            }
            None => {
                let about = self.after_cooling.map_or_else(String::new, |cools| {
                    let cools = minutes(in_minutes(cools).ceil());
                    format!(", once the wort has cooled to it (about {})", time(cools))
                });
                format!("at {heat}{about}")
            }
        };
        let long = time(self.time);
        let begins = Moment::HotSide(self.place);
        page.timed(&day.clock.shown(begins), &long, &format!("stand {warmth}"));
        for addition in at(plan, Stage::Stand).filter(|a| a.stand == Some(self.number)) {
            let stay = addition
                .contact
                .map_or_else(String::new, |t| format!(", for {}", time(t)));
            // What stays a shorter time goes in later, so that all come out at the end of the stand.
            let wait = addition.contact.map_or(0.0, |stay| {
                (in_minutes(self.time) - in_minutes(stay)).max(0.0)
            });
            let (amount, what) = (
                amount(plan, addition, style),
                described(plan, addition, style),
            );
            let clock = day.clock.shown_after(begins, minutes(wait));
            put_in(page, &day.cautions, addition, |page| {
                page.timed(&clock, &amount, &format!("{what}{stay}"));
            });
        }
    }
}

fn chill(page: &mut Page, day: &Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let cooling = plan.brewhouse.cooling.as_ref();
    let method = cooling.and_then(|cooling| cooling.method);
    if method == Some(CoolingMethod::NoChill) {
        page.timed(
            &day.clock.shown(Moment::Cooling),
            "",
            "no chill: run the hot wort into a container rated for boiling liquid, never glass, let it cool, and pitch within 24 h of filling",
        );
        return;
    }
    // A yeast that goes in warmer than the plant cools is not waited for.
    let pitched = plan.recipe.fermentation.pitch.as_ref();
    let pitched = pitched.and_then(|pitch| match &pitch.timing.at {
        Some(At::Temperature(at)) => Some(at.value()),
        _ => None,
    });
    let to = cooling.and_then(|cooling| cooling.to.as_ref()).map_or_else(
        || "pitching temperature".to_owned(),
        |to| {
            let warmer = pitched.filter(|at| *at > to.value());
            style.temperature(warmer.unwrap_or(to.value()))
        },
    );
    let within = cooling
        .and_then(|cooling| cooling.time.as_ref())
        .map_or_else(String::new, |t| format!(" in {}", time(t.value())));
    let by = match method {
        Some(CoolingMethod::Coil) => " with the coil",
        Some(CoolingMethod::Plate) => " through the plate chiller",
        _ => "",
    };
    let setup = &plan.brews().target.setup;
    let goes_on = cooled_on(&setup.formula, &setup.plant, &plan.brewhouse);
    let on = goes_on.and_then(|on| Some((on.to, minutes(on.coil_min?.ceil()))));
    let on = on.map_or_else(String::new, |(to, long)| {
        format!(
            ", and on to {} in {} more",
            style.temperature(to),
            time(long)
        )
    });
    let top_up = plan.brews().target.brewed.top_up;
    let left = in_litres(plan.volumes.post_boil) + top_up.volume_l()
        - in_litres(plan.volumes.into_fermenter);
    let behind = if left > 0.0 {
        format!("; trub {}", style.about_volume(litres(left)))
    } else {
        String::new()
    };
    page.timed(
        &day.clock.shown(Moment::Cooling),
        "",
        &format!("cool to {to}{within}{by}{on}, run into the sanitised fermenter{behind}"),
    );
    if top_up.water_kg > 0.0 {
        page.timed(
            &day.clock.shown(Moment::Filled),
            &style.volume(top_up.volume()),
            "cold, clean water into the fermenter: boiled before, or from a supply that needs no boiling",
        );
    }
}
