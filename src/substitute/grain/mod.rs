//! Malt, grain and sugar: what keeps gravity and malt colour, and how near it comes in the rest.

mod here;

use super::Weights;
use super::case::{Case, SlackUse};
use super::kind_group::KindGroup;
use super::profile::{Means, Profile, Starch, profile, row_of, starch};
use super::proposal::Aspect;
use super::search::{Column, Problem, Slack};
use super::setting::{Candidate, Need, Setting};
use crate::catalogue::{Commonness, Fermentable, FermentableClass, Kind, folded};
use crate::process::{Item, ItemIndex, Material};
use crate::quantity::Share;
use crate::recipe::Ingredient;
use here::Here;

/// Base malt gives way within this share of itself, for all lines together (rule of the crate).
pub(super) const SLACK_SHARE: f64 = 0.1;

/// A candidate before its amounts are bounded.
struct Unbounded<'a> {
    ingredient: Ingredient,
    row: Option<&'a Fermentable>,
    /// Kilograms that can be had, less what the recipe needs elsewhere.
    left_kg: f64,
}

/// The line as a problem.
pub(super) fn case(
    setting: &Setting<'_>,
    need: &Need,
    missing: &[ItemIndex],
    means: &Means,
) -> Option<Case> {
    let item = setting.item(need.index)?;
    let Material::Fermentable(part) = item.material else {
        return None;
    };
    let replaced_kg = if item.is_by_volume() {
        setting.target_l(need.index) * part.density_kg_l
    } else {
        setting.target_kg(need.index)
    };
    if replaced_kg <= 0.0 {
        return None;
    }
    let row = row_of(&item.ingredient, setting.catalogue);
    let (wanted, _) = profile(&item.ingredient, row, means);
    let here = Here::new(setting, item, replaced_kg, &wanted);
    let weights = &setting.options.weights;
    let base = if here.on_wort_side && here.has_mash {
        setting.base_malt(missing)
    } else {
        None
    };
    let features = |profile: &Profile| here.features(profile, &wanted, weights);
    let mut slack = None;
    let mut slack_use = SlackUse::None;
    let mut base_wk = 0.0;
    if let Some(index) = base
        && let Some(base_item) = setting.item(index)
    {
        let base_row = row_of(&base_item.ingredient, setting.catalogue);
        let (base_profile, _) = profile(&base_item.ingredient, base_row, means);
        let of_kg = setting.target_kg(index);
        let room = SLACK_SHARE * of_kg / replaced_kg;
        let name = base_item.ingredient.catalogue_name();
        let lot_kg = setting.left(name, KindGroup::Fermentable, missing);
        base_wk = base_profile.diastatic_wk;
        slack = Some(Slack {
            features: features(&base_profile),
            brings: here.brings(&base_profile),
            low: -room,
            high: room.min(lot_kg / replaced_kg),
            price: weights.slack,
        });
        slack_use = SlackUse::BaseMalt {
            index,
            kg: replaced_kg,
            of_kg,
        };
    }
    let base_name = base
        .and_then(|index| setting.item(index))
        .map(|item| folded(item.ingredient.catalogue_name()));
    let right = here.brings(&wanted);
    let [gravity, _] = right;
    let most_gravity = gravity
        - slack
            .as_ref()
            .map_or(0.0, |slack| slack.low * slack.brings[0]);
    let candidates = candidates(setting, item, missing, &here);
    let considered = candidates.len();
    let (mut columns, mut offers) = (Vec::new(), Vec::new());
    for candidate in candidates {
        let (brought, ingredient) = profile(&candidate.ingredient, candidate.row, means);
        let Some((low, high)) = here.bounds(setting, &candidate, &brought, most_gravity) else {
            continue;
        };
        let costs = costs(&wanted, &brought, candidate.row, weights);
        columns.push(Column {
            features: features(&brought),
            brings: here.brings(&brought),
            low,
            high,
            cost: costs.iter().map(|(_, cost)| cost).sum(),
            is_slack: base_name.as_deref() == Some(folded(ingredient.catalogue_name()).as_str()),
        });
        offers.push(here.offer(ingredient, candidate.row, &brought, &wanted, costs));
    }
    let planned = setting.planned();
    let volume_l = planned.brewed.boiled.volume_l;
    let extract_kg = planned.brewed.boiled.wort.extract_kg;
    Some(Case {
        problem: Problem {
            columns,
            slack,
            target: features(&wanted),
            right,
            part_cost: weights.extra_part,
            most_parts: setting.options.most_parts,
        },
        offers,
        way: None,
        slack: slack_use,
        aspects: vec![
            (Aspect::Flavour, wanted.flavour.len()),
            (Aspect::Fermentable, 1),
            (Aspect::DiastaticPower, 1),
            (Aspect::Protein, 1),
            (Aspect::Gum, 1),
            (Aspect::MashAcidity, 1),
        ],
        considered,
        gate: here.gate(setting, need.index, means, base_wk),
        per_residual: [
            100.0 * replaced_kg / extract_kg.max(f64::MIN_POSITIVE),
            replaced_kg / volume_l.max(f64::MIN_POSITIVE),
        ],
    })
}

