//! An addition that meets beer of another gravity than planned.

use super::action::{Action, Dose};
use super::advised::AdvisedAction;
use super::day::{Day, figures};
use super::reading::Shown;
use crate::diagnostic::{Error, ErrorKind};
use crate::ledger::Remark;
use crate::process::{Brewed, Item, ItemIndex, Stage};
use crate::quantity::{Extract, PackCount, kilograms, litres};
use crate::science::liquid::Fall;
use crate::speech::Noted;

/// A mark of a brewer's hydrometer, 0.001, in °P: what a reading may be off.
const MARK_PLATO: f64 = 0.26;

/// The juice or sugar of that name that goes into fermenting beer, and its place.
pub(super) fn late_item<'a>(day: Day<'a>, name: &str) -> Result<(ItemIndex, &'a Item), Error> {
    let (at, item) = day.later_item(name)?;
    if item.place.stage == Stage::Ferment {
        Ok((at, item))
    } else {
        Err(Error::new(
            ErrorKind::UnknownName,
            format!("expected an addition to the fermenting beer, found `{name}` at packaging"),
        ))
    }
}

/// The beer's gravity just before an addition goes in. What a refractometer shows there depends on what went in earlier, and what
/// went in earlier on the gravity: with all that is planned before it first, then with what the gravity says.
pub(super) fn gravity_before(
    day: Day<'_>,
    at: ItemIndex,
    item: &Item,
    shown: Shown,
    remarks: &mut Vec<Noted<Remark>>,
) -> Extract {
    let original = |brewed: &Brewed| {
        let met = brewed.cellar.met.at(at);
        Extract::clamped(met.map_or_else(
            || brewed.pitched.liquid.original_plato(),
            |met| met.original_plato,
        ))
    };
    let as_planned = shown.in_beer(original(day.planned()), &mut Vec::new());
    let poured = day.with_addition_at(item, as_planned, 1.0);
    shown.in_beer(original(&poured), remarks)
}

pub(super) fn addition_at(
    day: Day<'_>,
    at: ItemIndex,
    item: &Item,
    apparent: Extract,
) -> Result<Vec<AdvisedAction>, Error> {
    let poured = day.with_addition_at(item, apparent, 1.0);
    let mut missed = poured.cellar.missed.iter();
    let missed = missed.find(|missed| missed.index == at);
    let beyond = missed.map_or(0.0, |missed| match missed.fall {
        Fall::AlreadyBelow(nearest) | Fall::EndsAbove(nearest) => {
            (apparent.plato() - nearest).abs()
        }
    });
    // A beer that has just begun or ended is read a mark higher or lower than it should show.
    if beyond > MARK_PLATO {
        let name = &item.ingredient.name;
        return Err(Error::new(
            ErrorKind::OutOfModel,
            format!("expected a gravity that the planned beer reaches before `{name}` is added, found {apparent}"),
        )
        .with_help("check the instrument in water, and free the sample of gas"));
    }
    let vessel_l = |brewed: &Brewed| brewed.cellar.vessel_l.at(at);
    let share = vessel_l(&poured) / vessel_l(day.planned()).max(f64::MIN_POSITIVE);
    let doses = |times: f64| {
        let items = day.formula().items.with(&day.worked.amounts.of);
        items
            .filter(|(other, _)| other.same_addition(item))
            .map(|(other, amount)| dose(other, amount * times))
            .collect()
    };
    Ok(vec![
        AdvisedAction::new(Action::PourPlanned { doses: doses(1.0) }, figures(&poured)),
        AdvisedAction::new(
            Action::KeepShare {
                doses: doses(share),
            },
            figures(&day.with_addition_at(item, apparent, share)),
        ),
    ])
}

/// An item's amount as it is measured out.
pub(super) fn dose(item: &Item, amount: f64) -> Dose {
    Dose {
        name: item.ingredient.name.clone(),
        mass: item.is_by_mass().then(|| kilograms(amount)),
        volume: item.is_by_volume().then(|| litres(amount)),
        pack_count: item.is_by_packs().then(|| PackCount::clamped(amount)),
    }
}
