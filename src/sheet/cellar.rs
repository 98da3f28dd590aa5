//! The fermenter: pitching, later additions, packaging.

use super::acid;
use super::day::{amount, at, described};
use super::page::Page;
use super::units;
use crate::catalogue::Kind;
use crate::process::{GasPlan, Stage};
use crate::quantity::{in_kilograms, in_litres, in_minutes, litres, minutes};
use crate::scale::{Plan, PlannedAddition};
use crate::science::yeast::{
    CellDensity, Cells, dry_yeast, living, packs, starter, viability_after,
};
use crate::speech::{Style, alcohol, shortest, time};

/// Living cells in a gram of dry yeast, the least and the most that was read, in thousand millions: producers state at
/// least 6, a magazine counted 14 (see `science::yeast`).
const DRY_YEAST_BILLION_PER_G: (f64, f64) = (6.0, 14.0);

/// Cells in a fresh pack of liquid yeast, thousand millions (common practice, no source).
const LIQUID_PACK_BILLION: f64 = 100.0;
/// How long such a pack may have been kept, days (common practice, no source).
const OLD_DAYS: f64 = 60.0;
/// More packs than this nobody buys (rule of the crate).
const MOST_PACKS: u32 = 20;

/// Oxygen, yeast, temperatures.
pub(super) fn pitching(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("PITCH AND FERMENT");
    headspace(page, plan, style);
    page.tick(
        "oxygen",
        "shake, splash or aerate the cooled wort well before the yeast goes in",
    );
    for yeast in at(plan, Stage::Ferment).filter(|a| a.kind == Kind::Yeast) {
        let cells = plan
            .cells
            .map_or_else(String::new, |cells| format!(", {}", units::cells(cells)));
        let warmth = yeast
            .temperature
            .map_or_else(String::new, |t| format!(", at {}", style.temperature(t)));
        page.tick(
            &amount(yeast, style),
            &format!("pitch {}{cells}{warmth}", yeast.name),
        );
        if let Some(temperature) = yeast.temperature {
            page.reading("Pitching temperature", &style.temperature(temperature));
        }
    }
    if let Some(cells) = plan.cells {
        let (least, most) = DRY_YEAST_BILLION_PER_G;
        let mass = |per_g: f64| {
            CellDensity::from_billions_per_gram(per_g)
                .map(|density| units::dry_yeast(dry_yeast(cells, density), style))
                .unwrap_or_default()
        };
        page.paragraph(&format!(
            "As dry yeast: {} to {}, at {most:.0} to {least:.0} billion living cells a gram; go by the pack.",
            mass(most),
            mass(least),
        ));
    }
    if let Some(said) = plan.cells.and_then(|cells| liquid_yeast(cells, style)) {
        page.paragraph(&said);
    }
    for hold in &plan.recipe.fermentation.holds {
        let long = hold
            .time
            .as_ref()
            .map_or_else(String::new, |t| format!(" for {}", time(t.value())));
        page.tick(
            &style.temperature(hold.temperature.value()),
            &format!("hold{long}"),
        );
    }
    for _ in 0..2 {
        let reading = "day ____ gravity ________ at ____";
        page.hung("       ", &format!("{reading}   {reading}"));
    }
    if let Some(wort_final) = plan
        .predicted
        .wort_final
        .filter(|_| plan.predicted.before_addition.is_some())
    {
        page.paragraph(&format!(
            "Without the later additions it would stop at {}.",
            style.gravity(wort_final)
        ));
    }
}

/// Packs of liquid yeast, fresh and old, or a starter from one of them; nothing where that would be a crate full.
fn liquid_yeast(cells: Cells, style: Style) -> Option<String> {
    let pack = Cells::from_billions(LIQUID_PACK_BILLION).ok()?;
    let old = living(
        pack,
        viability_after(minutes(1440.0 * OLD_DAYS)).ok()?.expected,
    );
    let (fresh, aged) = (packs(cells, pack).ok()?, packs(cells, old).ok()?);
    if fresh > MOST_PACKS {
        return None;
    }
    let counted = |count: u32| format!("{count} {}", if count == 1 { "pack" } else { "packs" });
    let grown = starter(cells, old).ok()?.map_or_else(String::new, |grown| {
        let steps = if grown.steps == 1 {
            "one step".to_owned()
        } else {
            format!("{} steps", grown.steps)
        };
        format!(
            ", or one such pack grown in a starter of {} in {steps}",
            style.volume(grown.volume)
        )
    });
    Some(format!(
        "As liquid yeast of {LIQUID_PACK_BILLION:.0} billion cells a pack: {} fresh; {} kept cold for {OLD_DAYS:.0} days, of which about {:.0} % live{grown}.",
        counted(fresh),
        counted(aged),
        100.0 * old.billions() / LIQUID_PACK_BILLION
    ))
}

/// The room that is left in the fermenter when everything is in it.
fn headspace(page: &mut Page, plan: &Plan, style: Style) {
    let Some(fermenter) = &plan.brewhouse.fermenter else {
        return;
    };
    let most_l = fullest_l(plan);
    let room_l = in_litres(fermenter.value()) - most_l;
    let room = if room_l > 0.0 {
        format!("leaves {} for the foam", style.volume(litres(room_l)))
    } else {
        format!("overflows by {}", style.volume(litres(-room_l)))
    };
    page.paragraph(&format!(
        "The fermenter holds {}; with everything in it, {}, that {room}.",
        style.volume(fermenter.value()),
        style.volume(litres(most_l))
    ));
}