/// Kilograms of a name up to its usual upper share, less what the recipe has of it.
fn usual_left_kg(setting: &Setting<'_>, name: &str, share: Share, fermentables_kg: f64) -> f64 {
    let (in_recipe_kg, _) = setting.used(name, KindGroup::Fermentable, &[]);
    share.fraction() * fermentables_kg - in_recipe_kg
}

/// The same of an ingredient of the wort by its name; none without a usual upper share.
pub(super) fn usual_room_kg(setting: &Setting<'_>, ingredient: &Ingredient) -> Option<f64> {
    let share = row_of(ingredient, setting.catalogue)?.usual_max_share?;
    let name = ingredient.catalogue_name();
    Some(usual_left_kg(
        setting,
        name,
        share,
        setting.fermentables_kg(),
    ))
}

/// Fixed costs of a candidate, by what they are for.
fn costs(
    wanted: &Profile,
    brought: &Profile,
    row: Option<&Fermentable>,
    weights: &Weights,
) -> Vec<(Aspect, f64)> {
    let mut costs = Vec::new();
    if wanted.is_mashed != brought.is_mashed {
        costs.push((Aspect::ChangeOfKind, weights.change_of_kind));
    } else if wanted.kind != brought.kind {
        costs.push((Aspect::ChangeOfKind, weights.change_within_mash));
    }
    costs.push((
        Aspect::Uncommon,
        uncommon(row.and_then(|row| row.commonness), weights),
    ));
    costs.push((
        Aspect::Unknown,
        weights.unknown_figure * brought.assumed.len() as f64,
    ));
    costs.retain(|(_, cost)| *cost > 0.0);
    costs
}

/// Fixed cost of how hard something is to buy; what nobody states counts as a specialist's ware.
pub(super) const fn uncommon(commonness: Option<Commonness>, weights: &Weights) -> f64 {
    match commonness {
        Some(Commonness::Everywhere) => 0.0,
        Some(Commonness::GoodShops) => weights.good_shops_only,
        Some(Commonness::Specialist) | None => weights.specialist_only,
        Some(Commonness::Rare) => weights.rare,
    }
}

/// Everything that may stand for the line, in the order of their names.
fn candidates<'a>(
    setting: &Setting<'a>,
    item: &Item,
    missing: &[ItemIndex],
    here: &Here<'_>,
) -> Vec<Unbounded<'a>> {
    let fits = |kind: Kind, row: Option<&Fermentable>| {
        let allowed = match kind {
            Kind::Malt | Kind::Grain => here.has_mash && here.on_wort_side,
            Kind::Sugar => true,
            _ => false,
        };
        allowed
            && row.and_then(|row| row.class) != Some(FermentableClass::LauteringAid)
            && starch(row, here.rest_c) != Starch::StaysRaw
    };
    let rows = setting.catalogue.fermentables();
    let rows = rows.map(|row| (&*row.name, row.kind()));
    setting
        .candidates(item, missing, KindGroup::Fermentable, rows)
        .into_iter()
        .map(|Candidate { ingredient, left }| Unbounded {
            row: row_of(&ingredient, setting.catalogue),
            ingredient,
            left_kg: left,
        })
        .filter(|candidate| fits(candidate.ingredient.kind, candidate.row))
        .collect()
}
