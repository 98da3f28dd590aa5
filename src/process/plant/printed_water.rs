//! Mash and sparge water as a recipe prints it, on a plant that leaves them open.

use super::{Lautering, Plant};
use crate::diagnostic::Place;
use crate::process::assumption::{Assumption, MashInUnused};
use crate::process::side::Side;
use crate::quantity::{Quantity as _, Written, in_litres};
use crate::recipe::Recipe;
use crate::speech::Noted;

/// Two ratios closer than this are one, L/kg (rule of the crate).
const SAME_RATIO: f64 = 1e-9;

/// What a recipe says of its water.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct PrintedWater {
    /// Mash water per kilogram of grist.
    pub(crate) liquor_l_per_kg: Option<f64>,
    /// Sparge water.
    pub(crate) sparge_l: Option<f64>,
}

impl PrintedWater {
    /// What holds on the side of a plant: the sparge is so many litres of the original brewery's batch, the ratio holds on both.
    pub(crate) fn of(recipe: &Recipe, side: Side) -> Self {
        let mash = &recipe.mash;
        let sparge = mash.sparge.as_ref().and_then(|sparge| sparge.volume);
        Self {
            liquor_l_per_kg: mash.liquor.as_ref().map(|ratio| ratio.value().in_base()),
            sparge_l: sparge
                .filter(|_| side == Side::Source)
                .map(|volume| in_litres(volume.value())),
        }
    }
}

impl Plant {
    /// Whether the ratio of mash water to grist decides anything here; else why it does not.
    pub(crate) const fn mashes_by_ratio(&self) -> Result<(), MashInUnused> {
        match self.lautering {
            Lautering::Bag { .. } => Err(MashInUnused::Bag),
            Lautering::Batch { sparges: 0 } => Err(MashInUnused::NoSparge),
            Lautering::NoMash => Err(MashInUnused::NoMash),
            Lautering::Batch { .. } | Lautering::Continuous => Ok(()),
        }
    }

    /// What is told of a recipe's mash water that this plant does not use.
    pub(crate) fn unused_mash_in(&self, recipe: &Recipe) -> Option<Noted<Assumption>> {
        let liquor = recipe.mash.liquor.as_ref().map(Written::value)?;
        let because = match self.mashes_by_ratio() {
            Err(because) => because,
            Ok(()) if (self.liquor_l_per_kg - liquor.in_base()).abs() <= SAME_RATIO => return None,
            Ok(()) => MashInUnused::PlantStatesOwn,
        };
        let unused = Assumption::MashInNotUsed {
            side: self.side,
            liquor,
            because,
        };
        Some(Noted::at(Place::recipe("mash.liquor_l_per_kg"), unused))
    }
}
