//! Paper to plot on: gravity over the days of the fermenter, with the gravities to wait for. No curve is invented.

use super::drawing::{
    Drawing, LETTER, LINE, Label, Point, Said, Side, WIDTH, along, picture, spread, width,
};
use std::fmt::Write as _;
use wortwright::catalogue::Kind;
use wortwright::process::Stage;
use wortwright::quantity::Extract;
use wortwright::quantity::uom::si::time::day;
use wortwright::scale::{Plan, PlannedAddition};
use wortwright::science::density::gravity_of;
use wortwright::speech::{GravityScale, Style};

const LEFT: f64 = 42.0;
const RIGHT: f64 = 262.0;
const TOP: f64 = 40.0;
const HIGH: f64 = 240.0;
/// As many lines and figures as can be told apart on the height.
const MOST_LINES: f64 = 50.0;
const MOST_FIGURES: f64 = 8.0;
/// Days on the paper where no line says how long, at least and at most.
const USUAL_DAYS: f64 = 14.0;
const MOST_DAYS: f64 = 180.0;
/// Days after the last that is planned: readings go on until two agree.
const SPARE_DAYS: f64 = 4.0;

/// A gravity that is waited for or expected.
struct Level {
    gravity: Extract,
    name: &'static str,
}

/// What is put in on a day, under a letter.
struct OnDay {
    day: f64,
    letter: char,
    names: Vec<String>,
}

/// The picture and what its letters mean, or why there is none.
pub(crate) fn drawn(plan: &Plan, style: Style) -> Result<(String, String), String> {
    let levels = levels(plan, style);
    if levels.is_empty() {
        return Err("No gravity is known, so there is nothing to plot against.".to_owned());
    }
    let days = days(plan);
    let on_days = on_days(plan);
    let said: Vec<_> = levels
        .iter()
        .map(|level| format!("{} {}", level.name, style.gravity(level.gravity)))
        .collect();
    let mut key = String::new();
    for on_day in &on_days {
        let _ = write!(
            key,
            " {} on day {:.0}: {}.",
            on_day.letter,
            on_day.day,
            on_day.names.join(", ")
        );
    }
    let said = Said {
        id: "ferment-picture",
        title: "Gravity over the days of fermentation, to be plotted by hand",
        description: &format!(
            "Ruled paper of {:.0} days with lines at: {}.{key}",
            days.ceil(),
            said.join("; ")
        ),
    };
    let paper = Paper::new(&levels, days, style);
    let mut drawing = Drawing::default();
    paper.rule(&mut drawing);
    paper.holds(&mut drawing, plan, style);
    paper.on_days(&mut drawing, &on_days);
    paper.levels(&mut drawing, &levels, style);
    Ok((picture(&said, paper.bottom + 62.0, &drawing), key))
}

/// The gravities of the plan, in the order of time.
fn levels(plan: &Plan, style: Style) -> Vec<Level> {
    let figures = &plan.predicted;
    let mut levels = Vec::new();
    let mut level = |gravity: Option<Extract>, name| {
        levels.extend(gravity.map(|gravity| Level { gravity, name }));
    };
    level(figures.original, "original");
    let mut poured: Vec<_> = later(plan)
        .filter(|a| a.before.is_some() && a.after.is_some())
        .collect();
    poured.dedup_by(|b, a| a.blend.is_some() && a.blend == b.blend);
    for addition in poured {
        let (Some(before), Some(after)) = (addition.before, addition.after) else {
            continue;
        };
        let name = if addition.when.is_some() {
            "add at"
        } else {
            "before adding"
        };
        level(Some(before), name);
        // What does not show on a hydrometer is no line of its own.
        if style.gravity(before) == style.gravity(after) {
            continue;
        }
        let name = if after.plato() > before.plato() {
            "rises to"
        } else {
            "falls to"
        };
        level(Some(after), name);
    }
    level(figures.final_extract, "final");
    levels
}

