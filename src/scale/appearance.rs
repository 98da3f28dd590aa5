//! The beer of a plan as colour in a glass, for a screen.

use super::Plan;
use crate::catalogue::{EntryRef, Kind, Level};
use crate::diagnostic::Error;
use crate::quantity::Length;
use crate::recipe::Ingredient;
use crate::science::colour::{ScreenColour, screen_colour};
use serde::Serialize;

/// A beer as colour in a glass of stated width.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct InTheGlass {
    /// Width of the glass.
    #[serde(rename = "width_m", with = "crate::quantity::json::metre")]
    pub width: Length,
    /// The malt part, by the mean spectrum of beers.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub malt: Option<ScreenColour>,
    /// The printed colour, by the same spectrum.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub printed: Option<ScreenColour>,
    /// Juices whose red no malt spectrum can show: the true hue is redder than either.
    pub red_juices: Vec<String>,
}

impl Plan {
    /// The beer of this plan, and the printed one, as colour in a glass of `width`, in daylight (D65).
    ///
    /// The spectrum is the mean of 99 beers scaled to the colour, so hue follows strength of colour alone. Red juice is
    /// outside of that: it is named in [`InTheGlass::red_juices`] and not painted.
    ///
    /// # Errors
    ///
    /// `OutOfRange` for a width outside of what [`screen_colour`] takes.
    pub fn in_the_glass(&self, width: Length) -> Result<InTheGlass, Error> {
        let brews = self.brews();
        let paint = |colour: Option<_>| {
            colour
                .map(|colour| screen_colour(colour, width))
                .transpose()
        };
        let red = |juice: &&Ingredient| {
            let found = brews.catalogue.find(juice.catalogue_name());
            match found.map(|found| found.entry) {
                Some(EntryRef::Juice(juice)) => juice
                    .anthocyanin
                    .is_some_and(|level| level != Level::None && level != Level::Low),
                _ => false,
            }
        };
        let items = brews.target.setup.formula.items.values();
        let ingredients = items.map(|item| &*item.ingredient);
        Ok(InTheGlass {
            width,
            malt: paint(self.predicted.colour)?,
            printed: paint(self.published.colour)?,
            red_juices: ingredients
                .filter(|ingredient| ingredient.kind == Kind::Juice)
                .filter(red)
                .map(|juice| juice.name.clone())
                .collect(),
        })
    }
}
