//! Volume and gravity through the brewing day.

use super::canvas::{
    Canvas, Drawn, FAINT, INK, JUICE, MALT, Said, Side, WATER, WIDTH, along, picture,
};
use plotters::style::RGBColor;
use wortwright::process::Stage;
use wortwright::quantity::uom::si::{mass::kilogram, volume::liter};
use wortwright::quantity::{Extract, Volume};
use wortwright::scale::Plan;
use wortwright::science::liquid::Liquid;
use wortwright::speech::Style;

struct Step {
    name: (&'static str, &'static str),
    volume: Volume,
    extract: Option<Extract>,
    ink: RGBColor,
}

/// The picture, with heights in proportion to litres.
pub(crate) fn drawn(plan: &Plan, style: Style) -> Result<String, String> {
    let steps = steps(plan);
    let said: Vec<_> = steps
        .iter()
        .map(|step| {
            let gravity = step
                .extract
                .map_or_else(String::new, |e| format!(" at {}", style.gravity(e)));
            let name = format!("{} {}", step.name.0, step.name.1);
            format!("{}: {}{gravity}", name.trim(), style.volume(step.volume))
        })
        .collect();
    let said = Said {
        id: "day-picture",
        title: "Volume and gravity through the day",
        description: &format!("{}. Volumes are cold.", said.join("; ")),
    };
    picture(&said, 600, |canvas| draw(canvas, &steps, style))
}

fn steps(plan: &Plan) -> Vec<Step> {
    let (volumes, figures) = (&plan.volumes, &plan.predicted);
    let step = |name, volume, extract, ink| Step {
        name,
        volume,
        extract,
        ink,
    };
    let mut steps = vec![
        step(("mash", "water"), volumes.mash_water, None, WATER),
        step(("sparge", "water"), volumes.sparge_water, None, WATER),
        step(
            ("run-off,", "to boil"),
            volumes.pre_boil,
            Some(volumes.pre_boil_extract),
            MALT,
        ),
        step(
            ("after", "the boil"),
            volumes.post_boil,
            after_boil(plan),
            MALT,
        ),
        step(
            ("wort", "pitched"),
            volumes.into_fermenter,
            figures.original,
            MALT,
        ),
    ];
    if volumes.after_additions > volumes.into_fermenter {
        steps.push(step(
            ("with all", "added"),
            volumes.after_additions,
            None,
            JUICE,
        ));
    }
    steps.retain(|step| step.volume.get::<liter>() > 0.0);
    steps
}

/// The extract run off and what the kettle adds, in the wort after the boil.
fn after_boil(plan: &Plan) -> Option<Extract> {
    let volumes = &plan.volumes;
    let run_off = Liquid::wort(volumes.pre_boil, volumes.pre_boil_extract).ok()?;
    let kettle: f64 = plan
        .additions
        .iter()
        .filter(|addition| addition.stage == Stage::Boil)
        .filter_map(|addition| addition.extract)
        .map(|mass| mass.get::<kilogram>())
        .sum();
    let wanted_kg = run_off.extract().get::<kilogram>() + kettle;
    let (mut low, mut high) = (0.0, 60.0);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        let wort = Liquid::wort(volumes.post_boil, Extract::from_plato(middle).ok()?).ok()?;
        if wort.extract().get::<kilogram>() < wanted_kg {
            low = middle;
        } else {
            high = middle;
        }
    }
    Extract::from_plato(low).ok()
}

const GROUND: i32 = 520;
const BAR_TOP: i32 = 250;
const GRAVITY_GROUND: i32 = 190;
const GRAVITY_TOP: i32 = 70;

fn draw(canvas: &Canvas<'_, '_>, steps: &[Step], style: Style) -> Drawn {
    let wide = WIDTH / i32::try_from(steps.len().max(1)).unwrap_or(1);
    let most_l = steps
        .iter()
        .map(|step| step.volume.get::<liter>())
        .fold(0.0, f64::max);
    let most_plato = steps
        .iter()
        .filter_map(|step| step.extract)
        .map(Extract::plato)
        .fold(0.0, f64::max);
    canvas.text((0, 18), Side::From, (24, MALT), "gravity")?;
    canvas.path(vec![(0, GROUND), (WIDTH, GROUND)], (2, INK))?;
    canvas.path(
        vec![(0, GRAVITY_GROUND), (WIDTH, GRAVITY_GROUND)],
        (1, FAINT),
    )?;
    canvas.text((0, GRAVITY_GROUND + 24), Side::From, (24, INK), "volume")?;
    let mut line = Vec::new();
    let mut middle = wide / 2;
    for step in steps {
        let top = along(step.volume.get::<liter>(), most_l, GROUND, BAR_TOP + 20);
        let half = wide * 3 / 10;
        canvas.bar((middle - half, top), (middle + half, GROUND), step.ink)?;
        let volume = style.volume(step.volume);
        canvas.text((middle, top - 18), Side::About, (26, INK), &volume)?;
        canvas.text((middle, GROUND + 26), Side::About, (24, INK), step.name.0)?;
        canvas.text((middle, GROUND + 54), Side::About, (24, INK), step.name.1)?;
        if let Some(extract) = step.extract {
            let y = along(extract.plato(), most_plato, GRAVITY_GROUND, GRAVITY_TOP);
            line.push((middle, y));
            let gravity = style.gravity(extract);
            canvas.text((middle, y - 28), Side::About, (26, MALT), &gravity)?;
        }
        middle += wide;
    }
    canvas.path(line.clone(), (4, MALT))?;
    line.into_iter().try_for_each(|at| canvas.dot(at, MALT))
}
