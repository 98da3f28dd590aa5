//! Malt, grain and sugar: what keeps gravity and malt colour, and how near it comes in the rest.

mod here;

use super::candidates::Sold;
use super::case::{Case, SlackUse};
use super::distance::Aspect;
use super::kind_group::KindGroup;
use super::needs::Need;
use super::noticed::NOTICEABLE_TO;
use super::options::{Candidates, ColourMatch};
use super::part::Origin;
use super::profile::{Means, Profile, Starch, profile, row_of, starch};
use super::search::{Band, Column, Problem, Side, Slack};
use super::setting::Setting;
use super::taste::Tastes;
use crate::catalogue::{FLAVOUR_AXES, Fermentable, FermentableFunction, Kind, SmallMash, folded};
use crate::process::{Item, ItemIndex, Material};
use crate::quantity::Share;
use crate::recipe::Ingredient;
use here::Here;

/// Base malt gives way within this share of itself, for all lines together (rule of the crate).
pub(super) const SLACK_SHARE: f64 = 0.03;
/// A candidate before its amounts are bounded.
struct Unbounded<'a> {
    ingredient: Ingredient,
    row: Option<&'a Fermentable>,
    /// Kilograms that can be had, less what the recipe needs elsewhere.
    left_kg: f64,
    from: Origin,
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
    // Husks are weighed, and no extract makes them up.
    let is_husk = wanted.function == Some(FermentableFunction::LauteringAid);
    let base = if here.on_wort_side && here.has_mash && !is_husk {
        setting.base_malt(missing)
    } else {
        None
    };
    let features = |profile: &Profile| here.features(profile, &wanted, weights);
    let mut slack = None;
    let mut slack_use = SlackUse::None;
    let mut slack_tastes = vec![0.0; wanted.flavour.len()];
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
        slack_tastes = base_profile.flavour.to_vec();
        slack = Some(Slack {
            features: features(&base_profile),
            brings: here.brings(&base_profile),
            low: -room,
            high: room.min(lot_kg / replaced_kg),
            price: 0.0,
            if_needed: Some(weights.slack),
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
    let candidates = candidates(setting, item, missing, &here, wanted.function);
    let considered = candidates.len();
    let (mut columns, mut offers) = (Vec::new(), Vec::new());
    for candidate in candidates {
        let (brought, ingredient) = profile(&candidate.ingredient, candidate.row, means);
        if !may_stand_for(&wanted, &brought) {
            continue;
        }
        let Some((low, high)) = here.bounds(setting, &candidate, &brought, &wanted, most_gravity)
        else {
            continue;
        };
        let costs = costs(&wanted, &brought, &candidate, setting, here.share());
        columns.push(Column {
            features: features(&brought),
            brings: here.brings(&brought),
            low,
            high,
            cost: costs.iter().map(|(_, cost)| cost).sum(),
            is_slack: base_name.as_deref() == Some(folded(ingredient.catalogue_name()).as_str()),
        });
        offers.push(here.offer(setting, ingredient, &candidate, &brought, &wanted, costs));
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
            band: match setting.options.colour_match {
                ColourMatch::Band => Some(band(setting, &here)),
                ColourMatch::Exact => None,
            },
            part_cost: weights.further_part(here.share()),
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
        tastes: Tastes {
            axes: &FLAVOUR_AXES,
            share: here.share(),
            wanted: wanted.flavour.to_vec(),
            slack: slack_tastes,
            acid_meq_l: 0.0,
            own: None,
        },
        spread: here.spread,
        acid_meq: (wanted.function == Some(FermentableFunction::Acid))
            .then_some(replaced_kg * wanted.acidity_meq),
        gate: here.gate(setting, need.index, means, base_wk),
        per_residual: if is_husk {
            [0.0; 2]
        } else {
            [
                100.0 * replaced_kg / extract_kg.max(f64::MIN_POSITIVE),
                replaced_kg / volume_l.max(f64::MIN_POSITIVE),
            ]
        },
    })
}

/// Kilograms of a name up to its usual upper share, less what the recipe has of it. What may be all of it has no limit: it may
/// weigh more than what it replaces.
fn usual_left_kg(setting: &Setting<'_>, name: &str, share: f64, fermentables_kg: f64) -> f64 {
    if share >= 1.0 {
        return f64::INFINITY;
    }
    let (in_recipe_kg, _) = setting.used(name, KindGroup::Fermentable, &[]);
    share * fermentables_kg - in_recipe_kg
}

/// A recipe that has more of something than is usual may have as much of what does the same job, or is of the same grain: up to so many
/// times its usual share (rule of the crate).
const BEYOND_USUAL: f64 = 2.0;

/// The upper share of a candidate in place of so much of what is replaced.
fn upper_share(usual: Share, replaced: f64, does_it: bool) -> f64 {
    let usual = usual.fraction();
    let most = if does_it { BEYOND_USUAL * usual } else { usual };
    replaced.min(most).max(usual)
}

/// Whether the one does the other's job, or is of the same grain.
fn does_its_job(one: &Profile, other: &Profile) -> bool {
    let is_same = one.function.is_some() && one.function == other.function;
    is_same || is_of_its_own(&one.genus) && one.genus == other.genus
}

/// How far the colour units of one of what is replaced may be off, for the wort's colour. Half of what is told apart side by side
/// is free, its edge costs what the weights say, and what lies beyond costs more in proportion, until it is another beer.
fn band(setting: &Setting<'_>, here: &Here<'_>) -> Band {
    let [paler, darker] = here.units_off(setting, 1.0);
    let [palest, darkest] = here.units_off(setting, NOTICEABLE_TO);
    let side = |step: f64, end: f64| Side {
        free: 0.5 * step,
        end,
        price: setting.options.weights.colour_edge / (0.5 * step),
    };
    Band {
        low: side(paler, palest),
        high: side(darker, darkest),
    }
}

