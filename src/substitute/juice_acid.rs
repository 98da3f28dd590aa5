//! The acid that helps a juice which is milder than the one it stands for.

use super::kind_group::KindGroup;
use super::options::Candidates;
use super::part::Origin;
use super::setting::Setting;
use crate::catalogue::{FruitAcid, Juice, Kind, folded};
use crate::recipe::{Available, Ingredient};

/// An acid that helps a mild juice to the acid of a sour one.
#[derive(Debug, Clone)]
pub(super) struct Acid {
    pub(super) ingredient: Ingredient,
    pub(super) from: Origin,
    pub(super) kg_per_l: f64,
    /// To where fruit acids are titrated, a kilogram.
    pub(super) meq: f64,
}

/// Lactic acid as sold, and the dry acid of citrus: milliequivalents of a gram to pH 8.2 (computed from atomic weights; 88 % by mass).
const LACTIC: (&str, f64) = ("lactic acid 88 %", 0.88 * 1000.0 / 90.08);
const CITRIC: (&str, f64) = ("citric acid anhydrous", 1000.0 / 64.04);
/// Density of lactic acid 88 % (its row of the catalogue), and of citric acid (from memory).
const LACTIC_KG_L: f64 = 1.206;
const CITRIC_KG_L: f64 = 1.66;

impl Acid {
    /// The acid for a juice of citrus or of another fruit, where it is at hand or may be bought. What is poured is measured, so that dry acid goes with what is weighed.
    pub(super) fn of(setting: &Setting<'_>, row: Option<&Juice>, by_volume: bool) -> Option<Self> {
        let holds = |name: &str| {
            let held = setting.lots.get(&(KindGroup::WaterAgent, folded(name)));
            held.is_some_and(|held| held.holding.available() != Available::Nothing)
        };
        let is_citric = row.and_then(|row| row.acids.first()) == Some(&FruitAcid::Citric);
        let by_fruit = if is_citric { CITRIC } else { LACTIC };
        let at_hand = [LACTIC, CITRIC].into_iter().find(|(name, _)| holds(name));
        let (name, meq_g) = match (by_volume, at_hand) {
            (true, _) => LACTIC,
            (false, at_hand) => at_hand.unwrap_or(by_fruit),
        };
        let mut ingredient = Ingredient::new(name, Kind::Acid);
        ingredient.entry = Some(name.to_owned());
        let is_held = holds(name);
        let is_offered = is_held || setting.options.candidates != Candidates::Stock;
        let (lactic, citric) = (LACTIC_KG_L, CITRIC_KG_L);
        is_offered.then_some(Self {
            ingredient,
            from: if is_held { Origin::Stock } else { Origin::Shop },
            kg_per_l: if name == LACTIC.0 { lactic } else { citric },
            meq: 1000.0 * meq_g,
        })
    }

    /// Whether it is poured, and not weighed.
    pub(super) fn is_liquid(&self) -> bool {
        self.ingredient.name == LACTIC.0
    }
}
