//! What a litre of a juice brings.

use super::practice::UnstatedFigure;
use super::profile::{mean_of, or_mean};
use super::setting::Setting;
use super::weights::Weights;
use crate::catalogue::{Allergen, ColourClass, FruitAcid, Juice, JuiceFunction, Level};
use crate::quantity::{Extract, Fermentability, Written};
use crate::recipe::Ingredient;
use crate::science::density::sucrose_density_20;

/// Above this a juice counts as a concentrate, which is thinned to the strength of what it stands for (rule of the
/// crate; straight juices end below 30 °Bx).
pub(super) const CONCENTRATE: f64 = 0.40;
/// Axes of aroma.
pub(super) const AXES: usize = 10;
/// What a litre of a juice brings.
#[derive(Debug, Clone)]
pub(super) struct Juiced {
    pub(super) extract_kg: f64,
    pub(super) fermentable_kg: f64,
    pub(super) density_kg_l: f64,
    pub(super) acid_meq: f64,
    pub(super) aroma: [f64; AXES],
    pub(super) hue: [f64; 2],
    pub(super) tannin: f64,
    pub(super) pectin: f64,
    pub(super) sorbitol: bool,
    pub(super) preserved: bool,
    pub(super) assumed: Vec<UnstatedFigure>,
    pub(super) function: Option<JuiceFunction>,
}

/// Means over all juices that are no concentrates.
pub(super) struct Typical {
    fermentable: f64,
    acid_meq: f64,
    aroma: [f64; AXES],
    hue: [f64; 2],
}

/// Grams of an acid that neutralise a mole of alkali (molar mass over the protons of the titration to pH 8.2, computed
/// from atomic weights).
const fn equivalent_mass_g(acid: FruitAcid) -> f64 {
    match acid {
        FruitAcid::Aconitic => 58.04,
        FruitAcid::Citric | FruitAcid::Isocitric => 64.04,
        FruitAcid::Malic => 67.04,
        FruitAcid::Oxalic => 45.02,
        FruitAcid::Quinic => 192.17,
        FruitAcid::Tartaric => 75.04,
    }
}

/// A hue as redness and depth (editorial, no source).
const fn hue(class: ColourClass) -> [f64; 2] {
    match class {
        ColourClass::WaterWhite => [0.0, 0.0],
        ColourClass::Straw => [0.0, 0.15],
        ColourClass::Golden => [0.0, 0.3],
        ColourClass::Amber => [0.1, 0.5],
        ColourClass::Pink => [0.5, 0.2],
        ColourClass::Red => [1.0, 0.5],
        ColourClass::PurpleBlack => [1.0, 1.0],
    }
}

fn acid_meq(row: &Juice) -> Option<f64> {
    let first = row.acids.first()?;
    Some(1000.0 * row.acidity?.grams_per_litre() / equivalent_mass_g(*first))
}

impl Typical {
    pub(super) fn of(setting: &Setting<'_>) -> Self {
        let mean = |get: &dyn Fn(&Juice) -> Option<f64>| {
            let straight = setting.catalogue.juices().filter(|row| {
                let is_straight = |brix: Extract| brix.plato() < 100.0 * CONCENTRATE;
                !row.is_whole_fruit() && row.extract.is_some_and(is_straight)
            });
            mean_of(straight, get)
        };
        Self {
            fermentable: mean(&|row| row.fermentability.map(Fermentability::fraction)),
            acid_meq: mean(&acid_meq),
            aroma: std::array::from_fn(|axis| {
                mean(&|row| Some(f64::from(*row.aroma.as_ref()?.values().get(axis)?)))
            }),
            hue: std::array::from_fn(|axis| mean(&|row| hue(row.colour_class?).get(axis).copied())),
        }
    }
}