/// What sweetens or fills and does not ferment is replaced by what does so, and nothing else by it: sweetness never becomes alcohol.
/// So with peat smoke, of which any amount is a taste of its own, and with husks.
fn may_stand_for(wanted: &Profile, brought: &Profile) -> bool {
    let alone = [
        FermentableFunction::Sweetening,
        FermentableFunction::PeatSmoke,
        FermentableFunction::LauteringAid,
    ];
    let of = |profile: &Profile| profile.function.filter(|function| alone.contains(function));
    of(wanted) == of(brought)
}

/// Jobs beside each other: what does the one is put for the other by many brewers (common practice, no source).
const BESIDE: [[FermentableFunction; 2]; 9] = {
    use FermentableFunction as F;
    [
        // Wheat malt for flaked wheat, flaked oats for oat malt.
        [F::Huskless, F::BodyGrain],
        [F::Base, F::EnzymeSource],
        [F::Base, F::ExtractBase],
        [F::ExtractBase, F::ColouredExtract],
        // Flaked maize for sugar.
        [F::StarchAdjunct, F::NeutralSugar],
        [F::NeutralSugar, F::FlavourSugar],
        [F::FlavourSugar, F::ColourSugar],
        [F::NeutralSugar, F::Syrup],
        [F::Roast, F::ColourOnly],
    ]
};

/// Whether it is there for extract without a taste.
fn is_neutral(profile: &Profile) -> bool {
    profile.function == Some(FermentableFunction::StarchAdjunct)
}

/// Whether a grain is of another genus than barley.
fn is_of_its_own(genus: &str) -> bool {
    !genus.is_empty() && genus != "Hordeum"
}

/// Fixed costs of a candidate for `share` of the fermentables, by what they are for.
fn costs(
    wanted: &Profile,
    brought: &Profile,
    candidate: &Unbounded<'_>,
    setting: &Setting<'_>,
    share: f64,
) -> Vec<(Aspect, f64)> {
    let weights = &setting.options.weights;
    let mut costs = Vec::new();
    if wanted.is_mashed != brought.is_mashed {
        costs.push((Aspect::ChangeOfKind, weights.change_of_kind));
    } else if wanted.kind != brought.kind {
        costs.push((Aspect::ChangeOfKind, weights.change_within_mash));
    }
    if wanted.is_mashed
        && brought.is_mashed
        && is_of_its_own(&wanted.genus)
        && !is_neutral(wanted)
        && wanted.genus != brought.genus
    {
        // A beer of rye, wheat or oats is named for its grain.
        costs.push((Aspect::ChangeOfFunction, weights.near_function));
    }
    if let (Some(job), Some(its)) = (wanted.function, brought.function)
        && job != its
    {
        let beside = BESIDE.contains(&[job, its]) || BESIDE.contains(&[its, job]);
        let cost = if beside {
            weights.near_function
        } else if its == FermentableFunction::Base {
            // What is simply left out is made up with base malt, which changes a beer least.
            0.5 * (weights.near_function + weights.change_of_function)
        } else {
            weights.change_of_function
        };
        costs.push((Aspect::ChangeOfFunction, cost));
    }
    costs.push((
        Aspect::Practicality,
        match candidate.row.and_then(|row| row.small_mash) {
            Some(SmallMash::HardMill) => weights.hard_mill,
            Some(SmallMash::SecondPot | SmallMash::Enzyme) => weights.second_pot,
            Some(SmallMash::Impractical) => weights.impractical,
            Some(SmallMash::Plain) | None => 0.0,
        },
    ));
    costs.extend(setting.costs_of_buying(
        candidate.ingredient.catalogue_name(),
        candidate.from,
        candidate.row.and_then(|row| row.commonness),
        share,
    ));
    costs.push((
        Aspect::Unknown,
        weights.unknown_figure * brought.assumed.len() as f64,
    ));
    costs.retain(|(_, cost)| *cost > 0.0);
    costs
}

/// Everything that may stand for the line, whose job it is to do `function`, in the order of their names.
fn candidates<'a>(
    setting: &Setting<'a>,
    item: &Item,
    missing: &[ItemIndex],
    here: &Here<'_>,
    function: Option<FermentableFunction>,
) -> Vec<Unbounded<'a>> {
    let fits = |kind: Kind, row: Option<&Fermentable>| {
        let allowed = match kind {
            Kind::Malt | Kind::Grain => here.has_mash && here.on_wort_side,
            Kind::Sugar => true,
            _ => false,
        };
        allowed && starch(row, here.rest_c) != Starch::StaysRaw
    };
    let rows = setting.catalogue.fermentables();
    let rows = rows.map(|row| Sold {
        name: &row.name,
        kind: row.kind(),
        from: Origin::of(row.commonness),
        does_it: function.is_some()
            && row.function == function
            && row.small_mash != Some(SmallMash::Impractical),
    });
    let shop = setting.options.candidates == Candidates::Shop;
    let enough = here.replaced_kg;
    setting
        .candidates(item, missing, (KindGroup::Fermentable, enough), rows)
        .into_iter()
        .map(|candidate| Unbounded {
            row: row_of(&candidate.ingredient, setting.catalogue),
            ingredient: candidate.ingredient,
            left_kg: candidate.left,
            from: candidate.from,
        })
        .filter(|candidate| {
            let small_mash = candidate.row.and_then(|row| row.small_mash);
            let unfit = shop
                && candidate.from != Origin::Stock
                && small_mash == Some(SmallMash::Impractical);
            fits(candidate.ingredient.kind, candidate.row) && !unfit
        })
        .collect()
}
