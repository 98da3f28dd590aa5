//! The fermenter: pitching and later additions.

use super::Day;
use super::addition::{add, amount, at};
use super::page::Page;
use super::schedule::Moment;
use super::spread::said_with_spread;
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{CauseKind, CooledOn, PredictedFigure, Stage, Warning, cap_l, cooled_on};
use crate::quantity::{Extract, Time, Written, in_litres, in_minutes, litres};
use crate::scale::{Plan, PlannedAddition};
use crate::speech::{Noted, Style, shortest, time};
use std::cmp::Ordering;

/// Wort this much warmer than the yeast wants needs no refrigerator (rule of the crate), K.
const BY_ITSELF_K: f64 = 2.5;

/// Beer this near to a temperature is at it (rule of the crate), K.
const NEAR_K: f64 = 0.5;

/// Oxygen, yeast, temperatures.
pub(super) fn pitching(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    page.heading("FERMENTATION");
    day.cautions.print(page, BrewStep::Fermentation);
    headspace(page, plan, style);
    let setup = &plan.brews().target.setup;
    if let Some(CooledOn {
        from,
        to,
        coil_min: None,
    }) = cooled_on(&setup.formula, &setup.plant, &plan.brewhouse)
    {
        page.timed(
            &day.clock.shown(Moment::Filled),
            &style.temperature(to),
            &if from.celsius() - to.celsius() > BY_ITSELF_K {
                format!(
                    "cool on from {} in a refrigerator or cold room, closed and with an airlock; a night is usual",
                    style.temperature(from)
                )
            } else {
                format!("let it fall from {}, closed and with an airlock", style.temperature(from))
            },
        );
    }
    if let Some(yeast) = pitched(plan) {
        let warmth = yeast.temperature.map_or_else(String::new, |t| {
            format!(" at {} (measured ______)", style.temperature(t))
        });
        page.timed(
            &day.clock.shown(Moment::Pitch),
            &amount(plan, yeast, style),
            &format!("aerate well, pitch {}{warmth}", yeast.name),
        );
    } else {
        page.timed(
            &day.clock.shown(Moment::Pitch),
            "",
            "aerate well, pitch the yeast",
        );
    }
    let is_strong = |told: &Noted<Warning>| matches!(told.what, Warning::StrongWort { .. });
    if plan.warnings.iter().any(is_strong) {
        page.tick("", "aerate again, 12 to 18 h after pitching");
    }
    // Days since pitching; none after a hold of unknown length.
    let (mut day_now, mut now) = (Some(0.0), pitched(plan).and_then(|yeast| yeast.temperature));
    for hold in &plan.recipe.fermentation.holds {
        let long = hold.time.as_ref().map(Written::value);
        let from = day_now;
        day_now = from.and_then(|from| Some(from + in_days(long?)));
        let days = match (from, day_now) {
            (Some(from), Some(to)) => format!(", day {} to {}", shortest(from, 1), shortest(to, 1)),
            (Some(from), None) => format!(", from day {}", shortest(from, 1)),
            _ => String::new(),
        };
        let long = long.map_or_else(String::new, |long| format!(" for {}", time(long)));
        let (before, at) = (now, hold.temperature.value());
        now = Some(at);
        let way = match before {
            Some(before) if at.celsius() > before.celsius() + NEAR_K => "let it rise to this and ",
            Some(before) if at.celsius() < before.celsius() - NEAR_K => "cool it to this and ",
            _ => "",
        };
        page.tick(&style.temperature(at), &format!("{way}hold{long}{days}"));
    }
    for _ in 0..2 {
        const READING: &str = "day ____  gravity ________  temp ____";
        page.lines_of_blanks("       ", &[READING, READING]);
    }
}

/// The yeast that the wort is pitched with; one that is named after it goes in later.
fn pitched(plan: &Plan) -> Option<&PlannedAddition> {
    at(plan, Stage::Ferment).find(|a| a.kind == Kind::Yeast)
}

/// The room that is left in the fermenter when everything is in it.
fn headspace(page: &mut Page, plan: &Plan, style: Style) {
    let Some(fermenter) = &plan.brewhouse.fermenter else {
        return;
    };
    let most_l = fullest_l(plan);
    let room_l = in_litres(fermenter.value()) - most_l;
    let room = if room_l > 0.0 {
        format!("{} headspace", style.about_volume(litres(room_l)))
    } else {
        format!("too full by {}", style.about_volume(litres(-room_l)))
    };
    let with = if has_cap(plan) {
        format!(
            " with the fruit and its cap ({} of beer)",
            style.volume(plan.volumes.after_additions)
        )
    } else if adds_later(plan) && most_l > in_litres(plan.volumes.into_fermenter) {
        " with all additions".to_owned()
    } else {
        String::new()
    };
    page.paragraph(&format!(
        "Fermenter {}, filled to {}{with}: {room}.",
        style.volume(fermenter.value()),
        style.volume(litres(most_l))
    ));
}

