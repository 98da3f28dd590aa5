//! The page: one file, no network, no scripts.

use super::{brew, cellar, day, ferment, glass, proposals, rows, spread, style};
use std::collections::BTreeSet;
use std::fmt::Write as _;
use wortwright::caution::{BrewStep, Caution};
use wortwright::job::Substitutes;
use wortwright::process::{Figures, Warning};
use wortwright::quantity::UnitSystem;
use wortwright::scale::{Outcome, Plan};
use wortwright::sheet::{Schedule, SheetOptions};
use wortwright::speech::{Speaks, Style, alcohol};

/// What the page shows.
pub(crate) struct Brewing<'a> {
    pub(crate) plan: &'a Plan,
    /// The plan before its first way out was taken, where the beer is out of reach.
    pub(crate) wanted: Option<&'a Plan>,
    pub(crate) found: &'a Substitutes,
    pub(crate) cautions: &'a [Caution],
    pub(crate) schedule: &'a Schedule,
    pub(crate) style: Style,
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
        digit = c.is_ascii_digit() || c == '±';
    }
    safe
}

/// Points below each other.
pub(crate) fn list(html: &mut String, points: impl IntoIterator<Item = String>) {
    html.push_str("<ul>\n");
    for point in points {
        let _ = writeln!(html, "<li>{}</li>", escaped(&point));
    }
    html.push_str("</ul>\n");
}

/// A part of the page under its heading.
struct Section {
    id: &'static str,
    title: &'static str,
    body: String,
}

impl Section {
    const fn new(id: &'static str, title: &'static str, body: String) -> Self {
        Self { id, title, body }
    }

    fn html(&self) -> String {
        let Self { id, title, body } = self;
        if body.is_empty() {
            return String::new();
        }
        format!(
            "<section id=\"{id}\" aria-labelledby=\"{id}-head\">\n<h2 id=\"{id}-head\">{title}</h2>\n{body}</section>\n"
        )
    }

    fn link(&self) -> String {
        let Self { id, title, body } = self;
        if body.is_empty() {
            return String::new();
        }
        format!("<li><a href=\"#{id}\">{title}</a></li>\n")
    }
}

/// The whole file.
pub(crate) fn page(brewing: &Brewing<'_>) -> String {
    let figures = [Section::new("figures", "Figures", figures(brewing))];
    let afterwards = rows::cautions(brewing, BrewStep::Afterwards);
    let reasons = [
        Section::new(
            "changes",
            "Changes from the original sheet",
            changes(brewing),
        ),
        Section::new("assumptions", "Assumptions", assumptions(brewing)),
        Section::new("afterwards", "Also to know", afterwards),
    ];
    if is_impossible(brewing.plan) {
        let text = "<p>No amounts are shown because this brewhouse cannot make this batch. Choose one of the options \
                    above, or change the brewhouse or the recipe, and scale again.</p>\n";
        let amounts = [Section::new("amounts", "Amounts", text.to_owned())];
        let all = [&figures[..], &amounts, &reasons];
        let body = all.map(html).concat();
        return whole(brewing, &all.map(links).concat(), &body);
    }
    let volumes = [Section::new(
        "volumes",
        "Volumes of the day",
        volumes(brewing),
    )];
    let safety = rows::cautions(brewing, BrewStep::WholeDay);
    let before = [
        Section::new("safety", "Safety", safety),
        Section::new("warnings", "Warnings", warnings(brewing)),
        Section::new("shopping", "Shopping", brew::shopping(brewing)),
    ];
    let substitutes = proposals::tables(brewing.found, brewing.style);
    let day = [
        Section::new("day", "Brew day", brew::day(brewing)),
        Section::new("fermenter", "Fermentation", fermenter(brewing)),
        Section::new("glass", "Colour", colour(brewing)),
        Section::new("spread", "Spread of the figures", spread::section(brewing)),
        Section::new("substitutes", "Substitutes", substitutes),
    ];
    let all = [&figures[..], &volumes, &before, &day, &reasons];
    let body = beside(&html(&figures), &html(&volumes), &html(&before));
    let body = body + &html(&day) + &html(&reasons);
    whole(brewing, &all.map(links).concat(), &body)
}

