//! The fermenter: pitched wort, and every later addition in its turn.

use super::cellar::{Beer, Fall, Poured, apparent_plato_at};
use super::formula::{Formula, Item, ItemIndex, PerItem};
use super::material::Material;
use super::plant::Plant;
use crate::catalogue::Kind;

/// What happens in the fermenter.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Cellar {
    pub(crate) finished: Beer,
    /// What the beer becomes if every juice ferments in full, where some of one is taken not to.
    pub(crate) if_juice_ferments: Option<Beer>,
    /// What the wort would have become without later additions.
    pub(crate) without_additions: Beer,
    /// What each item that brings extract meets, with the rest of its blend.
    pub(crate) met: PerItem<Option<Met>>,
    /// The same for the first of them to go in.
    pub(crate) first_met: Option<Met>,
    pub(crate) after_additions_l: f64,
    pub(crate) packaged_l: f64,
    /// Litres in the vessel just before each item goes in.
    pub(crate) vessel_l: PerItem<f64>,
    /// Items whose gravity is not met on the way down.
    pub(crate) missed: Vec<Missed>,
    /// Whether the colour of every later addition is known.
    pub(crate) later_colour_known: bool,
}

/// An item whose gravity is not met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Missed {
    pub(crate) index: ItemIndex,
    pub(crate) fall: Fall,
}

/// A beer around an addition, °P.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Met {
    /// Apparent extract just before.
    pub(crate) before_plato: f64,
    /// Apparent extract just after; it may have risen.
    pub(crate) after_plato: f64,
    /// Extract of the wort that everything in the vessel before it would have been.
    pub(crate) original_plato: f64,
}

/// Ferments the pitched wort with every later addition in its turn.
pub(crate) fn ferment(
    formula: &Formula,
    amounts: &PerItem<f64>,
    pitched: &Beer,
    plant: &Plant,
) -> Cellar {
    fermented(formula, pitched, plant, |index, _, _| amounts.at(index))
}

/// The same, each later addition dosed by its rule for the litres that it meets. Its amount is written into `amounts`.
pub(crate) fn ferment_by_rule(
    formula: &Formula,
    amounts: &mut PerItem<f64>,
    pitched: &Beer,
    plant: &Plant,
) -> Cellar {
    fermented(formula, pitched, plant, |index, item, vessel_l| {
        if let Some(amount) = item.rule.amount_in(vessel_l) {
            amounts.set(index, amount);
        }
        amounts.at(index)
    })
}

/// `amount_in` says how much of an item goes in where it meets so many litres.
fn fermented(
    formula: &Formula,
    pitched: &Beer,
    plant: &Plant,
    mut amount_in: impl FnMut(ItemIndex, &Item, f64) -> f64,
) -> Cellar {
    let items = &formula.items;
    let mut vessel_l = items.all(0.0);
    let mut missed = Vec::new();
    let mut met = items.all(None);
    let mut first_met = None;
    let mut later_colour_known = true;
    let mut juice_left_kg = 0.0;
    let mut beer = *pitched;
    let mut after_additions_l = pitched.volume_l();
    for group in &formula.later {
        let Some(first) = group.first().and_then(|index| items.get(*index)) else {
            continue;
        };
        let mut members = group.iter().filter_map(|index| items.get(*index));
        let pours = members.any(|item| matches!(item.material, Material::Fermentable(_)));
        match first.trigger_plato() {
            Some(plato) => match beer.fallen_to(plato) {
                Ok(fallen) => beer = fallen,
                Err(fall) => {
                    missed.extend(group.iter().map(|index| Missed {
                        index: *index,
                        fall,
                    }));
                    if let Fall::EndsAbove(_) = fall {
                        beer = beer.finished();
                    }
                }
            },
            None if pours => beer = beer.finished(),
            None => {}
        }
        let density = beer.density();
        let now_l = beer.volume_at_l(density);
        let mut poured = Poured::default();
        for index in group {
            let Some(item) = items.get(*index) else {
                continue;
            };
            vessel_l.set(*index, now_l);
            let amount = amount_in(*index, item, now_l);
            if let Some((part, kg)) = item.fermentable(amount) {
                poured.water_kg += kg * part.water;
                poured.extract_kg += kg * part.extract;
                poured.fermentable_kg += kg * part.extract * part.fermentability.unwrap_or(1.0);
                if item.ingredient.kind == Kind::Juice {
                    juice_left_kg += kg * part.extract * (1.0 - part.fermentability.unwrap_or(1.0));
                }
                match part.colour_ebc {
                    Some(ebc) => poured.colour_ebc_l += ebc * kg / part.density_kg_l,
                    None => later_colour_known = false,
                }
            }
        }
        if pours {
            let original_plato = beer.equivalent_original_plato();
            beer = beer.with(&poured);
            let density_then = beer.density();
            after_additions_l = beer.volume_at_l(density_then);
            let here = Met {
                before_plato: apparent_plato_at(density),
                after_plato: apparent_plato_at(density_then),
                original_plato,
            };
            for index in group {
                met.set(*index, Some(here));
            }
            first_met = first_met.or(Some(here));
        }
    }
    let finished = beer.finished();
    Cellar {
        packaged_l: plant.fermenter_loss.after(finished.volume_l()),
        finished,
        if_juice_ferments: (juice_left_kg > 0.0).then(|| {
            let still = Beer {
                fermentable_kg: juice_left_kg,
                ..finished
            };
            still.finished()
        }),
        without_additions: pitched.finished(),
        met,
        first_met,
        after_additions_l,
        vessel_l,
        missed,
        later_colour_known,
    }
}
