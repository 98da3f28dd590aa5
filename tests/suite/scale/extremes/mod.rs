//! Extreme but legal recipes and plants: a plan that meets its aim, or a typed outcome or error; never a panic, a
//! figure that is not a number, or a search without end.

mod plants;
mod recipes;

use crate::brewing::{BIG, Job, job, l, original, sane};
use wortwright::diagnostic::ErrorKind;
use wortwright::scale::{Outcome, WeighOut};
use wortwright_tests::fixtures::fixture;

/// An ordinary beer, from which each test goes to an extreme.
fn ordinary() -> String {
    fixture("scale/ordinary")
}

fn on(recipe: &str, small: &str) -> Job {
    job(
        &format!("{recipe}\n{BIG}\nbrewhouse Small\n{small}\n"),
        "Small",
    )
}

/// A plan that re-predicts to the source's strength and fills its batch, or outcomes or an error that say why not.
#[track_caller]
fn meets_or_says(job: &Job) -> &'static str {
    let plan = match job.scaled(WeighOut::Exact) {
        Ok(plan) => plan,
        Err(error) => {
            assert!(
                matches!(
                    error.kind(),
                    ErrorKind::Contradiction
                        | ErrorKind::Incomplete
                        | ErrorKind::PlantIncomplete
                        | ErrorKind::OutOfRange
                ),
                "an error of the recipe or the plant, not of the search: {:?} {error}",
                error.kind()
            );
            return "error";
        }
    };
    sane(&plan);
    if plan
        .outcomes
        .iter()
        .any(|o| matches!(&o.what, Outcome::GravityOutOfReach { .. }))
    {
        return "outcome";
    }
    let wanted = plan.source.original.unwrap().plato();
    assert!(
        (original(&plan) - wanted).abs() <= 1e-7 * wanted.abs(),
        "strength {} for {wanted}, outcomes {:?}",
        original(&plan),
        plan.outcomes
    );
    let printed = job
        .recipe
        .targets
        .original
        .as_ref()
        .map(|w| w.value().plato());
    if let Some(printed) = printed {
        assert!(
            (wanted - printed).abs() <= 1e-7 * printed,
            "the source reads {wanted} for the printed {printed}"
        );
    }
    let batch = job.target.batch.as_ref().unwrap();
    let got = match batch.at {
        wortwright::recipe::BatchPoint::IntoFermenter => plan.volumes.into_fermenter,
        wortwright::recipe::BatchPoint::EndOfBoil => plan.volumes.post_boil,
        wortwright::recipe::BatchPoint::Packaged => plan.volumes.packaged,
        other => panic!("{other:?}"),
    };
    let (got, wanted) = (l(got), l(batch.volume.value()));
    assert!(
        (got - wanted).abs() <= 1e-7 * wanted,
        "{got} L for {wanted} L"
    );
    "plan"
}

const SMALL: &str =
    "  batch 8 L into fermenter\n  lauter bag\n  absorption 0.7 L/kg\n  evaporation 2 L/h";

fn of_strength(plato: f64) -> String {
    ordinary().replace("12 P", &format!("{plato} P"))
}
