//! Bitterness of a wort: what each hop gives, by either model.

use super::formula::{Formula, Item, PerItem, Stage};
use super::hot_side::CoolingHistory;
use super::material::Material;
use super::wort::{Boiled, KettleSugar, Lautered};
use crate::quantity::in_minutes;
use crate::recipe::BitternessModel;
use crate::science::bitterness::tinseth::utilisation_share;
use crate::science::density::{Weighing, gravity_ratio, sucrose_density_20};

/// What a hop in the mash gives, over the same hop boiled for 60 min: 9.1 % of its alpha acids in the wort against 44.0 % (Justus,
/// MBAA Technical Quarterly 55 (2018) 67-74, abstract: means of a plant of 50 bbl). From one plant: good to 40 %.
const MASH_HOP: f64 = 9.1 / 44.0;
/// The boil that it is compared with, min.
const MASH_HOP_BOIL_MIN: f64 = 60.0;

/// How the wort's gravity rises through the boil.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GravityProfile<'a> {
    run: &'a Lautered,
    sugars: &'a [KettleSugar],
    evaporated_kg: f64,
    volume_l: f64,
    boil_min: f64,
}

impl<'a> GravityProfile<'a> {
    pub(crate) fn of(
        run: &'a Lautered,
        sugars: &'a [KettleSugar],
        boiled: &Boiled,
        boil_min: f64,
    ) -> Self {
        Self {
            run,
            sugars,
            evaporated_kg: boiled.evaporated_kg,
            volume_l: boiled.volume_l,
            boil_min,
        }
    }

    /// Bitterness of each item in the cold wort at the end of the boil, IBU.
    pub(crate) fn bitterness(
        &self,
        formula: &Formula,
        amounts: &PerItem<f64>,
        cooling: &CoolingHistory,
        model: BitternessModel,
    ) -> PerItem<f64> {
        formula.items.map(|index, item| {
            let kg = amounts.at(index);
            match item.material {
                Material::Hop { alpha: Some(alpha) }
                    if kg > 0.0 && self.volume_l > 0.0 && item.is_hot_hop() =>
                {
                    kg * alpha * 1e6 * self.utilisation(item, cooling, model) / self.volume_l
                }
                _ => 0.0,
            }
        })
    }

    /// Share of a hop's alpha acids that bitters the cold wort.
    ///
    /// Tinseth knows boiling time and gravity only, so that a hop in a stand gets none. The kinetic model follows the real
    /// temperatures from immersion to cold wort; what isomerisation leaves out (extraction, solubility, trub, yeast) is a
    /// retention that makes both models agree for 60 min at 100 °C in the hop's own gravity.
    pub(crate) fn utilisation(
        &self,
        item: &Item,
        cooling: &CoolingHistory,
        model: BitternessModel,
    ) -> f64 {
        match (item.place.stage, model) {
            (Stage::Mash, _) => MASH_HOP * self.boiled(MASH_HOP_BOIL_MIN, cooling, model),
            (Stage::Boil, _) => self.boiled(item.time_left_min(self.boil_min), cooling, model),
            (_, BitternessModel::Tinseth) => 0.0,
            (_, BitternessModel::Kinetic) => {
                let contact_min = item
                    .timing
                    .contact
                    .as_ref()
                    .map(|time| in_minutes(time.value()));
                let formed = cooling.steeped(item.place.stand, contact_min);
                self.retained(formed, 0.0, cooling)
            }
        }
    }

    /// The same of a hop that boils for the last `time_min`.
    fn boiled(&self, time_min: f64, cooling: &CoolingHistory, model: BitternessModel) -> f64 {
        match model {
            BitternessModel::Tinseth if time_min > 0.0 => {
                utilisation_share(time_min, self.mean_over_last(time_min.min(self.boil_min)))
            }
            BitternessModel::Tinseth => 0.0,
            BitternessModel::Kinetic => self.retained(cooling.boiled(time_min), time_min, cooling),
        }
    }

    /// What of the iso-alpha-acids formed stays in the wort, in the mean gravity over the last `time_min` of the boil.
    fn retained(&self, formed: f64, time_min: f64, cooling: &CoolingHistory) -> f64 {
        let gravity = self.mean_over_last(time_min.min(self.boil_min));
        formed * utilisation_share(60.0, gravity) / cooling.tied
    }

    /// Specific gravity with `left_min` to boil, when the sugars that enter before that are in.
    fn at(&self, left_min: f64, with_sugars: impl Fn(f64) -> bool) -> f64 {
        let boiled_share = if self.boil_min > 0.0 {
            1.0 - left_min / self.boil_min
        } else {
            1.0
        };
        let mut wort = self
            .run
            .wort
            .with_water_kg(-self.evaporated_kg * boiled_share);
        for sugar in self.sugars.iter().filter(|s| with_sugars(s.time_left_min)) {
            wort = wort.blended(sugar.liquid);
        }
        gravity_ratio(sucrose_density_20(wort.strength()), Weighing::InAir)
    }

    /// Mean specific gravity over the last `time_min` of the boil, at its end for no time: Simpson's rule between the
    /// sugars' times, where the gravity is smooth.
    pub(crate) fn mean_over_last(&self, time_min: f64) -> f64 {
        let mut area = 0.0;
        let mut from = time_min;
        let inner = self
            .sugars
            .iter()
            .map(|sugar| sugar.time_left_min)
            .filter(|left| *left < time_min && *left > 0.0)
            .chain(std::iter::once(0.0));
        for to in inner {
            if to >= from {
                continue;
            }
            let middle = 0.5 * (from + to);
            // Within the segment, what entered at or before its start is in.
            let started = from;
            let is_in = |left: f64| left >= started;
            area += (from - to) / 6.0
                * (self.at(from, is_in) + 4.0 * self.at(middle, is_in) + self.at(to, is_in));
            from = to;
        }
        if time_min > 0.0 {
            area / time_min
        } else {
            self.at(0.0, |_| true)
        }
    }
}
