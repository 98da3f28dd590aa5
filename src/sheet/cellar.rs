//! The fermenter: pitching, later additions, packaging.

use super::day::{amount, at, described, put_in};
use super::page::Page;
use super::schedule::Moment;
use super::spread::said_with_spread;
use super::{Day, units};
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{
    CauseKind, Container, CooledOn, GasPlan, PredictedFigure, Stage, Warning, cap_l, cooled_on,
};
use crate::quantity::{
    Extract, Temperature, Time, UnitSystem, Written, in_kilograms, in_litres, in_minutes, litres,
    minutes,
};
use crate::scale::{Plan, PlannedAddition};
use crate::science::yeast::{
    CellDensity, Cells, DRY_YEAST_BILLION_PER_G, LIQUID_PACK_BILLION, dry_yeast, living, packs,
    starter, viability_after,
};
use crate::speech::{Style, alcohol, shortest, time};
use std::cmp::Ordering;

/// How long such a pack may have been kept, days (common practice, no source).
const OLD_DAYS: f64 = 60.0;
/// What a step of a starter takes, days (common practice, no source: 1 to 2).
const STARTER_DAYS: u32 = 2;
/// More packs than this nobody buys (rule of the crate).
const MOST_PACKS: u32 = 20;

/// Dextrose as it is sold, with a water of crystallisation: 198.17 g/mol over 180.16 g/mol of glucose.
const DEXTROSE_PER_GLUCOSE: f64 = 1.1;

/// Temperature of a cellar for casks, °C (common practice, no source: 11 to 13).
const CASK_C: f64 = 12.0;

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
            &format!(
                "cool on from {} in a refrigerator or cold room, closed and with an airlock; a night is usual",
                style.temperature(from)
            ),
        );
    }
    if let Some(yeast) = pitched(plan) {
        let warmth = yeast.temperature.map_or_else(String::new, |t| {
            format!(" at {} (measured ______)", style.temperature(t))
        });
        page.timed(
            &day.clock.shown(Moment::Pitch),
            &amount(yeast, style),
            &format!("aerate well, pitch {}{warmth}", yeast.name),
        );
    } else {
        page.timed(
            &day.clock.shown(Moment::Pitch),
            "",
            "aerate well, pitch the yeast",
        );
    }
    // Days since pitching; none after a hold of unknown length.
    let mut day_now = Some(0.0);
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
        page.tick(
            &style.temperature(hold.temperature.value()),
            &format!("hold{long}{days}"),
        );
    }
    for _ in 0..2 {
        const READING: &str = "day ____  gravity ________  temp ____";
        page.lines_of_blanks("       ", &[READING, READING]);
    }
}

/// What to buy or grow of the yeast that is pitched by cells: dry by weight, liquid by packs, or a starter, which takes days.
pub(super) fn yeast(plan: &Plan, style: Style) -> Option<String> {
    let cells = plan.cells?;
    let (least, most) = DRY_YEAST_BILLION_PER_G;
    let mass = |per_g: f64| {
        CellDensity::from_billions_per_gram(per_g)
            .map(|density| units::dry_yeast(dry_yeast(cells, density), style))
            .unwrap_or_default()
    };
    let (from, to) = (mass(most), mass(least));
    let from = from
        .strip_suffix(" g")
        .filter(|_| to.ends_with(" g"))
        .unwrap_or(&from);
    let dry = format!("{from} to {to} dry (follow the pack)");
    let liquid = liquid_yeast(cells, style).unwrap_or_default();
    Some(format!("{}: {dry}{liquid}", units::cells(cells)))
}

/// The yeast that the wort is pitched with; one that is named after it goes in later.
fn pitched(plan: &Plan) -> Option<&PlannedAddition> {
    at(plan, Stage::Ferment).find(|a| a.kind == Kind::Yeast)
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
        let size = units::about_volume(grown.volume, style);
        let days = STARTER_DAYS * grown.steps;
        match grown.steps {
            1 => format!(", or one of those in a {size} starter begun {days} days before"),
            steps => format!(
                ", or one of those grown in {steps} steps, the last of {size}, begun {days} days before"
            ),
        }
    });
    Some(format!(
        ", or {} of fresh liquid yeast ({LIQUID_PACK_BILLION:.0} billion each), or {} {OLD_DAYS:.0} days old{grown}",
        counted(fresh),
        counted(aged),
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
        format!("{} headspace", style.volume(litres(room_l)))
    } else {
        format!("too full by {}", style.volume(litres(-room_l)))
    };
    let with = if adds_later(plan) && most_l > in_litres(plan.volumes.into_fermenter) {
        " with all additions"
    } else {
        ""
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
            page.reading("Gravity just before", &style.gravity(before));
            if first.when.is_some() {
                page.paragraph("Lower: add the planned amounts anyway.");
            }
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
    page.reading(
        "Volume with all additions",
        &style.volume(plan.volumes.after_additions),
    );
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

/// An addition with its box.
fn add(page: &mut Page, day: &Day<'_>, addition: &PlannedAddition) {
    let style = day.style;
    let (amount, what) = (
        amount(addition, style),
        described(day.plan, addition, style),
    );
    put_in(page, &day.cautions, addition, |page| {
        page.tick(&amount, &what);
    });
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

/// When to package, and what goes in.
pub(super) fn packaging(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    page.heading("PACKAGING");
    // What goes in at packaging foams over too, where nothing went in before.
    day.cautions.print(page, BrewStep::Additions);
    day.cautions.print(page, BrewStep::Packaging);
    page.tick(
        "",
        if day.cautions.ferments_dextrins {
            "package only when the gravity has not moved for 3 weeks"
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
        page.paragraph("Higher: warm it, rouse the yeast, do not package. Lower: wait for 3 weeks without change.");
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
            temperature,
            gauge,
            ..
        } => page.tick(
            &style.pressure(*gauge),
            &format!(
                "regulator on the keg at {} for {reached}, until no more gas flows; stay below the stamped pressure and fit a relief valve",
                style.temperature(*temperature),
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
            if *container == Container::Bottle {
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

fn in_days(time: Time) -> f64 {
    in_minutes(time) / 1440.0
}

/// The phrase as a sentence begins.
fn capital(phrase: &str) -> String {
    let mut letters = phrase.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}
