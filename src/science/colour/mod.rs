//! Colour of wort and beer.

/// From the grist to the colour of the wort (Morey 1995), and colour that adds linearly.
pub(crate) mod malt;
/// Colour of a blend.
pub(crate) mod mixing;
/// How a beer looks: from its mean spectrum to Lab and to a screen.
pub(crate) mod screen;
/// Published tables of the CIE.
pub(crate) mod tables;

pub use malt::{GristColour, grist_colour, linear_colour};
pub use mixing::mixed_colour;
pub use screen::{Illuminant, Lab, ScreenColour, lab, screen_colour, transmittance};
