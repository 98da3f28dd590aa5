//! An addition that meets beer of another gravity than planned.

use super::day::{Day, figures};
use super::way::{Dose, Way, WayOn};
use crate::diagnostic::{Error, ErrorKind};
use crate::process::{Item, Stage};
use crate::quantity::{Extract, kilograms, litres};

pub(super) fn addition_at(day: &Day, name: &str, apparent: Extract) -> Result<Vec<WayOn>, Error> {
    let (at, item, amount) = day.later_item(name)?;
    let vessel_l = |of: &[f64]| of.get(at).copied().unwrap_or_default();
    let planned_l = vessel_l(&day.planned.cellar.vessel_l);
    if item.place.stage != Stage::Ferment || planned_l <= 0.0 {
        return Err(Error::new(
            ErrorKind::UnknownName,
            format!("expected an addition to the fermenting beer, found `{name}` at packaging"),
        ));
    }
    let poured = day.with_addition_at(at, apparent, 1.0);
    if poured.cellar.missed.iter().any(|(index, _)| *index == at) {
        return Err(Error::new(
            ErrorKind::OutOfModel,
            format!("expected a gravity that the planned beer passes before `{name}` goes in, found {apparent}"),
        )
        .with_help("check the instrument in water, and free the sample of gas"));
    }
    let share = vessel_l(&poured.cellar.vessel_l) / planned_l;
    Ok(vec![
        WayOn {
            way: Way::PourPlanned {
                dose: dose(item, amount),
            },
            predicted: figures(&poured),
        },
        WayOn {
            way: Way::KeepShare {
                dose: dose(item, amount * share),
            },
            predicted: figures(&day.with_addition_at(at, apparent, share)),
        },
    ])
}

/// An item's amount as it is measured out.
pub(super) fn dose(item: &Item, amount: f64) -> Dose {
    let by_volume = item.is_by_volume();
    Dose {
        name: item.ingredient.name.clone(),
        mass: (!by_volume).then(|| kilograms(amount)),
        volume: by_volume.then(|| litres(amount)),
    }
}
