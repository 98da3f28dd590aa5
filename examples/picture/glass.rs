//! Beers side by side as colour in the glass.

use super::canvas::{Canvas, Drawn, INK, JUICE, Said, Side, WIDTH, picture};
use plotters::style::RGBColor;
use wortwright::quantity::BeerColour;
use wortwright::science::colour::ScreenColour;
use wortwright::speech::Style;

/// One glass.
pub(crate) struct Glass {
    /// What stands under it, such as `printed` or `A`.
    pub(crate) mark: String,
    pub(crate) colour: BeerColour,
    pub(crate) screen: ScreenColour,
    pub(crate) red_juice: Option<RedJuice>,
}

/// A beer with red juice, whose hue is not painted.
#[derive(Clone, Copy)]
pub(crate) struct RedJuice;

const IN_A_ROW: usize = 4;
const ROW: i32 = 370;

pub(crate) fn drawn(glasses: &[Glass], width: &str, style: Style) -> Result<String, String> {
    let said: Vec<_> = glasses
        .iter()
        .map(|glass| {
            let red = glass
                .red_juice
                .map_or("", |_| ", with red juice not painted");
            let colour = style.beer_colour(glass.colour);
            format!(
                "{}: {colour}, screen colour {}{red}",
                glass.mark,
                glass.screen.hex()
            )
        })
        .collect();
    let said = Said {
        id: "glass-picture",
        title: &format!("Colour of the malt in a glass {width} wide"),
        description: &format!("{}.", said.join("; ")),
    };
    let rows = i32::try_from(glasses.len().div_ceil(IN_A_ROW)).unwrap_or(1);
    picture(&said, rows * ROW, |canvas| {
        let mut top = 0;
        for row in glasses.chunks(IN_A_ROW) {
            let mut middle = WIDTH / 8;
            for glass in row {
                draw(canvas, glass, (middle, top), style)?;
                middle += WIDTH / 4;
            }
            top += ROW;
        }
        Ok(())
    })
}

fn draw(canvas: &Canvas<'_, '_>, glass: &Glass, (x, top): (i32, i32), style: Style) -> Drawn {
    let (rim, foot) = (top + 14, top + 244);
    let beer = vec![
        (x - 58, rim + 36),
        (x + 58, rim + 36),
        (x + 48, foot - 8),
        (x - 48, foot - 8),
    ];
    canvas.polygon(beer, ink(&glass.screen))?;
    let outline = vec![(x - 64, rim), (x - 52, foot), (x + 52, foot), (x + 64, rim)];
    canvas.path(outline, (3, INK))?;
    canvas.text((x, foot + 30), Side::About, (28, INK), &glass.mark)?;
    let colour = style.beer_colour(glass.colour);
    canvas.text((x, foot + 62), Side::About, (26, INK), &colour)?;
    match glass.red_juice {
        Some(RedJuice) => canvas.text((x, foot + 92), Side::About, (24, JUICE), "+ red juice"),
        None => Ok(()),
    }
}

/// The colour out of its `#rrggbb`.
fn ink(screen: &ScreenColour) -> RGBColor {
    let hex = screen.hex();
    let pair = |from: usize| {
        hex.get(from..from + 2)
            .and_then(|two| u8::from_str_radix(two, 16).ok())
            .unwrap_or_default()
    };
    RGBColor(pair(1), pair(3), pair(5))
}
