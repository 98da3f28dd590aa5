//! How far each figure may be off, as bars about what is predicted, with the target and the printed figure beside them.

use super::drawing::{Drawing, LINE, Said, Side, WIDTH, along, picture};
use super::page::{Brewing, figure, list};
use wortwright::process::{Figures, PredictedFigure};
use wortwright::quantity::{AlcoholByVolume, BeerColour, Bitterness, Extract};
use wortwright::scale::Plan;
use wortwright::speech::{Speaks, Style, alcohol};

const LEFT: f64 = 152.0;
const RIGHT: f64 = WIDTH - 8.0;
const ROW: f64 = 44.0;
/// The bars reach as far as nineteen brews of twenty, two sigma, and the paper a little further.
const REACH: f64 = 2.0;
const MARGIN: f64 = 1.15;

/// A figure's number in words.
type Say = fn(f64, Style) -> Option<String>;

/// One figure.
struct Row {
    name: &'static str,
    brewed: f64,
    sigma: f64,
    target: Option<f64>,
    printed: Option<f64>,
    say: Say,
}

impl Row {
    /// From one sigma below to one above.
    fn range(&self, style: Style) -> String {
        let least = (self.brewed - self.sigma).max(0.0);
        let ends = [least, self.brewed + self.sigma].map(|end| (self.say)(end, style));
        let ends: Vec<_> = ends.into_iter().flatten().collect();
        ends.join(" to ")
    }

    /// The values at the ends of its line.
    fn span(&self) -> (f64, f64) {
        let off = |value: Option<f64>| value.map_or(0.0, |value| (value - self.brewed).abs());
        let most = off(self.target).max(off(self.printed));
        let half = MARGIN * most.max(REACH * self.sigma);
        (self.brewed - half, self.brewed + half)
    }
}

/// The picture and the measurements that narrow the spread; nothing where it is not known.
pub(crate) fn section(brewing: &Brewing<'_>) -> String {
    let Brewing { plan, style, .. } = *brewing;
    let Some(picture) = drawn(plan, style) else {
        return String::new();
    };
    let mut html = figure(
        &picture,
        "The line is this brew. Two brews in three fall within the high bar, nineteen in twenty within the low one. Dashed: \
         target; dot: original sheet.",
    );
    let measure = plan.spread.iter().flat_map(|spread| &spread.measure);
    let measure: Vec<_> = measure.map(|measure| measure.text(style)).collect();
    if !measure.is_empty() {
        html.push_str("<h3>Measurements that narrow the spread</h3>\n");
        list(&mut html, measure);
    }
    html
}

fn drawn(plan: &Plan, style: Style) -> Option<String> {
    let rows = rows(plan);
    if rows.is_empty() {
        return None;
    }
    let said: Vec<_> = rows
        .iter()
        .map(|row| format!("{} {}", row.name, row.range(style)))
        .collect();
    let said = Said {
        id: "spread-picture",
        title: "Spread of the predicted figures",
        description: &format!("Two brews in three fall within: {}.", said.join("; ")),
    };
    let mut drawing = Drawing::default();
    let mut top = 0.0;
    for row in &rows {
        draw(&mut drawing, row, top, style);
        top += ROW;
    }
    Some(picture(&said, top, &drawing))
}

fn draw(drawing: &mut Drawing, row: &Row, top: f64, style: Style) {
    let middle = top + ROW / 2.0;
    drawing.name(
        (2.0, middle - LINE / 2.0),
        Side::From,
        &[row.name.to_owned()],
    );
    drawing.block((0.0, middle + LINE / 2.0), Side::From, &[row.range(style)]);
    let span = row.span();
    let x = |value: f64| along(value, span, (LEFT, RIGHT));
    drawing.line("rule strong", &[(LEFT, middle), (RIGHT, middle)]);
    for (sigmas, half) in [(REACH, 3.0), (1.0, 8.0)] {
        let (from, to) = (
            x(row.brewed - sigmas * row.sigma),
            x(row.brewed + sigmas * row.sigma),
        );
        drawing.bar("wort", (from, middle - half), (to, middle + half));
    }
    let brewed = x(row.brewed);
    drawing.line("axis", &[(brewed, middle - 11.0), (brewed, middle + 11.0)]);
    if let Some(target) = row.target.map(x) {
        drawing.line(
            "target",
            &[(target, middle - 14.0), (target, middle + 14.0)],
        );
    }
    if let Some(printed) = row.printed.map(x) {
        drawing.dot("start", (printed, middle));
    }
}

/// The figures that a brewer asks for first.
fn rows(plan: &Plan) -> Vec<Row> {
    let juicy = plan.predicted.colour_with_juice.is_some();
    let colour = if juicy {
        PredictedFigure::ColourWithJuice
    } else {
        PredictedFigure::Colour
    };
    let all: [(&str, PredictedFigure, Say); 5] = [
        ("Original gravity", PredictedFigure::Original, gravity),
        ("Final gravity", PredictedFigure::Final, gravity),
        ("Alcohol", PredictedFigure::Alcohol, |pct, _| {
            AlcoholByVolume::from_percent(pct).ok().map(alcohol)
        }),
        ("Bitterness", PredictedFigure::Bitterness, |ibu, _| {
            let ibu = Bitterness::from_ibu(ibu).ok()?;
            Some(format!("{:.0} IBU", ibu.ibu()))
        }),
        ("Colour", colour, |ebc, style| {
            BeerColour::from_ebc(ebc)
                .ok()
                .map(|colour| style.beer_colour(colour))
        }),
    ];
    // A printed colour is that of the beer with everything in it.
    let printed = |figure: PredictedFigure| {
        let printed: &Figures = &plan.published;
        match figure {
            PredictedFigure::ColourWithJuice => printed.colour.map(BeerColour::ebc),
            figure => figure.of(printed),
        }
    };
    let rows = all.into_iter().filter_map(|(name, figure, say)| {
        let sigma = plan.spread.as_ref()?.of(figure)?.one_sigma;
        let brewed = figure.of(&plan.predicted)?;
        // Without hops there is nothing to say.
        (sigma > 0.0 && brewed > 0.0).then(|| Row {
            name,
            brewed,
            sigma,
            target: figure.of(&plan.source),
            printed: printed(figure),
            say,
        })
    });
    rows.collect()
}

fn gravity(plato: f64, style: Style) -> Option<String> {
    Extract::from_plato(plato)
        .ok()
        .map(|extract| style.gravity(extract))
}
