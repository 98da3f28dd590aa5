//! One part of a proposal, and from where it is taken.

use crate::catalogue::Commonness;
use crate::quantity::{AlphaAcids, Mass, Volume};
use crate::science::yeast::{Cells, DRY_YEAST_BILLION_PER_G, ENOUGH, LIQUID_PACK_BILLION, packs};
use crate::speech::{Style, percent, shortest};
use serde::Serialize;

/// One part of a proposal, on the target plant, before weighing out.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[non_exhaustive]
pub struct Part {
    /// The ingredient.
    pub name: String,
    /// Its mass, for what is weighed; a yeast, which has neither mass nor volume here, goes in as its line says.
    #[serde(
        rename = "mass_kg",
        with = "crate::quantity::json::option::kilogram",
        skip_serializing_if = "Option::is_none"
    )]
    pub mass: Option<Mass>,
    /// Its volume, for what is measured.
    #[serde(
        rename = "volume_l",
        with = "crate::quantity::json::option::litre",
        skip_serializing_if = "Option::is_none"
    )]
    pub volume: Option<Volume>,
    /// Alpha acids of a hop, with which its mass was computed.
    #[serde(
        rename = "alpha_pct",
        with = "crate::quantity::json::option::percent",
        skip_serializing_if = "Option::is_none"
    )]
    pub alpha: Option<AlphaAcids>,
    /// Cells of a yeast to pitch.
    #[serde(
        rename = "yeast_billion_cells",
        skip_serializing_if = "Option::is_none"
    )]
    pub cells: Option<Cells>,
    /// From where it is taken; nowhere for water.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Origin>,
}

/// From where a part is taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// What the stock holds.
    Stock,
    /// A supermarket or a good shop.
    Shop,
    /// A specialist, on order.
    SpecialOrder,
}

impl Origin {
    /// Where something as common as this is bought.
    pub(super) const fn of(commonness: Option<Commonness>) -> Self {
        match commonness {
            Some(Commonness::Everywhere | Commonness::GoodShops) => Self::Shop,
            Some(Commonness::Specialist | Commonness::Rare) | None => Self::SpecialOrder,
        }
    }
}

impl Part {
    /// Its amount and name, a hop with its alpha acids, a yeast with what holds its cells.
    pub fn text(&self, style: Style) -> String {
        let amount = match (self.mass, self.volume) {
            (Some(mass), _) => style.mass(mass) + " ",
            (None, Some(volume)) => style.volume(volume) + " ",
            (None, None) => String::new(),
        };
        let alpha = self
            .alpha
            .map(|alpha| format!(" ({} alpha)", percent(alpha, 1)));
        let cells = self.cells.and_then(|cells| {
            let (least, most) = DRY_YEAST_BILLION_PER_G;
            let dry = |per_g| shortest(cells.billions() / per_g, 0);
            let pack = Cells::from_billions(LIQUID_PACK_BILLION).ok()?;
            let enough = Cells::from_billions(ENOUGH * cells.billions()).ok()?;
            let count = packs(enough, pack).ok()?;
            let plural = if count == 1 { "" } else { "s" };
            let [from, to] = [dry(most), dry(least)];
            Some(format!(
                " ({from} to {to} g dry, or {count} fresh pack{plural} of liquid)"
            ))
        });
        let more = alpha.or(cells).unwrap_or_default();
        format!("{amount}{}{more}", self.name)
    }
}
