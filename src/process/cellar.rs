//! Fermenting wort: what becomes of it until nothing in it can ferment.

use crate::science::liquid::{Fall, Liquid};

/// Headspace of a fermenter as a share of what is in it (rule of the crate).
pub(crate) const HEADSPACE: f64 = 0.25;

/// Wort or beer in the fermenter, and the part of its extract that can ferment.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Fermenting {
    pub(crate) liquid: Liquid,
    pub(crate) fermentable_kg: f64,
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
        let consumed_kg = self.liquid.falls_to_kg(plato, self.fermentable_kg)?;
        Ok(self.after(consumed_kg))
    }

    /// After so much of it has fermented; all that could, if that was less.
    pub(crate) fn after(&self, consumed_kg: f64) -> Self {
        Self {
            liquid: self.liquid.fermented_kg(consumed_kg),
            fermentable_kg: (self.fermentable_kg - consumed_kg).max(0.0),
        }
    }

    /// A share of it: what is drawn, or what is left.
    pub(crate) fn part(&self, share: f64) -> Self {
        Self {
            liquid: self.liquid.part(share),
            fermentable_kg: self.fermentable_kg * share,
        }
    }

    /// With something mixed in.
    pub(crate) fn with(&self, other: &Self) -> Self {
        Self {
            liquid: self.liquid.blended(other.liquid),
            fermentable_kg: self.fermentable_kg + other.fermentable_kg,
        }
    }
}
