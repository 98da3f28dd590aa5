//! Wort and beer that trub and hops keep, each charge where it goes in.

use super::formula::{Formula, Item, PerItem, Stage};
use super::material::Material;
use super::plant::Plant;
use super::wort::{Grist, Lautered};
use crate::recipe::HopForm;

/// Wort in the trub of a kilogram of malt, without and with kettle finings, L (a brewers' forum, several batches of a home plant:
/// 1 L and 2 L of 5 kg).
const TRUB: f64 = 0.2;
const FINED_TRUB: f64 = 0.4;
/// Malt that gives less extract than this share of its mass brings no more trub than one that gives it (rule of the crate).
const LEAST_YIELD: f64 = 0.3;
/// Wort in a kilogram of dried cones when the kettle has drained, L (4.88 measured in a forum experiment; good to 1.5).
const CONES_IN_KETTLE: f64 = 5.0;
/// Beer in a kilogram of dried cones, drained, L (6 L in a supplier's handbook for a hop back; good to 2).
const CONES_IN_BEER: f64 = 6.0;
/// Wort or beer in a kilogram of pellets, L (dry hops in a trade trial 7.0 and 8.0, a brewery 8.35, a home plant 10; good to 2.5).
const PELLETS: f64 = 8.0;
/// Beer or wort in a kilogram of what is steeped and strained off, by its name in the catalogue, L: ground coffee (2 mL/g in handbooks of
/// coffee, from memory), nibs, half of them fat, and flakes of coconut (common practice, no source; each good to half of it).
const STEEPED: [(&str, f64); 3] = [("coffee", 2.0), ("cacao nibs", 1.0), ("coconut", 2.0)];
/// Dried cones that a kilogram of fresh ones would be, kg (common practice, no source).
const DRIED_OF_FRESH: f64 = 0.2;
/// Hops that a kettle loss holds with its trub, kg per litre of cold wort (rule of the crate).
const USUAL_HOPS: f64 = 0.002;

/// Litres that a kilogram of a hop keeps where it stands; none for what is no hop.
///
/// A line that says nothing of the form speaks of pellets. Hops in the mash stay in the grain, whose absorption holds them.
pub(super) fn per_kg(item: &Item) -> Option<f64> {
    if !matches!(item.material, Material::Hop { .. }) || !item.is_by_mass() {
        return None;
    }
    let in_beer = item.place.stage >= Stage::Ferment;
    let cones = if in_beer {
        CONES_IN_BEER
    } else {
        CONES_IN_KETTLE
    };
    match (item.place.stage, item.ingredient.hop_form()) {
        (Stage::Mash, _) | (_, Some(HopForm::Extract)) => None,
        (_, Some(HopForm::Pellet) | None) => Some(PELLETS),
        (_, Some(HopForm::Whole)) => Some(cones),
        (_, Some(HopForm::Fresh)) => Some(cones * DRIED_OF_FRESH),
    }
}

/// What an amount of an item keeps of the beer that it lies in, L.
pub(super) fn kept_by_l(item: &Item, amount: f64) -> f64 {
    per_kg(item).map_or_else(|| solids_keep_l(item, amount), |per_kg| per_kg * amount)
}

/// What fruit, coffee, nibs and coconut keep of the liquid that they lie in, L.
fn solids_keep_l(item: &Item, amount: f64) -> f64 {
    fruit_keeps_l(item, amount) + steeped_keeps_l(item, amount)
}

/// What coffee, nibs and coconut keep, L.
pub(super) fn steeped_keeps_l(item: &Item, amount: f64) -> f64 {
    let name = item.ingredient.catalogue_name();
    let known = STEEPED.iter().find(|(of, _)| *of == name);
    let known = known.filter(|_| item.is_by_mass() && item.place.stage > Stage::Mash);
    known.map_or(0.0, |(_, per_kg)| per_kg * amount)
}

/// What the pulp of fruit keeps of the liquid that it lies in, L.
pub(super) fn fruit_keeps_l(item: &Item, amount: f64) -> f64 {
    let fruit = item.fermentable(amount);
    fruit.map_or(0.0, |(fruit, kg)| fruit.keeps_l(kg))
}

/// Litres that trub and hops keep in the kettle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct KeptInKettle {
    /// By the trub, where the plant's own loss does not hold it.
    pub(super) trub_l: f64,
    /// By all the hops.
    hops_l: f64,
    /// What of that the plant's own loss holds.
    in_loss_l: f64,
    /// By fruit, coffee, nibs and coconut that were boiled or stood.
    solids_l: f64,
}

impl KeptInKettle {
    /// What trub and hops keep of `volume_l` of cold wort.
    pub(super) fn of(
        formula: &Formula,
        amounts: &PerItem<f64>,
        (grist, run): (Grist, &Lautered),
        plant: &Plant,
        volume_l: f64,
    ) -> Self {
        let (mut hops_kg, mut hops_l, mut solids_l) = (0.0, 0.0, 0.0);
        let items = formula.items.with(amounts);
        for (item, amount) in items.filter(|(item, _)| item.place.stage < Stage::Ferment) {
            match per_kg(item) {
                Some(per_kg) => {
                    hops_kg += amount;
                    hops_l += amount * per_kg * formula.hops_keep;
                }
                None => solids_l += solids_keep_l(item, *amount),
            }
        }
        if plant.loss_holds_trub {
            let per_kg = hops_l / hops_kg.max(f64::MIN_POSITIVE);
            return Self {
                trub_l: 0.0,
                hops_l,
                in_loss_l: per_kg * USUAL_HOPS * volume_l,
                solids_l,
            };
        }
        let per_malt = if formula.is_fined_in_kettle {
            FINED_TRUB
        } else {
            TRUB
        };
        // Grain that keeps its wort brings no trub into the kettle.
        let malt_kg = grist.mass_kg.min(run.wort.extract_kg / LEAST_YIELD);
        Self {
            trub_l: malt_kg * per_malt,
            hops_l,
            in_loss_l: 0.0,
            solids_l,
        }
    }

    /// Of so many times as much grain and hops.
    pub(crate) fn times(self, grain: f64, hops: f64) -> Self {
        Self {
            trub_l: self.trub_l * grain,
            hops_l: self.hops_l * hops,
            ..self
        }
    }

    /// What the hops keep beyond the plant's own loss, L.
    pub(super) fn by_hops_l(self) -> f64 {
        (self.hops_l - self.in_loss_l).max(0.0)
    }

    /// All that stays in the kettle beyond the plant's own loss, L.
    pub(crate) fn all_l(self) -> f64 {
        self.trub_l + self.by_hops_l() + self.solids_l
    }
}
