//! Hops: the same bitterness (of a dry hop, the same mass), and how near the aroma comes.

use super::candidates::{Candidate, Sold};
use super::case::{Case, LEAST_SHARE, Measure, Offer, SlackUse};
use super::distance::Aspect;
use super::kind_group::KindGroup;
use super::needs::Need;
use super::part::Origin;
use super::practice::{Practice, UnstatedFigure};
use super::profile::{mean_of, or_mean};
use super::search::{Column, Problem};
use super::setting::Setting;
use super::taste::{LineSpread, Tastes};
use super::weights::Weights;
use crate::catalogue::{EntryRef, HOP_AXES, Hop, HopUse, Kind};
use crate::process::{Item, ItemIndex, LotSigma, Material, Rule, Stage};
use crate::quantity::{AlphaAcids, Written, in_kilograms};
use crate::recipe::Ingredient;
use std::borrow::Cow;

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

fn alpha_of(ingredient: &Ingredient, row: Option<&Hop>) -> Option<AlphaAcids> {
    let stated = ingredient.facts.alpha.as_ref().map(Written::value);
    stated.or_else(|| row.and_then(Hop::alpha))
}

/// The alpha acids of a hop; none of anything else.
pub(super) fn alpha(ingredient: &Ingredient, setting: &Setting<'_>) -> Option<AlphaAcids> {
    let is_hop = ingredient.kind == Kind::Hop;
    is_hop.then(|| alpha_of(ingredient, row_of(ingredient, setting)))?
}

