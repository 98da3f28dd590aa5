//! Yeasts and other cultures, one for one: by what they were selected for, how far they ferment, how warm, and what they
//! taste of.

use super::case::{Case, Measure, Offer, SlackUse};
use super::kind_group::KindGroup;
use super::noticed::Tastes;
use super::practice::{Practice, UnstatedFigure};
use super::proposal::{Aspect, Origin};
use super::search::{Column, Problem};
use super::setting::{Candidate, Need, Setting, Sold};
use super::weights::Weights;
use crate::catalogue::{Commonness, EntryRef, Flocculation, Kind, StrainTrait, Yeast, YeastUse};
use crate::process::{ItemIndex, Material};
use crate::quantity::{AlcoholByVolume, Attenuation, Written};
use crate::recipe::{At, Ingredient};

/// The axis of what phenolic yeasts taste of.
const AXES: [&str; 1] = ["phenolic"];
/// Clove and smoke of a phenolic yeast on the flavour scale of 5, and of one of which some strains are (common practice, no source).
const PHENOLIC: f64 = 4.0;
const PERHAPS_PHENOLIC: f64 = 2.0;
/// What is worth a step of flavour: single strains of a kind differ by so much of apparent attenuation (the catalogue's head), and a
/// fermentation so much warmer or cooler tastes of it (common practice, no source).
const ATTENUATION_STEP: f64 = 0.05;
const TEMPERATURE_STEP_C: f64 = 3.0;
/// Steps of flavour that one step in how it settles is worth: bright beer in days or in weeks (common practice, no source).
const SETTLING_STEPS: f64 = 0.5;

/// What a culture is known by.
struct Culture<'a> {
    row: Option<&'a Yeast>,
    attenuation: Option<f64>,
    phenolic: f64,
    settles: f64,
}

impl<'a> Culture<'a> {
    fn of(ingredient: &Ingredient, setting: &Setting<'a>) -> Self {
        let found = setting.catalogue.find(ingredient.catalogue_name());
        let row = found.and_then(|found| match found.entry {
            EntryRef::Yeast(row) => Some(row),
            _ => None,
        });
        let stated = ingredient.facts.attenuation.as_ref().map(Written::value);
        let attenuation = stated.or_else(|| row.and_then(|row| row.attenuation));
        Self {
            row,
            attenuation: attenuation.map(Attenuation::fraction),
            phenolic: match row.and_then(|row| row.phenolic) {
                Some(StrainTrait::Yes) => PHENOLIC,
                Some(StrainTrait::Possible) => PERHAPS_PHENOLIC,
                Some(StrainTrait::No) | None => 0.0,
            },
            settles: match row.and_then(|row| row.flocculation) {
                Some(Flocculation::Low) => 0.0,
                Some(Flocculation::Medium) | None => 1.0,
                Some(Flocculation::High) => 2.0,
            },
        }
    }

    fn usage(&self) -> Option<YeastUse> {
        self.row.and_then(|row| row.usage)
    }

    fn species(&self) -> Option<&str> {
        let species = &*self.row?.species;
        (!species.is_empty()).then_some(species)
    }

    fn range(&self) -> Option<[f64; 2]> {
        let (low, high) = self.row?.temperature_range?;
        Some([low.celsius(), high.celsius()])
    }

    /// How far a temperature lies out of its range, K.
    fn out_of_range(&self, celsius: f64) -> f64 {
        self.range().map_or(0.0, |[low, high]| {
            (low - celsius).max(celsius - high).max(0.0)
        })
    }

    /// What it costs that it does another job, or that it cannot finish a beer of this strength.
    fn cost_for(&self, wanted: &Self, alcohol: Option<f64>, weights: &Weights) -> f64 {
        let other_use = match (wanted.usage(), self.usage()) {
            // What else there is has little in common but the word.
            (wanted_use, Some(YeastUse::Other)) => {
                let is_like = wanted_use == Some(YeastUse::Other)
                    && wanted
                        .species()
                        .is_some_and(|species| Some(species) == self.species());
                if is_like {
                    0.0
                } else {
                    weights.change_of_function
                }
            }
            (wanted_use, its_use) if wanted_use == its_use => 0.0,
            (
                None | Some(YeastUse::Ale | YeastUse::Lager | YeastUse::Other),
                None | Some(YeastUse::Ale | YeastUse::Lager),
            ) => weights.near_function,
            _ => weights.change_of_function,
        };
        let of = |culture: &Self| culture.row.and_then(|row| row.diastatic);
        // One that eats dextrins dries the beer and goes on in the bottle; where some strains do, another strain is a step's trouble.
        let dries = match (of(wanted), of(self)) {
            (Some(StrainTrait::Yes), Some(StrainTrait::No))
            | (Some(StrainTrait::Possible), Some(StrainTrait::Yes)) => weights.near_function,
            (Some(StrainTrait::No) | None, Some(StrainTrait::Possible)) => weights.flavour / 25.0,
            (Some(StrainTrait::No) | None, Some(StrainTrait::Yes)) => weights.change_of_function,
            _ => 0.0,
        };
        let limit = self.row.and_then(|row| row.alcohol_limit);
        let stops = alcohol
            .zip(limit)
            .is_some_and(|(alcohol, (_, most))| alcohol > most.fraction());
        let stops = if stops {
            weights.change_of_function
        } else {
            0.0
        };
        other_use + dries + stops
    }
}

