//! Hops: the same bitterness (of a dry hop, the same mass), and how near the aroma comes.

use super::case::{Case, LEAST_SHARE, Measure, Offer, SlackUse};
use super::kind_group::KindGroup;
use super::practice::{Practice, UnstatedFigure};
use super::profile::{mean_of, or_mean};
use super::proposal::Aspect;
use super::search::{Column, Problem};
use super::setting::{Candidate, Need, Setting};
use crate::catalogue::{EntryRef, Hop, Kind};
use crate::process::{ItemIndex, Material, Rule};
use crate::quantity::{Written, in_kilograms};
use crate::recipe::Ingredient;

/// Axes of aroma.
const AXES: usize = 9;
/// Step of a scale that nobody states, kg (common practice, no source).
const STEP_KG: f64 = 0.0001;

/// What a kilogram of a hop brings.
struct Hopped {
    alpha: f64,
    oil_ml_100g: f64,
    cohumulone: f64,
    aroma: [f64; AXES],
    assumed: Vec<UnstatedFigure>,
}

/// Means over all hops.
struct Typical {
    oil_ml_100g: f64,
    cohumulone: f64,
    aroma: [f64; AXES],
}

fn middle(range: Option<(f64, f64)>) -> Option<f64> {
    range.map(|(low, high)| f64::midpoint(low, high))
}

fn oil(row: &Hop) -> Option<f64> {
    middle(row.oil_range.map(|(low, high)| {
        (
            low.millilitres_per_100_grams(),
            high.millilitres_per_100_grams(),
        )
    }))
}

fn cohumulone(row: &Hop) -> Option<f64> {
    middle(
        row.cohumulone_range
            .map(|(low, high)| (low.fraction(), high.fraction())),
    )
}

impl Typical {
    fn of(setting: &Setting<'_>) -> Self {
        let mean = |get: &dyn Fn(&Hop) -> Option<f64>| mean_of(setting.catalogue.hops(), get);
        Self {
            oil_ml_100g: mean(&oil),
            cohumulone: mean(&cohumulone),
            aroma: std::array::from_fn(|axis| {
                mean(&|row| {
                    let value = row.aroma.as_ref()?.values().get(axis)?;
                    Some(f64::from(*value))
                })
            }),
        }
    }
}

/// What a hop brings; none where nobody states its alpha acids.
fn hopped(ingredient: &Ingredient, row: Option<&Hop>, typical: &Typical) -> Option<Hopped> {
    let alpha = ingredient
        .facts
        .alpha
        .as_ref()
        .map(Written::value)
        .or_else(|| row.and_then(Hop::alpha))?
        .fraction();
    let mut assumed = Vec::new();
    let mut take = |value, typical, figure| or_mean(value, typical, figure, &mut assumed);
    let oil_ml_100g = take(row.and_then(oil), typical.oil_ml_100g, UnstatedFigure::Oil);
    let cohumulone = take(
        row.and_then(cohumulone),
        typical.cohumulone,
        UnstatedFigure::Cohumulone,
    );
    let aroma = or_mean(
        row.and_then(|row| Some(row.aroma?.values().map(f64::from))),
        typical.aroma,
        UnstatedFigure::Aroma,
        &mut assumed,
    );
    Some(Hopped {
        alpha,
        oil_ml_100g,
        cohumulone,
        aroma,
        assumed,
    })
}

fn row_of<'a>(ingredient: &Ingredient, setting: &Setting<'a>) -> Option<&'a Hop> {
    match setting.catalogue.find(ingredient.catalogue_name())?.entry {
        EntryRef::Hop(row) => Some(row),
        _ => None,
    }
}

/// Whether the line gives bitterness to the wort.
fn is_bittering(setting: &Setting<'_>, index: ItemIndex) -> bool {
    setting.source().brewed.ibu.at(index) > 0.0
}

