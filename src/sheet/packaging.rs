//! When to package, and the pressure or the sugar for it.

use super::Day;
use super::addition::{add, at};
use super::correction::{self, SheetReading};
use super::page::Page;
use super::spread::said_with_spread;
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{
    CauseKind, Container, DEXTROSE_PER_GLUCOSE, GasPlan, PredictedFigure, Stage, Warning, regulator,
};
use crate::quantity::{Mass, Temperature, UnitSystem, in_kilograms, in_litres};
use crate::scale::Plan;
use crate::speech::{Noted, Style, alcohol, capital};

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
        } => page.tick("", &regulator((*gauge, *temperature), &reached, style)),
        GasPlan::Conditioned {
            container,
            wanted,
            sucrose,
            glucose,
            priming_alcohol,
            ..
        } => {
            if let Some(count) = bottles(plan, style) {
                page.paragraph(&format!("{}.", capital(&count)));
            }
            // Nobody primes bottles that burst: the box at the head says why.
            if over_limit(plan) {
                page.paragraph("Do not prime: see the box on the first page.");
                return;
            }
            let primes = in_kilograms(*sucrose) > 0.0;
            if primes {
                page.tick(
                    &style.about_mass(*sucrose),
                    &format!(
                        "table sugar, or {} of dextrose (monohydrate), for {}: boil it in a little water, mix in evenly",
                        style.about_mass(*glucose * DEXTROSE_PER_GLUCOSE),
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
                    "Scale the sugar to the volume packaged; it adds {} of alcohol and brings the beer to {reached}.{}",
                    alcohol(*priming_alcohol),
                    narrows(plan)
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

/// What most of the spread of the carbonation comes from, and what narrows it.
fn narrows(plan: &Plan) -> String {
    let spread = plan.spread.as_ref();
    let causes = spread.and_then(|spread| spread.of(PredictedFigure::Carbonation));
    let most = causes.and_then(|carbonation| {
        let causes = carbonation.causes.iter();
        causes.max_by(|a, b| a.share.fraction().total_cmp(&b.share.fraction()))
    });
    let told = most.and_then(|cause| match cause.kind {
        CauseKind::ResidualGravity => {
            Some("sugar still to ferment; bottle only when the gravity is steady")
        }
        CauseKind::BeerTemperature => {
            Some("the temperature of the beer; note the warmest since it fermented")
        }
        CauseKind::PackagedVolume => {
            Some("the volume of the beer; measure it before the sugar goes in")
        }
        _ => None,
    });
    told.map_or_else(String::new, |told| format!(" Most of the ±: {told}."))
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

/// Table sugar to prime with; none where the gas comes otherwise, and for what would burst.
pub(super) fn priming_sugar(plan: &Plan) -> Option<Mass> {
    match &plan.gas {
        Some(GasPlan::Conditioned { sucrose, .. }) => {
            (in_kilograms(*sucrose) > 0.0 && !over_limit(plan)).then_some(*sucrose)
        }
        _ => None,
    }
}

/// How many bottles of the customary sizes the beer takes, the last filled in part; none where it is not bottled.
pub(super) fn bottles(plan: &Plan, style: Style) -> Option<String> {
    /// Sizes in which bottles are sold, litres (common practice, no source).
    const METRIC: [(f64, &str); 2] = [(0.5, "500 mL"), (0.33, "330 mL")];
    const US: [(f64, &str); 2] = [(0.355, "12 fl oz"), (0.65, "22 fl oz")];
    const IMPERIAL: [(f64, &str); 2] = [(0.568, "1 imp pt"), (0.5, "500 mL")];
    let sizes = match style.system {
        UnitSystem::Metric => METRIC,
        UnitSystem::Us => US,
        UnitSystem::Imperial => IMPERIAL,
    };
    let is_bottled = matches!(
        plan.gas,
        Some(GasPlan::Conditioned {
            container: Container::Bottle,
            ..
        })
    );
    if !is_bottled || over_limit(plan) {
        return None;
    }
    let beer_l = in_litres(plan.volumes.packaged);
    let counts = sizes.map(|(each_l, name)| format!("{:.0} of {name}", (beer_l / each_l).ceil()));
    Some(format!("bottles and caps: {}", counts.join(" or ")))
}
