//! A canvas over plotters' SVG back end: ink, text and shapes, wrapped with a text alternative.

use super::page::escaped;
use plotters::coord::Shift;
use plotters::prelude::*;
pub(crate) use plotters::style::RGBColor as RGB;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use std::fmt::Display;

/// Every picture is as wide as this; half of it in CSS pixels is the width of a telephone's page.
pub(crate) const WIDTH: i32 = 720;

/// The inks on light paper. The style sheet of the page swaps each for its fellow on dark paper, so a picture taken out
/// of the page still reads.
pub(crate) const INK: RGBColor = RGBColor(0x1F, 0x1A, 0x14);
pub(crate) const FAINT: RGBColor = RGBColor(0xCF, 0xC3, 0xAB);
pub(crate) const MALT: RGBColor = RGBColor(0x9A, 0x5B, 0x12);
pub(crate) const JUICE: RGBColor = RGBColor(0x8A, 0x23, 0x52);
pub(crate) const WATER: RGBColor = RGBColor(0x2B, 0x5F, 0x7A);

pub(crate) type Drawn = Result<(), String>;

/// Which side of its place a text stands on.
#[derive(Clone, Copy)]
pub(crate) enum Side {
    From,
    About,
    UpTo,
}

pub(crate) struct Canvas<'a, 'b> {
    area: &'a DrawingArea<SVGBackend<'b>, Shift>,
}

fn fault(error: impl Display) -> String {
    format!("a picture cannot be drawn: {error}")
}

impl Canvas<'_, '_> {
    /// Text, its middle at the height `y`.
    pub(crate) fn text(
        &self,
        (x, y): (i32, i32),
        side: Side,
        (size, ink): (i32, RGBColor),
        text: &str,
    ) -> Drawn {
        let place = match side {
            Side::From => HPos::Left,
            Side::About => HPos::Center,
            Side::UpTo => HPos::Right,
        };
        // The back end writes sizes down divided by this.
        let style = ("serif", f64::from(size) * 1.24)
            .into_font()
            .color(&ink)
            .pos(Pos::new(place, VPos::Center));
        self.area
            .draw(&Text::new(text.to_owned(), (x, y), style))
            .map_err(fault)
    }

    pub(crate) fn path(&self, points: Vec<(i32, i32)>, (width, ink): (u32, RGBColor)) -> Drawn {
        let line = PathElement::new(points, ink.stroke_width(width));
        self.area.draw(&line).map_err(fault)
    }

    pub(crate) fn polygon(&self, points: Vec<(i32, i32)>, ink: RGBColor) -> Drawn {
        self.area
            .draw(&Polygon::new(points, ink.filled()))
            .map_err(fault)
    }

    pub(crate) fn bar(&self, from: (i32, i32), to: (i32, i32), ink: RGBColor) -> Drawn {
        self.area
            .draw(&Rectangle::new([from, to], ink.filled()))
            .map_err(fault)
    }

    pub(crate) fn dot(&self, at: (i32, i32), ink: RGBColor) -> Drawn {
        self.area
            .draw(&Circle::new(at, 8, ink.filled()))
            .map_err(fault)
    }
}

/// What a picture says in words.
pub(crate) struct Said<'a> {
    pub(crate) id: &'a str,
    pub(crate) title: &'a str,
    pub(crate) description: &'a str,
}

/// An inline SVG with its text alternative.
pub(crate) fn picture(
    said: &Said<'_>,
    height: i32,
    draw: impl FnOnce(&Canvas<'_, '_>) -> Drawn,
) -> Result<String, String> {
    let mut svg = String::new();
    {
        let size = (WIDTH.unsigned_abs(), height.unsigned_abs());
        let area = SVGBackend::with_string(&mut svg, size).into_drawing_area();
        draw(&Canvas { area: &area })?;
        area.present().map_err(fault)?;
    }
    // The back end's opening tag fixes a size in pixels and has no room for words.
    let drawn = svg.split_once('>').map_or("", |(_, drawn)| drawn);
    let (id, title) = (said.id, escaped(said.title));
    Ok(format!(
        "<svg class=\"picture\" role=\"img\" aria-labelledby=\"{id}-title {id}-said\" \
         viewBox=\"0 0 {WIDTH} {height}\" xmlns=\"http://www.w3.org/2000/svg\">\n\
         <title id=\"{id}-title\">{title}</title>\n<desc id=\"{id}-said\">{}</desc>{drawn}",
        escaped(said.description)
    ))
}

/// The place of `value` between 0 and `most` on a line from `start` to `end`.
pub(crate) fn along(value: f64, most: f64, start: i32, end: i32) -> i32 {
    let share = if most > 0.0 { value / most } else { 0.0 };
    start + (share.clamp(-1.0, 1.0) * f64::from(end - start)).round() as i32
}
