//! The plan as a recipe with absolute amounts, so that it can be written down, read again and scaled further.

use crate::process::{Amounts, Formula, Place, Stage};
use crate::quantity::{Extract, Mass, Unit, UnitSystem, Volume, Written, kilograms, litres};
use crate::recipe::{Addition, Amount, Batch, Brewhouse, Content, HotStep, Recipe, ShareBasis};

/// The recipe with the amounts that were found, brewed on `brewhouse`.
pub(super) fn recipe(
    stocked: &Recipe,
    formula: &Formula,
    amounts: &Amounts,
    brewhouse: &Brewhouse,
    batch: &Batch,
    original: Extract,
) -> Recipe {
    let system = brewhouse.unit_system();
    let mut recipe = stocked.clone();
    recipe.brewed_on = Some(brewhouse.name.clone());
    recipe.batch = Some(batch.clone());
    recipe.share_basis = ShareBasis::Weight;
    recipe.targets.original = Some(Written::in_base_unit(original));
    for (item, amount) in formula.items.iter().zip(&amounts.of) {
        let amount = if item.is_by_volume() {
            Amount::Volume(volume(*amount, system))
        } else {
            Amount::Mass(mass(*amount, system))
        };
        let Some(addition) = addition_at(&mut recipe, item.place) else {
            continue;
        };
        match (&mut addition.content, item.place.part) {
            (Content::Blend(parts), Some(part)) => {
                // The parts carry their own amounts; the blend as a whole no longer does.
                addition.amount = None;
                if let Some(part) = parts.get_mut(part) {
                    part.amount = Some(amount);
                }
            }
            // A yeast is pitched by cells; its line keeps what it says.
            _ if item.place.index == usize::MAX => {}
            _ => addition.amount = Some(amount),
        }
    }
    recipe
}

fn addition_at(recipe: &mut Recipe, place: Place) -> Option<&mut Addition> {
    match place.stage {
        Stage::Mash => recipe.mash.additions.get_mut(place.index),
        Stage::Boil => recipe.boil.additions.get_mut(place.index),
        Stage::Stand => match recipe.hot_side.get_mut(place.stand) {
            Some(HotStep::Stand(stand)) => stand.additions.get_mut(place.index),
            _ => None,
        },
        Stage::Ferment if place.index == usize::MAX => recipe.fermentation.pitch.as_mut(),
        Stage::Ferment => recipe.fermentation.additions.get_mut(place.index),
        Stage::Package => recipe.package.additions.get_mut(place.index),
    }
}

/// A mass in the unit that a brewer of this practice would write.
pub(super) fn mass(kg: f64, system: UnitSystem) -> Written<Mass> {
    let unit = match system {
        UnitSystem::Metric if kg >= 1.0 => Unit::Kilogram,
        UnitSystem::Metric => Unit::Gram,
        UnitSystem::Us | UnitSystem::Imperial if kg >= 0.45 => Unit::Pound,
        UnitSystem::Us | UnitSystem::Imperial => Unit::Ounce,
    };
    Written::converted(kilograms(kg), unit.from_base(kg), unit)
}

/// A volume in the unit that a brewer of this practice would write.
fn volume(l: f64, system: UnitSystem) -> Written<Volume> {
    let unit = match system {
        UnitSystem::Metric if l >= 1.0 => Unit::Litre,
        UnitSystem::Metric => Unit::Millilitre,
        UnitSystem::Us if l >= 2.0 => Unit::Gallon,
        UnitSystem::Us => Unit::FluidOunce,
        UnitSystem::Imperial if l >= 2.0 => Unit::ImperialGallon,
        UnitSystem::Imperial => Unit::ImperialFluidOunce,
    };
    Written::converted(litres(l), unit.from_base(l), unit)
}
