//! A page of what a plant learnt: each figure before and after its days, and each day's readings about what is predicted.

use std::fmt::Write as _;
use wortwright::learn::{DayFigure, DayFigures, Learnt, LearntFigure, NextDay};
use wortwright::quantity::uom::si::volume::liter;
use wortwright::quantity::{Extract, Volume};
use wortwright::speech::{Speaks as _, Style};

/// As wide as a telephone's page, in CSS pixels.
const WIDTH: f64 = 360.0;
const LEFT: f64 = 6.0;
const RIGHT: f64 = WIDTH - 6.0;
/// Bars reach as far as nineteen of twenty, two sigma, and the paper a little further.
const REACH: f64 = 2.0;
const MARGIN: f64 = 1.1;

const CSS: &str = "\
:root{color-scheme:light dark;--ink:#222;--paper:#fff;--before:#9aa;--now:#b5651d;--line:#bbb}\
@media(prefers-color-scheme:dark){:root{--ink:#eee;--paper:#161616;--before:#788;--now:#e09a4f;--line:#555}}\
@media print{:root{--ink:#000;--paper:#fff;--before:#999;--now:#555;--line:#aaa}}\
body{margin:0 auto;max-width:46rem;padding:1rem;font:16px/1.45 system-ui,sans-serif;color:var(--ink);background:var(--paper)}\
svg{width:100%;max-width:34rem;display:block}text{font-size:13px;fill:var(--ink)}.what{font-weight:600}\
.before{fill:var(--before)}.now{fill:var(--now);fill-opacity:.55}.line{stroke:var(--line)}.mark{stroke:var(--ink);stroke-width:2}\
.read{fill:var(--ink);stroke:var(--paper)}.slip{fill:var(--paper);stroke:var(--ink);stroke-width:2}\
pre{white-space:pre-wrap}figure{margin:1rem 0;break-inside:avoid}figcaption{font-size:.9rem}";

pub(crate) fn page(learnt: &Learnt) -> String {
    let style = learnt.brewhouse.style();
    let name = escaped(&learnt.brewhouse.name);
    let mut html = format!(
        "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width,\
         initial-scale=1\"><title>{name}: brewing days</title><style>{CSS}</style></head><body>\n<h1>{name}: brewing days</h1>\n"
    );
    html.push_str("<h2>Figures of the brewhouse</h2>\n");
    html.push_str(&figures(&learnt.figures, style));
    html.push_str("<h2>Measured and predicted</h2>\n");
    html.push_str(&readings(learnt, style));
    let _ = writeln!(
        html,
        "<h2>Lines to paste</h2>\n<pre>{}</pre>\n</body></html>",
        escaped(&learnt.lines())
    );
    html
}

/// Each figure before and after.
fn figures(list: &[LearntFigure], style: Style) -> String {
    let (mut body, mut said, mut top) = (String::new(), Vec::new(), 0.0);
    for figure in list {
        let half = REACH * figure.prior_one_sigma.max(figure.one_sigma);
        let span = (
            (figure.prior - half).min(figure.value - half),
            (figure.prior + half).max(figure.value + half),
        );
        let middle = top + 47.0;
        label(&mut body, top, &figure.name, &figure.text(style));
        line(&mut body, middle);
        let before = (figure.prior, figure.prior_one_sigma);
        bars(&mut body, "before", middle + 7.0, before, span);
        bars(
            &mut body,
            "now",
            middle - 7.0,
            (figure.value, figure.one_sigma),
            span,
        );
        said.push(figure.text(style));
        top += 68.0;
    }
    picture(
        (
            "figures",
            "Figures of the brewhouse before and after its days",
        ),
        &said.join("; "),
        (top, &body),
        "Upper bar: learnt from the days. Lower, grey bar: given for the brewhouse, or typical. Thick: one sigma; thin: two.",
    )
}

/// Each day's readings about what the learnt figures predict.
fn readings(learnt: &Learnt, style: Style) -> String {
    let (mut body, mut said, mut top) = (String::new(), Vec::new(), 0.0);
    for next in &learnt.next_day {
        let off: Vec<(f64, bool)> = offs(learnt, next);
        if off.is_empty() {
            continue;
        }
        let most = off.iter().map(|(off, _)| off.abs()).fold(0.0, f64::max);
        let half = MARGIN * most.max(REACH * next.one_sigma);
        let middle = top + 45.0;
        label(&mut body, top, "", &next.text(style));
        line(&mut body, middle);
        bars(
            &mut body,
            "now",
            middle,
            (0.0, next.one_sigma),
            (-half, half),
        );
        let words: Vec<String> = off
            .iter()
            .map(|(off, is_slip)| {
                let class = if *is_slip { "slip" } else { "read" };
                let x = along(*off, (-half, half));
                let _ = writeln!(
                    body,
                    "<circle class=\"{class}\" cx=\"{x:.1}\" cy=\"{middle:.1}\" r=\"4\"/>"
                );
                let slip = if *is_slip { ", a slip" } else { "" };
                format!("{:+.1} sigma{slip}", off / next.one_sigma)
            })
            .collect();
        said.push(format!(
            "{}: measured {}",
            next.text(style),
            words.join(", ")
        ));
        top += 66.0;
    }
    picture(
        ("readings", "Measured against predicted"),
        &said.join("; "),
        (top, &body),
        "Dots: the days, measured above (right) or below the prediction by the learnt figures; hollow: slips. Two days in \
         three fall within the thick bar, nineteen in twenty within the thin one.",
    )
}

