//! What a litre of a juice brings.

use super::practice::UnstatedFigure;
use super::profile::{mean_of, or_mean};
use super::setting::Setting;
use super::weights::Weights;
use crate::catalogue::{Allergen, ColourClass, FruitAcid, Juice, JuiceFunction, Level};
use crate::process::Fermentable;
use crate::quantity::{Extract, Fermentability, Share, Written};
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
    /// By which fruit it is known.
    pub(super) fruit: String,
    /// What it does to yeast, or to people.
    pub(super) caution: Option<String>,
}

/// How it is bought: what is poured, or fruit with its pulp and stones, for a litre of its liquid.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bought {
    pub(super) kg: f64,
    /// Litres that it takes up.
    pub(super) l: f64,
    /// What it is in the beer, where it has pulp.
    pub(super) pulp: Option<Fermentable>,
}

impl Bought {
    /// `part` is what it is in the beer, and `density_kg_l` that of its liquid.
    pub(super) fn of(part: Option<&Fermentable>, density_kg_l: f64) -> Self {
        let pulp = part.filter(|part| part.pulp.is_some());
        let liquid_kg = pulp.map_or(1.0, |part| part.water + part.extract);
        let kg = density_kg_l / liquid_kg.max(f64::MIN_POSITIVE);
        Self {
            kg,
            l: pulp.map_or(1.0, |part| kg / part.density_kg_l),
            pulp: pulp.copied(),
        }
    }

    /// Litres of beer that the pulp keeps of so many litres of its liquid.
    pub(super) fn keeps_l(&self, l: f64) -> Option<f64> {
        Some(self.pulp?.keeps_l(self.kg * l))
    }
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
    // Of fruit it speaks of the edible part, of which pulp does not dissolve.
    let pulp = row.filter(|row| row.is_whole_fruit());
    let pulp = pulp.and_then(|row| row.pulp).map_or(0.0, Share::fraction);
    let strength = strength / (1.0 - pulp).max(f64::MIN_POSITIVE);
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
        caution: row
            .map(|row| row.cautions.to_string())
            .filter(|caution| !caution.is_empty()),
        fruit: row.map_or_else(|| ingredient.name.clone(), |row| fruit(row).to_owned()),
        assumed,
    })
}

/// The fruit of a row: its family, whatever form and variety.
fn fruit(row: &Juice) -> &str {
    let family = row
        .family
        .strip_prefix("whole fruit: ")
        .unwrap_or(&row.family);
    family.split(':').next().unwrap_or(family)
}

/// Another fruit is another taste, beside what the axes tell: a beer is named for its fruit (editorial, no source).
const OTHER_FRUIT: f64 = 0.0;

impl Juiced {
    /// How much of the own taste of another it has.
    pub(super) fn alike(&self, other: &Self) -> f64 {
        if self.fruit == other.fruit {
            1.0
        } else {
            OTHER_FRUIT
        }
    }

    /// Of one fruit a litre of its juice is as sour as a litre in the fruit: two tables differ by their harvests.
    pub(super) fn in_other_form(mut self, other: &Self, is_other_form: bool) -> Self {
        if is_other_form && self.is_like(other) {
            self.acid_meq = other.acid_meq;
        }
        self
    }

    /// Of one fruit, and of one taste.
    pub(super) fn is_like(&self, other: &Self) -> bool {
        let mut aroma = self.aroma.iter().zip(&other.aroma);
        self.fruit == other.fruit && aroma.all(|(one, its)| one.total_cmp(its).is_eq())
    }

    /// The intensity of what it tastes of most.
    pub(super) fn strongest(&self) -> f64 {
        self.aroma.iter().copied().fold(0.0, f64::max)
    }

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
            // Its own fruit is an axis more.
            .chain([flavour * self.alike(wanted) * self.strongest()])
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
