//! The stock: whose figures are used, what cannot be had, what is to be bought.

use super::liquor::LiquorAddition;
use super::packs::{Packs, to_open};
use super::plan::{OpenedPacks, Purchase, Supply};
use super::{Change, Outcome};
use crate::catalogue::{Kind, folded};
use crate::diagnostic::Place;
use crate::process::{Figure, Material, Worked};
use crate::quantity::agreement::{Agree as _, OF_ITS_UNIT};
use crate::quantity::{
    MaltColour, PackCount, Quantity, Written, in_kilograms, in_litres, kilograms, litres,
};
use crate::recipe::{
    Amount, Available, Facts, HeldLot, Holding, Ingredient, Lot, PackSize, Recipe, Shelf,
};
use crate::science::souring::ACID_KG_PER_L;
use crate::speech::Noted;
use std::collections::BTreeMap;

/// The recipe with the lots' own figures in it, and what that changed.
pub(super) fn with_lots(
    recipe: &Recipe,
    shelf: &Shelf<'_>,
) -> (Recipe, Vec<Noted<Change>>, Vec<Noted<Outcome>>) {
    let mut stocked = recipe.clone();
    let (mut changes, mut outcomes) = (Vec::new(), Vec::new());
    stocked.for_each_ingredient_mut(|ingredient| {
        let Some((index, lot)) = shelf.lot_of(ingredient) else {
            return;
        };
        match lot {
            Lot::Missing(_) => {
                let name = ingredient.name.clone();
                let outcome = Outcome::CannotBeBought { name };
                outcomes.push(Noted::at(Place::lot(index), outcome));
            }
            Lot::Any(held)
            | Lot::Held(HeldLot {
                ingredient: held, ..
            }) => {
                let place = Place::of_lot(index, lot);
                changes.extend(figures(ingredient, &held.facts, &place));
                ingredient.facts = ingredient.facts.overlaid_with(&held.facts);
            }
        }
    });
    (stocked, changes, outcomes)
}

/// The figures in which a lot differs from its line; `place` is the lot's ingredient.
fn figures(ingredient: &Ingredient, lot: &Facts, place: &Place) -> Vec<Noted<Change>> {
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
            Figure::Alcohol,
            base(line.alcohol.as_ref()),
            base(lot.alcohol.as_ref()),
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
        let is_other = recipe.is_none_or(|recipe| !recipe.agrees(&lot, OF_ITS_UNIT));
        is_other.then(|| {
            let change = Change::LotFigure {
                name: ingredient.name.clone(),
                figure,
                recipe,
                lot,
            };
            Noted::at(place.clone().field(figure.field()), change)
        })
    })
    .collect()
}

fn base<Q: Quantity>(written: Option<&Written<Q>>) -> Option<f64> {
    written.map(|w| w.value().in_base())
}

/// What is needed of one ingredient in all, weighed and measured.
pub(super) struct Need<'a> {
    pub(super) name: &'a str,
    /// Its name in the catalogue.
    known_as: &'a str,
    kind: Kind,
    colour: Option<MaltColour>,
    kg: f64,
    l: f64,
    /// Packs of unknown size.
    packs: f64,
    /// Of a liquid that the plan doses by mass, kg/L: it is measured out and bought by volume.
    density_kg_l: Option<f64>,
}

/// The acid that brings wort into the range of its bacteria.
const BEFORE_SOURING: &str = "lactic acid 88 %";

/// What a brew and its water need in all.
pub(super) fn needs<'a>(worked: &'a Worked, liquor: &'a [LiquorAddition]) -> Vec<Need<'a>> {
    let mut places = BTreeMap::new();
    let mut needs: Vec<Need<'_>> = Vec::new();
    // Nobody buys water, or what a plan has none of.
    let items = worked.setup.formula.items.with(&worked.amounts.of);
    let items = items.filter(|(item, amount)| !item.is_water() && !item.is_left_out(**amount));
    let of_day = items.map(|(item, amount)| {
        let if_it = |is: bool| if is { *amount } else { 0.0 };
        let is_pitched = matches!(item.material, Material::Yeast(_));
        Need {
            name: &item.ingredient.name,
            known_as: item.ingredient.catalogue_name(),
            kind: item.ingredient.kind,
            colour: stated_colour(&item.ingredient),
            kg: if_it(item.is_by_mass()),
            l: if_it(item.is_by_volume()),
            packs: if_it(item.is_by_packs() && !is_pitched),
            density_kg_l: None,
        }
    });
    let of_liquor = liquor.iter().map(|a| Need {
        name: &a.name,
        known_as: &a.name,
        kind: a.kind,
        colour: None,
        kg: in_kilograms(a.mass),
        l: 0.0,
        packs: 0.0,
        density_kg_l: a
            .volume
            .map(|volume| in_kilograms(a.mass) / in_litres(volume)),
    });
    // What the wort takes before its bacteria.
    let before_l = worked.brewed.acid_before_l;
    let of_souring = (before_l > 0.0).then_some(Need {
        name: BEFORE_SOURING,
        known_as: BEFORE_SOURING,
        kind: Kind::Acid,
        colour: None,
        kg: before_l * ACID_KG_PER_L,
        l: 0.0,
        packs: 0.0,
        density_kg_l: Some(ACID_KG_PER_L),
    });
    for more in of_day.chain(of_liquor).chain(of_souring) {
        // By the catalogue's name: a hop spelt in two ways is bought once, and its lot is there once.
        let place = *places
            .entry((more.kind, folded(more.known_as)))
            .or_insert(needs.len());
        match needs.get_mut(place) {
            Some(need) => {
                need.kg += more.kg;
                need.l += more.l;
                need.packs += more.packs;
                need.density_kg_l = need.density_kg_l.or(more.density_kg_l);
            }
            None => needs.push(more),
        }
    }
    needs
}

