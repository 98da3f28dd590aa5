//! The stock: whose figures are used, what cannot be had, what is to be bought.

use super::liquor::LiquorAddition;
use super::packs::{Packs, to_open};
use super::plan::{OpenedPacks, PlannedAddition, Purchase, Supply};
use super::{Change, Outcome};
use crate::catalogue::{Kind, folded};
use crate::process::Figure;
use crate::quantity::{Quantity, Written, in_kilograms, in_litres, kilograms, litres};
use crate::recipe::{Amount, Facts, Ingredient, Lot, PackSize, Recipe, Stock};
use std::collections::BTreeMap;

/// The lots in stock by what they are, each name folded once for many look-ups.
pub(super) struct Shelf<'a> {
    lots: Vec<(String, &'a Lot)>,
}

impl<'a> Shelf<'a> {
    pub(super) fn of(stock: &'a Stock) -> Self {
        let keyed = |lot: &'a Lot| (folded(lot.ingredient().catalogue_name()), lot);
        Self {
            lots: stock.lots.iter().map(keyed).collect(),
        }
    }

    /// The lots of an ingredient by its name in the catalogue.
    fn lots_of(&self, name: &str, kind: Kind) -> Vec<&'a Lot> {
        let of_kind = |lot: &Lot| lot.ingredient().kind == kind;
        if !self.lots.iter().any(|(_, lot)| of_kind(lot)) {
            return Vec::new();
        }
        let key = folded(name);
        let named = self.lots.iter().filter(|(known, _)| *known == key);
        named
            .map(|(_, lot)| *lot)
            .filter(|lot| of_kind(lot))
            .collect()
    }

    /// Whether something can be had at all: the stock does not say `none`.
    pub(super) fn can_be_had(&self, name: &str, kind: Kind) -> bool {
        let lots = self.lots_of(name, kind);
        !lots.iter().any(|lot| matches!(lot, Lot::Missing(_)))
    }
}

/// The recipe with the lots' own figures in it, and what that changed.
pub(super) fn with_lots(recipe: &Recipe, shelf: &Shelf<'_>) -> (Recipe, Vec<Change>, Vec<Outcome>) {
    let mut stocked = recipe.clone();
    let (mut changes, mut outcomes) = (Vec::new(), Vec::new());
    stocked.for_each_ingredient_mut(|ingredient| match lot_of(ingredient, shelf) {
        Some(Lot::Missing(_)) => outcomes.push(Outcome::CannotBeBought {
            name: ingredient.name.clone(),
        }),
        Some(Lot::Any(lot) | Lot::Held(lot, _)) => {
            changes.extend(figures(ingredient, &lot.facts));
            ingredient.facts = ingredient.facts.overlaid_with(&lot.facts);
        }
        None => {}
    });
    (stocked, changes, outcomes)
}

/// The lot that speaks for an ingredient: `none` before `any` before an amount.
fn lot_of<'a>(ingredient: &Ingredient, shelf: &Shelf<'a>) -> Option<&'a Lot> {
    let lots = shelf.lots_of(ingredient.catalogue_name(), ingredient.kind);
    lots.into_iter().min_by_key(|lot| match lot {
        Lot::Missing(_) => 0,
        Lot::Any(_) => 1,
        Lot::Held(..) => 2,
    })
}

/// The figures in which a lot differs from its line.
fn figures(ingredient: &Ingredient, lot: &Facts) -> Vec<Change> {
    let line = &ingredient.facts;
    let extract = |facts: &Facts| facts.extract.as_ref().map(|e| e.value.value().in_base());
    [
        (
            Figure::Colour,
            base(line.colour.as_ref()),
            base(lot.colour.as_ref()),
        ),
        (Figure::Extract, extract(line), extract(lot)),
        (
            Figure::Moisture,
            base(line.moisture.as_ref()),
            base(lot.moisture.as_ref()),
        ),
        (
            Figure::Fermentability,
            base(line.fermentability.as_ref()),
            base(lot.fermentability.as_ref()),
        ),
        (
            Figure::DiastaticPower,
            base(line.diastatic_power.as_ref()),
            base(lot.diastatic_power.as_ref()),
        ),
        (
            Figure::Alpha,
            base(line.alpha.as_ref()),
            base(lot.alpha.as_ref()),
        ),
        (
            Figure::Brix,
            base(line.brix.as_ref()),
            base(lot.brix.as_ref()),
        ),
    ]
    .into_iter()
    .filter_map(|(figure, recipe, lot)| {
        let lot = lot?;
        (recipe != Some(lot)).then(|| Change::LotFigure {
            name: ingredient.name.clone(),
            figure,
            recipe,
            lot,
        })
    })
    .collect()
}

fn base<Q: Quantity>(written: Option<&Written<Q>>) -> Option<f64> {
    written.map(|w| w.value().in_base())
}

/// What is needed of one ingredient in all, weighed and measured.
struct Need<'a> {
    name: &'a str,
    kind: Kind,
    kg: f64,
    l: f64,
    /// Of a liquid that the plan doses by mass, kg/L: it is measured out and bought by volume.
    density_kg_l: Option<f64>,
}

