//! What to weigh and measure.

use super::page::{Brewing, escaped};
use std::fmt::Write as _;
use wortwright::catalogue::Kind;
use wortwright::process::Stage;
use wortwright::quantity::uom::si::{mass::kilogram, time::minute, volume::liter};
use wortwright::quantity::{Mass, Temperature, UnitSystem, Volume};
use wortwright::scale::{LiquorPart, Plan, PlannedAddition, Supply};
use wortwright::science::heat::StepWork;
use wortwright::speech::{Style, time};

/// Tables to tick, stage by stage.
pub(crate) fn amounts(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut html = String::new();
    let volumes = &plan.volumes;
    let warm =
        |t: Option<_>| t.map_or_else(String::new, |t| format!(", at {}", style.temperature(t)));
    let infused = infused(plan);
    let kept_back: Volume = infused.iter().map(|(volume, _)| *volume).sum();
    let mut water = vec![(
        style.volume(volumes.mash_water - kept_back),
        format!("into the mash{}", warm(plan.water.strike)),
    )];
    for (volume, at) in infused {
        let text = format!("kept back for a later rest{}", warm(Some(at)));
        water.push((style.volume(volume), text));
    }
    if volumes.sparge_water.get::<liter>() > 0.0 {
        water.push((
            style.volume(volumes.sparge_water),
            format!("to rinse the grain{}", warm(plan.water.sparge)),
        ));
    }
    for addition in &plan.water.additions {
        let part = match addition.into {
            LiquorPart::Sparge => "sparge",
            _ => "mash",
        };
        let text = format!("{} into the {part} water", addition.name);
        water.push((weighed(addition.mass, style), text));
    }
    rows(&mut html, "Water", &water);
    for (stage, title) in [
        (Stage::Mash, "Mash"),
        (Stage::Boil, "Boil"),
        (Stage::Stand, "Stand"),
        (Stage::Ferment, "Fermenter"),
        (Stage::Package, "Package"),
    ] {
        let mut at: Vec<_> = plan.additions.iter().filter(|a| a.stage == stage).collect();
        // The kettle is filled in the order of the clock.
        at.sort_by(|a, b| {
            b.first_wort
                .cmp(&a.first_wort)
                .then(left(b).total_cmp(&left(a)))
        });
        let mut lines: Vec<_> = at
            .into_iter()
            .map(|a| {
                (
                    amount(a, style),
                    format!("{}{}", supply(plan, a), timed(plan, a, style)),
                )
            })
            .collect();
        if stage == Stage::Mash {
            for rest in &plan.recipe.mash.rests {
                let long = format!("rest for {}", time(rest.time.value()));
                lines.push((style.temperature(rest.temperature.value()), long));
            }
        }
        if stage == Stage::Ferment {
            for hold in &plan.recipe.fermentation.holds {
                let long = hold
                    .time
                    .as_ref()
                    .map(|t| format!(" for {}", time(t.value())));
                let warmth = style.temperature(hold.temperature.value());
                lines.push((warmth, format!("hold{}", long.unwrap_or_default())));
            }
        }
        let package = &plan.recipe.package;
        if let (Stage::Package, Some(container)) = (stage, &package.container) {
            let gas = package.carbonation.as_ref().map(|gas| {
                format!(
                    ", carbonate to {} g/L of CO2",
                    gas.value().grams_per_litre()
                )
            });
            lines.push((
                String::new(),
                format!("into {container}{}", gas.unwrap_or_default()),
            ));
        }
        let title = if stage == Stage::Boil {
            format!("{title}, {}", time(plan.boil))
        } else {
            title.to_owned()
        };
        if !lines.is_empty() {
            rows(&mut html, &title, &lines);
        }
    }
    html
}

/// Water that goes in after mashing in, cold, and how warm it is then.
fn infused(plan: &Plan) -> Vec<(Volume, Temperature)> {
    /// Water at 20 °C, kg/L (Kell 1975).
    const COLD_WATER_KG_L: f64 = 0.9982;
    let steps = plan.water.mash.iter().flat_map(|mash| &mash.steps);
    steps
        .filter_map(|step| match step.work {
            StepWork::Infuse { water, at } => {
                let litres = water.get::<kilogram>() / COLD_WATER_KG_L;
                Some((Volume::new::<liter>(litres), at))
            }
            _ => None,
        })
        .collect()
}

