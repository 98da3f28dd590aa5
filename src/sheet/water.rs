//! The water of the day: how much, how warm, what goes into it, and its ions.

use super::addition::{is_mashed, is_steeped};
use super::page::Page;
use super::{Day, units};
use crate::catalogue::Kind;
use crate::caution::BrewStep;
use crate::process::{WATER_PH, stated_ions};
use crate::quantity::{Concentration, Ph, Written, in_kilograms, in_litres, litres};
use crate::recipe::IonTargets;
use crate::scale::{LiquorAddition, LiquorPart, Outcome, Plan};
use crate::science::density::WATER_KG_PER_L;
use crate::science::heat::{MashStop, StepWork};
use crate::science::water::{Ion, Ions, NamedIons};
use crate::speech::{Noted, Style, shortest};

/// Campden tablets (0.44 g of metabisulphite, one for 75 L) that take chlorine and chloramine from water (common practice, no
/// source): the least of the parts into which a tablet is broken, or whole ones.
fn tablets(water_l: f64) -> String {
    const TREATS_L: f64 = 75.0;
    const PARTS: [(f64, &str); 6] = [
        (0.125, "an eighth of a Campden tablet"),
        (1.0 / 6.0, "a sixth of a Campden tablet"),
        (0.25, "a quarter of a Campden tablet"),
        (0.5, "half a Campden tablet"),
        (0.75, "three quarters of a Campden tablet"),
        (1.0, "one Campden tablet"),
    ];
    /// A part may be so much too small, as tablets crumble (rule of the crate).
    const SHORT: f64 = 0.9;
    let tablets = SHORT * water_l / TREATS_L;
    let part = PARTS.iter().find(|(part, _)| *part >= tablets);
    part.map_or_else(
        || format!("{:.0} Campden tablets", (water_l / TREATS_L).ceil()),
        |(_, said)| (*said).to_owned(),
    )
}

/// How much water, how warm, and what goes into it.
pub(super) fn print(page: &mut Page, day: &mut Day<'_>) {
    let (plan, style) = (day.plan, day.style);
    let volumes = &plan.volumes;
    page.heading(&format!("WATER (volumes at {})", units::cold(style)));
    let mashed = is_mashed(plan);
    let strike = plan.water.strike.filter(|_| mashed);
    let grain = plan.water.grain.map_or_else(String::new, |grain| {
        format!(" (grain at {})", style.temperature(grain))
    });
    let place = match (mashed, strike) {
        (true, Some(strike)) if is_steeped(plan) => format!(
            "into the kettle for the steep, heated to {}; {}",
            style.temperature(strike),
            day.clock.begins()
        ),
        (true, None) if is_steeped(plan) => "into the kettle for the steep".to_owned(),
        (true, Some(strike)) => format!(
            "strike water, heated to {}{grain}; {}",
            style.about_temperature(strike),
            day.clock.begins()
        ),
        (true, None) => "strike water".to_owned(),
        (false, _) => "into the kettle".to_owned(),
    };
    let reserved = infused_l(plan);
    page.tick(
        &style.volume(litres(in_litres(volumes.mash_water) - reserved)),
        &place,
    );
    if reserved > 0.0 {
        page.tick(
            &style.volume(litres(reserved)),
            "reserved for later infusions, boiling",
        );
    }
    if in_litres(volumes.sparge_water) > 0.0 {
        let at = plan
            .water
            .sparge
            .map_or_else(String::new, |t| format!(" at {}", style.temperature(t)));
        let bed = plan.water.sparged_bed.map_or_else(String::new, |bed| {
            format!(" (grain then at {})", style.about_temperature(bed))
        });
        page.tick(
            &style.volume(volumes.sparge_water),
            &format!(
                "sparge water{at}{bed}; {} in total",
                style.volume(volumes.total_water)
            ),
        );
    }
    let too_cool = |outcome: &Noted<Outcome>| {
        let never = MashStop::StrikeTooHot { needed: None };
        matches!(&outcome.what, Outcome::MashStops { stopped } if *stopped == never)
    };
    if mashed && plan.outcomes.iter().any(too_cool) {
        page.paragraph("Even boiling strike water would not reach the first rest: heat the mash.");
    }
    for addition in &plan.water.additions {
        agent(page, plan, addition, style);
    }
    let tablets = tablets(in_litres(volumes.total_water));
    page.paragraph(&format!(
        "Tap water with chlorine or chloramine: {tablets}, or a carbon filter."
    ));
    day.cautions.print(page, BrewStep::Water);
    match &plan.water.reached {
        Some(reached) => ions(page, plan, reached),
        None => wanted(page, plan),
    }
}