/// Yeast is replaced by yeast, and bacteria by bacteria.
fn may_stand_for(wanted: &Culture<'_>, brought: &Culture<'_>) -> bool {
    let is_bacteria = |culture: &Culture<'_>| culture.usage() == Some(YeastUse::Bacteria);
    is_bacteria(wanted) == is_bacteria(brought)
}

/// The line as a problem: one of it for one of what is replaced.
pub(super) fn case(setting: &Setting<'_>, need: &Need, missing: &[ItemIndex]) -> Option<Case> {
    let item = setting.item(need.index)?;
    let Material::Yeast(_) = item.material else {
        return None;
    };
    let weights = &setting.options.weights;
    let wanted = Culture::of(&item.ingredient, setting);
    let at_c = match &item.timing.at {
        Some(At::Temperature(at)) => Some(at.value().celsius()),
        _ => setting.held_c().or_else(|| {
            let range = wanted.range();
            range.map(|[low, high]| f64::midpoint(low, high))
        }),
    };
    let pitch_rate = &item.ingredient.facts.pitch_rate;
    let alcohol = setting.before.alcohol.map(AlcoholByVolume::fraction);
    let step = weights.flavour.sqrt() / 5.0;
    let features = |culture: &Culture<'_>, out_of_range_c: f64| {
        vec![
            step * culture.phenolic,
            // Where one of the two is not known, nothing is told of their difference.
            match wanted.attenuation {
                Some(known) => step * culture.attenuation.unwrap_or(known) / ATTENUATION_STEP,
                None => 0.0,
            },
            step * out_of_range_c / TEMPERATURE_STEP_C,
            step * SETTLING_STEPS * culture.settles,
        ]
    };
    // Which shop has which stands in no table.
    let rows = setting.catalogue.yeasts();
    let rows = rows.map(|row| Sold {
        name: &row.name,
        kind: Kind::Yeast,
        from: Origin::Shop,
        does_it: true,
    });
    let found = setting.candidates(item, missing, KindGroup::Yeast, rows);
    let considered = found.len();
    let (mut columns, mut offers) = (Vec::new(), Vec::new());
    for candidate in found {
        let Candidate {
            mut ingredient,
            from,
            ..
        } = candidate;
        let culture = Culture::of(&ingredient, setting);
        if let (Some(rate), None) = (pitch_rate, &ingredient.facts.pitch_rate) {
            ingredient.facts.pitch_rate = Some(*rate);
        }
        let is_unknown = culture.attenuation.is_none() && wanted.attenuation.is_some();
        // What nobody knows the attenuation of is not bought for what is known.
        let is_blind = is_unknown && from != Origin::Stock;
        if is_blind || !may_stand_for(&wanted, &culture) {
            continue;
        }
        let mut costs = vec![
            (
                Aspect::ChangeOfFunction,
                culture.cost_for(&wanted, alcohol, weights),
            ),
            (
                Aspect::Unknown,
                weights.unknown_figure * f64::from(u8::from(is_unknown)),
            ),
        ];
        costs.extend(setting.costs_of_buying(
            ingredient.catalogue_name(),
            from,
            Some(Commonness::Everywhere),
            1.0,
        ));
        costs.retain(|(_, cost)| *cost > 0.0);
        let out_of_range_c = at_c.map_or(0.0, |celsius| culture.out_of_range(celsius));
        let mut practice = Vec::new();
        let name = ingredient.name.clone();
        if let Some((coolest, warmest)) = culture.row.and_then(|row| row.temperature_range)
            && out_of_range_c > 0.0
        {
            practice.push(Practice::FermentWithin {
                name: name.clone(),
                coolest,
                warmest,
            });
        }
        if is_unknown {
            practice.push(Practice::FiguresAssumed {
                name,
                figures: vec![UnstatedFigure::Attenuation],
            });
        }
        columns.push(Column {
            features: features(&culture, out_of_range_c),
            brings: [1.0, 0.0],
            low: 1.0,
            high: 1.0,
            cost: costs.iter().map(|(_, cost)| cost).sum(),
            is_slack: false,
        });
        offers.push(Offer {
            ingredient,
            measure: Measure::OneForOne,
            ratio: 1.0,
            moved: None,
            water: None,
            practice,
            diastatic_wk: None,
            costs,
            from,
            is_base: false,
            tastes: vec![culture.phenolic],
            acid_meq_l: 0.0,
            mash_acid_meq: 0.0,
        });
    }
    Some(Case {
        problem: Problem {
            columns,
            slack: None,
            target: features(&wanted, 0.0),
            right: [1.0, 0.0],
            band: None,
            part_cost: 0.0,
            most_parts: 1,
        },
        offers,
        way: None,
        slack: SlackUse::None,
        aspects: vec![
            (Aspect::Flavour, AXES.len()),
            (Aspect::Attenuation, 1),
            (Aspect::FermentationTemperature, 1),
            (Aspect::Settling, 1),
        ],
        considered,
        gate: None,
        acid_meq: None,
        tastes: Tastes {
            axes: &AXES,
            share: 1.0,
            wanted: vec![wanted.phenolic],
            slack: Vec::new(),
            acid_meq_l: 0.0,
        },
        per_residual: [0.0; 2],
    })
}
