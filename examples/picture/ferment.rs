//! Apparent gravity against the extract that yeast has consumed: no days are invented.

use super::canvas::{Canvas, Drawn, FAINT, INK, JUICE, MALT, Said, Side, along, picture};
use wortwright::catalogue::Kind;
use wortwright::process::Stage;
use wortwright::quantity::uom::si::mass::kilogram;
use wortwright::quantity::{Extract, Fermentability, Mass};
use wortwright::scale::{Plan, PlannedAddition};
use wortwright::science::liquid::Liquid;
use wortwright::speech::Style;

/// A fall of the gravity: extract consumed so far, kg, and apparent extract, °P.
type Fall = Vec<(f64, f64)>;

/// The picture, or why there is none.
pub(crate) fn drawn(plan: &Plan, style: Style) -> Result<String, String> {
    let falls = falls(plan).ok_or(
        "The sheet does not hold what a curve needs: a gravity into the fermenter, a final one, and for each later \
         addition with extract the gravity at which it goes in.",
    )?;
    let gravity = |plato: f64| {
        Extract::from_plato(plato).map_or_else(|_| format!("{plato:.1} °P"), |e| style.gravity(e))
    };
    let mut said = Vec::new();
    for (place, fall) in falls.iter().enumerate() {
        if let (Some(first), Some(last)) = (fall.first(), fall.last()) {
            let lead = if place == 0 {
                "It starts at"
            } else {
                "The addition lifts it to"
            };
            said.push(format!(
                "{lead} {} and falls to {} when {:.2} kg of extract is consumed",
                gravity(first.1),
                gravity(last.1),
                last.0
            ));
        }
    }
    let said = Said {
        id: "ferment-picture",
        title: "Predicted apparent gravity against the extract consumed",
        description: &format!("{}.", said.join(". ")),
    };
    picture(&said, 560, |canvas| draw(canvas, &falls, &gravity))
}

/// Balling's balance between the gravities that the plan predicts, with the additions mixed in by mass.
fn falls(plan: &Plan) -> Option<Vec<Fall>> {
    let figures = &plan.predicted;
    let mut beer = Liquid::wort(plan.volumes.into_fermenter, figures.original?).ok()?;
    let last = figures.final_extract?;
    let mut poured: Vec<&PlannedAddition> = plan
        .additions
        .iter()
        .filter(|a| a.stage == Stage::Ferment && a.kind != Kind::Yeast && a.extract.is_some())
        .collect();
    if poured.iter().any(|a| a.when.is_none()) {
        return None;
    }
    let when = |a: &PlannedAddition| a.when.map_or(0.0, Extract::plato);
    poured.sort_by(|a, b| when(b).total_cmp(&when(a)));
    let (mut falls, mut consumed_kg) = (Vec::new(), 0.0);
    for group in poured.chunk_by(|a, b| a.when == b.when) {
        let fall = fall(&mut beer, &mut consumed_kg, group.first()?.when?)?;
        falls.push(fall);
        for part in group {
            beer = with(beer, part)?;
        }
    }
    falls.push(fall(&mut beer, &mut consumed_kg, last)?);
    Some(falls)
}

/// The way down to `end`; the beer is then what it is there.
fn fall(beer: &mut Liquid, consumed_kg: &mut f64, end: Extract) -> Option<Fall> {
    let start = *beer;
    *beer = start.fermented_to(end).ok()?;
    let gone_kg = (start.extract() - beer.extract()).get::<kilogram>();
    let start_kg = start.extract().get::<kilogram>();
    let mut line = Vec::new();
    for step in 0..=12 {
        let kg = gone_kg * f64::from(step) / 12.0;
        let share = Fermentability::from_fraction(kg / start_kg).ok()?;
        let shown = start.fermented(share).apparent_extract();
        line.push((*consumed_kg + kg, shown.plato()));
    }
    *consumed_kg += gone_kg;
    Some(line)
}

/// The beer with a juice or another addition in it: its solids and its water.
fn with(beer: Liquid, part: &PlannedAddition) -> Option<Liquid> {
    let addition = match (part.volume, part.brix, part.mass) {
        (Some(volume), Some(brix), _) => Liquid::wort(volume, brix),
        (_, _, Some(mass)) => Liquid::new(mass - part.extract?, part.extract?, Mass::default()),
        _ => return None,
    };
    Some(beer.blended(addition.ok()?))
}

const LEFT: i32 = 20;
const RIGHT: i32 = 590;
const TOP: i32 = 70;
const GROUND: i32 = 460;

fn draw(canvas: &Canvas<'_, '_>, falls: &[Fall], gravity: &dyn Fn(f64) -> String) -> Drawn {
    let points = || falls.iter().flatten();
    let most_kg = points().map(|p| p.0).fold(0.0, f64::max);
    let most_plato = points().map(|p| p.1).fold(0.0, f64::max);
    let place = |(kg, plato): (f64, f64)| {
        (
            along(kg, most_kg, LEFT, RIGHT),
            along(plato, most_plato, GROUND, TOP),
        )
    };
    canvas.text((LEFT, 20), Side::From, (26, INK), "apparent gravity")?;
    canvas.path(
        vec![(LEFT, TOP - 20), (LEFT, GROUND), (RIGHT, GROUND)],
        (2, INK),
    )?;
    canvas.text((LEFT, GROUND + 28), Side::From, (24, INK), "0")?;
    let all = format!("{most_kg:.2} kg");
    canvas.text((RIGHT, GROUND + 28), Side::About, (24, INK), &all)?;
    let axis = "extract consumed by the yeast";
    canvas.text(
        (i32::midpoint(LEFT, RIGHT), GROUND + 66),
        Side::About,
        (26, INK),
        axis,
    )?;
    let mut before: Option<(i32, i32)> = None;
    for (nth, fall) in falls.iter().enumerate() {
        let ink = if nth == 0 { MALT } else { JUICE };
        let (Some(first), Some(last)) = (fall.first(), fall.last()) else {
            continue;
        };
        let (start, end) = (place(*first), place(*last));
        if let Some(low) = before {
            canvas.path(vec![(low.0, GROUND), low], (1, FAINT))?;
            canvas.path(vec![low, start], (5, JUICE))?;
            let rise = format!("rises to {}", gravity(first.1));
            canvas.text((start.0 + 18, start.1 - 34), Side::From, (26, JUICE), &rise)?;
        }
        canvas.path(fall.iter().map(|p| place(*p)).collect(), (5, ink))?;
        canvas.dot(start, ink)?;
        canvas.dot(end, ink)?;
        if nth == 0 {
            let from = (start.0 + 20, start.1 - 10);
            canvas.text(from, Side::From, (26, ink), &gravity(first.1))?;
        }
        if nth + 1 == falls.len() {
            let to = (end.0 + 16, end.1);
            canvas.text(to, Side::From, (26, ink), &gravity(last.1))?;
        } else {
            let to = (end.0 - 16, end.1 + 22);
            canvas.text(to, Side::UpTo, (26, ink), &gravity(last.1))?;
        }
        before = Some(end);
    }
    Ok(())
}
