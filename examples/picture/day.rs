//! The day's liquid as it flows from the first water to the packaged beer, its width in proportion to litres.

use super::balance::{Flow, Of, Standing, day};
use super::drawing::{Drawing, LINE, Said, Side, WIDTH, block_height, picture, wrapped};
use wortwright::scale::Plan;
use wortwright::speech::Style;

/// The largest volume is as wide as this, and stands about this line.
const WIDEST: f64 = 112.0;
const MIDDLE: f64 = 186.0;
/// What comes in begins here, after its label; what leaves ends there, before its own.
const IN: f64 = 118.0;
const OUT: f64 = 257.0;
/// From flow to label.
const GAP: f64 = 6.0;
/// Height of the bend into a vessel.
const BEND: f64 = 20.0;
/// The thinnest flow that is still seen.
const THINNEST: f64 = 1.2;

/// The picture.
pub(crate) fn drawn(plan: &Plan, style: Style) -> String {
    let steps = day(plan, style);
    let said: Vec<_> = steps.iter().map(|step| words(step, style)).collect();
    let said = Said {
        id: "day-picture",
        title: "Volume and gravity from the water to the package",
        description: &format!("{}.", said.join("; ")),
    };
    let most = steps.iter().map(Standing::litres).fold(0.0, f64::max);
    let mut flow = Flowing {
        drawing: Drawing::default(),
        style,
        per_l: if most > 0.0 { WIDEST / most } else { 0.0 },
        y: 4.0,
    };
    let mut above: Option<&Standing> = None;
    for step in &steps {
        if let Some(above) = above {
            flow.between(above, step);
        }
        flow.vessel(step);
        above = Some(step);
    }
    picture(&said, flow.y + 6.0, &flow.drawing)
}

/// A step in words.
fn words(step: &Standing, style: Style) -> String {
    let listed = |flows: &[Flow], word: &str| {
        let texts: Vec<_> = flows.iter().map(|flow| flow.text.as_str()).collect();
        if texts.is_empty() {
            String::new()
        } else {
            format!("{word} {}; ", texts.join(", "))
        }
    };
    format!(
        "{}{}{}: {}",
        listed(&step.came, "in:"),
        listed(&step.left, "out:"),
        step.name,
        held(step, style)
    )
}

/// What a vessel holds.
fn held(step: &Standing, style: Style) -> String {
    let gravity = step
        .gravity
        .map_or_else(String::new, |e| format!(" at {}", style.gravity(e)));
    format!("{}{gravity}", style.volume(step.volume))
}

struct Flowing {
    drawing: Drawing,
    style: Style,
    per_l: f64,
    /// How far down the picture has come.
    y: f64,
}

/// A flow beside the stream, with its label.
struct Beside<'a> {
    flow: &'a Flow,
    lines: Vec<String>,
    thick: f64,
    middle: f64,
}

impl Flowing {
    fn wide(&self, litres: f64) -> f64 {
        litres * self.per_l
    }

    /// Left and right of the stream in a vessel.
    fn sides(&self, step: &Standing) -> (f64, f64) {
        let half = self.wide(step.litres()) / 2.0;
        (MIDDLE - half, MIDDLE + half)
    }

    /// A line across the picture: what stands in the vessel, how many litres, how strong.
    fn vessel(&mut self, step: &Standing) {
        let (left, right) = self.sides(step);
        let name = wrapped(step.name, IN - GAP);
        let bottom = self.y + block_height(&name).max(LINE) + 6.0;
        let middle = f64::midpoint(self.y, bottom);
        self.drawing
            .line("rule strong", &[(0.0, self.y), (WIDTH, self.y)]);
        self.drawing
            .bar(class(step.of), (left, self.y), (right, bottom));
        self.drawing
            .line("axis", &[(left, self.y), (right, self.y)]);
        // Slanted letters reach out to the left.
        self.drawing.name((2.0, middle), Side::From, &name);
        let volume = [self.style.volume(step.volume)];
        self.drawing.block((MIDDLE, middle), Side::About, &volume);
        if let Some(gravity) = step.gravity {
            let gravity = [self.style.gravity(gravity)];
            self.drawing.block((WIDTH, middle), Side::UpTo, &gravity);
        }
        self.y = bottom;
    }

