//! What a figure of a page moves: nothing by a jump, and what it must move the right way.

use super::answer::{self, Asked, Figures, HOME, WORKS};
use super::compare::usual;
use super::figure::{Figure, Measure};
use super::laws::{Case, Fault, Found, Law, without_what_is_said};
use super::page::Page;
use std::fmt::Write as _;

/// Laws of a page with one of its figures moved.
pub const OF_MOVES: [Law; 2] = [
    ("a small change is a small change", continuous),
    ("more gives more", monotonic),
];

/// A change of a figure that nobody could measure, as a part of it.
const STEP: f64 = 1e-6;
/// What it may do: the steepest, a hop that closes a gap of a few IBU, multiplies by tens.
const STEEPEST: f64 = 100.0;

/// Figures that are no number of the brew: counts, packs, and the steps of a scale.
fn is_smooth(figure: &Figure) -> bool {
    !matches!(figure.measure, Measure::Number | Measure::Packs) && figure.role != "step"
}

/// A millionth more of any figure moves no number of the plan by more than a hundred millionths of it; what moves more does so
/// at the next millionth as well, so that it is a slope and no jump.
fn continuous(case: &mut Case) -> Found {
    let figures = case.beer.page.figures();
    let smooth: Vec<_> = (0..figures.len())
        .filter(|at| is_smooth(&figures[*at]))
        .collect();
    let chosen = case.numbers.between(0.0, smooth.len() as f64) as usize;
    let Some(at) = smooth.get(chosen).copied() else {
        return Found::DoesNotApply;
    };
    let after = |steps: f64| {
        let page = case
            .beer
            .page
            .moved(at, &|value| value * (1.0 + steps * STEP));
        answer::plan(&page.text(), HOME, Asked::Exact).map(|plan| answer::of_plan(&plan))
    };
    // A share that is moved leaves the sum of all at 100 % within what is told; a time may leave the boil.
    let Ok(once) = after(1.0) else {
        return Found::DoesNotApply;
    };
    let once = case.answered(once);
    let far = jumps(&case.figures, &once, STEEPEST * STEP);
    if far.is_empty() {
        return Found::Holds;
    }
    let Ok(twice) = after(2.0) else {
        return Found::DoesNotApply;
    };
    let twice = case.answered(twice);
    let mut told = String::new();
    for (name, before, then) in far {
        let Some(next) = twice.get(&name) else {
            let _ = writeln!(told, "{name}: {before}, {then} and nothing");
            continue;
        };
        let (first, second) = ((then - before).abs(), (next - then).abs());
        if first > 3.0 * second {
            let _ = writeln!(told, "{name}: {before}, {then} and {next}");
        }
    }
    if told.is_empty() {
        Found::Holds
    } else {
        Found::Fails(format!("`{}` a millionth more\n{told}", figures[at].text()))
    }
}

/// The figures that moved by more than a part of themselves.
fn jumps(before: &Figures, after: &Figures, part: f64) -> Vec<(String, f64, f64)> {
    let litres = before.get("volumes.total_water_l").copied().unwrap_or(10.0);
    let mut far = Vec::new();
    for (name, old) in before.iter().filter(|(name, _)| without_what_is_said(name)) {
        let new = after.get(name).copied().unwrap_or(f64::NAN);
        let room = part * old.abs().max(new.abs()).max(usual(name, litres));
        if (new - old).abs() > room || new.is_nan() {
            far.push((name.clone(), *old, new));
        }
    }
    far
}

/// A figure of a page, what becomes of it, and which figure of the beer must rise with that.
#[derive(Clone, Copy)]
struct Rise {
    role: &'static str,
    moved: fn(f64) -> f64,
    figure: &'static str,
    /// Whether it must fall.
    falls: bool,
    /// Whether it may stay: on a plant of a stated yield more water rinses nothing more.
    may_stay: bool,
}

const fn rise(role: &'static str, moved: fn(f64) -> f64, figure: &'static str) -> Rise {
    Rise {
        role,
        moved,
        figure,
        falls: false,
        may_stay: false,
    }
}

const fn staying(rise: Rise) -> Rise {
    Rise {
        may_stay: true,
        ..rise
    }
}

const fn falling(rise: Rise) -> Rise {
    Rise {
        falls: true,
        ..rise
    }
}

const RISES: [Rise; 11] = [
    rise("fermentable", |kg| 1.05 * kg, "predicted.original_plato"),
    rise("first hop", |dose| 1.1 * dose, "predicted.bitterness_ibu"),
    rise(
        "first alpha",
        |alpha| 1.1 * alpha,
        "predicted.bitterness_ibu",
    ),
    rise(
        "first left",
        |minutes| 1.02 * minutes,
        "predicted.bitterness_ibu",
    ),
    rise("malt colour", |ebc| 1.2 * ebc, "predicted.wort_colour_ebc"),
    falling(rise(
        "attenuation",
        |share| 1.02 * share,
        "predicted.final_plato",
    )),
    rise(
        "attenuation",
        |share| 1.02 * share,
        "predicted.alcohol_abv_pct",
    ),
    staying(rise(
        "evaporation",
        |rate| 1.2 * rate,
        "predicted.original_plato",
    )),
    staying(rise(
        "boil",
        |minutes| 1.2 * minutes,
        "predicted.original_plato",
    )),
    staying(falling(rise(
        "absorption",
        |ratio| 1.2 * ratio,
        "predicted.original_plato",
    ))),
    staying(rise(
        "stand",
        |celsius| celsius + 2.0,
        "predicted.bitterness_kinetic_ibu",
    )),
];

/// What the amounts of a page give on the plant that it was written on.
fn given(page: &Page) -> Option<Figures> {
    let brew = answer::brew(&page.text(), WORKS, Asked::Exact).ok()?;
    let predicted = brew.predict().ok()?.predicted;
    Some(answer::of(
        "predicted",
        &serde_json::to_value(predicted).ok()?,
    ))
}

/// Of a beer in masses, on the plant that it was written on: what its amounts give.
fn monotonic(case: &mut Case) -> Found {
    if !case.beer.is_weighed {
        return Found::DoesNotApply;
    }
    let figures = case.beer.page.figures();
    let Some(before) = given(&case.beer.page) else {
        return Found::DoesNotApply;
    };
    let mut any = Found::DoesNotApply;
    for rise in &RISES {
        let of_role: Vec<_> = (0..figures.len())
            .filter(|at| figures[*at].role == rise.role)
            .collect();
        let chosen = case.numbers.between(0.0, of_role.len() as f64) as usize;
        let Some(at) = of_role.get(chosen).copied() else {
            continue;
        };
        let page = match case.fault {
            Fault::Untaken => case.beer.page.clone(),
            _ => case.beer.page.moved(at, &rise.moved),
        };
        let Some(after) = given(&page) else {
            continue;
        };
        let both = before.get(rise.figure).zip(after.get(rise.figure));
        let Some((old, new)) = both else {
            continue;
        };
        let risen = if rise.falls { old - new } else { new - old };
        // The last of twelve digits, of a figure that is found in rounds.
        let nothing = 1e-8 * old.abs().max(1.0);
        // Of two yeasts the one that leaves less decides.
        let is_outdone = rise.role == "attenuation" && case.text.contains("brettanomyces");
        let holds = if rise.may_stay || is_outdone {
            risen >= -nothing
        } else {
            risen > nothing
        };
        if !holds {
            let figure = &figures[at];
            return Found::Fails(format!(
                "{} `{}`: {} from {old} to {new}\n{}",
                rise.role,
                figure.text(),
                rise.figure,
                page.text()
            ));
        }
        any = Found::Holds;
    }
    any
}