/// What a litre brings; none where nobody states the Brix.
pub(super) fn juiced(
    ingredient: &Ingredient,
    row: Option<&Juice>,
    typical: &Typical,
) -> Option<Juiced> {
    let facts = &ingredient.facts;
    let strength = facts
        .brix
        .as_ref()
        .map(Written::value)
        .or_else(|| row.and_then(|row| row.extract))?
        .plato()
        / 100.0;
    let density_kg_l = sucrose_density_20(strength) / 1000.0;
    let mut assumed = Vec::new();
    let mut take = |value, typical, figure| or_mean(value, typical, figure, &mut assumed);
    let fermentable = take(
        facts
            .fermentability
            .as_ref()
            .map(|f| f.value().fraction())
            .or_else(|| {
                row.and_then(|row| row.fermentability)
                    .map(Fermentability::fraction)
            }),
        typical.fermentable,
        UnstatedFigure::Fermentability,
    );
    let stated_acid = facts.acidity.as_ref().map(|acidity| {
        let first = row
            .and_then(|row| row.acids.first().copied())
            .unwrap_or(FruitAcid::Malic);
        1000.0 * acidity.value().grams_per_litre() / equivalent_mass_g(first)
    });
    let acid = take(
        stated_acid.or_else(|| row.and_then(acid_meq)),
        typical.acid_meq,
        UnstatedFigure::Acidity,
    );
    let aroma = or_mean(
        row.and_then(|row| Some(row.aroma?.values().map(f64::from))),
        typical.aroma,
        UnstatedFigure::Aroma,
        &mut assumed,
    );
    let hue = or_mean(
        row.and_then(|row| row.colour_class).map(hue),
        typical.hue,
        UnstatedFigure::Hue,
        &mut assumed,
    );
    let degree = |level: Option<Level>| level.map_or(0.0, super::profile::level);
    let extract_kg = strength * density_kg_l;
    let preserved = facts
        .sulphite
        .as_ref()
        .is_some_and(|dose| dose.value().grams_per_litre() > 0.0)
        || facts
            .sorbate
            .as_ref()
            .is_some_and(|dose| dose.value().grams_per_litre() > 0.0)
        || row.is_some_and(|row| row.allergens.contains(&Allergen::Sulphites));
    Some(Juiced {
        extract_kg,
        fermentable_kg: extract_kg * fermentable,
        density_kg_l,
        acid_meq: acid,
        aroma,
        hue,
        tannin: degree(row.and_then(|row| row.tannin)),
        pectin: degree(row.and_then(|row| row.pectin)),
        sorbitol: row
            .and_then(|row| row.sorbitol)
            .is_some_and(|share| share.fraction() >= 0.1),
        preserved,
        function: row.and_then(|row| row.function),
        assumed,
    })
}

impl Juiced {
    /// The same in a litre of which only `share` is this juice and the rest is water.
    pub(super) fn thinned(&self, share: f64, strength: f64) -> Self {
        Self {
            extract_kg: self.extract_kg * share,
            fermentable_kg: self.fermentable_kg * share,
            density_kg_l: sucrose_density_20(strength) / 1000.0,
            acid_meq: self.acid_meq * share,
            // Aroma and hue of a concentrate are those of the juice that it makes.
            ..self.clone()
        }
    }

    pub(super) fn features(&self, wanted: &Self, weights: &Weights) -> Vec<f64> {
        let flavour = weights.flavour.sqrt() / 5.0;
        let hue = weights.hue.sqrt();
        let astringent = weights.tannin_and_pectin.sqrt() / 3.0;
        self.aroma
            .iter()
            .map(|intensity| flavour * intensity)
            .chain([
                weights.juice_acid.sqrt() * self.acid_meq / 100.0,
                weights.juice_sugar.sqrt() * self.fermentable_kg / wanted.fermentable_kg.max(1e-3),
                weights.juice_unfermented.sqrt() * (self.extract_kg - self.fermentable_kg) / 0.05,
                weights.juice_volume.sqrt(),
            ])
            .chain(self.hue.iter().map(|part| hue * part))
            .chain([astringent * self.tannin, astringent * self.pectin])
            .collect()
    }
}
