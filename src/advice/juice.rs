//! A lot of juice that is not as planned, in three honest ways.

use super::action::Action;
use super::advised::AdvisedAction;
use super::day::{Day, figures};
use super::room::holds;
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Brewed, Fermentable, Material, Warning};
use crate::quantity::{Extract, kilograms, litres};
use crate::science::density::{WATER_KG_PER_L, sucrose_density_20};
use crate::science::liquid::Liquid;
use crate::speech::Noted;

/// The same volume, the same sugar, and the same volume sweetened or thinned to the planned figure.
pub(super) fn juice(
    day: Day<'_>,
    (name, brix): (&str, Extract),
    warnings: &mut Vec<Noted<Warning>>,
) -> Result<Vec<AdvisedAction>, Error> {
    let (at, item) = day.later_item(name)?;
    let amount = day.worked.amounts.of.at(at);
    let fraction = brix.plato() / 100.0;
    let Material::Fermentable(planned) = item.material else {
        return Ok(Vec::new());
    };
    if fraction <= 0.0 {
        return Err(Error::new(
            ErrorKind::OutOfRange,
            format!("expected a juice above 0 °P, found {brix}"),
        )
        .with_help("check the figure, and the instrument in water"));
    }
    let by_volume = item.is_by_volume();
    let planned_l = if by_volume {
        amount
    } else {
        amount / planned.density_kg_l
    };
    let density_kg_l = sucrose_density_20(fraction) / 1000.0;
    // Litres of the lot with kilograms of something stirred in, as one liquid.
    let pour = |lot_l: f64, water_kg: f64, sugar_kg: f64| {
        let mixed = Liquid::wort_of(lot_l, fraction).blended(Liquid::solution(water_kg, sugar_kg));
        let material = Fermentable {
            extract: mixed.strength(),
            water: 1.0 - mixed.strength(),
            density_kg_l: mixed.density_20() / 1000.0,
            ..planned
        };
        let amount = if by_volume {
            mixed.volume_l()
        } else {
            mixed.mass_kg()
        };
        day.with_item(at, Material::Fermentable(material), amount)
    };
    let sugar_per_l = planned.extract * planned.density_kg_l;
    let same_sugar_l = planned_l * sugar_per_l / (fraction * density_kg_l);
    let mut actions = Vec::new();
    let mut offer = |action: Action, brewed: &Brewed| {
        if holds(day, brewed, warnings) {
            actions.push(AdvisedAction::new(action, figures(brewed)));
        }
    };
    for lot_l in [planned_l, same_sugar_l] {
        let juice = litres(lot_l);
        offer(Action::UseJuice { juice }, &pour(lot_l, 0.0, 0.0));
    }
    let planned_kg = planned_l * planned.density_kg_l;
    if fraction < planned.extract {
        // Sugar in place of juice until a kilogram holds as much as planned, for the planned mass of it.
        let sugar_kg = planned_kg * (planned.extract - fraction) / (1.0 - fraction);
        let lot_l = (planned_kg - sugar_kg) / density_kg_l;
        let sweetened = Action::SweetenJuice {
            juice: litres(lot_l),
            sugar: kilograms(sugar_kg),
        };
        offer(sweetened, &pour(lot_l, 0.0, sugar_kg));
    } else if fraction > planned.extract {
        let water_kg = planned_kg - planned_kg * planned.extract / fraction;
        let lot_l = same_sugar_l;
        let thinned = Action::ThinJuice {
            juice: litres(lot_l),
            water: litres(water_kg / WATER_KG_PER_L),
        };
        offer(thinned, &pour(lot_l, water_kg, 0.0));
    }
    Ok(actions)
}
