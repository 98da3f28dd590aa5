//! The page: one file, no network, no scripts.

use super::glass::{Glass, RedJuice};
use super::{day, ferment, flavour, glass, style, weigh};
use std::fmt::Write as _;
use wortwright::catalogue::Catalogue;
use wortwright::caution::Urgency;
use wortwright::process::Figures;
use wortwright::quantity::Length;
use wortwright::quantity::uom::si::length::centimeter;
use wortwright::scale::{InTheGlass, Plan};
use wortwright::speech::{Speaks, Style, alcohol};
use wortwright::substitute::Proposals;

/// Width of the glass that colours are painted for.
const GLASS_CM: f64 = 7.0;

/// What the page shows.
pub(crate) struct Brewing<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) offers: &'a [Offer],
    pub(crate) catalogue: &'a Catalogue,
    pub(crate) style: Style,
}

/// What may stand for one missing ingredient.
pub(crate) struct Offer {
    pub(crate) found: Proposals,
    /// A letter for each proposal.
    pub(crate) marks: Vec<String>,
    /// The plan with each proposal taken, where that can be worked out.
    pub(crate) plans: Vec<Option<Plan>>,
}

/// Text as HTML.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    let mut digit = false;
    for c in text.chars() {
        match c {
            // A number stays with its unit.
            ' ' if digit => safe.push('\u{a0}'),
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            _ => safe.push(c),
        }
        digit = c.is_ascii_digit();
    }
    safe
}

/// The whole file.
pub(crate) fn page(brewing: &Brewing<'_>) -> Result<String, String> {
    let plan = brewing.plan;
    let sections = [
        ("figures", "What it comes to", figures(brewing)),
        ("weigh", "To weigh and measure", weigh::amounts(brewing)),
        (
            "day",
            "The day in litres and gravity",
            day_section(brewing)?,
        ),
        ("fermenter", "In the fermenter", ferment_section(brewing)),
        ("glass", "In the glass", glass_section(brewing)?),
        ("substitutes", "Substitutes", substitutes(brewing)),
        (
            "reasons",
            "Why it differs from the printed sheet",
            reasons(brewing),
        ),
        ("care", "Take care", cautions(brewing)),
    ];
    let name = escaped(&plan.recipe.name);
    let mut html = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{name}</title>\n\
         <style>{}</style>\n</head>\n<body>\n<div class=\"page\">\n{}<nav aria-label=\"Sections\">\n<ol>\n",
        style::SHEET,
        head(brewing)
    );
    for (id, title, body) in &sections {
        if !body.is_empty() {
            let _ = writeln!(html, "<li><a href=\"#{id}\">{title}</a></li>");
        }
    }
    html.push_str("</ol>\n</nav>\n<main>\n");
    for (id, title, body) in &sections {
        if !body.is_empty() {
            let _ = write!(
                html,
                "<section id=\"{id}\" aria-labelledby=\"{id}-head\">\n<h2 id=\"{id}-head\">{title}</h2>\n{body}</section>\n"
            );
        }
    }
    html.push_str(
        "</main>\n<footer><p class=\"small\">Predicted by mass balance. It replaces neither a hydrometer nor local codes \
         and licensed practice.</p></footer>\n</div>\n</body>\n</html>\n",
    );
    Ok(html)
}

fn head(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut html = format!(
        "<header>\n<h1>{}</h1>\n<p>{} into the fermenter, brewed on {}.",
        escaped(&plan.recipe.name),
        style.volume(plan.volumes.into_fermenter),
        escaped(&plan.brewhouse.name)
    );
    if let Some(source) = &plan.recipe.source {
        let _ = write!(html, " After: {}.", escaped(source));
    }
    html.push_str(
        "</p>\n<p><span class=\"field\">gyle no. <span class=\"blank\"></span></span> \
         <span class=\"field\">date <span class=\"blank\"></span></span> \
         <span class=\"field\">brewer <span class=\"blank\"></span></span></p>\n",
    );
    let cautions = plan.cautions();
    let stops: Vec<_> = cautions
        .iter()
        .filter(|caution| caution.urgency == Urgency::Stop)
        .map(|caution| caution.text.to_string())
        .chain(plan.outcomes.iter().map(|outcome| outcome.text(style)))
        .collect();
    if !stops.is_empty() {
        html.push_str(
            "<div class=\"stop\"><p><strong>Stop: settle this before you brew</strong></p>",
        );
        list(&mut html, stops);
        html.push_str("</div>\n");
    }
    html.push_str("</header>\n");
    html
}

fn list(html: &mut String, points: impl IntoIterator<Item = String>) {
    html.push_str("<ul>\n");
    for point in points {
        let _ = writeln!(html, "<li>{}</li>", escaped(&point));
    }
    html.push_str("</ul>\n");
}