/// The shopping list: what the plan needs in all, less what is in stock.
pub(super) fn shopping(
    additions: &[PlannedAddition],
    liquor: &[LiquorAddition],
    recipe: &Recipe,
    shelf: &Shelf<'_>,
) -> Vec<Purchase> {
    let mut places = BTreeMap::new();
    let mut needs: Vec<Need<'_>> = Vec::new();
    let of_day = additions.iter().map(|a| Need {
        name: &a.name,
        kind: a.kind,
        kg: a.mass.map_or(0.0, in_kilograms),
        l: a.volume.map_or(0.0, in_litres),
        density_kg_l: None,
    });
    let of_liquor = liquor.iter().map(|a| Need {
        name: &a.name,
        kind: a.kind,
        kg: in_kilograms(a.mass),
        l: 0.0,
        density_kg_l: a
            .volume
            .map(|volume| in_kilograms(a.mass) / in_litres(volume)),
    });
    for more in of_day.chain(of_liquor) {
        let place = *places
            .entry((more.kind, folded(more.name)))
            .or_insert(needs.len());
        match needs.get_mut(place) {
            Some(need) => {
                need.kg += more.kg;
                need.l += more.l;
                need.density_kg_l = need.density_kg_l.or(more.density_kg_l);
            }
            None => needs.push(more),
        }
    }
    needs
        .iter()
        .map(|need| purchase(need, recipe, shelf))
        .collect()
}

fn purchase(need: &Need<'_>, recipe: &Recipe, shelf: &Shelf<'_>) -> Purchase {
    let Need { name, kind, .. } = *need;
    // Of a liquid all counts as volume.
    let measured = |kg: f64, l: f64| match need.density_kg_l {
        Some(density) if density > 0.0 => (0.0, l + kg / density),
        _ => (kg, l),
    };
    let (kg, l) = measured(need.kg, need.l);
    let known_as = recipe
        .additions()
        .flat_map(|a| {
            a.ingredient()
                .into_iter()
                .chain(a.parts().iter().filter_map(|p| p.ingredient()))
        })
        .find(|i| i.name == name)
        .map_or(name, Ingredient::catalogue_name);
    let lots = shelf.lots_of(known_as, kind);
    let (mut held_kg, mut held_l) = (0.0, 0.0);
    for lot in &lots {
        if let Lot::Held(_, amount) = lot {
            let (some_kg, some_l) = amount.kilograms_and_litres();
            let (some_kg, some_l) = measured(some_kg, some_l);
            held_kg += some_kg;
            held_l += some_l;
        }
    }
    let buy_kg = (kg - held_kg).max(0.0);
    let buy_l = (l - held_l).max(0.0);
    let missing = lots.iter().any(|lot| matches!(lot, Lot::Missing(_)));
    let any = lots.iter().any(|lot| matches!(lot, Lot::Any(_)));
    let enough = buy_kg <= 0.0 && buy_l <= 0.0 && (held_kg > 0.0 || held_l > 0.0);
    // A lot listed in too small an amount is missing for the rest, unless it can be had as well.
    let too_small = !any && !enough && (held_kg > 0.0 || held_l > 0.0);
    let supply = if missing || too_small {
        Supply::Missing
    } else if enough {
        Supply::InStock
    } else {
        Supply::ToBuy
    };
    let open = if l > 0.0 {
        opened(l, &lots, |each| match each {
            PackSize::Volume(volume) => Some(in_litres(volume.value())),
            PackSize::Mass(_) => None,
        })
    } else {
        opened(kg, &lots, |each| match each {
            PackSize::Mass(mass) => Some(in_kilograms(mass.value())),
            PackSize::Volume(_) => None,
        })
    };
    Purchase {
        open,
        name: name.to_owned(),
        needed_mass: (kg > 0.0).then(|| kilograms(kg)),
        needed_volume: (l > 0.0).then(|| litres(l)),
        buy_mass: (buy_kg > 0.0).then(|| kilograms(buy_kg)),
        buy_volume: (buy_l > 0.0).then(|| litres(buy_l)),
        supply,
    }
}

/// The packs in stock that cover `needed`, in the unit that `size` gives.
fn opened(needed: f64, lots: &[&Lot], size: impl Fn(&PackSize) -> Option<f64>) -> Vec<OpenedPacks> {
    let (mut packs, mut sizes) = (Vec::new(), Vec::new());
    for lot in lots {
        if let Lot::Held(_, Amount::Packs { count, each }) = lot
            && let Some(size) = size(each).filter(|size| *size > 0.0)
        {
            packs.push(Packs {
                size,
                count: *count,
            });
            sizes.push(each);
        }
    }
    let counts = to_open(needed, &packs).unwrap_or_default();
    counts
        .into_iter()
        .zip(sizes)
        .filter(|(count, _)| *count > 0)
        .map(|(count, each)| OpenedPacks {
            count,
            each_mass: match each {
                PackSize::Mass(mass) => Some(mass.value()),
                PackSize::Volume(_) => None,
            },
            each_volume: match each {
                PackSize::Volume(volume) => Some(volume.value()),
                PackSize::Mass(_) => None,
            },
        })
        .collect()
}