    /// What comes and leaves on the way from one vessel to the next.
    fn between(&mut self, above: &Standing, below: &Standing) {
        let came = self.beside(&below.came, IN - 2.0 * GAP);
        let left = self.beside(&below.left, WIDTH - OUT - 2.0 * GAP);
        let height = |list: &[Beside<'_>]| {
            list.last()
                .map_or(0.0, |last| last.middle - self.y + taken(last) / 2.0)
        };
        let bend = if came.is_empty() { BEND / 2.0 } else { BEND };
        let end = self.y + height(&came).max(height(&left)) + bend;
        self.stream(above, below, end);
        self.inflows(&came, below, end);
        self.outflows(&left, above);
        self.y = end;
    }

    /// Flows below each other, each with room for its label.
    fn beside<'a>(&self, flows: &'a [Flow], wide: f64) -> Vec<Beside<'a>> {
        let mut free = self.y + 2.0;
        let mut list = Vec::new();
        for flow in flows {
            let mut beside = Beside {
                flow,
                lines: wrapped(&flow.text, wide),
                thick: self.wide(flow.litres),
                middle: 0.0,
            };
            beside.middle = free + taken(&beside) / 2.0;
            free += taken(&beside) + 3.0;
            list.push(beside);
        }
        list
    }

    /// What goes on from vessel to vessel.
    fn stream(&mut self, above: &Standing, below: &Standing, end: f64) {
        let (left, _) = self.sides(above);
        let (_, right) = self.sides(below);
        let gone: f64 = below.left.iter().map(|flow| flow.litres).sum();
        let wide = self.wide((above.litres() - gone).max(0.0));
        // A little of the vessel, so that no seam is seen.
        let (y, middle) = (self.y - 0.5, f64::midpoint(self.y, end));
        let (from, to) = (left + wide, right - wide);
        let words = format!(
            "M{left:.1} {y:.1}C{left:.1} {middle:.1} {to:.1} {middle:.1} {to:.1} {end:.1}L{right:.1} {end:.1}\
             C{right:.1} {middle:.1} {from:.1} {middle:.1} {from:.1} {y:.1}Z"
        );
        self.drawing.path(class(above.of), &words);
    }

    /// What comes in bends down into the vessel, the highest on the inside of the bend.
    fn inflows(&mut self, came: &[Beside<'_>], below: &Standing, end: f64) {
        let (mut left, _) = self.sides(below);
        for beside in came.iter().rev() {
            let right = left + beside.thick;
            let half = beside.thick.max(THINNEST) / 2.0;
            let (top, bottom) = (beside.middle - half, beside.middle + half);
            let words = format!(
                "M{IN} {top:.1}C{right:.1} {top:.1} {right:.1} {top:.1} {right:.1} {end:.1}L{left:.1} {end:.1}\
                 C{left:.1} {bottom:.1} {left:.1} {bottom:.1} {IN} {bottom:.1}Z"
            );
            self.drawing.path(class(beside.flow.of), &words);
            let label = (IN - GAP, beside.middle);
            self.drawing.block(label, Side::UpTo, &beside.lines);
            left = right;
        }
    }

    /// What leaves bends away to the right.
    fn outflows(&mut self, gone: &[Beside<'_>], above: &Standing) {
        let (_, mut right) = self.sides(above);
        let y = self.y;
        for beside in gone {
            let left = right - beside.thick;
            let half = beside.thick.max(THINNEST) / 2.0;
            let (top, bottom) = (beside.middle - half, beside.middle + half);
            let words = format!(
                "M{right:.1} {y:.1}C{right:.1} {top:.1} {right:.1} {top:.1} {OUT} {top:.1}L{OUT} {bottom:.1}\
                 C{left:.1} {bottom:.1} {left:.1} {bottom:.1} {left:.1} {y:.1}Z"
            );
            self.drawing.path(class(beside.flow.of), &words);
            let label = (OUT + GAP, beside.middle);
            self.drawing.block(label, Side::From, &beside.lines);
            right = left;
        }
    }
}

/// The height that a flow takes up, or its label where that is higher.
fn taken(beside: &Beside<'_>) -> f64 {
    beside.thick.max(block_height(&beside.lines) + 2.0)
}

const fn class(of: Of) -> &'static str {
    match of {
        Of::Water => "water",
        Of::Wort => "wort",
        Of::Addition => "added",
        Of::Lost => "lost",
    }
}