/// Litres in the fermenter when it is fullest.
fn fullest_l(plan: &Plan) -> f64 {
    in_litres(plan.volumes.after_additions).max(in_litres(plan.volumes.into_fermenter))
}

/// Whether the fermenter runs over, headspace or none.
pub(super) fn overflows(plan: &Plan) -> bool {
    let fermenter = plan.brewhouse.fermenter.as_ref();
    fermenter.is_some_and(|fermenter| fullest_l(plan) > in_litres(fermenter.value()))
}

/// What goes into the fermenter later, blend by blend.
pub(super) fn later_additions(page: &mut Page, plan: &Plan, style: Style) {
    let later: Vec<_> = at(plan, Stage::Ferment)
        .filter(|a| a.kind != Kind::Yeast)
        .collect();
    if later.is_empty() {
        return;
    }
    page.heading("LATER ADDITIONS");
    for group in later.chunk_by(|a, b| a.blend.is_some() && a.blend == b.blend) {
        let Some(first) = group.first() else { continue };
        page.paragraph(&when(first, group, style));
        for part in group {
            page.tick(&amount(part, style), &described(part, style));
        }
        let met = group
            .iter()
            .find_map(|part| Some((part.before?, part.after?)));
        if let Some((before, after)) = met {
            page.reading("Gravity just before", &style.gravity(before));
            page.reading("Gravity just after; it may rise", &style.gravity(after));
        }
        page.gap();
    }
    page.reading(
        "In the fermenter with everything in it",
        &style.volume(plan.volumes.after_additions),
    );
    acid::brought(page, plan);
}

fn when(first: &PlannedAddition, group: &[&PlannedAddition], style: Style) -> String {
    let start = match (first.when, first.on_day, first.temperature) {
        (Some(gravity), ..) => format!(
            "When the apparent gravity has fallen to {}",
            style.gravity(gravity)
        ),
        (_, Some(day), _) => format!("On day {}", shortest(in_minutes(day) / 1440.0, 1)),
        (_, _, Some(temperature)) => format!("At {}", style.temperature(temperature)),
        _ => "When it has fermented".to_owned(),
    };
    let stay = first
        .contact
        .map_or_else(String::new, |t| format!(", for {}", time(t)));
    let total_l: f64 = group.iter().filter_map(|p| p.volume).map(in_litres).sum();
    let blend = if group.len() > 1 && group.iter().all(|part| part.volume.is_some()) {
        format!(" {} of this blend", style.volume(litres(total_l)))
    } else {
        String::new()
    };
    format!("{start}{stay} add{blend}:")
}

/// When to package, and what goes in.
pub(super) fn packaging(page: &mut Page, plan: &Plan, style: Style) {
    page.heading("PACKAGE");
    page.tick("", "package after two equal readings three days apart");
    page.hung(
        "           ",
        "1st reading ____________ on ________   2nd reading ____________ on ________",
    );
    if let Some(gravity) = plan.predicted.final_extract {
        page.reading(
            "Final gravity (by hydrometer, gas shaken out)",
            &style.gravity(gravity),
        );
    }
    for addition in at(plan, Stage::Package) {
        page.tick(&amount(addition, style), &described(addition, style));
    }
    let package = &plan.recipe.package;
    let gas = package
        .carbonation
        .as_ref()
        .or(plan.recipe.targets.carbonation.as_ref());
    let into = package
        .container
        .as_ref()
        .map_or_else(String::new, |container| format!("into: {container}"));
    let carbonate = gas.map_or_else(String::new, |gas| {
        let at = package.temperature.as_ref().map_or_else(String::new, |t| {
            format!(" at {}", style.temperature(t.value()))
        });
        format!("carbonate to {}{at}", style.carbon_dioxide(gas.value()))
    });
    let line: Vec<_> = [into, carbonate]
        .into_iter()
        .filter(|text| !text.is_empty())
        .collect();
    if !line.is_empty() {
        page.tick("", &line.join("; "));
    }
    page.reading("Beer packaged", &style.volume(plan.volumes.packaged));
    if let Some(gas) = &plan.gas {
        carbonation(page, gas, style);
    }
}

/// The pressure on the keg, or the sugar for what is closed.
fn carbonation(page: &mut Page, gas: &GasPlan, style: Style) {
    match gas {
        GasPlan::Forced {
            temperature, gauge, ..
        } => page.tick(
            &style.pressure(*gauge),
            &format!(
                "on the gauge of the keg's gas, beer at {}, until the keg takes up no more; never above the keg's marking, and with a relief valve",
                style.temperature(*temperature)
            ),
        ),
        GasPlan::Conditioned {
            container,
            wanted,
            sucrose,
            glucose,
            priming_alcohol,
            ..
        } => {
            let primes = in_kilograms(*sucrose) > 0.0;
            if primes {
                page.tick(
                    &units::weighed(*sucrose, style),
                    &format!(
                        "table sugar, or {} of anhydrous glucose, boiled in a little water and mixed into the beer evenly, for {}",
                        units::weighed(*glucose, style),
                        container.plural()
                    ),
                );
            }
            let counted = gas.counted(style).join(", ");
            let weigh = if primes {
                format!(
                    "Weigh for the beer that you package; the sugar adds {}.",
                    alcohol(*priming_alcohol)
                )
            } else if wanted.is_some() {
                "Add no sugar.".to_owned()
            } else {
                "No carbonation is stated, so no sugar is added.".to_owned()
            };
            page.paragraph(&format!(
                "Counted: {counted}. {weigh} {}.",
                capital(container.advice())
            ));
        }
    }
}

/// The phrase as a sentence begins.
fn capital(phrase: &str) -> String {
    let mut letters = phrase.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
