//! When to package, and the pressure or the sugar for it.

use super::addition::{add, at};
use super::correction::{self, SheetReading};
use super::page::Page;
use super::spread::said_with_spread;
use super::{Day, units};
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{Container, GasPlan, PredictedFigure, Stage, Warning};
use crate::quantity::{Temperature, UnitSystem, in_kilograms, in_litres};
use crate::scale::Plan;
use crate::speech::{Noted, Style, alcohol, capital};

/// Dextrose as it is sold, with a water of crystallisation: 198.17 g/mol over 180.16 g/mol of glucose.
const DEXTROSE_PER_GLUCOSE: f64 = 1.1;

/// Temperature of a cellar for casks, °C (common practice, no source: 11 to 13).
const CASK_C: f64 = 12.0;

/// When to package, and what goes in.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    page.heading("PACKAGING");
    // What goes in at packaging foams over too, where nothing went in before.
    day.cautions.print(page, BrewStep::Additions);
    day.cautions.print(page, BrewStep::Packaging);
    let creeps = |told: &Noted<Warning>| matches!(told.what, Warning::HopCreepSealed { .. });
    page.tick(
        "",
        if day.cautions.ferments_dextrins {
            "package only when the gravity has not moved for 3 weeks"
        } else if plan.warnings.iter().any(creeps) {
            "package only when the gravity has not moved for 2 weeks after dry hopping, kept as warm as it fermented"
        } else {
            "package after two equal readings three days apart"
        },
    );
    let of = (&plan.predicted, plan.spread.as_ref());
    if let Some(gravity) = said_with_spread(PredictedFigure::Final, of, style) {
        page.lines_of_blanks(
            &format!("   >> Final gravity {gravity} (degassed): "),
            &["1st ________ on ______", "2nd ________ on ______"],
        );
        correction::print(page, plan, (SheetReading::FinalGravity, style));
    }
    let bursts = over_limit(plan);
    for addition in at(plan, Stage::Package) {
        if bursts && matches!(addition.kind, Kind::Sugar | Kind::Juice) {
            let name = &addition.name;
            page.point(&format!("leave out {name}: see the box on the first page"));
        } else {
            add(page, day, addition);
        }
    }
    if !bursts && !matches!(plan.gas, Some(GasPlan::Forced { .. })) {
        container(page, plan, style);
    }
    page.reading("Beer packaged", &style.volume(plan.volumes.packaged));
    if let Some(gas) = &plan.gas {
        carbonation(page, plan, gas, style);
    }
}

/// The container and the carbonation as they are wanted.
fn container(page: &mut Page, plan: &Plan, style: Style) {
    let package = &plan.recipe.package;
    let gas = package
        .carbonation
        .as_ref()
        .or(plan.recipe.targets.carbonation.as_ref());
    let carbonate = gas.map(|gas| {
        let at = package.temperature.as_ref().map_or_else(String::new, |t| {
            format!(" at {}", style.temperature(t.value()))
        });
        format!("carbonate to {}{at}", style.carbon_dioxide(gas.value()))
    });
    let line: Vec<_> = package.container.iter().cloned().chain(carbonate).collect();
    if !line.is_empty() {
        page.tick("", &line.join(", "));
    }
}

/// The pressure on the keg, or the sugar for what is closed.
fn carbonation(page: &mut Page, plan: &Plan, gas: &GasPlan, style: Style) {
    let of = (&plan.predicted, plan.spread.as_ref());
    let reached = said_with_spread(PredictedFigure::Carbonation, of, style);
    let reached = reached.unwrap_or_else(|| style.carbon_dioxide(gas.reached()));
    match gas {
        GasPlan::Forced {
            temperature, gauge, ..
        } => page.tick(
            &style.pressure(*gauge),
            &format!(
                "keg at {} for {reached}; below its stamped pressure",
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
            if *container == Container::Bottle && !over_limit(plan) {
                page.paragraph(&bottles(plan, style));
            }
            // Nobody primes bottles that burst: the box at the head says why.
            if over_limit(plan) {
                page.paragraph("Do not prime: see the box on the first page.");
                return;
            }
            let primes = in_kilograms(*sucrose) > 0.0;
            if primes {
                page.tick(
                    &units::weighed(*sucrose, style),
                    &format!(
                        "table sugar, or {} of dextrose (monohydrate), for {}: boil it in a little water, mix in evenly",
                        units::weighed(*glucose * DEXTROSE_PER_GLUCOSE, style),
                        container.plural()
                    ),
                );
            }
            if *container == Container::Cask {
                let cool = style.temperature(Temperature::clamped(CASK_C));
                page.paragraph(&format!(
                    "Cask: stand it at {cool}, vent it through a soft spile for a day before serving, then keep a hard spile in between servings. Once air is in, drink it within 3 days."
                ));
            }
            let counted = gas.counted(style).join(", ");
            let weigh = if primes {
                format!(
                    "Scale the sugar to the volume packaged; it adds {} of alcohol and brings the beer to {reached}.",
                    alcohol(*priming_alcohol)
                )
            } else if wanted.is_some() {
                "Add no more sugar.".to_owned()
            } else {
                format!("No carbonation is given: the beer reaches {reached}.")
            };
            // The caution above speaks of bottles.
            let advice = match container {
                Container::Bottle => String::new(),
                _ => format!(" {}.", capital(container.advice())),
            };
            page.paragraph(&format!("Allows for {counted}. {weigh}{advice}"));
        }
    }
}

/// Whether a closed container could burst.
fn over_limit(plan: &Plan) -> bool {
    let mut warnings = plan.warnings.iter();
    warnings.any(|warning| {
        matches!(
            warning.what,
            Warning::PackageOverLimit { .. } | Warning::KegOverLimit { .. }
        )
    })
}

/// How many bottles of the customary sizes the beer fills.
fn bottles(plan: &Plan, style: Style) -> String {
    /// Sizes in which bottles are sold, litres (common practice, no source).
    const METRIC: [(f64, &str); 2] = [(0.5, "500 mL"), (0.33, "330 mL")];
    const US: [(f64, &str); 2] = [(0.355, "12 fl oz"), (0.65, "22 fl oz")];
    const IMPERIAL: [(f64, &str); 2] = [(0.568, "1 imp pt"), (0.5, "500 mL")];
    let sizes = match style.system {
        UnitSystem::Metric => METRIC,
        UnitSystem::Us => US,
        UnitSystem::Imperial => IMPERIAL,
    };
    let beer_l = in_litres(plan.volumes.packaged);
    let counts = sizes.map(|(each_l, name)| format!("{:.0} of {name}", (beer_l / each_l).floor()));
    format!("Bottles: {}.", counts.join(" or "))
}