/// What is read on the day, with what is expected and a blank.
pub(crate) fn readings(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let (volumes, figures) = (&plan.volumes, &plan.predicted);
    let gravity = |extract: Option<_>| extract.map(|e| style.gravity(e));
    let rows = [
        (
            "Before the boil, hot",
            Some(style.volume(volumes.pre_boil_hot)),
        ),
        (
            "Its gravity, sample cooled",
            gravity(Some(volumes.pre_boil_extract)),
        ),
        (
            "After the boil, hot",
            Some(style.volume(volumes.post_boil_hot)),
        ),
        (
            "Into the fermenter",
            Some(style.volume(volumes.into_fermenter)),
        ),
        ("Its gravity", gravity(figures.original)),
        (
            "Gravity just before the addition",
            gravity(figures.before_addition),
        ),
        (
            "Gravity just after; it may rise",
            gravity(figures.after_addition),
        ),
        (
            "Final gravity, gas shaken out",
            gravity(figures.final_extract),
        ),
    ];
    let mut html =
        "<table>\n<thead><tr><th scope=\"col\">To read</th><th scope=\"col\">expected</th>\
                    <th scope=\"col\">read</th></tr></thead>\n<tbody>\n"
            .to_owned();
    for (name, expected) in rows {
        if let Some(expected) = expected {
            let _ = writeln!(
                html,
                "<tr><th scope=\"row\">{name}</th><td>{}</td><td><span class=\"blank\"></span></td></tr>",
                escaped(&expected)
            );
        }
    }
    html.push_str("</tbody>\n</table>\n");
    html
}

fn amount(addition: &PlannedAddition, style: Style) -> String {
    addition
        .mass
        .map(|mass| weighed(mass, style))
        .or_else(|| addition.volume.map(|volume| style.volume(volume)))
        .unwrap_or_default()
}

/// To the gram above a kilogram, since kitchen scales show it.
fn weighed(mass: Mass, style: Style) -> String {
    let kg = mass.get::<kilogram>();
    if style.system == UnitSystem::Metric && (0.9995..9.9995).contains(&kg) {
        format!("{kg:.3} kg")
    } else {
        style.mass(mass)
    }
}

fn supply(plan: &Plan, addition: &PlannedAddition) -> String {
    let missing = plan
        .shopping
        .iter()
        .any(|p| p.name == addition.name && p.supply == Supply::Missing);
    let note = if missing { " (not available)" } else { "" };
    format!("{}{note}", addition.name)
}

fn left(addition: &PlannedAddition) -> f64 {
    addition.time_left.map_or(0.0, |time| time.get::<minute>())
}

fn timed(plan: &Plan, addition: &PlannedAddition, style: Style) -> String {
    let mut text = String::new();
    if let Some(cells) = plan.cells.filter(|_| addition.kind == Kind::Yeast) {
        let _ = write!(text, ", {:.0} billion cells", cells.billions());
    }
    if addition.first_wort {
        text.push_str(", with the first wort");
    }
    if let Some(left) = addition.time_left {
        let _ = write!(text, ", with {} left", time(left));
    }
    if let Some(gravity) = addition.when {
        let _ = write!(text, ", when it has fallen to {}", style.gravity(gravity));
    }
    if let Some(warmth) = addition.temperature {
        let _ = write!(text, ", at {}", style.temperature(warmth));
    }
    if let Some(day) = addition.on_day {
        let _ = write!(text, ", {} after pitching", time(day));
    }
    if let Some(contact) = addition.contact {
        let _ = write!(text, ", for {}", time(contact));
    }
    text
}

fn rows(html: &mut String, title: &str, lines: &[(String, String)]) {
    let _ = writeln!(html, "<h3>{title}</h3>\n<table class=\"amounts\"><tbody>");
    for (amount, text) in lines {
        let _ = writeln!(
            html,
            "<tr><td><span class=\"box\"></span></td><td class=\"amount\">{}</td><td>{}</td></tr>",
            escaped(amount),
            escaped(text)
        );
    }
    html.push_str("</tbody></table>\n");
}
