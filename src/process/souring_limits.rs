//! What stands in the way of souring before the boil.

use super::formula::{Formula, Item, Stage};
use super::material::Material;
use super::warning::Warning;
use crate::diagnostic::Place;
use crate::recipe::At;
use crate::speech::Noted;

/// Hops in the wort while bacteria sour it, and a temperature that they do not like.
pub(super) fn souring_limits(formula: &Formula) -> Vec<Noted<Warning>> {
    let Some(souring) = formula.souring else {
        return Vec::new();
    };
    let is_before = |item: &Item| match item.place.stage {
        Stage::Mash => true,
        Stage::Boil => item.timing.at == Some(At::FirstWort),
        _ => false,
    };
    let hops = formula.items.values();
    let hops = hops.filter(|item| matches!(item.material, Material::Hop { .. }) && is_before(item));
    let hinder = hops.map(|item| {
        let name = item.ingredient.name.clone();
        Noted::at(item.place.line(), Warning::HopsBeforeSouring { name })
    });
    let mut cultures = formula.items.values();
    let culture = cultures.find(|item| item.place.stage == Stage::Sour);
    let unusual = culture.and_then(|item| {
        let Material::Yeast(bacteria) = item.material else {
            return None;
        };
        let (lowest, highest) = bacteria.temperature_range?;
        let at = souring.at.filter(|at| *at < lowest || *at > highest)?;
        let name = item.ingredient.name.clone();
        let place = Place::recipe("souring.temperature_c");
        Some(Noted::at(
            place,
            Warning::YeastTemperature {
                name,
                at,
                lowest,
                highest,
            },
        ))
    });
    hinder.chain(unusual).collect()
}
