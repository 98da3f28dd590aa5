//! The fermenter: pitched wort, and every later addition in its turn.

use super::cellar::Fermenting;
use super::formula::{Formula, Item, ItemIndex, PerItem};
use super::material::Material;
use super::plant::Plant;
use crate::catalogue::Kind;
use crate::science::liquid::{Fall, Liquid, apparent_plato_at};

/// What happens in the fermenter.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Cellar {
    pub(crate) finished: Liquid,
    /// What the beer becomes if every juice ferments in full, where some of one is taken not to.
    pub(crate) if_juice_ferments: Option<Liquid>,
    /// What the wort would have become without later additions.
    pub(crate) without_additions: Liquid,
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
    /// Absorbance from juice and whatever else was added later, as colour times volume; none where one of them is unknown.
    pub(crate) later_colour_ebc_l: Option<f64>,
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
    pitched: &Fermenting,
    plant: &Plant,
) -> Cellar {
    fermented(formula, pitched, plant, |index, _, _| amounts.at(index))
}

/// The same, each later addition dosed by its rule for the litres that it meets. Its amount is written into `amounts`.
pub(crate) fn ferment_by_rule(
    formula: &Formula,
    amounts: &mut PerItem<f64>,
    pitched: &Fermenting,
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
    pitched: &Fermenting,
    plant: &Plant,
    mut amount_in: impl FnMut(ItemIndex, &Item, f64) -> f64,
) -> Cellar {
    let items = &formula.items;
    let mut vessel_l = items.all(0.0);
    let mut missed = Vec::new();
    let mut met = items.all(None);
    let mut first_met = None;
    let mut later_colour_ebc_l = Some(0.0);
    let mut juice_left_kg = 0.0;
    let mut beer = *pitched;
    let mut after_additions_l = pitched.liquid.volume_l();
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
                        beer = Fermenting::done(beer.finished());
                    }
                }
            },
            None if pours => beer = Fermenting::done(beer.finished()),
            None => {}
        }
        let density = beer.liquid.density_20();
        let now_l = beer.liquid.volume_at_l(density);
        let mut poured = Fermenting::default();
        for index in group {
            let Some(item) = items.get(*index) else {
                continue;
            };
            vessel_l.set(*index, now_l);
            let amount = amount_in(*index, item, now_l);
            if let Some((part, kg)) = item.fermentable(amount) {
                poured.liquid.water_kg += kg * part.water;
                poured.liquid.extract_kg += kg * part.extract;
                poured.fermentable_kg += kg * part.extract * part.fermentability.unwrap_or(1.0);
                if item.ingredient.kind == Kind::Juice {
                    juice_left_kg += kg * part.extract * (1.0 - part.fermentability.unwrap_or(1.0));
                }
                let colour_ebc_l = part.colour_ebc.map(|ebc| ebc * kg / part.density_kg_l);
                later_colour_ebc_l =
                    Option::zip(later_colour_ebc_l, colour_ebc_l).map(|(a, b)| a + b);
            }
        }
        if pours {
            let original_plato = beer.liquid.original_plato();
            beer = beer.with(&poured);
            let density_then = beer.liquid.density_20();
            after_additions_l = beer.liquid.volume_at_l(density_then);
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
        if_juice_ferments: (juice_left_kg > 0.0).then(|| finished.fermented_kg(juice_left_kg)),
        without_additions: pitched.finished(),
        met,
        first_met,
        after_additions_l,
        vessel_l,
        missed,
        later_colour_ebc_l,
    }
}
