//! What a yeast takes of extracts: a malt wort, maltotriose, dextrins.

use super::material::{Sugars, Yeast};
use crate::catalogue::{MaltotrioseUse, StrainTrait};
use crate::science::liquid::Liquid;

/// Share of the extract of an all-malt wort that ferments, as the catalogue has it for pale malt: the wort of 12 °P that a yeast's
/// attenuation is of.
const ALL_MALT: f64 = 0.66;

/// Strength of that wort, a fraction.
const ALL_MALT_STRENGTH: f64 = 0.12;

/// A yeast that ferments less than this part of a malt wort leaves maltose (only maltose-negative ones do, at 8 to 25 %).
const LEAVES_MALTOSE: f64 = 0.5;

/// What a yeast takes of extracts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct YeastUse {
    /// Of what of an all-malt wort can ferment.
    malt: f64,
    /// The same with an attenuation higher by one sigma.
    malt_and_sigma: f64,
    /// Of maltotriose.
    maltotriose: f64,
    /// Of dextrins, in weeks.
    dextrins: f64,
}

impl YeastUse {
    /// A yeast of which nothing is known takes all that can ferment.
    const UNKNOWN: Self = Self {
        malt: 1.0,
        // The spread of families below, 0.035 apparent, as a part of the fermentable share of malt wort.
        malt_and_sigma: 1.0 + 0.045,
        maltotriose: 1.0,
        dextrins: 0.0,
    };

    /// One sigma of an attenuation that a line states, and of that of a family (ingredients reference: a known yeast between
    /// brews 2.0 points, between strains 3.5; both soft).
    const STATED_SIGMA: f64 = 0.020;
    const FAMILY_SIGMA: f64 = 0.035;

    pub(crate) fn of(yeast: Option<&Yeast>) -> Self {
        let Some(yeast) = yeast else {
            return Self::UNKNOWN;
        };
        let (attenuation, sigma) = match (yeast.stated_attenuation, yeast.usual_attenuation) {
            (Some(stated), _) => (Some(stated), Self::STATED_SIGMA),
            (None, usual) => (usual, Self::FAMILY_SIGMA),
        };
        let taken = |attenuation: f64| fermented_of_all_malt(attenuation) / ALL_MALT;
        let dextrins = match yeast.diastatic {
            // What it ferments beyond the sugars of a wort is of the rest.
            Some(StrainTrait::Yes) => attenuation.map_or(0.0, |attenuation| {
                ((fermented_of_all_malt(attenuation) - ALL_MALT) / (1.0 - ALL_MALT)).max(0.0)
            }),
            _ => 0.0,
        };
        Self {
            malt: attenuation.map_or(Self::UNKNOWN.malt, taken),
            malt_and_sigma: attenuation.map_or(Self::UNKNOWN.malt_and_sigma, |a| taken(a + sigma)),
            maltotriose: match yeast.maltotriose {
                Some(MaltotrioseUse::No) => 0.0,
                // Between none and all of it, and nobody says where.
                Some(MaltotrioseUse::Partly | MaltotrioseUse::Variable) => 0.5,
                Some(MaltotrioseUse::Yes | MaltotrioseUse::Slow) | None => 1.0,
            },
            dextrins,
        }
    }

    /// What it takes and a yeast that goes in later: that one finds what the first leaves. One of unknown attenuation takes no more.
    pub(crate) fn and(self, later: &Yeast) -> Self {
        if later
            .stated_attenuation
            .or(later.usual_attenuation)
            .is_none()
        {
            return self;
        }
        let later = Self::of(Some(later));
        let driest = if later.malt > self.malt { later } else { self };
        Self {
            maltotriose: self.maltotriose.max(later.maltotriose),
            dextrins: self.dextrins.max(later.dextrins),
            ..driest
        }
    }

    /// What it ferments of an extract that has this share of what can ferment.
    pub(crate) fn ferments(&self, share: f64, sugars: Sugars) -> f64 {
        let leaves_maltose = self.malt < LEAVES_MALTOSE;
        match sugars {
            Sugars::Starch | Sugars::MaltExtract => (share * self.malt).min(1.0),
            Sugars::Kilned | Sugars::StarchSyrup { .. } if leaves_maltose => share * self.malt,
            Sugars::StarchSyrup { maltotriose } => {
                let taken = (share - maltotriose * (1.0 - self.maltotriose)).max(0.0);
                taken + self.dextrins * (1.0 - share)
            }
            // A diastatic yeast takes the dextrins of caramel malt too; what the kiln made dark is counted with them, on the side
            // on which bottles hold.
            Sugars::Kilned => share + self.dextrins * (1.0 - share),
            Sugars::Simple => share,
        }
    }

    /// Whether it breaks down what a mash left.
    pub(super) fn takes_dextrins(&self) -> bool {
        self.dextrins > 0.0
    }

    /// One sigma of what it takes of a malt wort, as a part of that.
    pub(crate) fn sigma(&self) -> f64 {
        self.malt_and_sigma / self.malt.max(f64::MIN_POSITIVE) - 1.0
    }

    /// The apparent attenuation of an all-malt wort of 12 °P of which `times` as much ferments as this yeast takes.
    pub(crate) fn attenuation(&self, times: f64) -> f64 {
        let wort = Liquid::wort_of(1.0, ALL_MALT_STRENGTH);
        let share = (self.malt * ALL_MALT * times).min(1.0);
        let end = wort.fermented_kg(wort.extract_kg * share).apparent_plato();
        1.0 - end / wort.apparent_plato()
    }
}

/// Share of the extract, by mass, that has fermented when an all-malt wort of 12 °P shows this apparent attenuation.
fn fermented_of_all_malt(attenuation: f64) -> f64 {
    let wort = Liquid::wort_of(1.0, ALL_MALT_STRENGTH);
    let end_plato = wort.apparent_plato() * (1.0 - attenuation);
    match wort.falls_to_kg(end_plato, wort.extract_kg) {
        Ok(consumed_kg) => consumed_kg / wort.extract_kg,
        Err(_) if attenuation > 0.5 => 1.0,
        Err(_) => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: half of the 60 % that a caramel malt leaves, on top of its 40 %; sugar that yeast leaves stays.
    #[test]
    fn a_diastatic_yeast_takes_dextrins_of_caramel_malt_too() {
        let diastatic = YeastUse {
            malt: 1.1,
            malt_and_sigma: 1.15,
            maltotriose: 1.0,
            dextrins: 0.5,
        };
        assert!((diastatic.ferments(0.4, Sugars::Kilned) - 0.7).abs() < 1e-12);
        assert!((diastatic.ferments(0.0, Sugars::Simple)).abs() < 1e-12);
        let usual = YeastUse {
            dextrins: 0.0,
            ..diastatic
        };
        assert!((usual.ferments(0.4, Sugars::Kilned) - 0.4).abs() < 1e-12);
        // One that takes all of them leaves nothing of a syrup.
        let all = YeastUse {
            dextrins: 1.0,
            ..diastatic
        };
        let syrup = Sugars::StarchSyrup { maltotriose: 0.1 };
        assert!((all.ferments(0.4, syrup) - 1.0).abs() < 1e-12);
    }
}
