//! What is wanted of a wort: its size and strength, and everything else about it.

use crate::process::{Grist, KettleSugar};
use crate::science::liquid::Liquid;

/// A wort to be reached at the end of the boil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Aim {
    /// Cold litres in the kettle.
    pub(crate) volume_l: f64,
    /// Extract, a fraction by mass.
    pub(crate) strength: f64,
}

/// A kettle sugar as a share of all extract at the end of the boil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SugarShare {
    pub(crate) share: f64,
    pub(crate) water_per_extract: f64,
    pub(crate) time_left_min: f64,
}

/// Everything about a wort but its size: the grist per unit, the sugars' shares, the boil.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WortBill {
    pub(crate) unit: Grist,
    pub(crate) sugars: Vec<SugarShare>,
    /// Drinks that go into the kettle, for each litre of wort at the end of the boil.
    pub(crate) drinks_per_l: Vec<KettleSugar>,
    pub(crate) boil_min: f64,
    pub(crate) mash_c: f64,
}

impl WortBill {
    /// What joins `wanted`, of which there are `volume_l`, in the kettle.
    pub(super) fn sugars_for(&self, wanted: Liquid, volume_l: f64) -> Vec<KettleSugar> {
        let sugars = self.sugars.iter().map(|sugar| KettleSugar {
            liquid: Liquid::solution(sugar.water_per_extract, 1.0)
                .part(sugar.share * wanted.extract_kg),
            time_left_min: sugar.time_left_min,
        });
        let drinks = self.drinks_per_l.iter().map(|drink| KettleSugar {
            liquid: drink.liquid.part(volume_l),
            time_left_min: drink.time_left_min,
        });
        sugars.chain(drinks).collect()
    }
}
