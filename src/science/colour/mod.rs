//! Colour of wort and beer.

/// From the grist to the colour of the wort (Morey 1995).
pub(crate) mod malt;
/// How a beer looks: from its mean spectrum to Lab and to a screen.
pub(crate) mod screen;
/// Published tables of the CIE.
pub(crate) mod tables;

pub use malt::{ColouringGrain, GristColour, grist_colour};
pub use screen::{Lab, ScreenColour, screen_colour};
