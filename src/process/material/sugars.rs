//! What an extract is to yeast.

use crate::catalogue::{Fermentable as CatalogueFermentable, FermentableClass, Kind};
use crate::quantity::Quantity as _;

/// What an extract is to yeast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Sugars {
    /// Starch that a mash makes sugar of.
    Starch,
    /// Of caramel and roast grain: made in the kiln, the same whatever the mash.
    Kilned,
    /// Of malt extract: made in its maker's mash.
    MaltExtract,
    /// Of a starch syrup or maltodextrin, with this share of maltotriose.
    StarchSyrup { maltotriose: f64 },
    /// Sugars that all yeasts take or all leave: its own share.
    Simple,
}

impl Sugars {
    /// What an ingredient's extract is, by its kind and by its row in the catalogue.
    pub(crate) fn of(kind: Kind, known: Option<&CatalogueFermentable>) -> Self {
        if let Some(maltotriose) = known.and_then(|known| known.maltotriose) {
            return Self::StarchSyrup {
                maltotriose: maltotriose.in_base(),
            };
        }
        match known.and_then(|known| known.class) {
            Some(
                FermentableClass::CaramelMalt
                | FermentableClass::RoastedMalt
                | FermentableClass::RoastedGrain,
            ) => Self::Kilned,
            Some(FermentableClass::MaltExtract) => Self::MaltExtract,
            _ if matches!(kind, Kind::Malt | Kind::Grain) => Self::Starch,
            _ => Self::Simple,
        }
    }

    /// Whether it is fitted to a printed final gravity: what a mash made.
    pub(crate) const fn is_of_a_mash(self) -> bool {
        matches!(self, Self::Starch | Self::Kilned | Self::MaltExtract)
    }
}
