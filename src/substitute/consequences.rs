//! What a found support changes: its parts, its swap, and the whole recipe predicted again with it.

use super::allergens::allergens;
use super::case::{Case, Measure, Offer, SlackUse};
use super::choice::Choice;
use super::kind_group::KindGroup;
use super::needs::Need;
use super::noticed::{in_brief, summary};
use super::part::{Origin, Part};
use super::practice::Practice;
use super::profile::row_of;
use super::proposal::Proposal;
use super::search::Found;
use super::sensed::{Changed, noticed};
use super::setting::Setting;
use super::{hop, yeast};
use crate::catalogue::{Allergen, Kind, Level, folded};
use crate::diagnostic::{Error, Place};
use crate::numeric::order;
use crate::process::{Figures, Worked};
use crate::quantity::{
    DiastaticPower, Proportion, VolumeShare, Written, in_kilograms, kilograms, litres,
};
use crate::recipe::{
    Amount, Available, BaseMaltChange, Ingredient, Moved, Recipe, Section, Swap, SwapPart, Timing,
};
use crate::speech::Noted;

/// The grist may convert slowly below this, WK (common practice, no source).
const CONVERTS_WELL_FROM_WK: f64 = 100.0;
/// A residual below this, of per cent or EBC, is what is left of sums of doubles that cancel.
const NO_RESIDUAL: f64 = 1e-9;
/// What is put for acid malt, and what a millilitre of it brings to a mash (its row of the catalogue).
const LACTIC: &str = "lactic acid 88 %";
const LACTIC_MEQ_ML: f64 = 11.46;
/// Above this share of gummy grain in the grist hulls help (common practice, no source).
const STICKY_FROM: f64 = 0.2;

/// Gravity in per cent of the wort's, colour as EBC of the wort.
pub(super) fn residuals(case: &Case, found: &Found) -> [f64; 2] {
    let [first, second] = case.problem.residuals(found);
    let [per_first, per_second] = case.per_residual;
    [first * per_first, second * per_second].map(
        |off| {
            if off.abs() < NO_RESIDUAL { 0.0 } else { off }
        },
    )
}

pub(super) fn proposal(setting: &Setting<'_>, choice: &Choice<'_>) -> Result<Proposal, Error> {
    let Choice {
        need, case, found, ..
    } = choice;
    let swap = swap(setting, choice)?;
    let swapped = setting.recipe.with_swaps(std::slice::from_ref(&swap))?;
    let predicted = setting.predicted(&swapped)?;
    let [gravity, off_in_units] = residuals(case, found);
    let colour = wort_paler_or_darker(setting, need, &predicted).unwrap_or(off_in_units);
    let allergens_after = allergens(&swapped, setting.catalogue);
    let line = setting.item(need.index).map(|item| item.place.place());
    let of_line = |what| Noted::at(line.clone(), what);
    let mut practice: Vec<_> = practice(setting, case, found)
        .into_iter()
        .map(of_line)
        .collect();
    let before = setting.planned().brewed.diastatic_wk;
    if let Some(power) = predicted.diastatic_power
        && power.windisch_kolbach() < CONVERTS_WELL_FROM_WK
        && before.is_none_or(|before| power < DiastaticPower::clamped(before))
    {
        let power = DiastaticPower::clamped(power.windisch_kolbach());
        practice.push(Noted::at(
            Place::recipe("mash.additions"),
            Practice::DiastaticPowerLow { power },
        ));
    }
    let slack_kg = match case.slack {
        SlackUse::BaseMalt { kg, .. } => kg * found.slack,
        _ => 0.0,
    };
    let step_kg = setting
        .target
        .weighing
        .malt
        .as_ref()
        .map_or(0.0, |step| in_kilograms(step.value()));
    let noticed = noticed(&[Changed { case, found }], [&setting.before, &predicted]);
    let parts = parts(setting, case, found);
    let origins: Vec<Origin> = parts.iter().filter_map(|part| part.from).collect();
    Ok(Proposal {
        summary: summary(&noticed, &origins, case.tastes_alike(found)),
        difference: in_brief(&noticed, case.tastes_alike(found)),
        noticed,
        roles: Vec::new(),
        parts,
        way: case.way,
        share_by_volume: share_by_volume(setting, need, &swapped),
        slack: (slack_kg.abs() >= 2.0 * step_kg && slack_kg != 0.0).then(|| kilograms(slack_kg)),
        feasible: choice.feasible,
        gravity_residual_pct: gravity,
        colour_residual_ebc: colour,
        distance: found.value.max(0.0),
        distance_parts: case.distance_parts(found),
        predicted,
        allergens_gained: beyond(&allergens_after, &setting.allergens),
        allergens_lost: beyond(&setting.allergens, &allergens_after),
        practice,
        variants: choice.variants,
        other_ways: Vec::new(),
        place: line,
        swap,
    })
}