fn html(sections: &[Section]) -> String {
    sections.iter().map(Section::html).collect()
}

fn links(sections: &[Section]) -> String {
    sections.iter().map(Section::link).collect()
}

/// A picture between what goes before and what goes after it; beside both where there is room.
fn beside(before: &str, picture: &str, after: &str) -> String {
    format!(
        "<div class=\"beside\">\n<div>{before}</div>\n<div class=\"aside\">{picture}</div>\n<div>{after}</div>\n</div>\n"
    )
}

fn whole(brewing: &Brewing<'_>, links: &str, body: &str) -> String {
    let name = escaped(&brewing.plan.recipe.name);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>{name}</title>\n\
         <style>{}</style>\n</head>\n<body>\n{}<div class=\"page\">\n{}<nav aria-label=\"Sections\">\n<ul>\n\
         {links}</ul>\n</nav>\n<main>\n{body}</main>\n<footer><p class=\"small\">Calculated by mass balance. It replaces \
         neither a hydrometer nor local regulations and professional practice.</p></footer>\n</div>\n</body>\n</html>\n",
        style::SHEET,
        style::STRIPES,
        head(brewing)
    )
}

/// Whether there is nothing to brew from: the kettle runs over, or no grain fits.
fn is_impossible(plan: &Plan) -> bool {
    plan.outcomes.iter().any(|outcome| match &outcome.what {
        Outcome::KettleOverflows { .. } => true,
        Outcome::GravityOutOfReach { highest, .. } => highest.plato() < 0.05,
        _ => false,
    })
}

fn head(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let wished = if is_impossible(plan) {
        "requested: "
    } else {
        ""
    };
    let mut html = format!(
        "<header>\n<h1>{}</h1>\n<p>{wished}{} into the fermenter, brewhouse {}.",
        escaped(&plan.recipe.name),
        escaped(&style.volume(plan.volumes.into_fermenter)),
        escaped(&plan.brewhouse.name)
    );
    if let Some(source) = &plan.recipe.source {
        let _ = write!(html, " Based on: {}.", escaped(source));
    }
    let number = match style.system {
        UnitSystem::Us => "batch no.",
        UnitSystem::Metric | UnitSystem::Imperial => "gyle no.",
    };
    html.push_str("</p>\n<p class=\"fields\">");
    for field in [number, "date", "brewer"] {
        let _ = write!(
            html,
            "<span class=\"field\">{field} <span class=\"blank\"></span></span> "
        );
    }
    html.push_str("</p>\n");
    let stops = stops(brewing);
    if !stops.is_empty() {
        html.push_str(
            "<div class=\"stop\"><p><strong>Stop: resolve this before brew day</strong></p>\n",
        );
        list(&mut html, stops);
        html.push_str("</div>\n");
    }
    html.push_str("</header>\n");
    html
}

/// What must be settled first, with the best substitute for what is not available.
fn stops(brewing: &Brewing<'_>) -> Vec<String> {
    let style = brewing.style;
    let options = SheetOptions::default().with_style(style);
    let options = options.with_substitutes(brewing.found.best(style));
    let wanted = brewing.wanted.unwrap_or(brewing.plan);
    wanted.to_resolve(&options)
}