/// One figure, said.
type Say<'a> = &'a dyn Fn(&Figures) -> Option<String>;

fn figures(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    // A printed colour is that of the beer with everything in it.
    let mut printed = plan.published.clone();
    if plan.predicted.colour_with_juice.is_some() {
        printed.colour_with_juice = printed.colour.take();
    }
    let rows: [(&str, Say<'_>); 9] = [
        ("Original gravity", &|f| {
            f.original.map(|g| style.gravity(g))
        }),
        ("Final gravity", &|f| {
            f.final_extract.map(|g| style.gravity(g))
        }),
        ("Final gravity if juice ferments in full", &|f| {
            f.final_if_juice_ferments.map(|g| style.gravity(g))
        }),
        ("Alcohol", &|f| f.alcohol.map(alcohol)),
        ("Alcohol if juice ferments in full", &|f| {
            f.alcohol_if_juice_ferments.map(alcohol)
        }),
        ("Bitterness", &|f| {
            f.bitterness
                .filter(|b| b.ibu() > 0.0)
                .map(|b| format!("{:.0} IBU", b.ibu()))
        }),
        ("Colour, malt part", &|f| {
            f.colour.map(|c| style.beer_colour(c))
        }),
        ("Colour with juice, rough", &|f| {
            f.colour_with_juice.map(|c| style.beer_colour(c))
        }),
        ("Beer when it has fermented", &|f| {
            f.finished.map(|v| style.volume(v))
        }),
    ];
    let mut html = "<table class=\"figures\">\n<thead><tr><th scope=\"col\">Figure</th><th scope=\"col\">printed</th>\
                    <th scope=\"col\">this plan</th><th scope=\"col\" class=\"read\">read</th></tr></thead>\n<tbody>\n"
        .to_owned();
    for (name, say) in rows {
        let (sheet, planned) = (say(&printed), say(&plan.predicted));
        if sheet.is_some() || planned.is_some() {
            let cell = |text: Option<String>| text.unwrap_or_else(|| "–".to_owned());
            let _ = writeln!(
                html,
                "<tr><th scope=\"row\">{name}</th><td>{}</td><td>{}</td><td class=\"read\"><span class=\"blank\"></span></td></tr>",
                escaped(&cell(sheet)),
                escaped(&cell(planned))
            );
        }
    }
    html.push_str("</tbody>\n</table>\n");
    html
}

fn figure(picture: &str, caption: &str) -> String {
    let caption = escaped(caption);
    format!("<figure>\n{picture}<figcaption>{caption}</figcaption>\n</figure>\n")
}

fn day_section(brewing: &Brewing<'_>) -> Result<String, String> {
    let picture = day::drawn(brewing.plan, brewing.style)?;
    let hot = format!(
        "Litres are cold. Hot in the kettle it is {} before the boil and {} after it.",
        brewing.style.volume(brewing.plan.volumes.pre_boil_hot),
        brewing.style.volume(brewing.plan.volumes.post_boil_hot)
    );
    Ok(figure(&picture, &hot) + &weigh::readings(brewing))
}

fn ferment_section(brewing: &Brewing<'_>) -> String {
    match ferment::drawn(brewing.plan, brewing.style) {
        Ok(picture) => figure(
            &picture,
            "Drawn against the extract that the yeast has consumed, since nobody can know the days. Package after two \
             equal readings three days apart.",
        ),
        Err(why) => format!("<p>{}</p>\n", escaped(&why)),
    }
}

fn glass_section(brewing: &Brewing<'_>) -> Result<String, String> {
    let width = Length::new::<centimeter>(GLASS_CM);
    let look = |plan: &Plan| plan.in_the_glass(width).map_err(|error| error.to_string());
    let scaled = look(brewing.plan)?;
    let red = |seen: &InTheGlass| (!seen.red_juices.is_empty()).then_some(RedJuice);
    let mut glasses = Vec::new();
    if let (Some(colour), Some(screen)) = (brewing.plan.published.colour, scaled.printed) {
        glasses.push(Glass {
            mark: "printed".to_owned(),
            colour,
            screen,
            red_juice: red(&scaled),
        });
    }
    if let (Some(colour), Some(screen)) = (brewing.plan.predicted.colour, scaled.malt) {
        glasses.push(Glass {
            mark: "this plan".to_owned(),
            colour,
            screen,
            red_juice: red(&scaled),
        });
    }
    for offer in brewing.offers {
        for (mark, plan) in offer.marks.iter().zip(&offer.plans) {
            let Some(plan) = plan else { continue };
            let seen = look(plan)?;
            if let (Some(colour), Some(screen)) = (plan.predicted.colour, seen.malt) {
                let mark = format!("with {mark}");
                glasses.push(Glass {
                    mark,
                    colour,
                    screen,
                    red_juice: red(&seen),
                });
            }
        }
    }
    if glasses.is_empty() {
        return Ok("<p>No colour is known.</p>\n".to_owned());
    }
    let wide = format!("{GLASS_CM:.0} cm");
    let picture = glass::drawn(&glasses, &wide, brewing.style)?;
    let mut caption = format!(
        "As seen through {wide} of beer in daylight. The letters are those of the substitutes below, each taken alone."
    );
    if !scaled.red_juices.is_empty() {
        let _ = write!(
            caption,
            " A spectrum of malt cannot show red juice: {} make the true hue redder than any glass here. The printed \
             colour counts the juice, the others are the malt part.",
            together(&scaled.red_juices)
        );
    }
    Ok(figure(&picture, &caption))
}

/// `a, b and c`.
fn together(names: &[String]) -> String {
    match names {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => names.concat(),
    }
}

fn substitutes(brewing: &Brewing<'_>) -> String {
    let mut html = String::new();
    for (nth, offer) in brewing.offers.iter().enumerate() {
        let found = &offer.found;
        let _ = writeln!(html, "<h3>For {}</h3>", escaped(&found.name));
        if let Some(why) = found.no_substitute {
            let _ = writeln!(
                html,
                "<p>No honest substitute: {}.</p>",
                escaped(&why.text(brewing.style))
            );
        }
        if found.proposals.is_empty() {
            continue;
        }
        html.push_str("<ul>\n");
        for (proposal, mark) in found.proposals.iter().zip(&offer.marks) {
            let way = proposal
                .way
                .map_or_else(String::new, |way| format!(" ({})", way.text()));
            let mut notes: Vec<String> = proposal
                .practice
                .iter()
                .map(|practice| practice.text(brewing.style))
                .collect();
            notes.extend(
                proposal
                    .allergens_gained
                    .iter()
                    .map(|a| format!("brings an allergen: {a}")),
            );
            for other in &proposal.other_ways {
                let way = other.way.map_or("", |way| way.text());
                notes.insert(0, format!("or {way}: {}", other.text(brewing.style)));
            }
            if !proposal.feasible {
                let missed = [
                    ("gravity", proposal.gravity_residual_pct, "%"),
                    ("colour", proposal.colour_residual_ebc, "EBC"),
                ];
                let missed: Vec<_> = missed
                    .iter()
                    .filter(|(_, by, _)| by.abs() >= 0.005)
                    .map(|(what, by, unit)| format!("{what} {by:+.2} {unit}"))
                    .collect();
                if !missed.is_empty() {
                    notes.insert(0, format!("not kept: {}", missed.join(", ")));
                }
            }
            let notes = if notes.is_empty() {
                String::new()
            } else {
                format!(
                    "<br><span class=\"small\">{}</span>",
                    escaped(&notes.join("; "))
                )
            };
            let _ = writeln!(
                html,
                "<li><strong>{mark}</strong> {}{way}, distance {:.2}{notes}</li>",
                escaped(&proposal.text(brewing.style)),
                proposal.distance
            );
        }
        html.push_str("</ul>\n");
        match flavour::drawn(found, &offer.marks, nth + 1, brewing.catalogue) {
            Ok(picture) => html.push_str(&figure(
                &picture,
                "Intensities of the catalogue, editorial judgement: the mean of each blend by its amounts, a change of \
                 base malt and added water left out.",
            )),
            Err(why) => {
                let _ = writeln!(html, "<p>{}</p>", escaped(&why));
            }
        }
    }
    html
}

fn reasons(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut html = String::new();
    list(
        &mut html,
        plan.changes.iter().map(|change| change.text(style)),
    );
    if !plan.drift.is_empty() {
        html.push_str("<h3>Moved by weighing out</h3>\n");
        list(&mut html, plan.drift.iter().map(|drift| drift.text(style)));
    }
    if !plan.warnings.is_empty() {
        html.push_str("<h3>Look at this</h3>\n");
        list(
            &mut html,
            plan.warnings.iter().map(|warning| warning.text(style)),
        );
    }
    if !plan.assumptions.is_empty() {
        html.push_str("<h3>Assumed</h3>\n<div class=\"small\">");
        list(
            &mut html,
            plan.assumptions
                .iter()
                .map(|assumption| assumption.text(style)),
        );
        html.push_str("</div>\n");
    }
    html
}

fn cautions(brewing: &Brewing<'_>) -> String {
    let mut html = String::new();
    let cautions = brewing.plan.cautions();
    let rest = cautions
        .iter()
        .filter(|caution| caution.urgency != Urgency::Stop);
    list(&mut html, rest.map(|caution| caution.text.to_string()));
    html
}