/// By how much the wort's colour moves, EBC, where the line colours it and every colour is known.
fn wort_paler_or_darker(setting: &Setting<'_>, need: &Need, predicted: &Figures) -> Option<f64> {
    let item = setting.item(need.index)?;
    let colours = item.is_mashed() || item.is_kettle_sugar();
    let before_ebc = setting
        .planned()
        .brewed
        .wort_colour_ebc
        .filter(|_| colours)?;
    let off = predicted.wort_colour?.ebc() - before_ebc;
    Some(if off.abs() < NO_RESIDUAL { 0.0 } else { off })
}

/// The parts as a brewer measures them, the leading one first.
fn parts(setting: &Setting<'_>, case: &Case, found: &Found) -> Vec<Part> {
    let named = |ingredient: &Ingredient, measure: Measure, from: Option<Origin>| {
        let (mass, volume) = match measure {
            Measure::Kilograms(kg) => (Some(kilograms(kg)), None),
            Measure::Litres(l) => (None, Some(litres(l))),
            Measure::OneForOne => (None, None),
        };
        Part {
            name: ingredient.name.clone(),
            mass,
            volume,
            alpha: hop::alpha(ingredient, setting),
            cells: yeast::cells(ingredient, setting),
            from,
        }
    };
    let part = |offer: &Offer, unit: f64| -> Vec<Part> {
        let is_water = offer.ingredient.kind == Kind::Beverage;
        let from = (!is_water).then_some(offer.from);
        let beside = offer.beside.iter();
        let beside = beside.map(|one| (&one.ingredient, one.measure, one.from));
        std::iter::once((&offer.ingredient, offer.measure, from))
            .chain(beside)
            .map(|(ingredient, measure, from)| named(ingredient, measure.times(unit), from))
            .collect()
    };
    let mut parts: Vec<(f64, Vec<Part>)> = found
        .parts()
        .filter_map(|(member, amount)| {
            let [brings, _] = case.problem.columns.get(member)?.brings;
            Some((amount * brings, part(case.offers.get(member)?, amount)))
        })
        .collect();
    order::sort_by(&mut parts, |a, b| b.0.total_cmp(&a.0));
    if let SlackUse::TopUp(offer) = &case.slack
        && found.slack > 0.0
    {
        parts.push((0.0, part(offer, found.slack)));
    }
    if let Some(volume_l) = lacking_acid_l(case, found) {
        let key = (KindGroup::WaterAgent, folded(LACTIC));
        let is_held = setting
            .lots
            .get(&key)
            .is_some_and(|held| held.holding.available() != Available::Nothing);
        let from = if is_held { Origin::Stock } else { Origin::Shop };
        let acid = named(&lactic(), Measure::Litres(volume_l), Some(from));
        parts.push((0.0, vec![acid]));
    }
    parts.into_iter().flat_map(|(_, parts)| parts).collect()
}

