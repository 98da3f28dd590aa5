//! Room above a wort that boils and above a mash that is stirred.

use super::plant::{Lautering, Plant};

/// A kettle fuller than this boils over before anybody has turned the burner down (common practice, no source: a tenth and more is
/// left for the foam).
const KETTLE_FILL: f64 = 0.9;
/// A mash vessel fuller than this cannot be stirred without spilling (common practice, no source).
const MASH_FILL: f64 = 0.95;
/// Parts of a volume to which it is found.
const FOUND: f64 = 1e-6;

/// Hot litres in the two vessels when each is fullest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Filled {
    pub(crate) kettle_l: f64,
    pub(crate) mash_l: f64,
}

/// The most that the vessels of a plant may hold; nothing said is no limit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Headroom {
    pub(crate) kettle_l: Option<f64>,
    pub(crate) mash_l: Option<f64>,
}

impl Headroom {
    /// With room for foam and for stirring.
    pub(crate) fn of(plant: &Plant) -> Self {
        Self {
            kettle_l: plant.kettle_l.map(|l| KETTLE_FILL * l),
            mash_l: plant.mash_vessel_l().map(|l| MASH_FILL * l),
        }
    }

    /// The same, but no less than what stands in a vessel already and goes in.
    pub(crate) fn or_as(self, plant: &Plant, filled: Filled) -> Self {
        let fits = |most_l: Option<f64>, capacity_l: Option<f64>, filled_l: f64| {
            let goes_in = capacity_l.is_some_and(|capacity_l| filled_l <= capacity_l);
            most_l.map(|most_l| {
                if goes_in {
                    most_l.max(filled_l)
                } else {
                    most_l
                }
            })
        };
        Self {
            kettle_l: fits(self.kettle_l, plant.kettle_l, filled.kettle_l),
            mash_l: fits(self.mash_l, plant.mash_vessel_l(), filled.mash_l),
        }
    }

    /// The plant with vessels that hold no more.
    pub(crate) fn on(self, plant: &Plant) -> Plant {
        let mut plant = plant.clone();
        plant.kettle_l = self.kettle_l;
        if plant.mash_tun_l.is_some() || matches!(plant.lautering, Lautering::Bag { .. }) {
            plant.mash_tun_l = self.mash_l;
        }
        plant
    }

    /// Whether a vessel is fuller than that, by more than is found.
    pub(crate) fn is_over(most_l: f64, filled_l: f64) -> bool {
        filled_l > most_l * (1.0 + FOUND)
    }

    pub(crate) fn holds(self, filled: Filled) -> bool {
        let within =
            |most_l: Option<f64>, l: f64| most_l.is_none_or(|most_l| !Self::is_over(most_l, l));
        within(self.kettle_l, filled.kettle_l) && within(self.mash_l, filled.mash_l)
    }
}