/// Whether a warning stops the day: a fermenter that runs over, a container that may burst.
fn is_grave(plan: &Plan, warning: &Warning) -> bool {
    match warning {
        Warning::FermenterSmall { .. } => cellar::overflows(plan),
        Warning::PackageOverLimit { .. } | Warning::KegOverLimit { .. } => true,
        _ => false,
    }
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
        ("… if the juice ferments out", &|f| {
            f.final_if_juice_ferments.map(|g| style.gravity(g))
        }),
        ("Alcohol", &|f| f.alcohol.map(alcohol)),
        ("… if the juice ferments out", &|f| {
            f.alcohol_if_juice_ferments.map(alcohol)
        }),
        ("Bitterness", &|f| {
            f.bitterness
                .filter(|b| b.ibu() > 0.0)
                .map(|b| format!("{:.0} IBU", b.ibu()))
        }),
        ("Colour from malt", &|f| {
            f.colour.map(|c| style.beer_colour(c))
        }),
        ("Colour with juice (estimate)", &|f| {
            f.colour_with_juice.map(|c| style.beer_colour(c))
        }),
        ("Beer after fermentation", &|f| {
            f.finished.map(|v| style.volume(v))
        }),
    ];
    let columns = [
        ("original sheet", &printed),
        ("target", &plan.source),
        ("this brew", &plan.predicted),
    ];
    // What this brewhouse cannot make has no figures of its own.
    let impossible = is_impossible(plan);
    let columns = columns
        .get(..if impossible { 2 } else { 3 })
        .unwrap_or(&columns);
    let mut html = String::from("<table class=\"figures\">\n<thead><tr><th scope=\"col\"></th>");
    for (name, _) in columns {
        let _ = write!(html, "<th scope=\"col\">{name}</th>");
    }
    if !impossible {
        html.push_str("<th scope=\"col\" class=\"read\">measured</th>");
    }
    html.push_str("</tr></thead>\n<tbody>\n");
    for (name, say) in rows {
        let cells: Vec<_> = columns.iter().map(|(_, figures)| say(figures)).collect();
        if cells.iter().all(Option::is_none) {
            continue;
        }
        let _ = write!(html, "<tr><th scope=\"row\">{name}</th>");
        for cell in cells {
            let cell = cell.unwrap_or_else(|| "–".to_owned());
            let _ = write!(html, "<td>{}</td>", escaped(&cell));
        }
        if !impossible {
            html.push_str("<td class=\"read\"><span class=\"blank\"></span></td>");
        }
        html.push_str("</tr>\n");
    }
    html.push_str("</tbody>\n</table>\n");
    html
}

fn warnings(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let warnings = plan.warnings.iter();
    let texts: Vec<_> = warnings
        .filter(|warning| !is_grave(plan, warning))
        .map(|warning| warning.text(style))
        .collect();
    let mut html = String::new();
    if !texts.is_empty() {
        list(&mut html, texts);
    }
    html
}

/// A picture with what is to be said of it.
pub(crate) fn figure(picture: &str, caption: &str) -> String {
    let caption = escaped(caption);
    format!("<figure>\n{picture}<figcaption>{caption}</figcaption>\n</figure>\n")
}

fn volumes(brewing: &Brewing<'_>) -> String {
    let picture = day::drawn(brewing.plan, brewing.style);
    figure(
        &picture,
        &format!(
            "Widths are in proportion to volume at {}. Hatched: losses.",
            rows::cold(brewing.style)
        ),
    )
}

fn fermenter(brewing: &Brewing<'_>) -> String {
    let picture = match ferment::drawn(brewing.plan, brewing.style) {
        Ok((picture, key)) => {
            let caption = format!(
                "Mark each reading with a dot on its day. Dashed lines: gravities to wait for or expected. Go by the \
                 gravity, not by the day.{key}"
            );
            figure(&picture, &caption)
        }
        Err(why) => format!("<p>{}</p>\n", escaped(&why)),
    };
    let after = cellar::additions(brewing);
    beside(&cellar::fermentation(brewing), &picture, &after) + &cellar::packaging(brewing)
}

fn colour(brewing: &Brewing<'_>) -> String {
    match glass::drawn(brewing.plan, brewing.style) {
        Ok((picture, caption)) => figure(&picture, &caption),
        Err(why) => format!("<p>{}</p>\n", escaped(&why)),
    }
}

fn changes(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut html = String::new();
    // Two lines of one hop change alike.
    let mut told: Vec<_> = plan
        .changes
        .iter()
        .map(|change| change.text(style))
        .collect();
    let mut seen = BTreeSet::new();
    told.retain(|text| seen.insert(text.clone()));
    list(&mut html, told);
    if !plan.drift.is_empty() {
        html.push_str("<h3>Rounding when weighing</h3>\n");
        list(&mut html, plan.drift.iter().map(|drift| drift.text(style)));
    }
    html
}

fn assumptions(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let mut html = String::new();
    if !plan.assumptions.is_empty() {
        html.push_str("<div class=\"small\">");
        let assumed = plan.assumptions.iter();
        list(&mut html, assumed.map(|assumed| assumed.text(style)));
        html.push_str("</div>\n");
    }
    html
}
