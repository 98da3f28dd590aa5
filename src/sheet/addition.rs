//! What goes in, as a line of the sheet.

use super::Day;
use super::cautions::Cautions;
use super::page::Page;
use crate::catalogue::Kind;
use crate::process::{Lautering, Stage};
use crate::quantity::{in_kilograms, in_minutes};
use crate::recipe::HopForm;
use crate::scale::{Change, Outcome, Plan, PlannedAddition};
use crate::speech::{Noted, Style, packs, percent, shortest};

/// What an addition is, with the figures that its amount was computed with.
pub(super) fn described(plan: &Plan, addition: &PlannedAddition, style: Style) -> String {
    let is_malt = matches!(addition.kind, Kind::Malt | Kind::Grain);
    let colour = addition.colour.filter(|_| is_malt);
    let mut text = colour.map_or_else(
        || addition.name.clone(),
        |colour| style.malt(&addition.name, colour),
    );
    let mut say = |figure: String| {
        text.push_str(", ");
        text.push_str(&figure);
    };
    if let Some(form) = addition.form.filter(|_| addition.kind == Kind::Hop) {
        say(match form {
            HopForm::Pellet => "pellets",
            HopForm::Whole => "whole cones",
            HopForm::Fresh => "fresh cones",
            HopForm::Extract => "extract",
        }
        .to_owned());
    }
    if let Some(form) = addition.ingredient().facts.fruit_form {
        say(form.word().to_owned());
    }
    if let Some(alpha) = addition.alpha {
        say(format!("{} alpha", percent(alpha, 1)));
    }
    if let Some(brix) = addition.brix {
        say(format!("{} °Bx", shortest(brix.plato(), 1)));
    }
    // Of the fermentables, or of a blend; what is all of its blend says nothing.
    if let Some(share) = addition
        .share
        .filter(|share| addition.blend.is_none() || share.fraction() < 0.999_5)
    {
        say(percent(share, 1));
    }
    // By Tinseth a hop that does not boil gives none, and a figure of nothing says nothing.
    if let Some(bitterness) = addition.bitterness.filter(|b| b.ibu() >= 0.05) {
        say(format!("{:.1} IBU", bitterness.ibu()));
    }
    let is_missing = |outcome: &Noted<Outcome>| matches!(&outcome.what, Outcome::CannotBeBought { name } if *name == addition.name);
    if plan.outcomes.iter().any(is_missing) {
        say("not available: see the box".to_owned());
    }
    text.push_str(&instead(plan, &addition.name));
    text
}

impl Plan {
    /// What an addition is, with the figures that its amount was calculated with: `northern brewer, pellets, 9 % alpha,
    /// 20.0 IBU`.
    #[must_use]
    pub fn described(&self, addition: &PlannedAddition, style: Style) -> String {
        described(self, addition, style)
    }
}

/// Names of the substitutes that were taken for an ingredient; none where it was not replaced.
pub(super) fn replaced_by<'a>(plan: &'a Plan, name: &str) -> Option<&'a [String]> {
    plan.changes.iter().find_map(|change| match &change.what {
        Change::Replaced {
            name: replaced,
            with,
            ..
        } if replaced == name => Some(&**with),
        _ => None,
    })
}

/// `, instead of flaked spelt` beside a substitute.
pub(super) fn instead(plan: &Plan, name: &str) -> String {
    let replaced = plan.changes.iter().filter_map(|change| match &change.what {
        Change::Replaced {
            name: replaced,
            with,
            ..
        } if with.iter().any(|part| part == name) => Some(replaced.as_str()),
        _ => None,
    });
    let replaced: Vec<_> = replaced.collect();
    if replaced.is_empty() {
        return String::new();
    }
    format!(", instead of {}", replaced.join(" and "))
}

/// The amount of an addition; empty for a yeast that is pitched by cells.
pub(super) fn amount(plan: &Plan, addition: &PlannedAddition, style: Style) -> String {
    addition
        .mass
        .map(|mass| plan.weighed(mass, addition.kind, style))
        .or_else(|| addition.volume.map(|volume| style.volume(volume)))
        .or_else(|| addition.pack_count.map(packs))
        .unwrap_or_default()
}

/// Prints an addition to be put in; of a plant that must not go into a drink only that it is left out.
pub(super) fn put_in(
    page: &mut Page,
    cautions: &Cautions,
    addition: &PlannedAddition,
    print: impl FnOnce(&mut Page),
) {
    if cautions.is_blocked(&addition.name) {
        page.point(&format!(
            "leave out {}: see the box on the first page",
            addition.name
        ));
    } else {
        print(page);
    }
}

/// The additions of a stage, but those of which a remedy or late hops leave nothing.
pub(super) fn at(plan: &Plan, stage: Stage) -> impl Iterator<Item = &PlannedAddition> {
    let is_left_out = |a: &PlannedAddition| {
        a.kind != Kind::Yeast && a.mass.is_some_and(|mass| in_kilograms(mass) <= 0.0)
    };
    let here = plan.additions.iter().filter(move |a| a.stage == stage);
    here.filter(move |a| !is_left_out(a))
}

/// Whether there is a mash.
pub(super) fn is_mashed(plan: &Plan) -> bool {
    at(plan, Stage::Mash).any(|a| {
        matches!(a.kind, Kind::Malt | Kind::Grain)
            && a.mass.is_some_and(|mass| in_kilograms(mass) > 0.0)
    }) && plan.brews().target.setup.plant.lautering != Lautering::NoMash
}

/// Whether its grain is steeped for colour and taste, and no mash.
pub(super) fn is_steeped(plan: &Plan) -> bool {
    is_mashed(plan) && plan.steeps()
}

/// Whether the grain hangs in a bag.
pub(super) fn is_in_bag(plan: &Plan) -> bool {
    let lautering = plan.brews().target.setup.plant.lautering;
    matches!(lautering, Lautering::Bag { .. })
}

/// Whether it dissolves in the kettle before the boil begins: malt extract, syrup or sugar that boils all the time.
pub(super) fn dissolves_before_boil(plan: &Plan, addition: &PlannedAddition) -> bool {
    let left = addition.time_left.unwrap_or(plan.boil);
    in_minutes(plan.boil) > 0.0
        && addition.kind == Kind::Sugar
        && matches!(addition.stage, Stage::Mash | Stage::Boil)
        && !addition.first_wort
        && left >= plan.boil
        && addition.mass.is_some_and(|mass| in_kilograms(mass) > 0.0)
}

/// Prints an addition with its box.
pub(super) fn add(page: &mut Page, day: &Day<'_>, addition: &PlannedAddition) {
    let style = day.style;
    let (amount, what) = (
        amount(day.plan, addition, style),
        described(day.plan, addition, style),
    );
    put_in(page, &day.cautions, addition, |page| {
        page.tick(&amount, &what);
    });
}
