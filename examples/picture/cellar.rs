//! The fermenter and the package to brew from: yeast, temperatures, additions, gas.

use super::brew::cells;
use super::page::Brewing;
use super::rows::{self, Rows, amount, described, may_burst};
use std::cmp::Ordering;
use wortwright::catalogue::Kind;
use wortwright::caution::BrewStep;
use wortwright::process::{GasPlan, Stage};
use wortwright::quantity::uom::si::{mass::kilogram, time::day, volume::liter};
use wortwright::scale::{Plan, PlannedAddition};
use wortwright::science::yeast::{CellDensity, Cells, dry_yeast};
use wortwright::sheet::{Moment, SheetReading};
use wortwright::speech::{Speaks, Style, time};

/// Living cells in a gram of dry yeast, the most and the least that was read, in thousand millions: a magazine counted 14,
/// producers state at least 6 (as in the library's sheet).
const DRY_YEAST_BILLION_PER_G: [f64; 2] = [14.0, 6.0];

/// Yeast and temperatures.
pub(crate) fn fermentation(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut rows = Rows::timed();
    let pitch = brewing.schedule.shown(Moment::Pitch);
    for yeast in rows::at(brewing, Stage::Ferment).filter(|a| a.kind == Kind::Yeast) {
        let count = plan.cells.map(cells);
        let count = count.map_or_else(String::new, |count| format!(", {count}"));
        let warmth = yeast.temperature;
        let warmth = warmth.map_or_else(String::new, |t| format!(", at {}", style.temperature(t)));
        let text = format!("aerate well, pitch {}{count}{warmth}", yeast.name);
        rows.at(&pitch, &amount(yeast, brewing), &text);
    }
    if let Some(note) = plan.cells.and_then(|count| dry(count, style)) {
        rows.note(&note);
    }
    for hold in &plan.recipe.fermentation.holds {
        let long = hold.time.as_ref();
        let long = long.map_or_else(String::new, |t| format!(" for {}", time(t.value())));
        let warmth = style.temperature(hold.temperature.value());
        rows.tick(&warmth, &format!("hold{long}"));
    }
    rows.under("Yeast and temperatures", BrewStep::Fermentation, brewing)
}

/// Grams of dry yeast for so many cells.
fn dry(count: Cells, style: Style) -> Option<String> {
    let mut masses = Vec::new();
    for billions in DRY_YEAST_BILLION_PER_G {
        let density = CellDensity::from_billions_per_gram(billions).ok()?;
        let mass = dry_yeast(count, density);
        let g = mass.get::<kilogram>() * 1000.0;
        // Packs are sold in grams everywhere.
        masses.push(match g {
            0.1..9.5 => format!("{g:.1} g"),
            9.5..999.5 => format!("{g:.0} g"),
            _ => style.mass(mass),
        });
    }
    Some(format!(
        "As dry yeast: {} (14 to 6 billion cells per gram); follow the pack.",
        masses.join(" to ")
    ))
}

/// What goes into the fermenter after the yeast.
pub(crate) fn additions(brewing: &Brewing<'_>) -> String {
    let style = brewing.style;
    let later: Vec<_> = rows::at(brewing, Stage::Ferment)
        .filter(|a| a.kind != Kind::Yeast)
        .collect();
    let mut rows = Rows::new();
    for group in later.chunk_by(|a, b| a.blend.is_some() && a.blend == b.blend) {
        let Some(first) = group.first() else { continue };
        rows.note(&when(first, style));
        for part in group {
            rows.tick(&amount(part, brewing), &described(part, brewing));
        }
        let met = group.iter().find_map(|a| Some((a.before?, a.after?)));
        if let Some((before, after)) = met {
            let (was, is) = (style.gravity(before), style.gravity(after));
            let turn = match after.plato().total_cmp(&before.plato()) {
                _ if was == is => "",
                Ordering::Greater => " (rises)",
                _ => " (falls)",
            };
            rows.measure(&was, "gravity just before (lower: add all anyway)");
            rows.measure(&is, &format!("gravity just after{turn}"));
        }
    }
    rows.under("Additions", BrewStep::Additions, brewing)
}

fn when(first: &PlannedAddition, style: Style) -> String {
    let start = match (first.when, first.on_day, first.temperature) {
        (Some(gravity), ..) => format!(
            "When the apparent gravity has fallen to {}",
            style.gravity(gravity)
        ),
        (_, Some(on), _) => {
            let on = format!("{:.1}", on.get::<day>());
            format!("On day {}", on.trim_end_matches(".0"))
        }
        (_, _, Some(warmth)) => format!("At {}", style.temperature(warmth)),
        _ => "When fermentation is complete".to_owned(),
    };
    let stay = first.contact;
    let stay = stay.map_or_else(String::new, |t| format!(", for {}", time(t)));
    format!("{start}{stay}, add:")
}

/// Container and gas.
pub(crate) fn packaging(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut rows = Rows::new();
    let goes_on = brewing.cautions.iter().any(|c| c.code == "diastatic");
    rows.tick(
        "",
        if goes_on {
            "package only when the gravity has not moved for 3 weeks"
        } else {
            "package after two equal readings three days apart"
        },
    );
    if let Some(gravity) = plan.predicted.final_extract {
        rows.measure(&style.gravity(gravity), "final gravity, degassed sample");
        rows.correct(brewing, SheetReading::FinalGravity);
    }
    let bursts = may_burst(plan);
    let kept = |a: &&PlannedAddition| !(bursts && matches!(a.kind, Kind::Sugar | Kind::Juice));
    for addition in rows::at(brewing, Stage::Package).filter(kept) {
        rows.tick(&amount(addition, brewing), &described(addition, brewing));
    }
    rows.measure(&style.volume(plan.volumes.packaged), "beer packaged");
    if bursts {
        rows.note("Do not prime: see the box at the head of this page.");
    } else {
        gas(&mut rows, plan, style);
    }
    rows.under("Packaging", BrewStep::Packaging, brewing)
}

fn gas(rows: &mut Rows, plan: &Plan, style: Style) {
    match &plan.gas {
        Some(gas @ GasPlan::Forced { gauge, .. }) => {
            rows.tick(&style.pressure(*gauge), &gas.text(style));
        }
        Some(gas @ GasPlan::Conditioned { sucrose, .. }) => {
            let primes = sucrose.get::<kilogram>() > 0.0;
            let much = if primes {
                style.about_mass(*sucrose)
            } else {
                String::new()
            };
            rows.tick(&much, &gas.text(style));
        }
        _ => {
            let package = &plan.recipe.package;
            let gas = package.carbonation.as_ref();
            let gas = gas.map(|gas| format!("carbonate to {}", style.carbon_dioxide(gas.value())));
            let line: Vec<_> = package.container.iter().cloned().chain(gas).collect();
            if !line.is_empty() {
                rows.tick("", &line.join(", "));
            }
        }
    }
}

/// Whether the fermenter cannot hold what goes in.
pub(crate) fn overflows(plan: &Plan) -> bool {
    let volumes = &plan.volumes;
    let most = volumes.after_additions.max(volumes.into_fermenter);
    let fermenter = plan.brewhouse.fermenter.as_ref();
    fermenter.is_some_and(|room| most.get::<liter>() > room.value().get::<liter>())
}
