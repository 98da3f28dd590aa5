//! Malt, grain and sugar: what keeps gravity and malt colour, and how near it comes in the rest.

use super::Weights;
use super::case::{Case, Gate, LEAST_SHARE, Measure, Offer, SlackUse};
use super::holding::{Held, Holding};
use super::practice::Practice;
use super::profile::{Means, Profile, Starch, needs_mash, profile, row_of, starch};
use super::proposal::Aspect;
use super::search::{Column, Problem, Slack};
use super::setting::{KindGroup, Need, Setting};
use crate::catalogue::{
    AidPurpose, Commonness, EntryRef, Fermentable, FermentableClass, Kind, folded,
};
use crate::process::{Item, Material, Stage};
use crate::quantity::{BrewhouseYield, Share, Unit, Written, in_kilograms, in_litres, minutes};
use crate::recipe::{At, Ingredient, Lauter, Moved, Section, ShareBasis, Timing};

/// A grist below this does not convert itself, WK (common practice, no source).
const CONVERTS_FROM_WK: f64 = 75.0;
/// Darker than this and all colourings are weighed in grams: two weighing steps are their least amount.
const DARK_EBC: f64 = 400.0;
/// Base malt gives way within this share of itself, for all lines together (rule of the crate).
pub(super) const SLACK_SHARE: f64 = 0.1;
/// Step of a scale that nobody states, kg (common practice, no source).
const STEP_KG: f64 = 0.001;
/// Sugar that stands for grain enters with this left to boil (common practice, no source).
const SUGAR_AT_MIN: f64 = 10.0;
/// Enzymes of a mash are spent above this, °C (common practice, no source).
const ENZYMES_TO_C: f64 = 72.0;

/// A candidate before its amounts are bounded.
struct Candidate<'a> {
    ingredient: Ingredient,
    row: Option<&'a Fermentable>,
    /// Kilograms that can be had, less what the recipe needs elsewhere.
    to_be_had_kg: f64,
}

