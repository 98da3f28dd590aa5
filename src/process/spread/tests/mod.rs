//! Spreads against paper (`by_hand`), the table of what is uncertain (`table`), and chance: every cause drawn at once, thousands of times, and
//! every brew run anew (`chance`, `by_chance`).
//!
//! `WORTWRIGHT_LONG="200 10000" cargo test --release -p wortwright --lib spread_is_that_of_chance -- --nocapture` draws 10 000 times for
//! each of 200 plans: causes and what bends a brew are no part of what hosts see, so that this long run is a test of the library.

mod by_chance;
mod by_hand;
mod chance;
mod table;

use super::Uncertain;
use super::effect::Effect;
use super::input::Known;
use crate::job::Job;
use crate::process::brew::Worked;
use crate::process::figures::Figures;
use crate::scale::Plan;

const DEMO: &str = include_str!("../../../../examples/data/saltmarsh-lantern.gyle");
const STOVE: &str = include_str!("../../../../examples/data/stove-top.gyle");

fn demo() -> Plan {
    let job = Job::read([("beer", DEMO), ("home", STOVE)]).unwrap();
    job.on("Stove top").unwrap().plan().unwrap()
}

fn plan(text: &str) -> Plan {
    let job = Job::read([("text", text)]).unwrap();
    job.on("Home").unwrap().plan().unwrap()
}

fn known<'a>(plan: &'a Plan, worked: &Worked) -> Known<'a> {
    Known {
        brewhouse: Some(&plan.brewhouse),
        is_yield_inferred: false,
        is_fitted: worked.setup.mash_factor.is_fitted(),
    }
}

/// The effects of all that a brew rests on.
fn effects(worked: &Worked, known: Known<'_>, predicted: &Figures) -> Vec<Effect> {
    let uncertain = Uncertain {
        worked,
        known,
        predicted,
        gas: None,
    };
    uncertain.effects()
}
