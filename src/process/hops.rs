//! Bitterness of a wort: what each hop gives, by either model.

use super::formula::{Formula, Item, PerItem, Stage};
use super::hot_side::CoolingHistory;
use super::material::Material;
use super::wort::{Boiled, KettleSugar, Lautered};
use crate::quantity::in_minutes;
use crate::recipe::BitternessModel;
use crate::science::bitterness::tinseth::utilisation_share;
use crate::science::density::{Weighing, gravity_ratio, sucrose_density_20};
use crate::science::liquid::Liquid;

/// What a hop in the mash gives, over the same hop boiled for 60 min: 9.1 % of its alpha acids in the wort against 44.0 % (Justus,
/// MBAA Technical Quarterly 55 (2018) 67-74, abstract: means of a plant of 50 bbl). From one plant: good to 40 %.
const MASH_HOP: f64 = 9.1 / 44.0;
/// The boil that it is compared with, min.
const MASH_HOP_BOIL_MIN: f64 = 60.0;

/// How the wort's gravity rises through the boil: in steps where something dissolves in it, evenly between them.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GravityProfile {
    /// Longest time left first; the last one is the end of the boil.
    steps: Vec<Step>,
    first_wort: Liquid,
    evaporated_kg: f64,
    volume_l: f64,
    boil_min: f64,
}

/// From a time on, when something has dissolved.
#[derive(Debug, Clone, PartialEq)]
struct Step {
    left_min: f64,
    /// All that is in the kettle by then, before evaporation.
    wort: Liquid,
    /// The gravity added up over the minutes from then to the end of the boil.
    area: f64,
}

impl GravityProfile {
    /// `sugars` stand in the order in which they go in.
    pub(crate) fn of(
        run: &Lautered,
        sugars: &[KettleSugar],
        boiled: &Boiled,
        boil_min: f64,
    ) -> Self {
        let mut profile = Self {
            steps: Vec::with_capacity(sugars.len() + 1),
            first_wort: run.wort,
            evaporated_kg: boiled.evaporated_kg,
            volume_l: boiled.volume_l,
            boil_min,
        };
        let mut wort = run.wort;
        // What goes into the fermenter thins no wort that boils.
        for sugar in sugars.iter().filter(|sugar| sugar.time_left_min >= 0.0) {
            wort = wort.blended(sugar.liquid);
            if sugar.time_left_min > 0.0 {
                profile.steps.push(Step {
                    left_min: sugar.time_left_min,
                    wort,
                    area: 0.0,
                });
            }
        }
        profile.steps.push(Step {
            left_min: 0.0,
            wort,
            area: 0.0,
        });
        let mut later = 0.0;
        for at in (0..profile.steps.len()).rev() {
            let area = later + profile.area_from(at);
            if let Some(step) = profile.steps.get_mut(at) {
                (step.area, later) = (area, area);
            }
        }
        profile
    }

    /// The gravity added up from a step to the next.
    fn area_from(&self, at: usize) -> f64 {
        match (self.steps.get(at), self.steps.get(at + 1)) {
            (Some(step), Some(next)) => self.area(step.wort, step.left_min, next.left_min),
            _ => 0.0,
        }
    }

    /// The gravity of a wort added up from one time to another, by Simpson's rule: nothing goes in between.
    fn area(&self, wort: Liquid, from: f64, to: f64) -> f64 {
        let middle = 0.5 * (from + to);
        (from - to) / 6.0 * (self.at(wort, from) + 4.0 * self.at(wort, middle) + self.at(wort, to))
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
            (Stage::Boil | Stage::Sour, _) => {
                self.boiled(item.time_left_min(self.boil_min), cooling, model)
            }
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

    /// Specific gravity of what is in the kettle with `left_min` to boil.
    fn at(&self, wort: Liquid, left_min: f64) -> f64 {
        let boiled_share = if self.boil_min > 0.0 {
            1.0 - left_min / self.boil_min
        } else {
            1.0
        };
        let wort = wort.with_water_kg(-self.evaporated_kg * boiled_share);
        gravity_ratio(sucrose_density_20(wort.strength()), Weighing::InAir)
    }

    /// Mean specific gravity over the last `time_min` of the boil, at its end for no time.
    pub(crate) fn mean_over_last(&self, time_min: f64) -> f64 {
        let next = self
            .steps
            .partition_point(|step| step.left_min >= time_min.max(0.0));
        let in_kettle = next.checked_sub(1).and_then(|at| self.steps.get(at));
        let wort = in_kettle.map_or(self.first_wort, |step| step.wort);
        match self.steps.get(next) {
            Some(step) => (self.area(wort, time_min, step.left_min) + step.area) / time_min,
            None => self.at(wort, 0.0),
        }
    }
}