/// Whether anything but yeast goes into the fermenter after the wort.
pub(super) fn adds_later(plan: &Plan) -> bool {
    let before = usize::from(plan.recipe.fermentation.top_up.is_some());
    let mut later = at(plan, Stage::Ferment).skip(before);
    later.any(|addition| addition.kind != Kind::Yeast)
}

/// Litres in the fermenter when it is fullest, with the cap of fruit.
fn fullest_l(plan: &Plan) -> f64 {
    let wort_l = in_litres(plan.volumes.into_fermenter);
    let filled_l = in_litres(plan.volumes.after_additions) + cap_l(&plan.brews().target);
    filled_l.max(wort_l)
}

/// Whether fruit floats up as a cap.
pub(super) fn has_cap(plan: &Plan) -> bool {
    cap_l(&plan.brews().target) > 0.0
}

/// Whether the fermenter runs over, headspace or none.
pub(super) fn overflows(plan: &Plan) -> bool {
    let fermenter = plan.brewhouse.fermenter.as_ref();
    fermenter.is_some_and(|fermenter| fullest_l(plan) > in_litres(fermenter.value()))
}

/// What goes into the fermenter later, blend by blend.
pub(super) fn later_additions(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let first = pitched(plan);
    // Water that makes up the wort stands first, and went in before the yeast.
    let before = usize::from(plan.recipe.fermentation.top_up.is_some());
    let later: Vec<_> = at(plan, Stage::Ferment)
        .skip(before)
        .filter(|a| !first.is_some_and(|first| std::ptr::eq(first, *a)))
        .collect();
    if later.is_empty() {
        return;
    }
    page.heading("FERMENTER ADDITIONS");
    day.cautions.print(page, BrewStep::Additions);
    for group in later.chunk_by(|a, b| a.blend.is_some() && a.blend == b.blend) {
        let Some(first) = group.first() else { continue };
        page.paragraph(&when(day, first, group));
        for part in group {
            add(page, day, part);
        }
        let met = group
            .iter()
            .find_map(|part| Some((part.before?, part.after?)));
        if let Some((before, after)) = met {
            let lower = if first.when.is_some() {
                " (lower: add all anyway)"
            } else {
                ""
            };
            page.reading(
                &format!("Gravity just before{lower}"),
                &style.gravity(before),
            );
            let is_first = plan.predicted.before_addition == Some(before);
            if let Some(end) = first
                .when
                .filter(|_| is_first)
                .and_then(|awaited| end_above(plan, awaited, style))
            {
                page.paragraph(&end);
            }
            let (shown_before, shown_after) = (style.gravity(before), style.gravity(after));
            let turn = match after.plato().total_cmp(&before.plato()) {
                _ if shown_before == shown_after => "",
                Ordering::Greater => " (rises)",
                _ => " (falls)",
            };
            page.reading(&format!("Gravity just after{turn}"), &shown_after);
        }
    }
    // Dry hops fill nothing, and what they keep shows when the beer is packaged.
    if later.iter().any(|addition| addition.kind != Kind::Hop) {
        page.reading(
            "Volume with all additions",
            &style.volume(plan.volumes.after_additions),
        );
    }
}

/// What to do where the first addition may wait in vain.
fn end_above(plan: &Plan, awaited: Extract, style: Style) -> Option<String> {
    let spread = plan.spread.as_ref()?;
    let causes = &spread.of(PredictedFigure::BeforeAddition)?.causes;
    let mut causes = causes.iter().map(|cause| cause.kind);
    let of = (&plan.predicted, Some(spread));
    let end = said_with_spread(PredictedFigure::WortFinal, of, style)?;
    causes.any(|kind| kind == CauseKind::EndsAbove).then(|| {
        format!(
            "Two equal readings above {}: add the planned amounts then. Without the addition fermentation ends at {end}.",
            style.gravity(awaited)
        )
    })
}

fn when(day: &Day<'_>, first: &PlannedAddition, group: &[&PlannedAddition]) -> String {
    let style = day.style;
    let start = match (first.when, first.on_day, first.temperature) {
        (Some(gravity), ..) => format!(
            "When the apparent gravity has fallen to {}",
            style.gravity(gravity)
        ),
        (_, Some(day), _) => format!("On day {}", shortest(in_minutes(day) / 1440.0, 1)),
        (_, _, Some(temperature)) => format!("At {}", style.temperature(temperature)),
        _ => "When fermentation is complete".to_owned(),
    };
    let stay = first
        .contact
        .map_or_else(String::new, |t| format!(", for {}", time(t)));
    // What must not go into a drink is no part of what is added.
    let goes_in = |part: &&&PlannedAddition| !day.cautions.is_blocked(&part.name);
    let parts = group.iter().filter(goes_in);
    let total_l: f64 = parts.filter_map(|p| p.volume).map(in_litres).sum();
    let blend = if group.len() > 1 && group.iter().all(|part| part.volume.is_some()) {
        format!(" {} of this blend", style.volume(litres(total_l)))
    } else {
        String::new()
    };
    format!("{start}{stay}, add{blend}:")
}

fn in_days(time: Time) -> f64 {
    in_minutes(time) / 1440.0
}