/// By how much each day's reading lies above its prediction, and whether it is a slip.
fn offs(learnt: &Learnt, next: &NextDay) -> Vec<(f64, bool)> {
    let days = learnt.days.iter();
    days.filter_map(|day| {
        let off = of(&day.read, next.name)? - of(&day.predicted, next.name)?;
        let is_slip = day.slipped.iter().any(|slip| slip.name == next.name);
        Some((off, is_slip))
    })
    .collect()
}

/// A figure of a day, litres or °P.
fn of(day: &DayFigures, figure: DayFigure) -> Option<f64> {
    let l = |volume: Option<Volume>| volume.map(|volume| volume.get::<liter>());
    let plato = |extract: Option<Extract>| extract.map(Extract::plato);
    match figure {
        DayFigure::FirstWort => l(day.first_wort),
        DayFigure::FirstWortExtract => plato(day.first_wort_extract),
        DayFigure::PreBoil => l(day.pre_boil),
        DayFigure::PreBoilExtract => plato(day.pre_boil_extract),
        DayFigure::PostBoil => l(day.post_boil),
        DayFigure::PostBoilExtract => plato(day.post_boil_extract),
        DayFigure::IntoFermenter => l(day.into_fermenter),
        DayFigure::Original => plato(day.original),
        DayFigure::FinalExtract => plato(day.final_extract),
        _ => None,
    }
}

/// The name of a row in bold, and below it what it says, which holds the name.
fn label(body: &mut String, top: f64, name: &str, text: &str) {
    let text = text.strip_prefix(name).unwrap_or(text).trim();
    let first = if name.is_empty() { text } else { name };
    let (first, second) = match first.split_once(", before") {
        Some((now, before)) => (now.to_owned(), format!("before{before}")),
        None => (first.to_owned(), text.to_owned()),
    };
    for (class, y, words) in [("what", 14.0, &first), ("", 30.0, &second)] {
        let _ = writeln!(
            body,
            "<text class=\"{class}\" x=\"{LEFT}\" y=\"{:.1}\">{}</text>",
            top + y,
            escaped(words)
        );
    }
}

fn line(body: &mut String, y: f64) {
    let _ = writeln!(
        body,
        "<path class=\"line\" d=\"M{LEFT} {y:.1}L{RIGHT} {y:.1}\"/>"
    );
}

/// One and two sigma about a value, and the value.
fn bars(body: &mut String, class: &str, y: f64, (value, sigma): (f64, f64), span: (f64, f64)) {
    for (sigmas, half) in [(REACH, 2.0), (1.0, 5.0)] {
        let (from, to) = (
            along(value - sigmas * sigma, span),
            along(value + sigmas * sigma, span),
        );
        let _ = writeln!(
            body,
            "<rect class=\"{class}\" x=\"{from:.1}\" y=\"{:.1}\" width=\"{:.1}\" height=\"{:.1}\"/>",
            y - half,
            to - from,
            2.0 * half
        );
    }
    let x = along(value, span);
    let (from, to) = (y - 6.0, y + 6.0);
    let _ = writeln!(
        body,
        "<path class=\"mark\" d=\"M{x:.1} {from:.1}L{x:.1} {to:.1}\"/>"
    );
}

/// Where a value stands between the ends of the paper.
fn along(value: f64, (from, to): (f64, f64)) -> f64 {
    let part = (value - from) / (to - from).max(f64::MIN_POSITIVE);
    LEFT + (RIGHT - LEFT) * part.clamp(0.0, 1.0)
}

fn picture(
    (id, title): (&str, &str),
    said: &str,
    (height, body): (f64, &str),
    caption: &str,
) -> String {
    if height <= 0.0 {
        return "<p>No days.</p>\n".to_owned();
    }
    format!(
        "<figure><svg class=\"picture\" role=\"img\" aria-labelledby=\"{id}-title {id}-said\" viewBox=\"0 0 {WIDTH} {height:.0}\" \
         xmlns=\"http://www.w3.org/2000/svg\">\n<title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-said\">{}</desc>\n{body}\
         </svg>\n<figcaption>{caption}</figcaption></figure>\n",
        escaped(said)
    )
}

fn escaped(text: &str) -> String {
    let text = text.replace('&', "&amp;").replace('<', "&lt;");
    text.replace('>', "&gt;").replace('"', "&quot;")
}
