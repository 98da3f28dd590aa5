//! Mash and sparge water as a recipe prints it, on a plant that leaves them open.

use super::{Lautering, Plant};
use crate::diagnostic::Place;
use crate::process::assumption::{Assumption, MashInUnused};
use crate::process::side::Side;
use crate::quantity::{Quantity as _, Written, in_litres};
use crate::recipe::{Heating, Recipe, Rest};
use crate::speech::Noted;

/// Two ratios closer than this are one, L/kg (rule of the crate).
const SAME_RATIO: f64 = 1e-9;

/// What a recipe says of its water.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct PrintedWater<'a> {
    /// Mash water per kilogram of grist.
    pub(crate) liquor_l_per_kg: Option<f64>,
    /// Sparge water.
    pub(crate) sparge_l: Option<f64>,
    /// The rests, for what boiling water raises.
    pub(crate) rests: &'a [Rest],
}

/// Water a kilogram of a mash that is to be raised by boiling water, before the first infusion: it stirs well (common practice, no source).
const FIRST_L_PER_KG: f64 = 2.5;
/// Grist as the mass of water that holds as much heat, kg/kg (`science::heat`, at 4.5 % of moisture).
const GRIST_KG_PER_KG: f64 = 0.41;
/// Boiling water barely warmer than a rest raises nothing, K.
const LEAST_K: f64 = 1.0;

impl<'a> PrintedWater<'a> {
    /// What holds on the side of a plant: the sparge is so many litres of the original brewery's batch, the ratio holds on both.
    pub(crate) fn of(recipe: &'a Recipe, side: Side) -> Self {
        let mash = &recipe.mash;
        let sparge = mash.sparge.as_ref().and_then(|sparge| sparge.volume);
        Self {
            liquor_l_per_kg: mash.liquor.as_ref().map(|ratio| ratio.value().in_base()),
            sparge_l: sparge
                .filter(|_| side == Side::Source)
                .map(|volume| in_litres(volume.value())),
            rests: &mash.rests,
        }
    }

    /// Mash water a kilogram that leaves enough to mash in with when boiling water raises the mash, on a plant that heats it so and boils at
    /// so much; none where nothing is infused. By the heat balance of each infusion, backwards from the last.
    pub(crate) fn infused_l_per_kg(self, heating: Heating, boiling_c: f64) -> Option<f64> {
        let (first, later) = self.rests.split_first()?;
        let mut now_c = first.temperature.value().celsius();
        let mut left = 1.0;
        for rest in later {
            let to_c = rest.temperature.value().celsius();
            if rest.by.unwrap_or(heating) == Heating::Infusion && to_c > now_c {
                left *= (boiling_c - to_c).max(LEAST_K) / (boiling_c - now_c).max(LEAST_K);
            }
            now_c = to_c;
        }
        let all = (FIRST_L_PER_KG + GRIST_KG_PER_KG) / left - GRIST_KG_PER_KG;
        (left < 1.0).then(|| (10.0 * all).ceil() / 10.0)
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