/// The swap that makes a found support.
pub(super) fn swap(setting: &Setting<'_>, choice: &Choice<'_>) -> Result<Swap, Error> {
    let Choice {
        need, case, found, ..
    } = choice;
    let mut parts = Vec::new();
    let mut add = |offer: &Offer, unit: f64| -> Result<(), Error> {
        parts.push(SwapPart {
            ingredient: offer.ingredient.clone(),
            ratio: Proportion::from_ratio(offer.ratio * unit)?,
            moved: offer.moved.clone(),
            amount: None,
        });
        for beside in &offer.beside {
            parts.push(SwapPart {
                ingredient: beside.ingredient.clone(),
                ratio: Proportion::from_ratio(beside.ratio * unit)?,
                moved: None,
                amount: None,
            });
        }
        Ok(())
    };
    for (member, amount) in found.parts() {
        if let Some(offer) = case.offers.get(member) {
            add(offer, amount)?;
        }
    }
    let mut base_malt = None;
    match &case.slack {
        SlackUse::TopUp(offer) if found.slack > 0.0 => add(offer, found.slack)?,
        SlackUse::BaseMalt { index, kg, of_kg } if found.slack != 0.0 => {
            base_malt = setting.line_at(*index).map(|line| BaseMaltChange {
                line,
                factor: Proportion::clamped(1.0 + found.slack * kg / of_kg),
            });
        }
        _ => {}
    }
    if let Some(target_l) = lacking_acid_l(case, found) {
        // For the batch of the recipe: acid in a mash goes with its grain.
        let kg = |of: &Worked| of.amounts.of.at(need.index);
        let source_l = target_l * kg(setting.source()) / kg(setting.planned());
        parts.push(SwapPart {
            ingredient: lactic(),
            ratio: Proportion::clamped(0.0),
            moved: Some(Moved {
                section: Section::Mash,
                timing: Timing::default(),
            }),
            amount: Some(Amount::Volume(Written::in_base_unit(litres(source_l)))),
        });
    }
    let mut offers = found
        .parts()
        .filter_map(|(member, _)| case.offers.get(member));
    Ok(Swap {
        replaced: need.line.clone(),
        parts,
        base_malt,
        ferments_at: offers.find_map(|offer| offer.ferments_at),
    })
}

/// The acid for a mash that has lost its acid malt.
fn lactic() -> Ingredient {
    let mut acid = Ingredient::new(LACTIC, Kind::Acid);
    acid.entry = Some(LACTIC.to_owned());
    acid
}

/// Litres of it on the target; none where nothing is lacking.
fn lacking_acid_l(case: &Case, found: &Found) -> Option<f64> {
    let brought = found
        .parts()
        .filter_map(|(member, amount)| Some(case.offers.get(member)?.mash_acid_meq * amount));
    let lacking_meq = case.acid_meq? - brought.sum::<f64>();
    (lacking_meq > 0.0).then_some(lacking_meq / LACTIC_MEQ_ML / 1000.0)
}

fn practice(setting: &Setting<'_>, case: &Case, found: &Found) -> Vec<Practice> {
    let mut practice: Vec<Practice> = found
        .parts()
        .filter_map(|(member, _)| case.offers.get(member))
        .flat_map(|offer| offer.practice.iter().cloned())
        .collect();
    if let Some(volume) = lacking_acid_l(case, found) {
        practice.push(Practice::AddAcid {
            acid: LACTIC.to_owned(),
            volume: litres(volume),
        });
    }
    let mash_kg = setting.mashed_kg();
    let mut gummy_kg = 0.0;
    let mut names = Vec::new();
    for (member, amount) in found.parts() {
        if let Some(offer) = case.offers.get(member)
            && offer.diastatic_wk.is_some()
            && row_of(&offer.ingredient, setting.catalogue).and_then(|row| row.gum)
                == Some(Level::High)
        {
            gummy_kg += offer.measure.times(amount).number();
            names.push(offer.ingredient.name.clone());
        }
    }
    for (index, item) in setting.formula().items.iter() {
        if item.is_mashed()
            && row_of(&item.ingredient, setting.catalogue).and_then(|row| row.gum)
                == Some(Level::High)
        {
            gummy_kg += setting.target_kg(index);
        }
    }
    if !names.is_empty() && gummy_kg > STICKY_FROM * mash_kg {
        practice.push(Practice::AddHulls { names });
    }
    practice
}

/// The share of the liquid's volume that the line's addition has now, where it is stated so.
fn share_by_volume(setting: &Setting<'_>, need: &Need, swapped: &Recipe) -> Option<VolumeShare> {
    let place = setting.item(need.index)?.place;
    if need.line.section != Section::Ferment {
        return None;
    }
    let amount = |recipe: &Recipe| match recipe.fermentation.additions.get(place.index)?.amount {
        Some(Amount::ShareByVolume(share)) => Some(share.value()),
        _ => None,
    };
    let (before, after) = (amount(setting.recipe)?, amount(swapped)?);
    ((before.fraction() - after.fraction()).abs() > 1e-9).then_some(after)
}

/// What the one list has beyond the other.
fn beyond(these: &[Allergen], those: &[Allergen]) -> Vec<Allergen> {
    let beyond = these.iter().filter(|allergen| !those.contains(allergen));
    beyond.copied().collect()
}
