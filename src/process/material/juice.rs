//! Juice, whole fruit and puree.

use super::fermentable::{Fermentable, Pulp, dissolving, with_pulp};
use super::lookup::{Lookup, missing};
use crate::catalogue::{EntryRef, FruitClass};
use crate::diagnostic::Error;
use crate::process::assumption::Figure;
use crate::quantity::Quantity;
use crate::recipe::{FruitForm, Ingredient};

pub(super) fn juice(
    ingredient: &Ingredient,
    entry: Option<EntryRef<'_>>,
    lookup: &mut Lookup<'_>,
) -> Result<Fermentable, Error> {
    let known = match entry {
        Some(EntryRef::Juice(known)) => Some(known),
        _ => None,
    };
    let facts = lookup.facts;
    let brix = lookup.either(
        facts.brix.as_ref(),
        known.and_then(|k| k.extract),
        Figure::Brix,
    );
    let Some(brix) = brix else {
        return Err(missing(ingredient, "its Brix", "such as `12 Bx`"));
    };
    // Not noted as taken from the catalogue: wherever a juice's colour is shown, it is said to be rough.
    let colour_ebc = match &facts.colour {
        Some(stated) => Some(stated.value().ebc()),
        None => known.and_then(|k| k.colour).map(Quantity::in_base),
    };
    let fermentability = lookup.either(
        facts.fermentability.as_ref(),
        known.and_then(|k| k.fermentability),
        Figure::Fermentability,
    );
    let juice = dissolving(brix / 100.0, fermentability);
    let juice = Fermentable {
        colour_ebc,
        colour_yield: colour_ebc.map(|ebc| ebc / juice.density_kg_l),
        ..juice
    };
    let form = ingredient.facts.fruit_form;
    let class = known.and_then(|k| k.fruit_class);
    let Some((known, class)) = known.zip(class) else {
        return Ok(juice);
    };
    let Some(insoluble) = known.pulp else {
        return Ok(juice);
    };
    Ok(with_pulp(
        juice,
        Pulp {
            insoluble: insoluble.in_base(),
            seeds: known.seeds.map_or(0.0, Quantity::in_base),
            stones: match form {
                None | Some(FruitForm::Thawed | FruitForm::Chopped) => {
                    known.stones.map_or(0.0, Quantity::in_base)
                }
                Some(FruitForm::Pitted | FruitForm::Puree | FruitForm::Pressed) => 0.0,
            },
            keeps_kg_kg: keeps(class, form),
        },
    ))
}

/// Liquid that a kilogram of pulp keeps when the beer is racked, kg: pressed 5 (4 to 7, of pomace of berries), firm fruit 12.6 (10.4 to 14, of
/// apples in a small press), puree 8 (5 to 12), thawed or crushed 12 (8 to 18), chopped firm fruit 22 (15 to 30, of basket presses); good to
/// 40 %.
fn keeps(class: FruitClass, form: Option<FruitForm>) -> f64 {
    const PRESSED: f64 = 5.0;
    const PRESSED_FIRM: f64 = 12.6;
    const PUREE: f64 = 8.0;
    const CRUSHED: f64 = 12.0;
    const CHOPPED: f64 = 22.0;
    match (form, class) {
        (Some(FruitForm::Pressed), FruitClass::Firm) => PRESSED_FIRM,
        (Some(FruitForm::Pressed), _) => PRESSED,
        (Some(FruitForm::Puree), _) | (_, FruitClass::Pulp) => PUREE,
        (Some(FruitForm::Thawed), _) => CRUSHED,
        (_, FruitClass::Firm) => CHOPPED,
        (_, FruitClass::Stone | FruitClass::Berry | FruitClass::Dried) => CRUSHED,
    }
}
