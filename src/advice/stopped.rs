//! A fermentation that no longer moves, and what could still ferment in it.

use super::action::Action;
use super::advised::AdvisedAction;
use super::day::{Day, figures};
use super::reading::BeerRead;
use super::unfinished::{AsRead, planned_end, within_plato};
use crate::diagnostic::Error;
use crate::ledger::Remark;
use crate::process::PredictedFigure;
use crate::scale::Plan;
use crate::speech::Noted;

pub(super) fn stopped(
    day: Day<'_>,
    plan: &Plan,
    read: BeerRead,
    remarks: &mut Vec<Noted<Remark>>,
) -> Result<Vec<AdvisedAction>, Error> {
    let beer = AsRead::of(day, read)?;
    let as_it_is = |action| AdvisedAction::new(action, figures(&beer.brewed));
    if let Some(left) = beer.left {
        let mut actions = beer.not_ended(day, left);
        if beer.may_be_packaged(day, &plan.recipe) {
            actions.truncate(1);
            actions.push(as_it_is(Action::TakeAsItIs));
        }
        return Ok(actions);
    }
    if let Some(wait) = beer.run_away(day) {
        return Ok(vec![wait]);
    }
    let shown = read.apparent.plato();
    let off = shown - planned_end(day).plato();
    let within = within_plato(day, read);
    remarks.extend(Remark::within(PredictedFigure::Final, shown, within, off));
    Ok(vec![as_it_is(Action::GoOn)])
}
