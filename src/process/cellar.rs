//! Fermenting wort: what becomes of it until nothing in it can ferment.

use crate::science::density::sucrose_density_20;
use crate::science::liquid::Liquid;

/// Wort or beer in the fermenter, and the part of its extract that can ferment.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Fermenting {
    pub(crate) liquid: Liquid,
    pub(crate) fermentable_kg: f64,
}

/// Why a gravity is not met on the way down, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Fall {
    AlreadyBelow(f64),
    EndsAbove(f64),
}

impl Fermenting {
    /// A beer in which nothing is left to ferment.
    pub(crate) const fn done(liquid: Liquid) -> Self {
        Self {
            liquid,
            fermentable_kg: 0.0,
        }
    }

    /// The beer when everything that can ferment has fermented.
    pub(crate) fn finished(&self) -> Liquid {
        self.liquid.fermented_kg(self.fermentable_kg)
    }

    /// When its apparent extract has fallen to `plato`, or how that fails.
    pub(crate) fn fallen_to(&self, plato: f64) -> Result<Self, Fall> {
        // The apparent extract rises with the density, which is quicker to find.
        let wanted = sucrose_density_20(plato / 100.0);
        if self.liquid.density_20() <= wanted {
            return Err(Fall::AlreadyBelow(self.liquid.apparent_plato()));
        }
        let finished = self.finished();
        if finished.density_20() > wanted {
            return Err(Fall::EndsAbove(finished.apparent_plato()));
        }
        let consumed_kg = self.liquid.consumed_at_kg(wanted).min(self.fermentable_kg);
        Ok(Self {
            liquid: self.liquid.fermented_kg(consumed_kg),
            fermentable_kg: self.fermentable_kg - consumed_kg,
        })
    }

    /// With something mixed in.
    pub(crate) fn with(&self, other: &Self) -> Self {
        Self {
            liquid: self.liquid.blended(other.liquid),
            fermentable_kg: self.fermentable_kg + other.fermentable_kg,
        }
    }
}