/// The line as a problem.
pub(super) fn case(
    setting: &Setting<'_>,
    need: &Need,
    missing: &[usize],
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
    let here = Here::new(setting, item, replaced_kg);
    let row = row_of(&item.ingredient, setting.catalogue);
    let (wanted, _) = profile(&item.ingredient, row, means);
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
        let lot_kg = match setting.holding(name, KindGroup::Fermentable) {
            Some(Holding {
                supply: Held::Amount { kg, .. },
                ..
            }) => {
                let (used_kg, _) = setting.used(name, KindGroup::Fermentable, missing);
                (kg - used_kg).max(0.0)
            }
            _ => f64::INFINITY,
        };
        base_wk = base_profile.diastatic_wk;
        slack = Some(Slack {
            features: features(&base_profile),
            brings: here.brings(&base_profile),
            low: -room,
            high: room.min(lot_kg / replaced_kg),
            price: weights.slack.max(0.0),
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
    let volume_l = in_litres(setting.plan.volumes.post_boil);
    let extract_kg: f64 = setting
        .plan
        .additions
        .iter()
        .zip(&setting.formula.items)
        .filter(|(_, item)| item.is_mashed() || item.is_kettle_sugar())
        .filter_map(|(addition, _)| addition.extract)
        .map(in_kilograms)
        .sum();
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

/// What of the plants and the line a candidate's figures depend on.
struct Here<'a> {
    item: &'a Item,
    replaced_kg: f64,
    /// Yields of the mash on the target and at the source.
    target_yield: f64,
    source_yield: f64,
    has_mash: bool,
    on_wort_side: bool,
    mash_kg: f64,
    fermentables_kg: f64,
    step_kg: f64,
    mash_factor: f64,
    rest_c: f64,
    share_basis: ShareBasis,
}

impl<'a> Here<'a> {
    fn new(setting: &Setting<'_>, item: &'a Item, replaced_kg: f64) -> Self {
        let source_yield = setting.source.brewed.mash_yield.unwrap_or(1.0);
        let target_yield = setting
            .plan
            .predicted
            .extract_yield
            .map_or(source_yield, BrewhouseYield::fraction);
        let rests = &setting.recipe.mash.rests;
        let rest_c = rests
            .iter()
            .map(|rest| rest.temperature.value().celsius())
            .filter(|celsius| *celsius <= ENZYMES_TO_C)
            .reduce(f64::max)
            .unwrap_or(setting.formula.mash_rest_c);
        let mash_kg = setting.mashed_kg();
        Self {
            item,
            replaced_kg,
            target_yield,
            source_yield,
            has_mash: mash_kg > 0.0 && setting.target.lauter != Some(Lauter::NoMash),
            on_wort_side: item.place.stage < Stage::Ferment,
            mash_kg,
            fermentables_kg: setting.fermentables_kg(),
            step_kg: setting
                .target
                .weighing
                .malt
                .as_ref()
                .map_or(STEP_KG, |step| in_kilograms(step.value())),
            mash_factor: setting.source.nature.mash_factor,
            rest_c,
            share_basis: setting.recipe.share_basis,
        }
    }

    /// Extract in the wort and malt colour units, for a kilogram on the target. Colour stays in the grain along with
    /// the extract, so that it is counted at the source's yield.
    fn brings(&self, profile: &Profile) -> [f64; 2] {
        if profile.is_mashed {
            [
                profile.extract * self.target_yield,
                profile.colour_ebc * self.target_yield / self.source_yield.max(f64::MIN_POSITIVE),
            ]
        } else {
            [profile.extract, profile.colour_ebc]
        }
    }

    fn fermentable(&self, profile: &Profile) -> f64 {
        let [extract, _] = self.brings(profile);
        let share = if profile.is_mashed {
            (profile.fermentable * self.mash_factor).min(1.0)
        } else {
            profile.fermentable
        };
        extract * share
    }

    fn features(&self, profile: &Profile, wanted: &Profile, weights: &Weights) -> Vec<f64> {
        let [gravity, _] = self.brings(wanted);
        let in_mash = self.replaced_kg / self.mash_kg.max(f64::MIN_POSITIVE);
        let flavour = weights.flavour.max(0.0).sqrt() / 5.0;
        profile
            .flavour
            .iter()
            .map(|intensity| flavour * intensity)
            .chain([
                weights.fermentable.max(0.0).sqrt() * self.fermentable(profile)
                    / gravity.max(f64::MIN_POSITIVE),
                weights.diastatic_power.max(0.0).sqrt() * profile.diastatic_wk * in_mash / 100.0,
                weights.protein.max(0.0).sqrt() * profile.protein / 0.1,
                weights.gum.max(0.0).sqrt() * profile.gum / 3.0,
                weights.mash_acidity.max(0.0).sqrt() * profile.acidity_meq * in_mash / 10.0,
            ])
            .collect()
    }

    /// Least and most of a candidate, for one of what is replaced; none where the least is more than the most.
    fn bounds(
        &self,
        setting: &Setting<'_>,
        candidate: &Candidate<'_>,
        brought: &Profile,
        most_gravity: f64,
    ) -> Option<(f64, f64)> {
        let [extract, _] = self.brings(brought);
        if extract <= 0.0 {
            return None;
        }
        let dark =
            brought.colour_ebc > DARK_EBC || brought.class == Some(FermentableClass::Colouring);
        let low = if dark {
            2.0 * self.step_kg / self.replaced_kg
        } else {
            LEAST_SHARE.max(self.step_kg / self.replaced_kg)
        };
        let usual_kg = candidate
            .row
            .and_then(|row| row.usual_max_share)
            .filter(|_| self.on_wort_side)
            .map_or(f64::INFINITY, |share| {
                usual_left_kg(
                    setting,
                    candidate.ingredient.catalogue_name(),
                    share,
                    self.fermentables_kg,
                )
            });
        let high = (most_gravity / extract)
            .min(usual_kg / self.replaced_kg)
            .min(candidate.to_be_had_kg / self.replaced_kg);
        (low <= high).then_some((low, high))
    }

    fn offer(
        &self,
        ingredient: Ingredient,
        row: Option<&Fermentable>,
        brought: &Profile,
        wanted: &Profile,
        costs: Vec<(Aspect, f64)>,
    ) -> Offer {
        let name = ingredient.name.clone();
        // Sugar keeps its share of the extract between plants, grain follows the yield.
        let carried = match (wanted.is_mashed, brought.is_mashed) {
            (true, false) => self.source_yield / self.target_yield.max(f64::MIN_POSITIVE),
            (false, true) => self.target_yield / self.source_yield.max(f64::MIN_POSITIVE),
            _ => 1.0,
        };
        let [extract, _] = self.brings(brought);
        let [wanted_extract, _] = self.brings(wanted);
        let ratio = match self.share_basis {
            ShareBasis::Extract if matches!(self.item.rule, crate::process::Rule::Share(_)) => {
                extract / wanted_extract.max(f64::MIN_POSITIVE)
            }
            _ if self.item.is_by_volume() => {
                let density = |profile: &Profile| {
                    if profile.is_mashed {
                        1.0
                    } else {
                        crate::science::density::sucrose_density_20(profile.extract) / 1000.0
                    }
                };
                carried * density(wanted) / density(brought)
            }
            _ => carried,
        };
        let mut practice = Vec::new();
        let mut moved = None;
        if brought.is_mashed {
            if needs_mash(row, ingredient.kind) && !wanted.is_mashed {
                practice.push(Practice::NeedsMashing { name: name.clone() });
            }
            if starch(row, self.rest_c) == Starch::WantsCooking {
                practice.push(Practice::NeedsCooking { name: name.clone() });
            }
            if !wanted.is_mashed {
                moved = Some(Moved {
                    section: Section::Mash,
                    timing: Timing::default(),
                });
                practice.push(Practice::GoesIntoMash { name: name.clone() });
            }
        } else if wanted.is_mashed {
            moved = Some(Moved {
                section: Section::Boil,
                timing: Timing {
                    at: Some(At::TimeLeft(Written::converted(
                        minutes(SUGAR_AT_MIN),
                        SUGAR_AT_MIN,
                        Unit::Minute,
                    ))),
                    contact: None,
                },
            });
            practice.push(Practice::GoesIntoKettle { name: name.clone() });
        }
        if !brought.assumed.is_empty() {
            practice.push(Practice::FiguresAssumed {
                name,
                figures: brought.assumed.clone(),
            });
        }
        Offer {
            measure: Measure::Kilograms(self.replaced_kg),
            ratio,
            moved,
            water: None,
            practice,
            diastatic_wk: brought.is_mashed.then_some(brought.diastatic_wk),
            costs,
            ingredient,
        }
    }

    /// The grist without the line; none where enzymes help, or where nothing is mashed.
    fn gate(
        &self,
        setting: &Setting<'_>,
        without: usize,
        means: &Means,
        base_wk: f64,
    ) -> Option<Gate> {
        let enzymes = setting.formula.items.iter().any(|item| {
            item.place.stage == Stage::Mash
                && setting
                    .catalogue
                    .find(item.ingredient.catalogue_name())
                    .is_some_and(|found| match found.entry {
                        EntryRef::Aid(aid) => aid.purpose == Some(AidPurpose::Enzyme),
                        _ => false,
                    })
        });
        if enzymes || !self.has_mash || !self.on_wort_side {
            return None;
        }
        let (mut mash_kg, mut power, mut all_power) = (0.0, 0.0, 0.0);
        for (index, item) in setting.formula.items.iter().enumerate() {
            if !item.is_mashed() {
                continue;
            }
            let row = row_of(&item.ingredient, setting.catalogue);
            let (profile, _) = profile(&item.ingredient, row, means);
            let kg = setting.target_kg(index);
            all_power += kg * profile.diastatic_wk;
            if index != without {
                mash_kg += kg;
                power += kg * profile.diastatic_wk;
            }
        }
        let whole = (self.mash_kg, all_power);
        let before = all_power / self.mash_kg.max(f64::MIN_POSITIVE);
        Some(Gate {
            mash_kg,
            power,
            whole,
            base_wk,
            lowest_wk: CONVERTS_FROM_WK.min(before),
        })
    }
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
    missing: &[usize],
    here: &Here<'_>,
) -> Vec<Candidate<'a>> {
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
        .map(|(ingredient, to_be_had_kg)| Candidate {
            row: row_of(&ingredient, setting.catalogue),
            ingredient,
            to_be_had_kg,
        })
        .filter(|candidate| fits(candidate.ingredient.kind, candidate.row))
        .collect()
}
