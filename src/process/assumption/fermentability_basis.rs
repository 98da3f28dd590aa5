//! What the fermentability of a mash was fitted to.

use super::figure::Figure;
use crate::diagnostic::Place;
use serde::Serialize;

/// What the fermentability of the mash was fitted to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FermentabilityBasis {
    /// The printed final extract of the beer.
    PrintedFinal,
    /// The printed final extract of the wort without later additions.
    PrintedWortFinal,
    /// The printed alcohol of the beer.
    PrintedAlcohol,
    /// The printed alcohol of the wort without later additions.
    PrintedWortAlcohol,
    /// The attenuation that the yeast's line states.
    StatedAttenuation,
    /// The catalogue's attenuation of the yeast.
    CatalogueAttenuation,
    /// The catalogue's fermentability of each grain, for a yeast of unknown attenuation.
    CatalogueGrist,
    /// What the recipe was fitted to before something in it was replaced.
    PrintedRecipe,
}

impl FermentabilityBasis {
    /// The input that decides it, or would.
    pub(crate) const fn place(self) -> Option<Place> {
        match self {
            Self::PrintedFinal | Self::CatalogueGrist => Some(Place::recipe("targets.final_plato")),
            Self::PrintedWortFinal => Some(Place::recipe("targets.wort_final_plato")),
            Self::PrintedAlcohol => Some(Place::recipe("targets.alcohol_abv_pct")),
            Self::PrintedWortAlcohol => Some(Place::recipe("targets.wort_alcohol_abv_pct")),
            Self::StatedAttenuation | Self::CatalogueAttenuation => {
                let yeast = Place::pitch().part("content.single");
                Some(yeast.field(Figure::Attenuation.field()))
            }
            Self::PrintedRecipe => None,
        }
    }
}
