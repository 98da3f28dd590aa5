//! Two glasses side by side: the original beer and this one, both as the model colours them.

use super::drawing::{Drawing, LINE, Said, Side, picture};
use std::fmt::Write as _;
use wortwright::process::Figures;
use wortwright::quantity::uom::si::length::centimeter;
use wortwright::quantity::{BeerColour, Length};
use wortwright::scale::Plan;
use wortwright::science::colour::screen_colour;
use wortwright::speech::Style;

/// Width of the glass that colours are painted for.
const GLASS_CM: f64 = 7.0;
/// A difference that is seen side by side: 1 EBC, or a tenth of the colour where that is more, as substitutes are told apart
/// (`substitute::Sense::Colour`).
const LEAST_SEEN_EBC: f64 = 1.0;
const LEAST_SEEN: f64 = 0.1;

const RIM: f64 = 12.0;
const FOOT: f64 = 132.0;
const LEFT: f64 = 100.0;
const RIGHT: f64 = 260.0;

/// The two colours that are compared, on one basis.
struct Pair {
    original: BeerColour,
    brewed: BeerColour,
    with_juice: bool,
}

/// The picture with its caption, or why there is none.
pub(crate) fn drawn(plan: &Plan, style: Style) -> Result<(String, String), String> {
    let pair = pair(&plan.source, &plan.predicted)
        .ok_or("The colour is not known: a malt or sugar has none.")?;
    let seen = plan
        .in_the_glass(Length::new::<centimeter>(GLASS_CM))
        .map_err(|error| error.to_string())?;
    let red = pair.with_juice && !seen.red_juices.is_empty();
    let verdict = verdict(&pair);
    let name = if pair.with_juice {
        "malt and juice"
    } else {
        "malt"
    };
    let said = Said {
        id: "glass-picture",
        title: &format!("The original beer and this brew in a glass {GLASS_CM:.0} cm wide"),
        description: &format!(
            "Original {}, this brew {}, colour of {name}: {verdict}.{}",
            style.beer_colour(pair.original),
            style.beer_colour(pair.brewed),
            if red {
                " Striped, since juice makes both redder than shown."
            } else {
                ""
            }
        ),
    };
    let mut drawing = Drawing::default();
    for (x, name, colour) in [
        (LEFT, "original", pair.original),
        (RIGHT, "this brew", pair.brewed),
    ] {
        let screen = screen_colour(colour, Length::new::<centimeter>(GLASS_CM))
            .map_err(|error| error.to_string())?;
        filled(&mut drawing, x, &screen.hex(), red);
        drawing.text((x, FOOT + LINE + 2.0), Side::About, name);
        let below = (x, FOOT + 2.0 * LINE + 2.0);
        let juicy = if pair.with_juice { " with juice" } else { "" };
        let colour = format!("{}{juicy}", style.beer_colour(colour));
        drawing.text(below, Side::About, &colour);
    }
    let below = (f64::midpoint(LEFT, RIGHT), FOOT + 3.6 * LINE);
    drawing.text(below, Side::About, verdict);
    let caption = caption(plan, &pair, style, &seen.red_juices);
    Ok((picture(&said, FOOT + 4.2 * LINE, &drawing), caption))
}

/// Both as the model gives them, with juice where either has some.
fn pair(original: &Figures, brewed: &Figures) -> Option<Pair> {
    let with_juice = original.colour_with_juice.is_some() || brewed.colour_with_juice.is_some();
    let of = |figures: &Figures| {
        let juicy = figures.colour_with_juice.filter(|_| with_juice);
        juicy.or(figures.colour)
    };
    Some(Pair {
        original: of(original)?,
        brewed: of(brewed)?,
        with_juice,
    })
}

fn verdict(pair: &Pair) -> &'static str {
    let (original, brewed) = (pair.original.ebc(), pair.brewed.ebc());
    let seen = LEAST_SEEN_EBC.max(LEAST_SEEN * original);
    let more = brewed - original;
    if more.abs() < seen {
        "no visible difference"
    } else if more > 0.0 {
        "this brew is darker"
    } else {
        "this brew is paler"
    }
}

fn caption(plan: &Plan, pair: &Pair, style: Style, red_juices: &[String]) -> String {
    let mut caption = format!(
        "As seen through {GLASS_CM:.0} cm of beer in daylight, both calculated by the same model, which is good to 30 %."
    );
    if let Some(printed) = plan.published.colour {
        let printed = style.beer_colour(printed);
        let _ = write!(caption, " The original sheet prints {printed}.");
    }
    if pair.with_juice && !red_juices.is_empty() {
        let red = together(red_juices);
        let _ = write!(
            caption,
            " Stripes: the red of {red}, which the colour of malt cannot show."
        );
    }
    caption
}

/// A glass with beer in it.
fn filled(drawing: &mut Drawing, x: f64, colour: &str, striped: bool) {
    let (top, bottom) = (RIM + 16.0, FOOT - 5.0);
    let words = format!(
        "M{} {top}L{} {top}L{} {bottom}L{} {bottom}Z",
        x - 36.0,
        x + 36.0,
        x + 29.0,
        x - 29.0
    );
    drawing.painted(colour, &words);
    if striped {
        drawing.path("stripes", &words);
    }
    let glass = [
        (x - 40.0, RIM),
        (x - 32.0, FOOT),
        (x + 32.0, FOOT),
        (x + 40.0, RIM),
    ];
    drawing.line("axis", &glass);
}

/// `a, b and c`.
fn together(names: &[String]) -> String {
    match names {
        [first @ .., last] if !first.is_empty() => format!("{} and {last}", first.join(", ")),
        _ => names.concat(),
    }
}