fn later(plan: &Plan) -> impl Iterator<Item = &PlannedAddition> {
    let meant = |a: &&PlannedAddition| a.stage == Stage::Ferment && a.kind != Kind::Yeast;
    plan.additions.iter().filter(meant)
}

/// How long the paper is: what the recipe plans and some days to spare.
fn days(plan: &Plan) -> f64 {
    let holds = plan.recipe.fermentation.holds.iter();
    let held: f64 = holds
        .filter_map(|hold| hold.time.as_ref())
        .map(|time| time.value().get::<day>())
        .sum();
    let added = later(plan).filter_map(|a| {
        let stay = a.contact.map_or(0.0, |stay| stay.get::<day>());
        Some(a.on_day?.get::<day>() + stay)
    });
    let planned = added.fold(held, f64::max) + SPARE_DAYS;
    planned.clamp(USUAL_DAYS, MOST_DAYS).ceil()
}

/// What goes in on a day of its own, by day.
fn on_days(plan: &Plan) -> Vec<OnDay> {
    let mut on_days: Vec<OnDay> = Vec::new();
    let mut letters = 'a'..='z';
    for addition in later(plan) {
        let Some(at) = addition.on_day.map(|at| at.get::<day>()) else {
            continue;
        };
        let name = addition.name.clone();
        let same = on_days.iter_mut().find(|on| (on.day - at).abs() < 0.5);
        if let Some(same) = same {
            same.names.push(name);
        } else if let Some(letter) = letters.next() {
            on_days.push(OnDay {
                day: at,
                letter,
                names: vec![name],
            });
        }
    }
    on_days
}

struct Paper {
    style: Style,
    days: f64,
    bottom: f64,
    /// The lowest and the highest value of the scale, from line to line, and how many lines to a figure.
    span: Point,
    line: f64,
    lines_to_a_figure: u32,
}

impl Paper {
    fn new(levels: &[Level], days: f64, style: Style) -> Self {
        let values = || levels.iter().map(|level| shown(level.gravity, style));
        let (least, most) = (values().fold(0.0, f64::min), values().fold(0.0, f64::max));
        // Lines of 1 °P or 0.002, a figure at every second or fifth.
        let (small, [fine, coarse]) = match style.gravity {
            GravityScale::Plato => (1.0, [2, 5]),
            GravityScale::SpecificGravity => (2.0, [5, 10]),
        };
        let line = if most - least > MOST_LINES * small {
            2.0 * small
        } else {
            small
        };
        let lines_to_a_figure = if most - least > MOST_FIGURES * f64::from(fine) * line {
            coarse
        } else {
            fine
        };
        let whole = line * f64::from(lines_to_a_figure);
        let bottom = (least / whole).floor() * whole;
        let top = (most / line).floor() * line + line;
        Self {
            style,
            days,
            bottom: TOP + HIGH.max(2.0 * LINE * levels.len() as f64),
            span: (bottom, top),
            line,
            lines_to_a_figure,
        }
    }

    fn x(&self, days: f64) -> f64 {
        along(days, (0.0, self.days), (LEFT, RIGHT))
    }

    fn y(&self, value: f64) -> f64 {
        along(value, self.span, (self.bottom, TOP))
    }

