//! Amounts of the source's hops: from bitterness lines, or from the headline.

use super::dilution;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{
    Amounts, Brewed, Formula, GravityProfile, Item, Material, Rule, Setup, into_kettle,
};
use crate::recipe::Recipe;
use crate::speech::shortest;

/// Bitterness of the wort that the headline means, if there is one.
pub(super) fn headline_ibu(recipe: &Recipe, brewed: &Brewed) -> Option<f64> {
    let targets = &recipe.targets;
    targets
        .wort_bitterness
        .as_ref()
        .map(|w| w.value().ibu())
        .or_else(|| {
            targets
                .bitterness
                .as_ref()
                .map(|w| w.value().ibu() / dilution(brewed))
        })
}

pub(super) fn has_open_hop(formula: &Formula) -> bool {
    formula.items.values().any(Item::is_open_hop)
}

/// Amounts of the hops: bitterness lines from the model, an open line from the headline.
pub(super) fn hop_amounts(
    setup: &Setup,
    amounts: &mut Amounts,
    unhopped: &Brewed,
    headline: Option<f64>,
) -> Result<(), Error> {
    let (formula, model) = (&setup.formula, setup.plant.bitterness);
    let post_boil_l = unhopped.boiled.volume_l;
    let sugars = into_kettle(formula, &amounts.of);
    let profile = GravityProfile::of(&unhopped.run, &sugars, &unhopped.boiled, formula.boil_min);
    let per_ibu = |item: &Item| match item.material {
        Material::Hop { alpha: Some(alpha) } => {
            post_boil_l / (profile.utilisation(item, &setup.cooling, model) * alpha * 1e6)
        }
        _ => f64::INFINITY,
    };
    let mut mashed = formula.items.values().filter(|item| item.is_hot_hop());
    if let Some(item) = mashed.find(|item| item.rule == Rule::Open && !item.is_open_hop()) {
        let message = format!("`{}` in the mash has no amount", item.ingredient.name);
        return Err(Error::new(ErrorKind::Incomplete, message)
            .with_help("give it a mass: a headline fills hops in the boil or in a stand only"));
    }
    let mut known_ibu = 0.0;
    for (item, amount) in formula
        .items
        .with_mut(&mut amounts.of)
        .filter(|(item, _)| item.is_hot_hop())
    {
        if let Rule::Ibu(ibu) = item.rule {
            let kg = ibu * per_ibu(item);
            if !kg.is_finite() {
                return Err(Error::new(
                    ErrorKind::Contradiction,
                    format!(
                        "`{}` does not boil, and its amount cannot be {} IBU",
                        item.ingredient.name,
                        shortest(ibu, 1)
                    ),
                )
                .with_help("give it as a mass or as `g/L`, or let it boil")
                .about(item.place.place().field("amount")));
            }
            *amount = kg;
        }
        if !item.is_open_hop() {
            known_ibu += *amount / per_ibu(item);
        }
    }
    let open = formula
        .items
        .with_mut(&mut amounts.of)
        .find(|(item, _)| item.is_open_hop());
    if let Some((item, amount)) = open {
        let Some(headline) = headline else {
            return Err(Error::new(
                ErrorKind::Incomplete,
                format!(
                    "`{}` has no amount, and the recipe has no target bitterness to calculate it from",
                    item.ingredient.name
                ),
            )
            .with_help("give it a mass, or write `target bitterness 25 IBU`")
            .about(item.place.place().field("amount")));
        };
        let kg = (headline - known_ibu).max(0.0) * per_ibu(item);
        *amount = if kg.is_finite() { kg } else { 0.0 };
    }
    Ok(())
}