/// The colour by which a malt is bought.
fn stated_colour(ingredient: &Ingredient) -> Option<MaltColour> {
    let is_by_colour = matches!(ingredient.kind, Kind::Malt | Kind::Grain);
    let stated = ingredient.facts.colour.as_ref().filter(|_| is_by_colour);
    stated.map(Written::value)
}

impl Need<'_> {
    /// Kilograms and litres; of a liquid all counts as volume.
    fn measured(&self, kg: f64, l: f64) -> (f64, f64) {
        match self.density_kg_l {
            Some(density) if density > 0.0 => (0.0, l + kg / density),
            _ => (kg, l),
        }
    }

    /// What a stock covers of it. A pack of unknown size is neither a mass nor a volume: none covers the other.
    fn covered(&self, holding: Holding) -> Covered {
        let (kg, l) = self.measured(self.kg, self.l);
        let (held_kg, held_l) = self.measured(holding.kg, holding.l);
        let buy_kg = (kg - held_kg).max(0.0);
        let buy_l = (l - held_l).max(0.0);
        let buy_packs = (self.packs - holding.packs).max(0.0);
        let is_measured = held_kg > 0.0 || held_l > 0.0;
        let is_packed = self.packs > 0.0 && holding.packs > 0.0;
        let covers = buy_kg <= 0.0 && buy_l <= 0.0 && buy_packs <= 0.0;
        let too_little =
            is_measured && (buy_kg > 0.0 || buy_l > 0.0) || is_packed && buy_packs > 0.0;
        let supply = match holding.available() {
            Available::Nothing => Supply::Missing,
            _ if covers && (is_measured || is_packed) => Supply::InStock,
            // What a lot does not cover can be bought, unless the stock says that there is none.
            _ => Supply::ToBuy,
        };
        Covered {
            falls_short: too_little && matches!(holding.available(), Available::Amount { .. }),
            buy_kg,
            buy_l,
            buy_packs,
            supply,
        }
    }

    /// Whether the stock has none or too little of it.
    pub(super) fn is_lacking(&self, shelf: &Shelf<'_>) -> bool {
        let lots = shelf.lots_of(self.known_as, self.kind);
        let covered = self.covered(Holding::of(lots));
        covered.supply == Supply::Missing || covered.falls_short
    }

    fn purchase(&self, shelf: &Shelf<'_>) -> Purchase {
        let lots = shelf.lots_of(self.known_as, self.kind);
        let covered = self.covered(Holding::of(lots.iter().copied()));
        let (kg, l) = self.measured(self.kg, self.l);
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
        let mass = |kg: f64| (kg > 0.0).then(|| kilograms(kg));
        let volume = |l: f64| (l > 0.0).then(|| litres(l));
        let packs = |packs: f64| (packs > 0.0).then(|| PackCount::clamped(packs));
        Purchase {
            open,
            name: self.name.to_owned(),
            colour: self.colour,
            needed_mass: mass(kg),
            needed_volume: volume(l),
            needed_packs: packs(self.packs),
            buy_mass: mass(covered.buy_kg),
            buy_volume: volume(covered.buy_l),
            buy_packs: packs(covered.buy_packs),
            supply: covered.supply,
        }
    }
}

/// What is to be bought of a need.
struct Covered {
    buy_kg: f64,
    buy_l: f64,
    buy_packs: f64,
    supply: Supply,
    /// Whether it is listed in too small an amount, and not as what can be had besides.
    falls_short: bool,
}

/// The shopping list: what is needed in all, less what is in stock.
pub(super) fn shopping(needs: &[Need<'_>], shelf: &Shelf<'_>) -> Vec<Purchase> {
    needs.iter().map(|need| need.purchase(shelf)).collect()
}

/// The packs in stock that cover `needed`, in the unit that `size` gives.
fn opened(needed: f64, lots: &[&Lot], size: impl Fn(&PackSize) -> Option<f64>) -> Vec<OpenedPacks> {
    let packs: Vec<_> = lots
        .iter()
        .filter_map(|lot| match lot {
            Lot::Held(HeldLot {
                amount: Amount::Packs(held),
                ..
            }) => Some(Packs {
                each: &held.each,
                size: size(&held.each).filter(|size| *size > 0.0)?,
                count: held.count,
            }),
            _ => None,
        })
        .collect();
    let opened = to_open(needed, &packs).unwrap_or_default();
    opened
        .into_iter()
        .filter(|packs| packs.count > 0)
        .map(|packs| OpenedPacks {
            count: packs.count,
            each: match packs.each {
                PackSize::Mass(mass) => mass.to_string(),
                PackSize::Volume(volume) => volume.to_string(),
            },
            each_mass: match packs.each {
                PackSize::Mass(mass) => Some(mass.value()),
                PackSize::Volume(_) => None,
            },
            each_volume: match packs.each {
                PackSize::Volume(volume) => Some(volume.value()),
                PackSize::Mass(_) => None,
            },
        })
        .collect()
}