/// What a hop brings; none where nobody states its alpha acids.
fn hopped(ingredient: &Ingredient, row: Option<&Hop>, typical: &Typical) -> Option<Hopped> {
    let alpha = alpha_of(ingredient, row)?.fraction();
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

/// What the line is for.
struct Role {
    /// Bitterness is what it must bring; else it is aroma, and the bittering hop closes the gap.
    bitters: bool,
    /// It boils so long that nothing else of it is wanted.
    only_bitters: bool,
    /// How much of its aroma is tasted in the beer: what is left of its oil, of a dose of 5 g/L.
    tasted: f64,
    /// Growers name some other beside it.
    has_named: bool,
}

/// Hops boiled as long as this are there for their bitterness (common practice, no source).
const BITTERS_FROM_MIN: f64 = 30.0;
/// Oil falls to its e-th part in so many minutes of boiling (common practice, no source).
const OIL_BOILS_OFF_MIN: f64 = 20.0;
/// A dose of aroma hops beyond which more is hardly tasted, g/L (common practice, no source).
const FULL_DOSE_G_L: f64 = 5.0;
/// An aroma hop goes in by its oil, and no further from the weight of what it stands for: a lot's oil lies within so much of the
/// middle of its variety, and aroma does not follow oil beyond (common practice, no source).
const LEAST_WEIGHT: f64 = 0.8;
const MOST_WEIGHT: f64 = 1.3;

impl Role {
    fn of(setting: &Setting<'_>, item: &Item, index: ItemIndex, replaced_kg: f64) -> Self {
        let source = setting.source();
        let ibu = &source.brewed.ibu;
        let alone = !setting
            .formula()
            .items
            .iter()
            .any(|(other, _)| other != index && ibu.at(other) > 0.0);
        let boiled_min = match item.place.stage {
            Stage::Mash | Stage::Sour | Stage::Boil => item.time_left_min(f64::INFINITY).min(60.0),
            _ => 0.0,
        };
        let is_stated = matches!(item.rule, Rule::Ibu(_) | Rule::Open);
        let bitters = ibu.at(index) > 0.0 && (alone || is_stated || boiled_min >= BITTERS_FROM_MIN);
        let volume_l = setting.planned().brewed.boiled.volume_l;
        let dose_g_l = 1000.0 * replaced_kg / volume_l.max(f64::MIN_POSITIVE);
        Self {
            bitters,
            only_bitters: bitters && boiled_min >= BITTERS_FROM_MIN,
            has_named: row_of(&item.ingredient, setting).is_some_and(|wanted| {
                let mut hops = setting.catalogue.hops();
                hops.any(|row| is_named(wanted, row))
            }),
            tasted: (-boiled_min / OIL_BOILS_OFF_MIN).exp() * (dose_g_l / FULL_DOSE_G_L).min(1.0),
        }
    }

    /// What a variety costs that is not grown for this, or whose aroma is of another circle.
    fn cost(&self, wanted: Option<&Hop>, row: Option<&Hop>, weights: &Weights) -> f64 {
        let usage = row.and_then(|row| row.usage);
        let other_use = match usage {
            Some(HopUse::Aroma) => self.bitters,
            Some(HopUse::Bittering) => !self.bitters,
            _ => false,
        };
        let other_circle = !self.bitters
            && wanted
                .zip(row)
                .is_some_and(|(wanted, row)| !wanted.circles.is_empty() && !is_close(wanted, row));
        // A circle is what an aroma hop is for.
        // Of one that is grown for its aroma too, that boils off unused.
        let wasted = self.only_bitters && usage == Some(HopUse::Dual);
        let use_cost = match (other_use, wasted) {
            (true, _) => weights.near_function,
            (false, true) => weights.flavour / 25.0,
            (false, false) => 0.0,
        };
        let is_named = wanted
            .zip(row)
            .is_none_or(|(wanted, row)| is_named(wanted, row));
        let circle_cost = match (other_circle, is_named) {
            (true, _) => weights.change_of_function,
            // Of the same circle what growers name beside it goes first: they have tasted both.
            (false, false) if !self.bitters && self.has_named => weights.near_function,
            (false, _) => 0.0,
        };
        use_cost + circle_cost
    }
}

fn shares(list: &[Cow<'_, str>], name: &str) -> bool {
    list.iter().any(|entry| *entry == name)
}

/// Whether growers name the two together.
fn is_named(one: &Hop, other: &Hop) -> bool {
    shares(&one.close_to, &other.name) || shares(&other.close_to, &one.name)
}

/// Whether growers or brewers do.
fn is_close(one: &Hop, other: &Hop) -> bool {
    let mut circles = one.circles.iter();
    circles.any(|circle| shares(&other.circles, circle)) || is_named(one, other)
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
    let role = Role::of(setting, item, need.index, replaced_kg);
    let bittering = role.bitters;
    let oil = |hop: &Hopped| {
        let ratio = hop.oil_ml_100g / wanted.oil_ml_100g.max(f64::MIN_POSITIVE);
        ratio.clamp(1.0 / MOST_WEIGHT, 1.0 / LEAST_WEIGHT)
    };
    let brings = |hop: &Hopped| [if bittering { hop.alpha } else { oil(hop) }, 0.0];
    // Aroma goes with the oil; cohumulone matters to bitterness alone.
    let strength = |hop: &Hopped| if bittering { 1.0 } else { oil(hop) };
    let features = |hop: &Hopped| -> Vec<f64> {
        // What boils off is not tasted.
        let tasted = if bittering { role.tasted.sqrt() } else { 1.0 };
        let flavour = weights.flavour.sqrt() / 5.0 * tasted * strength(hop);
        let cohumulone = if bittering {
            weights.cohumulone.sqrt()
        } else {
            0.0
        };
        hop.aroma
            .iter()
            .map(|intensity| flavour * intensity)
            .chain([
                weights.hop_oil.sqrt() * tasted * hop.oil_ml_100g
                    / wanted.oil_ml_100g.max(f64::MIN_POSITIVE),
                cohumulone * hop.cohumulone * hop.alpha / wanted.alpha.max(f64::MIN_POSITIVE) / 0.2,
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
    let wanted_row = row_of(&item.ingredient, setting);
    let rows = setting.catalogue.hops();
    let rows = rows.map(|row| Sold {
        name: &row.name,
        kind: Kind::Hop,
        // Of a host's own nobody says.
        from: row
            .commonness
            .map_or(Origin::Shop, |common| Origin::of(Some(common))),
        does_it: role.cost(wanted_row, Some(row), weights) < weights.change_of_function,
    });
    let found = setting.candidates(item, missing, (KindGroup::Hop, replaced_kg), rows);
    let considered = found.len();
    let (mut columns, mut offers) = (Vec::new(), Vec::new());
    for candidate in found {
        let Candidate {
            ingredient,
            from,
            left,
        } = candidate;
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
        costs.push((
            Aspect::ChangeOfFunction,
            role.cost(wanted_row, row, weights),
        ));
        costs.extend(setting.costs_of_buying(
            ingredient.catalogue_name(),
            from,
            row.and_then(|row| row.commonness),
            1.0,
        ));
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
            ratio: match item.rule {
                Rule::Ibu(_) => hop.alpha / wanted.alpha.max(f64::MIN_POSITIVE),
                _ => 1.0,
            },
            practice,
            costs,
            tastes: hop.aroma.map(|taste| strength(&hop) * taste).to_vec(),
            tastes_alike: role.only_bitters,
            ..Offer::plain(ingredient, Measure::Kilograms(replaced_kg), from)
        });
    }
    Some(Case {
        problem: Problem {
            columns,
            slack: None,
            target: features(&Hopped {
                // What only bitters is chosen for its alpha acids, and of two that bring them the one that tastes of least.
                aroma: if role.only_bitters {
                    [0.0; AXES]
                } else {
                    wanted.aroma
                },
                assumed: Vec::new(),
                ..wanted
            }),
            right,
            band: None,
            // A second variety is one more pack that is opened and ages: as dear as in the smallest share of a grist.
            part_cost: weights.further_part(0.0),
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
        acid_meq: None,
        tastes: Tastes {
            axes: &HOP_AXES,
            share: role.tasted,
            wanted: wanted.aroma.to_vec(),
            slack: Vec::new(),
            acid_meq_l: 0.0,
            own: None,
        },
        spread: LineSpread {
            ibu: LotSigma::of(item).alpha * setting.source().brewed.ibu.at(need.index),
            ..LineSpread::default()
        },
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