    /// Lines for days and gravities, every few of them with a figure.
    fn rule(&self, drawing: &mut Drawing) {
        drawing.text((0.0, LETTER + 2.0), Side::From, "apparent gravity");
        let lines = ((self.span.1 - self.span.0) / self.line).round() as u32;
        for number in 0..=lines {
            let value = self.span.0 + f64::from(number) * self.line;
            let y = self.y(value);
            let figured = number % self.lines_to_a_figure == 0;
            let class = if figured { "rule strong" } else { "rule" };
            drawing.line(class, &[(LEFT, y), (RIGHT, y)]);
            if figured {
                let figure = match self.style.gravity {
                    GravityScale::Plato => format!("{value:.0}"),
                    GravityScale::SpecificGravity => format!("{:.3}", 1.0 + value / 1000.0),
                };
                drawing.text((LEFT - 4.0, y + 4.0), Side::UpTo, &figure);
            }
        }
        let (step, figured) = match self.days {
            ..=21.0 => (1, 2),
            ..=60.0 => (1, 7),
            _ => (7, 28),
        };
        for number in (0..=self.days as u32).step_by(step) {
            let x = self.x(f64::from(number));
            let strong = number % figured == 0;
            let class = if strong { "rule strong" } else { "rule" };
            drawing.line(class, &[(x, TOP), (x, self.bottom)]);
            if strong {
                let figure = format!("{number}");
                drawing.text((x, self.bottom + LINE), Side::About, &figure);
            }
        }
        drawing.text((RIGHT + 13.0, self.bottom + LINE), Side::From, "days");
        drawing.line(
            "axis",
            &[(LEFT, TOP), (LEFT, self.bottom), (RIGHT, self.bottom)],
        );
    }

    /// How warm it is kept, below the days.
    fn holds(&self, drawing: &mut Drawing, plan: &Plan, style: Style) {
        let (top, bottom) = (self.bottom + 24.0, self.bottom + 44.0);
        let mut from = 0.0;
        for hold in &plan.recipe.fermentation.holds {
            let Some(time) = hold.time.as_ref() else {
                continue;
            };
            let to: f64 = from + time.value().get::<day>();
            let (left, right) = (self.x(from), self.x(to));
            drawing.bar("hold", (left, top), (right, bottom));
            let warmth = style.temperature(hold.temperature.value());
            if width(&warmth) < right - left {
                let middle = f64::midpoint(left, right);
                drawing.text((middle, bottom - 6.0), Side::About, &warmth);
            }
            from = to;
        }
        if from > 0.0 {
            drawing.text((RIGHT + 13.0, bottom - 6.0), Side::From, "kept at");
        }
    }

    /// Letters over the days on which something goes in, moved apart.
    fn on_days(&self, drawing: &mut Drawing, on_days: &[OnDay]) {
        let mut free = LEFT;
        for on_day in on_days {
            let x = self.x(on_day.day);
            drawing.line("target", &[(x, TOP - 4.0), (x, self.bottom)]);
            let at = x.max(free);
            let letter = on_day.letter.to_string();
            drawing.text((at, TOP - 8.0), Side::About, &letter);
            free = at + LETTER;
        }
    }

    /// The gravities with their names on the right, moved apart.
    fn levels(&self, drawing: &mut Drawing, levels: &[Level], style: Style) {
        let mut labels = Vec::new();
        for (place, level) in levels.iter().enumerate() {
            let y = self.y(shown(level.gravity, style));
            let from = if place == 0 { LEFT - 6.0 } else { LEFT };
            let is_risen = matches!(level.name, "rises to" | "falls to");
            let class = if is_risen { "target added" } else { "target" };
            drawing.line(class, &[(from, y), (RIGHT, y)]);
            if place == 0 {
                drawing.dot("start", (LEFT, y));
            }
            let lines = vec![format!("{} {}", level.name, style.gravity(level.gravity))];
            let wide = WIDTH - RIGHT - 14.0;
            let lines = if lines.iter().any(|line| width(line) > wide) {
                vec![level.name.to_owned(), style.gravity(level.gravity)]
            } else {
                lines
            };
            labels.push(Label::new(y, lines));
        }
        spread(&mut labels, (TOP - 20.0, self.bottom));
        for label in &labels {
            let (from, to) = ((RIGHT, label.wanted), (RIGHT + 10.0, label.middle));
            drawing.line("leader", &[from, to]);
            let place = (RIGHT + 13.0, label.middle);
            drawing.block(place, Side::From, &label.lines);
        }
    }
}

/// A gravity on the scale of the paper: °P, or thousandths above water.
fn shown(gravity: Extract, style: Style) -> f64 {
    match style.gravity {
        GravityScale::Plato => gravity.plato(),
        GravityScale::SpecificGravity => (gravity_of(gravity).ratio() - 1.0) * 1000.0,
    }
}