/// A salt by its mass, a liquid by its volume with the mass beside it; what goes into both waters in one line.
fn agent(page: &mut Page, plan: &Plan, addition: &LiquorAddition, style: Style) {
    let all = || plan.water.additions.iter();
    let of = |part| all().find(|other| other.name == addition.name && other.into == part);
    let is_of_mash = |addition: &LiquorAddition| addition.into == LiquorPart::Mash;
    if !is_of_mash(addition) && of(LiquorPart::Mash).is_some() {
        return;
    }
    let part = match (addition.into, is_mashed(plan)) {
        (LiquorPart::Mash, true) => "into the mash water",
        (LiquorPart::Mash, false) => "into the kettle water",
        (LiquorPart::Sparge, _) => "into the sparge water",
    };
    let (amount, beside) = weighed_out(plan, addition, style);
    let more = of(LiquorPart::Sparge).filter(|_| is_of_mash(addition));
    let more = more.map_or_else(String::new, |more| {
        let (amount, beside) = weighed_out(plan, more, style);
        format!(", {amount}{beside} into the sparge")
    });
    let care = if addition.kind == Kind::Acid {
        "; two thirds first, measure pH"
    } else {
        ""
    };
    page.tick(
        &amount,
        &format!("{}{beside} {part}{more}{care}", addition.name),
    );
}

/// An amount, and the mass of one that is measured by volume.
fn weighed_out(plan: &Plan, addition: &LiquorAddition, style: Style) -> (String, String) {
    let mass = plan.weighed(addition.mass, addition.kind, style);
    match addition.volume {
        Some(volume) => (units::syringed(volume, style), format!(" ({mass})")),
        None => (mass, String::new()),
    }
}

/// What is wanted in the water, where nobody knows what is in it.
fn wanted(page: &mut Page, plan: &Plan) {
    let list: Vec<_> = plan
        .water
        .wanted
        .iter()
        .map(|wanted| {
            let basis = if wanted.ion == "alkalinity" {
                " (as CaCO3)"
            } else {
                ""
            };
            let mg_l = shortest(wanted.concentration.grams_per_litre() * 1000.0, 1);
            format!("{}{basis} {mg_l}", wanted.ion)
        })
        .collect();
    if !list.is_empty() {
        page.paragraph(&format!("Target water profile, mg/L: {}.", list.join(", ")));
        let brewhouse = &plan.brewhouse.name;
        page.paragraph(&format!(
            "No water report for {brewhouse}: salts and acid are not calculated."
        ));
    }
}

/// The ions as they come, as they are wanted and as the salts make them, side by side.
fn ions(page: &mut Page, plan: &Plan, reached: &Ions) {
    let report = plan.brewhouse.water.as_ref();
    let ph = report
        .and_then(|report| report.ph.as_ref())
        .map_or(Ph::clamped(WATER_PH), Written::value);
    let stated = |list: &IonTargets| stated_ions(list, ph);
    let own = report.map_or_else(NamedIons::default, |report| stated(&report.ions));
    let wanted = stated(&plan.recipe.water);
    let missed = |ion: Ion| {
        plan.outcomes
            .iter()
            .find_map(|outcome| match &outcome.what {
                Outcome::IonsMissed { missed } => missed.iter().find(|missed| missed.ion == ion),
                _ => None,
            })
    };
    let cell = |much: Option<Concentration>| {
        much.map_or_else(
            || "-".to_owned(),
            |much| shortest(much.grams_per_litre() * 1000.0, 1),
        )
    };
    // Water that is left as it comes, and asked for in no other way, is not worth a table.
    if plan.water.wanted.is_empty() && plan.water.additions.is_empty() {
        return;
    }
    let mut table = Vec::new();
    for ion in Ion::ALL {
        let (own, wanted, reached) = (own.of(ion), wanted.of(ion), reached.of(ion));
        // Nobody asks for potassium.
        if own.is_none() && wanted.is_none() && reached.grams_per_litre() <= 0.0 {
            continue;
        }
        let verdict = missed(ion).map_or("", |missed| {
            if missed.reached > missed.wanted {
                " high"
            } else {
                " low"
            }
        });
        let reached = format!("{}{verdict}", cell(Some(reached)));
        let basis = if ion == Ion::Alkalinity {
            " (CaCO3)"
        } else {
            ""
        };
        table.push([
            format!("{}{basis}", ion.word()),
            cell(own),
            cell(wanted),
            reached,
        ]);
    }
    page.side_by_side(
        [
            "Mash water, mg/L",
            "your water",
            "target",
            "after salts, before acid",
        ],
        &table,
    );
}

/// Cold litres of the mash water that go in after mashing in.
pub(super) fn infused_l(plan: &Plan) -> f64 {
    let steps = plan.water.mash.iter().flat_map(|mash| &mash.steps);
    steps
        .filter_map(|step| match step.work {
            StepWork::Infuse { water, .. } => Some(in_kilograms(water) / WATER_KG_PER_L),
            _ => None,
        })
        .sum()
}