/// The line as a problem.
pub(super) fn case(setting: &Setting<'_>, need: &Need, missing: &[ItemIndex]) -> Option<Case> {
    let item = setting.item(need.index)?;
    let Material::Hop { .. } = item.material else {
        return None;
    };
    let replaced_kg = setting.target_kg(need.index);
    if replaced_kg <= 0.0 {
        return None;
    }
    let weights = &setting.options.weights;
    let typical = Typical::of(setting);
    let wanted = hopped(
        &item.ingredient,
        row_of(&item.ingredient, setting),
        &typical,
    )?;
    let bittering = is_bittering(setting, need.index);
    let brings = |hop: &Hopped| [if bittering { hop.alpha } else { 1.0 }, 0.0];
    let features = |hop: &Hopped| -> Vec<f64> {
        let flavour = weights.flavour.sqrt() / 5.0;
        hop.aroma
            .iter()
            .map(|intensity| flavour * intensity)
            .chain([
                weights.hop_oil.sqrt() * hop.oil_ml_100g
                    / wanted.oil_ml_100g.max(f64::MIN_POSITIVE),
                weights.cohumulone.sqrt() * hop.cohumulone * hop.alpha
                    / wanted.alpha.max(f64::MIN_POSITIVE)
                    / 0.2,
            ])
            .collect()
    };
    let step_kg = setting
        .target
        .weighing
        .hops
        .as_ref()
        .map_or(STEP_KG, |step| in_kilograms(step.value()));
    let right = brings(&wanted);
    let rows = setting.catalogue.hops().map(|row| (&*row.name, Kind::Hop));
    let found = setting.candidates(item, missing, KindGroup::Hop, rows);
    let considered = found.len();
    let (mut columns, mut offers) = (Vec::new(), Vec::new());
    for Candidate { ingredient, left } in found {
        let row = row_of(&ingredient, setting);
        let Some(hop) = hopped(&ingredient, row, &typical) else {
            continue;
        };
        let brought = brings(&hop);
        if brought[0] <= 0.0 {
            continue;
        }
        // A hop that must make the whole bitterness may weigh less than a twentieth of a weak one.
        let least = LEAST_SHARE * (right[0] / brought[0]).min(1.0);
        let low = least.max(step_kg / replaced_kg);
        let high = (right[0] / brought[0]).min(left / replaced_kg);
        if low > high {
            continue;
        }
        let mut costs = vec![(
            Aspect::Unknown,
            weights.unknown_figure * hop.assumed.len() as f64,
        )];
        costs.retain(|(_, cost)| *cost > 0.0);
        let mut practice = Vec::new();
        let name = ingredient.name.clone();
        if bittering && (hop.alpha / wanted.alpha - 1.0).abs() > 0.05 {
            practice.push(Practice::MassFollowsBitterness { name: name.clone() });
        }
        if !hop.assumed.is_empty() {
            practice.push(Practice::FiguresAssumed {
                name,
                figures: hop.assumed.clone(),
            });
        }
        columns.push(Column {
            features: features(&hop),
            brings: brought,
            low,
            high,
            cost: costs.iter().map(|(_, cost)| cost).sum(),
            is_slack: false,
        });
        offers.push(Offer {
            ingredient,
            measure: Measure::Kilograms(replaced_kg),
            ratio: match item.rule {
                Rule::Ibu(_) => hop.alpha / wanted.alpha.max(f64::MIN_POSITIVE),
                _ => 1.0,
            },
            moved: None,
            water: None,
            practice,
            diastatic_wk: None,
            costs,
        });
    }
    Some(Case {
        problem: Problem {
            columns,
            slack: None,
            target: features(&wanted),
            right,
            part_cost: weights.extra_part,
            // A line that the headline fills has no amount to divide.
            most_parts: if item.rule == Rule::Open {
                1
            } else {
                setting.options.most_parts
            },
        },
        offers,
        way: None,
        slack: SlackUse::None,
        aspects: vec![
            (Aspect::Aroma, AXES),
            (Aspect::Oil, 1),
            (Aspect::Cohumulone, 1),
        ],
        considered,
        gate: None,
        per_residual: [0.0; 2],
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    #[test]
    fn a_hop_stands_in_the_middle_of_its_ranges() {
        let catalogue = Catalogue::builtin();
        let cascade = catalogue.hops().find(|hop| hop.name == "Cascade").unwrap();
        // USDA ARS, accessions 21092 and 56013: oil 0.62 to 1.89 mL/100 g and 1.24 to 1.27 on average; cohumulone 33 to 40 %.
        let oil = oil(cascade).unwrap();
        assert!((oil - 1.255).abs() < 1e-9, "{oil}");
        let cohumulone = cohumulone(cascade).unwrap();
        assert!((cohumulone - 0.365).abs() < 1e-9, "{cohumulone}");
    }
}
