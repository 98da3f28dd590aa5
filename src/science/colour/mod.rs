//! Colour of wort and beer.

/// From the grist to the colour of the wort (Morey 1995), and colour that adds linearly.
mod malt;
/// Colour of a blend.
mod mixing;
/// How a beer looks: from its mean spectrum to Lab and to a screen.
mod screen;
/// Published tables of the CIE.
mod tables;

pub use malt::{GristColour, grist_colour, linear_colour};
pub use mixing::mixed_colour;
pub use screen::{Illuminant, Lab, ScreenColour, lab, screen_colour, transmittance};
