//! What to do on the day, from a plan and a reading: by hand, and by the model again. Here stands what the files below
//! share.

mod late_addition;
mod limits;
mod mash;
mod packaging;
mod taken;
mod taken_at_packaging;
mod ways_on;

use crate::brewing::weighed;
use uom::si::f64::Volume;
use uom::si::volume::liter;
use wortwright::advice::{Advice, DayReading};
use wortwright::diagnostic::ErrorKind;
use wortwright::quantity::{Extract, uom};
use wortwright::scale::Plan;
use wortwright_tests::fixtures::{changed, fixture};

/// A beer with sour cherry juice for a kitchen, with some of its text replaced.
fn plan_with(changes: &[(&str, &str)]) -> Plan {
    let text = changed(&fixture("advice/plain_with_juice"), changes);
    weighed(&text, "Kitchen")
}

fn plan() -> Plan {
    plan_with(&[])
}

fn plato(value: f64) -> Extract {
    Extract::from_plato(value).unwrap()
}

fn litres(volume: Volume) -> f64 {
    volume.get::<liter>()
}

fn advice(plan: &Plan, reading: &DayReading) -> Advice {
    plan.advise(reading).unwrap()
}

fn refused(plan: &Plan, reading: &DayReading) -> ErrorKind {
    plan.advise(reading).unwrap_err().kind()
}
